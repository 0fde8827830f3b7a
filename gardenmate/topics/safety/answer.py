"""A danger that is itself what was asked: it is answered first, before the topic speaks.

Language marks it with the cue ``danger`` (knowledge/language/dangers.toml); what is said stands in
knowledge/dangers. A card opens with what to do or not to do, never with a yes or no, so that it cannot be
read the wrong way round: "are green potatoes poisonous?" and "can I eat green potatoes?" get the same words.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.safety.help_lines import sources_of, with_numbers

# What was done, or what the garden has, is kept whatever it says, unless somebody may be hurt.
_KEPT = frozenset({"log", "garden"})
_NO_STAMP = frozenset({"out-of-scope", "unclear"})  # no question of the trade: said, but not judged
FIRST_AID = "first_aid"  # the file of the cards for somebody already hurt


def danger_of(question: Request, facts: Facts) -> str | None:
    """The danger the question is about, None when it is about none."""
    kind = question.cue("danger")
    if not kind:
        return None
    said = (question.cue("danger_said") or "").split()
    if question.topic in _KEPT:
        if "logged" in said:
            return None
        hurt = kind in facts.table(f"dangers/{FIRST_AID}")
        told = question.topic == "log" or "owned" in said
        if told and not hurt and "asked" not in said:
            return None
    return kind


def danger_answer(question: Request, facts: Facts, country: str | None = None) -> Answer | None:
    """What to do first, and whose word decides; None when no danger is asked about. ``country``: whose help lines are
    named, all where it is None.

    Raises KeyError for a danger without a card: it must never drop out silently.
    """
    kind = danger_of(question, facts)
    if kind is None:
        return None
    card = card_of(kind, facts)
    texts = (card["text"], *card["instead"], card["defer"])
    first, *steps, last = (with_numbers(text, facts, country) for text in texts)
    return Answer(
        question=question,
        verdict=None if question.topic in _NO_STAMP else _verdict(question, card),
        headline=first,
        steps=tuple(steps),
        cautions=(last,),
        sources=(*card["sources"], *sources_of(texts, facts, country)),
        working=(first, last),
    )


def with_danger(answer: Answer, facts: Facts, country: str | None = None) -> Answer:
    """The answer with the danger its question may hold said as its first caution."""
    kind = answer.question.cue("danger_beside")
    if kind is None:
        return answer
    entry = facts.table("danger_classes")[kind.removeprefix(CLASS)]
    said, card = str(entry["beside"]), card_of(kind, facts)
    return replace(
        answer,
        cautions=(with_numbers(said, facts, country), *answer.cautions),
        sources=(*answer.sources, *card["sources"], *sources_of((said,), facts, country)),
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


def _verdict(question: Request, card: Mapping[str, Any]) -> Verdict | None:
    """The card's verdict where the doing itself is asked about; None where a yes or no could mislead."""
    verdict: Verdict | None = card.get("verdict")
    return verdict if "may" in (question.cue("danger_said") or "").split() else None
