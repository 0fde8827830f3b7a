"""`gardenmate help`: what to type, all examples of one topic, or the names in the JSON."""

from __future__ import annotations

import argparse
import shutil
import sys

from gardenmate.bench.help import help_lines
from gardenmate.core.errors import UsageError
from gardenmate.core.text import encodable, harmless
from gardenmate.knowledge.facts import Facts

WIDEST = 100


def run(options: argparse.Namespace) -> int:
    """Print the help asked for. Raises UsageError for a topic there is none of."""
    facts = Facts()
    asked = " ".join(options.topic)
    lines = help_lines(f"help {asked}", facts, min(shutil.get_terminal_size((80, 24)).columns, WIDEST))
    if lines is None:
        topics = ", ".join(facts.table("help"))
        raise UsageError(f"There is no help on '{harmless(asked)}'. Topics: {topics}, json.")
    sys.stdout.write(encodable("\n".join(lines), sys.stdout.encoding or "utf-8") + "\n")
    return 0
