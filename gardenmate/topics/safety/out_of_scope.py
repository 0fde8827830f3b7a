"""What gardenmate does not answer, said in one honest line, with what can be asked instead."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.pruning.answer import not_covered
from gardenmate.topics.shared.woody_case import Case
from gardenmate.topics.shared.woody_phase import spring_at

_WHY = {
    "pests": "Pests and diseases are outside what I can judge",
    "feeding": "Feeding and soil chemistry are outside what I can judge",
    "watering": "Watering is outside what I can judge",
    "cooking": "Cooking and keeping food is outside what I do",
    "weather": "I never fetch weather; type tonight's low and I can work with it",
    "law": "Laws and permissions are outside what I can judge",
}
_CAN = "I can help with planting times, seedlings, frost, the cold frame, pruning and the week's work"


def answer(question: Request, world: World) -> Answer:
    """Decline in one line; for an unclear question list what near it can be asked."""
    other = question.cue("other_plant")
    if other:
        return not_covered(Case(question, world, spring_at(world)), [other])
    if question.topic == "unclear":
        return _unclear(question)
    if question.cue("too_late") and not question.cue("why_out"):
        return Answer(
            question=question,
            verdict=None,
            headline="Too late for what? Name the crop or the job.",
            asks=("too late to sow carrots?", "too late to prune the apple?"),
        )
    reason = _WHY.get(question.cue("why_out") or "", "That is outside what I can answer")
    headline = f"{reason}." if reason.startswith("I never") else f"{reason}. {_CAN}."
    return Answer(question=question, verdict=None, headline=headline, changes=_near(question))


def unknown_plant(question: Request, word: str) -> Answer:
    """Decline a plant nobody here knows, by the word it was called."""
    return Answer(
        question=question,
        verdict=None,
        headline=f"I do not know '{word}' as a crop or plant, and I will not guess.",
        changes=("Try another name for it, or ask about a near relative.",),
    )


def _unclear(question: Request) -> Answer:
    near = _near(question)
    return Answer(
        question=question,
        verdict=None,
        headline="I could not tell what you are asking."
        if not near
        else "I am not sure what you are asking.",
        changes=near,
        asks=near,
    )


def _near(question: Request) -> tuple[str, ...]:
    """Things near the text that can be asked, as the language found them (cue ``near``, one per line)."""
    return tuple(line for line in (question.cue("near") or "").split("\n") if line)
