"""First run: three short questions, each skippable with Enter, each told why it is asked."""

from __future__ import annotations

import argparse
import sys

from gardenmate.bench.readers import Reader
from gardenmate.conversation import Conversation
from gardenmate.effects import GardenChange

QUESTIONS: tuple[tuple[str, str, str], ...] = (
    (
        "Where is the garden? A town or region; it sets the climate. (Enter skips)",
        "where> ",
        "I garden in {}",
    ),
    (
        "Do you know your own average last frost, such as May 12? It beats the station's. (Enter skips)",
        "last frost> ",
        "my last frost is {}",
    ),
    (
        "Which of these do you have: heat mat, lamp, cold frame, tunnel, fleece? (Enter skips)",
        "gear> ",
        "I have {}",
    ),
)
_UNKNOWN = (
    "",
    "no",
    "none",
    "nothing",
    "i don't know",
    "i dont know",
    "don't know",
    "dont know",
    "dunno",
    "?",
    "skip",
)


def first_questions(conversation: Conversation, reader: Reader, options: argparse.Namespace) -> None:
    """Ask the first questions when the garden is still unknown. Nothing is asked twice.

    Raises EOFError or KeyboardInterrupt when the grower leaves them.
    """
    garden_file = conversation.garden_file
    if garden_file is None or conversation.options.given or garden_file.path.exists():
        return
    from gardenmate.cli import look_for, show

    for why, prompt, sentence in QUESTIONS:
        print(why)
        typed = reader.read(prompt).strip()
        if typed.lower().rstrip(".!") in _UNKNOWN:
            continue
        answer = conversation.ask(sentence.format(typed))
        show(answer, look_for(conversation, options), sys.stdout, options)
    garden_file.apply(GardenChange("preferences.first_questions", "asked"))
