"""One turn of the bench as lines to show: help, what an empty line gets, or an answer."""

from __future__ import annotations

from dataclasses import replace
from textwrap import wrap

from gardenmate.bench.help import help_lines
from gardenmate.conversation import Conversation
from gardenmate.present.layout import Line, Look, Piece, layout

NOTHING_DUE = (
    "Nothing to show yet: tell me where you garden ('I garden in Duluth'), or ask; 'help' has examples."
)


def turn(conversation: Conversation, text: str, look: Look) -> list[Line]:
    """What is shown for ``text``, in lines no wider than the look. An empty text gets the first thing due.

    Raises GardenmateError for faults of files.
    """
    lines = help_lines(text, conversation.facts, look.width)
    if lines is not None:
        return [(Piece(line, "" if line.startswith(" ") else "head"),) for line in lines]
    answer = conversation.ask(text) if text.strip() else conversation.first_due()
    if answer is None:
        return [(Piece(line),) for line in wrap(NOTHING_DUE, look.width)]
    # Asked again: the answer may have been that the garden uses other units.
    return layout(answer, replace(look, units=conversation.shown_units()))
