"""A danger that is itself what was asked: it is answered first, before the topic speaks.

Language marks it with the cue ``danger`` (knowledge/language/dangers.toml); what is said stands in
knowledge/dangers. A card opens with what to do or not to do, never with a yes or no, so that it cannot be
read the wrong way round: "are green potatoes poisonous?" and "can I eat green potatoes?" get the same words.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts

# What was done, or what the garden has, is kept whatever it says, unless somebody may be hurt.
_KEPT = frozenset({"log", "garden"})
_NO_STAMP = frozenset({"out-of-scope", "unclear"})  # no question of the trade: said, but not judged
FIRST_AID = "first_aid"  # the file of the cards for somebody already hurt

_ASKS = re.compile(
    r"\?|\b(?:can|could|may|should|shall|do|does|is|are|will|what|how|ok|okay|safe)\b", re.IGNORECASE
)
_LOGS = re.compile(r"^\W*(?:log|note|record|journal|diary)\b", re.IGNORECASE)
_OWNS = re.compile(r"\b(?:have|has|got|own|bought|there is)\b|'ve\b", re.IGNORECASE)
# The doing itself is asked about ("can I", "is it ok to") ...
_MAY = re.compile(
    r"\b(?:(?:can|could|may|should|shall|might) (?:i|we|you|my|the|it|they|he|she|this|these|those|a|an)\b"
    r"|(?:is|are|be|will|would)\b.{0,80}\b(?:ok|okay|safe|fine|alright|all right|edible|good|work)\b"
    r"|(?:safe|ok|okay|fine|alright) to\b|keep using|any harm|need to (?:paint|seal|tar|dress))",
    re.IGNORECASE,
)
# ... or something else, to which a yes or no would be the answer to a question nobody asked.
_OTHER = re.compile(
    r"(?:^|[.!?,;]\s*)(?:and |so |but )?(?:is|are|do|does|did|will|would|has|have)\b", re.IGNORECASE
)
# Words that turn the question round ("is it dangerous to", "should I avoid"), or ask for more than yes or no.
_TURNED = re.compile(
    r"\b(?:danger\w*|poison(?:ous|ed|s)?|toxic\w*|deadly|harmful\w*|hazard\w*|unsafe|risk\w*|avoid\w*|bad|"
    r"kill\w*|hurts?|worr\w+|stop|unplug\w*|(?:turn|switch) (?:it |them )?off|throw|toss|discard|dispose|"
    r"wear|gloves|mask|(?:should|shall) i (?:wait|leave)|alone|call|need|must|required|necessary|compost|"
    r"why|what|how|when|where|who|not|never|before)\b|n't\b",
    re.IGNORECASE,
)
_STILL_ASKED = re.compile(
    r"\b(?:keep using|without (?:a|any|the)|need to (?:paint|seal|tar|dress))\b", re.IGNORECASE
)


def danger_of(question: Request, facts: Facts) -> str | None:
    """The danger the question is about, None when it is about none."""
    kind = question.cue("danger")
    if not kind:
        return None
    if question.topic in _KEPT:
        if _LOGS.search(question.text):
            return None
        hurt = kind in facts.table(f"dangers/{FIRST_AID}")
        told = question.topic == "log" or _OWNS.search(question.text) is not None
        if told and not hurt and _ASKS.search(question.text) is None:
            return None
    return kind


def danger_answer(question: Request, facts: Facts) -> Answer | None:
    """What to do first, and whose word decides; None when no danger is asked about.

    Raises KeyError for a danger without a card: it must never drop out silently.
    """
    kind = danger_of(question, facts)
    if kind is None:
        return None
    card = card_of(kind, facts)
    return Answer(
        question=question,
        verdict=None if question.topic in _NO_STAMP else _verdict(question.text, card),
        headline=card["text"],
        steps=tuple(card["instead"]),
        cautions=(card["defer"],),
        sources=tuple(card["sources"]),
        working=(card["text"], card["defer"]),
    )


def with_danger(answer: Answer, facts: Facts) -> Answer:
    """The answer with the danger its question may hold said as its first caution; no plain yes beside an acute one."""
    kind = answer.question.cue("danger_beside")
    if kind is None or answer.question.topic in (*_KEPT, *_NO_STAMP):
        return answer
    card = card_of(kind, facts)
    return replace(
        answer,
        verdict=None if answer.verdict == "yes" and is_acute(kind, facts) else answer.verdict,
        cautions=(card["text"], *answer.cautions, card["defer"]),
        sources=(*answer.sources, *card["sources"]),
    )


CLASS = "class-"  # a danger heard by its class (knowledge/danger_classes.toml), not by a line of its own


def is_acute(kind: str, facts: Facts) -> bool:
    """True when nothing but the danger is answered: a card of its own, or an acute class."""
    if not kind.startswith(CLASS):
        return True
    return bool(facts.table("danger_classes")[kind.removeprefix(CLASS)].get("acute", False))


def card_of(kind: str, facts: Facts) -> Mapping[str, Any]:
    """What is said about one kind of danger. Raises KeyError when there is no such card."""
    if kind.startswith(CLASS):
        entry: Mapping[str, Any] = facts.table("danger_classes")[kind.removeprefix(CLASS)]
        return card_of(str(entry["card"]), facts) if "card" in entry else entry
    for name in facts.ids("dangers"):
        found: Mapping[str, Any] | None = facts.table(f"dangers/{name}").get(kind)
        if found is not None:
            return found
    raise KeyError(kind)


def _verdict(text: str, card: Mapping[str, Any]) -> Verdict | None:
    """The card's verdict where the doing itself is asked about; None where a yes or no could mislead."""
    verdict: Verdict | None = card.get("verdict")
    said = _STILL_ASKED.sub("", text)
    meant = _MAY.search(text) is not None or _OTHER.search(text) is None
    return verdict if meant and _TURNED.search(said) is None else None
