"""Questions and answers put a little otherwise on their way through a conversation."""

from __future__ import annotations

import re

from gardenmate.core.answer import Answer
from gardenmate.core.effects import GardenChange
from gardenmate.core.question import Request
from gardenmate.garden.profile import Garden
from gardenmate.records import replace

_UNSIGNED = frozenset({"potting-up", "propagation", "pruning"})


def without_sign(answer: Answer, question: Request) -> Answer:
    """The answer without yes or no where "how deep" or "when" was asked and nothing else."""
    if not question.sense.figure or question.topic not in _UNSIGNED or answer.verdict is None:
        return answer
    headline = re.sub(r"^(?:Yes|No|Tight)[:,] (\w)", lambda m: m[1].upper(), answer.headline)
    return replace(answer, verdict=None, headline=headline)


KEPT = frozenset({"log", "garden"})
"""Topics under which nothing is worked out: a question behind one leans on the question before it."""
TOLD = frozenset({"report", "plan", "correct", "tell"})
"""Acts whose turn is no question: the next turn may lean on its plants, not on its being an entry."""


def to_follow(answer: Answer) -> Request:
    """The question before, as the next turn may lean on it. A place told of the garden, in an entry or in doubt is no
    place asked about: the garden has it now, with the grower's own dates, or nobody knows it."""
    question = answer.question
    if answer.act == "ask" and question.topic not in ("garden", "log") and not answer.asks:
        return question
    return placeless(question)


def placeless(question: Request) -> Request:
    """The question without the place it names or took over."""
    return replace(
        question,
        slots=replace(question.slots, place=None, place_within=None),
        carried=replace(question.carried, place=None, place_within=None),
    )


def plainly(told: Request) -> Request:
    """What is told, without how its numbers might be read as temperatures or what it is still about: nothing is worked
    out from it. That a name was mended is said all the same."""
    mended = [
        line for line in (told.reading or "").split("; ") if line and not line.startswith("still about")
    ]
    return replace(told, assumptions=(), reading="; ".join(mended) or None)


def asked_before(previous: Answer | None, asked: Answer | None, latest: Answer | None) -> Request | None:
    """What a question behind an entry, or behind a look at the log, leans on: the question before it, now about its
    plants; with no such question its plants alone. None where the turn before was neither."""
    if previous is None or (previous.act not in TOLD and previous.question.topic != "log"):
        return None
    entry = to_follow(previous)
    if previous.act == "correct":
        asked = latest  # what was asked before a correction is asked again, be it of the log
    if asked is None:
        return replace(entry, topic="unclear")
    return replace(to_follow(asked), crops=entry.crops or asked.question.crops)


def same_name(named: str, garden: Garden) -> bool:
    """True when a place named in a question is the garden's own, with its region or without."""
    if garden.place is None:
        return False
    own, said = garden.place.strip().casefold(), named.strip().casefold()
    return said in (own, own.partition(",")[0])


def on_its_own(answer: Answer) -> Answer:
    """The answer without its changes to the garden, saying so: the next question must not feel them."""
    if not answer.effects:
        return answer
    kept = tuple(e for e in answer.effects if not isinstance(e, GardenChange))
    if len(kept) == len(answer.effects):
        return answer
    said = "Not kept: in a list of questions each is answered on its own."
    return replace(answer, effects=kept, assumptions=(*answer.assumptions, said))
