"""One turn of the bench as lines to show: help, what an empty line gets, or an answer."""

from __future__ import annotations

from textwrap import wrap

from gardenmate.bench.help import help_lines
from gardenmate.dialogue.conversation import Conversation
from gardenmate.present.layout import Line, Look, Piece, layout

NOTHING_DUE = (
    "Nothing to show yet: tell me where you garden ('I garden in Duluth'), or ask; 'help' has examples."
)


def turn(conversation: Conversation, text: str, look: Look) -> list[Line]:
    """What is shown for ``text``, in lines no wider than the look. An empty text gets the first thing due.

    Raises GardenmateError for faults of files.
    """
    helped = help_lines(text, conversation.facts, look.width)
    if helped is not None:
        return [(Piece(line, "" if line.startswith(" ") else "head"),) for line in helped]
    answer = conversation.ask(text) if text.strip() else conversation.first_due()
    if answer is None:
        return [(Piece(line),) for line in wrap(NOTHING_DUE, look.width)]
    # Asked again: the answer may have been that the garden uses other units.
    look = look._replace(units=conversation.shown_units())
    lines = layout(answer, look)
    told_place = answer.question.topic == "garden" and answer.effects
    resumed = conversation.resumed() if told_place else None
    return lines if resumed is None else [*lines, (), *layout(resumed, look)]
