"""The bench: the interactive session. `run` picks the form that fits the terminal."""

from __future__ import annotations

import argparse
import os
import sys

from gardenmate.bench.loop import converse
from gardenmate.cli import make_conversation


def run(options: argparse.Namespace) -> int:
    """Hold a conversation on the terminal, or answer what is piped in. Returns the exit code."""
    from gardenmate.bench.readers import PipedLines, PlainPrompt

    conversation = make_conversation(options)
    if not sys.stdin.isatty():
        return converse(conversation, PipedLines(sys.stdin), options)
    if _wants_plain(options):
        return converse(conversation, PlainPrompt(), options)
    try:
        from gardenmate.bench.session import RichPrompt

        reader = RichPrompt(conversation)
    # Whatever the library says of a terminal it cannot drive, the plain prompt works there.
    except Exception as error:
        print(f"(plain prompt: {error})", file=sys.stderr)
        return converse(conversation, PlainPrompt(), options)
    return converse(conversation, reader, options)


def _wants_plain(options: argparse.Namespace) -> bool:
    dumb = os.environ.get("TERM", "dumb") in ("dumb", "")
    return bool(options.plain) or dumb or bool(os.environ.get("ACCESSIBLE"))
