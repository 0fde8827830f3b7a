"""What gardenmate does not answer, said in one honest line, with what can be asked instead."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.pruning.answer import not_covered
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import spring_at

_WHY = {
    "pests": "Sorry, I can't diagnose pests or diseases",
    "feeding": "Sorry, I can't advise on feeding or soil",
    "watering": "Sorry, I can't advise on watering",
    "cooking": "Sorry, I don't do cooking or storing",
    "weather": "Sorry, I can't look up the weather. Tell me the low you expect tonight and I'll say what to cover",
    "law": "Sorry, I can't advise on laws or permits",
}
_CAN = "Ask me about planting times, seedlings, frost, cold frames, pruning or this week's jobs"


def answer(question: Request, world: World) -> Answer:
    """Decline in one line; for an unclear question list what near it can be asked."""
    other = question.cue("other_plant")
    if other:
        return not_covered(WoodyCase(question, world, spring_at(world)), [other])
    if question.topic == "unclear":
        return _unclear(question)
    if question.cue("too_late") and not question.cue("why_out"):
        return Answer(
            question=question,
            verdict=None,
            headline="Too late for what? Name the crop or the job.",
            asks=("too late to sow carrots?", "too late to prune the apple?"),
        )
    return declined(question)


def declined(question: Request) -> Answer:
    """One friendly line: what it can't help with, and what can be asked instead."""
    theme = question.cue("why_out") or ""
    reason = _WHY.get(theme, "Sorry, I can't help with that one")
    headline = f"{reason}." if theme == "weather" else f"{reason}. {_CAN}."
    return Answer(question=question, verdict=None, headline=headline)


def unknown_plant(question: Request, word: str) -> Answer:
    """Decline a plant nobody here knows, by the word it was called."""
    return Answer(
        question=question,
        verdict=None,
        headline=f"I don't know a crop or plant called '{word}', so I won't guess.",
        changes=("Try another name for it, or ask about a near relative.",),
    )


def _unclear(question: Request) -> Answer:
    near = tuple(str(t.value) for t in question.typed if t.kind == "near")
    if question.cue("asks") == "choose" and len(near) == 2:
        return Answer(
            question=question,
            verdict=None,
            headline=f"Do you mean 1) '{near[0]}' or 2) '{near[1]}'",
            changes=("Answer 1 or 2, or put it another way.",),
            asks=near,
        )
    return Answer(
        question=question,
        verdict=None,
        headline="Sorry, I didn't understand that." if not near else "I'm not sure what you are asking.",
        changes=near,
        asks=near,
    )
