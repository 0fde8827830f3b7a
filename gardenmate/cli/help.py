"""`gardenmate help`: what to type, all examples of one topic, or the names in the JSON."""

from __future__ import annotations

import argparse
import sys

from gardenmate.bench.help import help_lines
from gardenmate.core.errors import UsageError
from gardenmate.core.text import encodable, harmless
from gardenmate.knowledge.facts import Facts
from gardenmate.present.screen import screen_width


def run(options: argparse.Namespace) -> int:
    """Print the help asked for. Raises UsageError for a topic there is none of."""
    facts = Facts()
    asked = " ".join(options.topic)
    lines = help_lines(f"help {asked}", facts, screen_width())
    if lines is None:
        topics = ", ".join(facts.table("help"))
        raise UsageError(f"There is no help on '{harmless(asked)}'. Topics: {topics}, json.")
    sys.stdout.write(encodable("\n".join(lines), sys.stdout.encoding or "utf-8") + "\n")
    return 0
