"""A danger that is itself what was asked: it is answered first, before the topic speaks.

Language marks it with the cue ``danger`` (knowledge/language/dangers.toml); what is said stands in
knowledge/dangers. A card opens with what to do or not to do and has no verdict, so that it cannot be read the
wrong way round: "are green potatoes poisonous?" and "can I eat green potatoes?" get the same words.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.core.question import SEASON_TOPICS, Request
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.help_lines import sources_of, with_numbers
from gardenmate.records import replace

# What is to be noted down is kept whatever it says, and so is what the garden has, unless somebody may be hurt.
_KEPT = frozenset({"log", "garden"})
_REFUSED = frozenset({"out-of-scope", "unclear"})
FIRST_AID = "first_aid"  # the file of the cards for somebody already hurt


def danger_of(question: Request, facts: Facts) -> str | None:
    """The danger the question is about, None when it is about none."""
    kind = question.cue("danger")
    if not kind:
        return None
    said = (question.cue("danger_said") or "").split()
    if question.topic in _KEPT and "logged" in said:
        return None
    owned = question.topic == "garden" and "owned" in said and "asked" not in said
    return None if owned and not is_hurt(kind, facts) else kind


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
        verdict=None,
        headline=first,
        steps=tuple(steps),
        cautions=(last,),
        sources=(*card["sources"], *sources_of(texts, facts, country)),
        working=(first, last),
    )


def with_danger(answer: Answer, question: Request, facts: Facts, country: str | None = None) -> Answer:
    """The answer with the danger its question may hold (cue ``danger_beside``) said as its first caution; first of all
    where the answer only declines. Raises KeyError for a question without one."""
    kind = question.cues["danger_beside"]
    entry = facts.table("danger_classes")[kind.removeprefix(CLASS)]
    said = with_numbers(str(entry["beside"]), facts, country)
    sources = (*card_of(kind, facts)["sources"], *sources_of((entry["beside"],), facts, country))
    told = replace(answer, sources=(*answer.sources, *sources))
    # nothing else is answered: the danger comes first; a plant declined by name is told of, with its own warning
    if question.topic in _REFUSED and not question.cue("other_plant"):
        return replace(told, headline=said, details=(answer.headline, *answer.details))
    return replace(told, cautions=(said, *answer.cautions))


CLASS = "class-"  # a danger heard by its class (knowledge/danger_classes.toml), not by a line of its own


def is_hurt(kind: str, facts: Facts) -> bool:
    """True when somebody is hurt already, or may be this minute."""
    if not kind.startswith(CLASS):
        return kind in facts.table(f"dangers/{FIRST_AID}")
    entry = facts.table("danger_classes")[kind.removeprefix(CLASS)]
    return bool(entry.get("acute", False)) or entry.get("card") in facts.table(f"dangers/{FIRST_AID}")


def leaves_a_question(question: Request, facts: Facts) -> bool:
    """True when the garden question is answered as well: nobody is hurt, and it asks for something else than whether or
    how to do what is dangerous, or only the drift of its words spoke of a danger."""
    kind = question.cue("danger") or ""
    if is_hurt(kind, facts):
        return False
    if question.topic in SEASON_TOPICS and not question.crops:
        return False  # a list of what could be sown is no answer to it
    return kind.startswith(CLASS) or "apart" in (question.cue("danger_said") or "").split()


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
