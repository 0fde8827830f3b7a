"""`gardenmate ask`: one question, or many from standard input."""

from __future__ import annotations

import argparse
import gc
import io
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

from gardenmate.core.answer import Answer
from gardenmate.core.errors import GardenmateError, UsageError
from gardenmate.core.question import Request
from gardenmate.core.text import harmless
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.session import colourful, look_for, make_conversation
from gardenmate.present.json_out import to_json_line
from gardenmate.present.layout import Line, Look
from gardenmate.present.screen import write_lines
from gardenmate.present.so_far import SoFar, asks_more

EXIT_FAULT = 1  # exit code; README lists them
_SETTLED = frozenset({0, 20, 200})  # lines of a list after which most facts in use are read


def run(options: argparse.Namespace) -> int:
    """Answer the question, or the questions on standard input, and return the exit code."""
    conversation = make_conversation(options)
    if options.question != ["-"]:
        text = " ".join(options.question)
        if options.explain_reading:
            return _explain_reading(conversation, text)
        _say(conversation, conversation.ask(text), options, _screen(conversation, options))
        return _without_garden(options) or conversation.exit_code
    gc.enable()
    conversation.remembers = options.conversation
    try:
        faults = _reply_to_each(conversation, options)
    finally:
        gc.unfreeze()
    return EXIT_FAULT if faults else _without_garden(options)


def _reply_to_each(conversation: Conversation, options: argparse.Namespace) -> int:
    """Answer every line of standard input; returns how many met a fault."""
    screen = _screen(conversation, options)
    faults = 0
    for number, line in enumerate(_stdin_lines()):
        if line.strip():
            faults += not _reply(conversation, line.rstrip("\r\n"), options, screen)
        if number in _SETTLED:
            # words and facts stay to the end: the collector need not look through them again and again
            gc.freeze()
    return faults


def _screen(conversation: Conversation, options: argparse.Namespace) -> SoFar:
    return SoFar(conversation.facts, full=options.full)


def _reply(conversation: Conversation, text: str, options: argparse.Namespace, screen: SoFar) -> bool:
    """Answer one line of several; False when it met a fault, which is then its answer, and stops no other line.
    "more" is about the answer before where they share a conversation."""
    if not options.conversation:
        screen.forget()
    elif screen.waits and asks_more(text) and not options.json:
        _write(screen.rest(look_for(conversation, options)), look_for(conversation, options), options)
        return True
    try:
        answer, sound = conversation.ask(text), True
    except Exception as error:  # whatever it is, it is told here, and the next line is answered
        answer, sound = _fault(text, error), False
    _say(conversation, answer, options, screen)
    return sound


def _fault(text: str, error: Exception) -> Answer:
    """The answer to a line that met a fault; where in the program goes to standard error."""
    if isinstance(error, GardenmateError):
        said = str(error)
    else:
        import traceback  # start-up seam: only where something went wrong

        where = traceback.extract_tb(error.__traceback__)[-1]
        said = f"Sorry, something went wrong inside the program ({type(error).__name__})."
        print(
            f"gardenmate: {said} {Path(where.filename).name}:{where.lineno}: {harmless(str(error))}",
            file=sys.stderr,
        )
    return Answer(question=Request(text, "unclear"), verdict=None, headline=said)


def _without_garden(options: argparse.Namespace) -> int:
    """The exit code when --garden names a file that is not there and nothing was told to begin it with."""
    if not options.garden or options.no_garden:
        return 0
    # start-up seam: only for a garden named
    from gardenmate.dialogue.home import (
        garden_named,
        is_there,
    )

    if is_there(garden_named(options)):
        return 0
    print(
        f"gardenmate: there is no garden file {harmless(options.garden)}; nothing in it was used.",
        file=sys.stderr,
    )
    return UsageError.exit_code


def _stdin_lines() -> Sequence[str] | TextIO:
    """Standard input line by line; bytes that are not UTF-8 are replaced, never a failure."""
    buffer = getattr(sys.stdin, "buffer", None)
    if buffer is None:
        return sys.stdin
    return io.TextIOWrapper(buffer, encoding="utf-8", errors="replace", newline="\n")


def _explain_reading(conversation: Conversation, text: str) -> int:
    for line in conversation.read(text).trace:
        print(harmless(line))
    return 0


def _say(conversation: Conversation, answer: Answer, options: argparse.Namespace, screen: SoFar) -> None:
    """Write one answer, flushed, in the form asked for."""
    if options.json:
        sys.stdout.write(to_json_line(answer, conversation.facts) + "\n")
        sys.stdout.flush()
        return
    look = look_for(conversation, options)
    _write(screen.first(answer, look), look, options)


def _write(lines: Sequence[Line], look: Look, options: argparse.Namespace) -> None:
    write_lines(lines, look.width, sys.stdout, colour=colourful(sys.stdout, options))
