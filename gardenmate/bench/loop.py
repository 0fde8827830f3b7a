"""The loop of the bench: read, answer, show; one function per turn. Only the end of input leaves it.

Ctrl-C at the prompt throws the line away, Ctrl-C during an answer stops that answer, Ctrl-D leaves.
"""

from __future__ import annotations

import argparse
import sys

from gardenmate.answer import Answer
from gardenmate.bench.readers import Reader
from gardenmate.conversation import Conversation
from gardenmate.errors import DamagedFileError, GardenmateError
from gardenmate.present.text import harmless

LEAVE = ("quit", "exit", "bye", "q")
HINT_LEAVE = "Ctrl-D leaves."


def converse(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> int:
    """Hold the conversation until the input ends. Returns the exit code."""
    from gardenmate.bench.setup import first_questions

    if reader.interactive:
        _print("Ask about the planting window in your own words. 'help' shows examples; Ctrl-D leaves.")
        try:
            first_questions(conversation, reader, options)
        except (EOFError, KeyboardInterrupt):
            _print("Skipped: say 'I garden in ...' whenever you like.")
    while True:
        try:
            text = reader.read()
        except EOFError:
            if reader.interactive:
                _print("")
            return 0
        except KeyboardInterrupt:
            _print(HINT_LEAVE)
            continue
        if text.strip().lower() in LEAVE:
            return 0
        one_turn(conversation, text, reader, options)


def one_turn(conversation: Conversation, text: str, reader: Reader, options: argparse.Namespace) -> None:
    """Answer one line, or each question of a pasted block. A fault becomes one line; the loop goes on."""
    questions = [line for line in text.splitlines() if line.strip()]
    try:
        if not questions:
            if reader.interactive:
                _show(conversation, conversation.first_due(), reader, options)
            return
        for question in questions:
            if len(questions) > 1:
                _print(f"> {harmless(question.strip())}")
            if _helped(conversation, question):
                continue
            _show(conversation, conversation.ask(question), reader, options)
    except KeyboardInterrupt:
        _print("Stopped.")
    except DamagedFileError as error:
        _print(f"A file is damaged: {harmless(str(error))}")
    except GardenmateError as error:
        _print(harmless(str(error)))


def _helped(conversation: Conversation, text: str) -> bool:
    from gardenmate.bench.help import help_lines

    lines = help_lines(text, conversation.facts)
    if lines is None:
        return False
    for line in lines:
        _print(line)
    return True


def _show(
    conversation: Conversation, answer: Answer | None, reader: Reader, options: argparse.Namespace
) -> None:
    if answer is None:
        return
    from gardenmate.cli import look_for, show

    look = look_for(conversation, options)
    show(answer, look, sys.stdout, options, page=reader.interactive and sys.stdout.isatty())
    if reader.interactive:
        _print("")


def _print(text: str) -> None:
    from gardenmate.present.text import encodable

    sys.stdout.write(encodable(text, sys.stdout.encoding or "utf-8") + "\n")
    sys.stdout.flush()
