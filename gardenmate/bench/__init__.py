"""The bench: the interactive session. `run` picks the form that fits the terminal."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

from gardenmate.bench.loop import converse
from gardenmate.dialogue.session import is_linear, make_conversation

if TYPE_CHECKING:
    from gardenmate.bench.readers import Reader
    from gardenmate.dialogue.conversation import Conversation


def run(options: argparse.Namespace) -> int:
    """Hold a conversation on the terminal, or answer what is piped in. Returns the exit code."""
    conversation = make_conversation(options)
    return converse(conversation, _reader(conversation, options), options)


def _reader(conversation: Conversation, options: argparse.Namespace) -> Reader:
    from gardenmate.bench.readers import PipedLines, PlainPrompt

    if sys.stdin is None or not sys.stdin.isatty():
        return PipedLines(sys.stdin)
    dumb = os.environ.get("TERM", "") in ("", "dumb")
    if dumb or is_linear(options) or not sys.stdout.isatty():
        return PlainPrompt(conversation)
    try:
        from gardenmate.bench.session import RichPrompt

        return RichPrompt(conversation)
    # Whatever the library says of a terminal it cannot drive, the plain prompt works there.
    except Exception as error:
        print(f"(plain prompt: {error})", file=sys.stderr)
        return PlainPrompt(conversation)
