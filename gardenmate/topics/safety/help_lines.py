"""Whom to call: the poison line and the emergency number of the garden's country, of all where it is not known."""

from __future__ import annotations

from gardenmate.knowledge.facts import Facts

POISON, EMERGENCY = "{poison}", "{emergency}"
_ELSEWHERE = "elsewhere"


def with_numbers(text: str, facts: Facts, country: str | None) -> str:
    """A line of a card with the numbers to call filled in (``country``: two letters, None while not known)."""
    if "{" not in text:
        return text
    return text.replace(POISON, _numbers("poison", facts, country)).replace(
        EMERGENCY, _numbers("emergency", facts, country)
    )


def sources_of(texts: tuple[str, ...], facts: Facts, country: str | None) -> tuple[str, ...]:
    """The sources of the numbers the lines of a card ask for."""
    if not any(POISON in text or EMERGENCY in text for text in texts):
        return ()
    table = facts.table("help_lines")
    rows = table.values() if country is None else (table.get(country, table[_ELSEWHERE]),)
    return tuple(source for row in rows for source in row["sources"])


def _numbers(which: str, facts: Facts, country: str | None) -> str:
    table = facts.table("help_lines")
    if country is not None:
        return str(table.get(country, table[_ELSEWHERE])[which])
    return "; ".join(f"{row['name']} {row[which]}" for row in table.values())
