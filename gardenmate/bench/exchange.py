"""One exchange: a line or a pasted block is answered and shown; a fault costs that answer, never the session."""

from __future__ import annotations

import argparse
import sys
import traceback
from textwrap import wrap

from gardenmate.bench.demo import shown
from gardenmate.bench.readers import Reader
from gardenmate.bench.transcripts import asked_for
from gardenmate.bench.turn import Bench
from gardenmate.core.errors import DamagedFileError, GardenmateError
from gardenmate.core.text import encodable, harmless
from gardenmate.dialogue.session import colourful, is_linear, look_for
from gardenmate.language.intent.understand import split_questions
from gardenmate.present.screen import screen_width, write_lines


def one_turn(bench: Bench, text: str, reader: Reader, options: argparse.Namespace) -> None:
    """Answer a line or a pasted block, question by question. A fault becomes one line; the loop goes on."""
    questions = split_questions(text)
    try:
        if not questions and reader.interactive:
            questions = [""]
        several = len(questions) > 1 or not reader.interactive
        for question in questions:
            if several:
                say(f"> {question}")  # which answer belongs to which question
            asked: str | None = question
            while asked is not None:  # what is typed in the middle of a long answer is the next question
                asked = _answer(bench, asked, reader, options)
    except KeyboardInterrupt:
        say("\nStopped.")


def _answer(bench: Bench, text: str, reader: Reader, options: argparse.Namespace) -> str | None:
    """Answer one question. Returns what was asked at a pause in the middle of the answer, else None."""
    try:
        look = look_for(bench.conversation, options)
        played = asked_for(text)
        lines = shown(played) if played is not None else bench.turn(text, look)
        page = reader.interactive and sys.stdout.isatty() and not is_linear(options)
        asked = write_lines(lines, look.width, sys.stdout, colour=colourful(sys.stdout, options), page=page)
        say("")
        return asked
    except DamagedFileError as error:
        say(f"A file is damaged: {error}")
    except GardenmateError as error:
        say(str(error))
    except Exception as error:  # a fault of the program costs this answer, not the conversation
        where = traceback.extract_tb(error.__traceback__)[-1]
        say(
            f"Sorry, something went wrong inside the program ({type(error).__name__}: {error}; {where.name}, "
            f"line {where.lineno}). Your notes are safe. Try asking it differently."
        )
    return None


def _fitted(line: str, width: int) -> list[str]:
    return wrap(line, max(width, 20)) if len(line) > width else [line]


def say(text: str) -> None:
    """Write text of our own, or words typed made harmless, and flush."""
    width = screen_width()
    lines = [part for line in harmless(text, keep_lines=True).split("\n") for part in _fitted(line, width)]
    sys.stdout.write(encodable("\n".join(lines), sys.stdout.encoding or "utf-8") + "\n")
    sys.stdout.flush()
