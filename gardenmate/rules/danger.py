"""A danger that is itself what was asked: the danger and the refusal come first, before the topic speaks.

Language marks it with the cue ``danger`` ("can I run a propane heater in the greenhouse" = carbon-monoxide);
what is said stands in knowledge/cautions.toml, table [danger].
"""

from __future__ import annotations

import re

from gardenmate.answer import Answer
from gardenmate.knowledge.facts import Facts
from gardenmate.question import Question

# What was done, or what the garden has, is kept whatever it says.
_KEPT = frozenset({"log", "garden", "explain"})
_NO_STAMP = frozenset({"out-of-scope", "unclear"})  # no question of the trade: said, but not judged

_POISONS = {
    "raw-elder": re.compile(r"\belder", re.IGNORECASE),
    "rhubarb-leaf": re.compile(r"\brhubarb\b.*\blea(f|ves)\b|\blea(f|ves)\b.*\brhubarb\b", re.IGNORECASE),
    "green-potato": re.compile(r"\b(green|sprouted)\b.*\b(potato|spud)", re.IGNORECASE),
}


def danger_of(question: Question) -> str | None:
    """The danger the question is about, None when it is about none."""
    kind = question.cue("danger")
    if not kind or question.topic in _KEPT:
        return None
    return _eaten(question.text) if kind == "eaten" else kind


def _eaten(text: str) -> str | None:
    """Which poison is meant by eating a crop. The words are read: out of scope, no crop arrives."""
    return next((kind for kind, words in _POISONS.items() if words.search(text)), None)


def danger_answer(question: Question, facts: Facts) -> Answer | None:
    """The refusal and what to do instead; None when no danger is asked about.

    Raises KeyError for a danger the cautions do not know: it must never drop out silently.
    """
    kind = danger_of(question)
    if kind is None:
        return None
    entry = facts.table("cautions")["danger"][kind]
    return Answer(
        question=question,
        verdict=None if question.topic in _NO_STAMP else entry["verdict"],
        headline=entry["text"],
        steps=tuple(entry["instead"]),
        cautions=(entry["defer"],),
        sources=tuple(entry["sources"]),
    )
