"""What gardenmate does not answer, said honestly and kindly, with what can be asked instead."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.pruning.answer import not_covered
from gardenmate.topics.shared.subjects import plants_named, together
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import spring_at

_WHY = {
    "pests": "I'm sorry, I can't help with pests or diseases; your extension office can",
    "feeding": "I'm sorry, I can't advise on feeding or soil; your extension office can, best with a soil test",
    "watering": "I'm sorry, I can't say when or how much to water",
    "cooking": "I'm sorry, I can't help with cooking or keeping food",
    "weather": "I can't look up the weather, but tell me the low you expect tonight and I'll say what to cover",
    "law": "I'm sorry, I don't know your local rules; your council or county office does",
}
_SAY_AGAIN = (
    "Sorry, I didn't understand that. Could you put it another way, such as 'when do I sow carrots?' or 'what should I "
    "do this week?'"
)
_ELSE = "I'm sorry, that is outside what I know"
_CAN = "I can tell you when to sow, plant or prune, what frost does, how to raise seedlings, and what to do this week"
_CAN_OF = {
    "cooking": "I can tell you when {crops} will be ready to pick, and how much to grow",
    "": "I can tell you when to sow or plant {crops}, what frost does to {them}, and when to pick",
}
"""What can be told of the crops named, by what was asked about them."""


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
    return declined(question, world.facts)


def declined(question: Request, facts: Facts) -> Answer:
    """Two friendly sentences: what it can't help with, and what it can, of the crops named where there are some."""
    theme = question.cue("why_out") or ""
    named = [ref for ref in question.crops if facts.crop_for(ref) is not None]
    can = _CAN
    if named:
        crops = together(plants_named(ref, facts) for ref in named)
        can = _CAN_OF.get(theme, _CAN_OF[""]).format(crops=crops.word, them=crops.them)
    reason = _WHY.get(theme, _ELSE)
    headline = f"{reason}." if theme == "weather" else f"{reason}. {can}."
    return Answer(question=question, verdict=None, headline=headline)


def unknown_plant(question: Request, word: str) -> Answer:
    """Decline a plant nobody here knows, by the word it was called."""
    return Answer(
        question=question,
        verdict=None,
        headline=f"I don't know a plant called '{word}', so I won't guess.",
        changes=("Try another name for it, or ask about a near relative.",),
    )


def _unclear(question: Request) -> Answer:
    near = tuple(str(t.value) for t in question.typed if t.kind == "near")
    if question.cue("asks") == "choose" and len(near) == 2:
        return Answer(
            question=question,
            verdict=None,
            headline=f"Do you mean 1) '{near[0]}' or 2) '{near[1]}'?",
            changes=("Answer 1 or 2, or put it another way.",),
            asks=near,
        )
    return Answer(
        question=question,
        verdict=None,
        headline="I'm not sure what you are asking." if near else _SAY_AGAIN,
        changes=near,
        asks=near,
    )
