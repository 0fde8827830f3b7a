"""Whom to call: the poison line, the emergency number and who marks buried lines in the garden's country, in all
countries where it is not known."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from gardenmate.knowledge.facts import Facts

# What a line of a card asks for, and the key of its sources.
_ASKED = {"poison": "sources", "emergency": "sources", "marks": "marks_sources"}
ELSEWHERE = "elsewhere"
"""The country of a garden whose own is not in the table."""


def with_numbers(text: str, facts: Facts, country: str | None) -> str:
    """A line of a card with whom to call filled in (``country``: as in places.csv, None while not known)."""
    for which in _ASKED:
        if _mark(which) in text:
            rows = _rows(facts, country)
            said = rows[0][which] if country else "; ".join(f"{row['name']}: {row[which]}" for row in rows)
            text = text.replace(_mark(which), str(said))
    return text


def in_every_country(text: str, facts: Facts) -> tuple[str, ...]:
    """A line with whom to call filled in, once for each country; the line itself where it names nobody."""
    if not any(_mark(which) in text for which in _ASKED):
        return (text,)
    return tuple(with_numbers(text, facts, country) for country in facts.table("help_lines"))


def sources_of(texts: Iterable[str], facts: Facts, country: str | None) -> tuple[str, ...]:
    """The sources of what the lines of a card ask for, each once."""
    whole = " ".join(texts)
    keys = {key for which, key in _ASKED.items() if _mark(which) in whole}
    rows = _rows(facts, country) if keys else ()
    return tuple(dict.fromkeys(source for key in sorted(keys) for row in rows for source in row[key]))


def _mark(which: str) -> str:
    return "{" + which + "}"


def _rows(facts: Facts, country: str | None) -> tuple[dict[str, Any], ...]:
    table = facts.table("help_lines")
    return tuple(table.values()) if country is None else (table.get(country, table[ELSEWHERE]),)
