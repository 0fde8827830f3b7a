"""The loop of the bench: read, answer, show; one function per turn. Only the end of input leaves it.

Ctrl-C at the prompt throws the line away, Ctrl-C during an answer stops that answer, Ctrl-D leaves.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import traceback
from textwrap import wrap

from gardenmate.answer import Answer
from gardenmate.bench.readers import Reader
from gardenmate.conversation import Conversation
from gardenmate.errors import DamagedFileError, GardenmateError
from gardenmate.present.text import encodable, harmless

WIDEST = 100
LEAVE = ("quit", "exit", "bye", "goodbye", "q", ":q")
GREETING = "Ask about the planting window in your own words. 'help' shows examples; Ctrl-D leaves."
SKIPPED = "Skipped: say 'I garden in ...' whenever you like."
NOTHING_DUE = (
    "Nothing to show yet: tell me where you garden ('I garden in Duluth'), or ask; 'help' has examples."
)


def converse(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> int:
    """Hold the conversation until the input ends. Returns the exit code."""
    from gardenmate.bench.setup import first_questions

    if reader.interactive:
        say(GREETING)
        try:
            first_questions(conversation, reader, options)
        except (EOFError, KeyboardInterrupt):
            say(SKIPPED)
        except GardenmateError as error:
            say(str(error))
    while True:
        try:
            text = reader.read()
        except EOFError:
            return 0
        except KeyboardInterrupt:
            say("Ctrl-D leaves.")
            continue
        if text.strip().lower() in LEAVE:
            return 0
        one_turn(conversation, text, reader, options)


def one_turn(conversation: Conversation, text: str, reader: Reader, options: argparse.Namespace) -> None:
    """Answer one line, or each question of a pasted block. A fault becomes one line; the loop goes on."""
    questions = [line.strip() for line in text.splitlines() if line.strip()]
    try:
        if not questions and reader.interactive:
            _first_due(conversation, reader, options)
        for question in questions:
            if len(questions) > 1 or not reader.interactive:
                say(f"> {question}")  # which answer belongs to which question
            _answer(conversation, question, reader, options)
    except KeyboardInterrupt:
        say("\nStopped.")


def _first_due(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> None:
    try:
        answer = conversation.first_due()
    except GardenmateError as error:
        say(str(error))
        return
    if answer is None:
        say(NOTHING_DUE)
        return
    _show(conversation, answer, reader, options)


def _answer(conversation: Conversation, question: str, reader: Reader, options: argparse.Namespace) -> None:
    from gardenmate.bench.help import help_lines

    lines = help_lines(question, conversation.facts, _width(conversation, options))
    if lines is not None:
        say("\n".join(lines))
        return
    try:
        _show(conversation, conversation.ask(question), reader, options)
    except DamagedFileError as error:
        say(f"A file is damaged: {error}")
    except GardenmateError as error:
        say(str(error))
    except Exception as error:  # a fault of the program costs this answer, not the conversation
        where = traceback.extract_tb(error.__traceback__)[-1]
        say(
            f"That question met a fault of the program ({type(error).__name__}: {error}; {where.name}, "
            f"line {where.lineno}). Nothing written down is lost; ask another way, or something else."
        )


def _width(conversation: Conversation, options: argparse.Namespace) -> int:
    from gardenmate.cli import look_for

    return look_for(conversation, options).width


def _show(conversation: Conversation, answer: Answer, reader: Reader, options: argparse.Namespace) -> None:
    from gardenmate.cli import is_linear, look_for, show

    page = reader.interactive and sys.stdout.isatty() and not is_linear(options)
    show(answer, look_for(conversation, options), sys.stdout, options, page=page)
    say("")


def _fitted(line: str, width: int) -> list[str]:
    return wrap(line, max(width, 20)) if len(line) > width else [line]


def say(text: str) -> None:
    """Write text of our own, or words typed made harmless, and flush."""
    width = min(shutil.get_terminal_size((80, 24)).columns, WIDEST)
    lines = [part for line in harmless(text, keep_lines=True).split("\n") for part in _fitted(line, width)]
    sys.stdout.write(encodable("\n".join(lines), sys.stdout.encoding or "utf-8") + "\n")
    sys.stdout.flush()
