"""The loop of the bench: read, answer, show; one function per turn. Only the end of input leaves it.

Ctrl-C at the prompt throws the line away, Ctrl-C during an answer stops that answer, Ctrl-D leaves.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import traceback
from textwrap import wrap
from typing import TYPE_CHECKING

from gardenmate.bench.readers import Reader
from gardenmate.core.errors import DamagedFileError, GardenmateError
from gardenmate.core.text import encodable, harmless
from gardenmate.dialogue.conversation import Conversation

if TYPE_CHECKING:
    from gardenmate.bench.turn import Bench

WIDEST = 100
LEAVE = ("quit", "exit", "bye", "goodbye", "q")
GREETING = "Ask about your garden in plain words. 'help' shows how; 'quit' leaves."
SKIPPED = "Skipped. Say 'I garden in ...' whenever you like."
LEAVES = "Type 'quit' or press Ctrl-D to leave."


def converse(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> int:
    """Hold the conversation until the input ends. Returns the exit code."""
    from gardenmate.bench.setup import first_questions
    from gardenmate.bench.turn import Bench
    from gardenmate.present.so_far import HINTS

    bench = Bench(conversation)
    bench.screen.hints = HINTS if reader.interactive else 0
    if reader.interactive:
        say(GREETING)
        try:
            first_questions(bench, reader, options)
        except (EOFError, KeyboardInterrupt):
            say(SKIPPED)
        except GardenmateError as error:
            say(str(error))
    while True:
        try:
            text = reader.read()
            if text.strip().lower().lstrip("/") in LEAVE:
                return 0
            one_turn(bench, text, reader, options)
        except EOFError:
            return 0
        except KeyboardInterrupt:  # whenever it comes, it never leaves
            say(LEAVES)


def one_turn(bench: Bench, text: str, reader: Reader, options: argparse.Namespace) -> None:
    """Answer a line or a pasted block, question by question. A fault becomes one line; the loop goes on."""
    from gardenmate.language.intent.understand import split_questions

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
    from gardenmate.bench.demo import shown
    from gardenmate.bench.transcripts import asked_for
    from gardenmate.dialogue.session import colourful, is_linear, look_for
    from gardenmate.present.screen import write_lines

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
    width = min(shutil.get_terminal_size((80, 24)).columns, WIDEST)
    lines = [part for line in harmless(text, keep_lines=True).split("\n") for part in _fitted(line, width)]
    sys.stdout.write(encodable("\n".join(lines), sys.stdout.encoding or "utf-8") + "\n")
    sys.stdout.flush()
