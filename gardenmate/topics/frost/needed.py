""" "Do I need to cover them?", "must I bring them in?": the same night, judged by what is asked.

yes = needed, tight = worth it but not a must (or only under a clear sky), no = no need.
"""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType
from typing import Literal

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.topics.frost.crops import SAY
from gardenmate.topics.shared.grammar import sentence
from gardenmate.topics.shared.protection import frost_asks
from gardenmate.topics.shared.raising import proper

Need = Literal["yes", "tight", "no"]

_ASKED = ("cover", "bring-in")
_OTHERWISE = ("aftermath", "others", "pick")  # questions with a verdict of their own
_NEED: dict[str, Need] = {
    SAY["fine"]: "no",
    SAY["cool"]: "tight",
    SAY["tips"]: "tight",
    SAY["burnt"]: "tight",
    SAY["cover"]: "yes",
    SAY["chilled"]: "yes",
    SAY["lost"]: "yes",
}
_TURNED: dict[str, Need] = {"yes": "no", "tight": "tight", "no": "yes"}
# Covers that are laid for a night: named beside "should I cover", they are not on yet, unless said to be.
_LAID = ("fleece", "heavy-fleece", "blanket", "plastic", "cloche")
_ORDERS = ("Cover ", "Bring ", "Earth ", "At ")


def asks_need(question: Request) -> bool:
    """True when it is asked whether something has to be done, not whether the plants will live."""
    own = frost_asks(question) in _OTHERWISE or question.cue("pick_or_cover") is not None
    return question.cue("needed") in _ASKED and not own


def without_cover_thought_of(question: Request) -> Request:
    """The question without the cover it only thinks of laying ("should I cover them with fleece?")."""
    thought = question.cue("needed") == "cover" and question.cue("cover") in _LAID
    if not thought or question.has("cover", "on-already"):
        return question
    cues = {name: value for name, value in question.cues.items() if name not in ("cover", "cover_weight")}
    return replace(question, cues=MappingProxyType(cues))


def as_needed(question: Request, found: Answer) -> Answer:
    """The answer on how the plants come through, turned into whether the thing asked about is needed.

    Crops that differ keep no common verdict: the headline says which ones to cover.
    """
    outcomes = [str(n.value) for n in found.numbers if n.name == "outcome"]
    levels = {_NEED[o] for o in outcomes} or ({_TURNED[found.verdict]} if found.verdict else set())
    if len(levels) != 1:
        return found
    if found.verdict is None and any(o == SAY["fine"] for o in outcomes):
        return found  # a tree beside the crops fares otherwise
    (level,) = levels
    return replace(found, verdict=level, headline=_headline(level, found.headline, outcomes, question))


def _headline(level: Need, headline: str, outcomes: list[str], question: Request) -> str:
    text = sentence(headline.removeprefix("No: ").removeprefix("Yes: "))
    small = proper(text[:1].lower() + text[1:])
    if level == "no":
        return f"No need: {small}"
    if level == "yes" and question.cue("needed") == "bring-in" and text.startswith("Cover "):
        return f"Yes, or {small}"
    if level == "yes":
        return f"Yes, {small}" if text.startswith(_ORDERS) else f"Yes: {small}"
    if outcomes == [SAY["tips"]] and question.cue("sky") is None and question.cue("wind") is None:
        return f"Only if it stays clear: {small}"
    return f"Worth it, but not a must: {small}" if outcomes in ([SAY["tips"]], [SAY["burnt"]]) else headline
