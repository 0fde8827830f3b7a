"""The bench: the interactive session. `run` picks the form that fits the terminal."""

from __future__ import annotations

import argparse
import os
import signal
import sys
import threading
from types import FrameType
from typing import TYPE_CHECKING

from gardenmate.bench.loop import converse
from gardenmate.dialogue.session import is_linear, make_conversation

if TYPE_CHECKING:
    from gardenmate.bench.readers import Reader
    from gardenmate.dialogue.conversation import Conversation


def run(options: argparse.Namespace) -> int:
    """Hold a conversation on the terminal, or answer what is piped in. Returns the exit code."""
    conversation = make_conversation(options)
    _end_in_order()
    return converse(conversation, _reader(conversation, options), options)


def _end_in_order() -> None:
    """A signal that ends the program ends it like an error: what was set on the terminal is put back."""
    for name in ("SIGTERM", "SIGHUP", "SIGQUIT"):
        number = getattr(signal, name, None)
        if number is not None and threading.current_thread() is threading.main_thread():
            signal.signal(number, _end)


def _end(number: int, frame: FrameType | None) -> None:
    del frame
    raise SystemExit(128 + number)


def _reader(conversation: Conversation, options: argparse.Namespace) -> Reader:
    # start-up seam: the one prompt the terminal can have
    from gardenmate.bench.readers import PipedLines, PlainPrompt

    if sys.stdin is None or not sys.stdin.isatty():
        return PipedLines(sys.stdin)
    dumb = os.environ.get("TERM", "") in ("", "dumb")
    if dumb or is_linear(options) or not sys.stdout.isatty():
        return PlainPrompt(conversation)
    try:
        # start-up seam: the one prompt the terminal can have
        from gardenmate.bench.session import RichPrompt

        return RichPrompt(conversation)
    # Whatever the library says of a terminal it cannot drive, the plain prompt works there.
    except Exception as error:
        print(f"(plain prompt: {error})", file=sys.stderr)
        return PlainPrompt(conversation)
