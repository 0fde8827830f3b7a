"""Wording shared by the pruning and propagation rules: dates, lists, sentences and clauses."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from gardenmate.core.units import show_date


def span_text(start: date, end: date, today: date) -> str:
    """ "20 Feb to 5 Apr", with years where they are not this one's; one that holds for both is said once."""
    first = show_date(start, end) if start.year == end.year else show_date(start, today)
    return f"{first} to {show_date(end, today)}"


def joined(parts: Iterable[str], last: str = "and") -> str:
    """ "a, b and c"."""
    items = [part for part in parts if part]
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def sentence(text: str) -> str:
    """Text as one sentence: a capital first and a stop at the end."""
    text = text.strip()
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text[-1] in ".?!" else f"{text}."


def clause(text: str) -> str:
    """Text to stand after a colon: no capital (but for names) and no stop."""
    text = text.strip().rstrip(".")
    keep = not text or text[1:2].isupper() or text.split()[0] in _PROPER
    return text if keep else text[0].lower() + text[1:]


_PROPER = frozenset({"Illinois", "Group", "August", "July", "June", "Japanese", "European", "I"})
