"""The loop of the bench: read, answer, show; one function per turn. Only the end of input leaves it.

Ctrl-C at the prompt throws the line away, Ctrl-C during an answer stops that answer, Ctrl-D leaves.
"""

from __future__ import annotations

import argparse

from gardenmate.bench.exchange import one_turn, say
from gardenmate.bench.help import LEAVE
from gardenmate.bench.readers import Reader
from gardenmate.bench.setup import first_questions
from gardenmate.bench.turn import Bench
from gardenmate.core.errors import GardenmateError
from gardenmate.dialogue.conversation import Conversation
from gardenmate.present.so_far import HINTS

GREETING = "Ask about your garden in plain words. 'help' shows how; 'quit' leaves."
SKIPPED = "Skipped. Say 'I garden in ...' whenever you like."
LEAVES = "Type 'quit' or press Ctrl-D to leave."


def converse(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> int:
    """Hold the conversation until the input ends. Returns the exit code."""
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
