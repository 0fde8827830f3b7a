"""Small grammar of sentences: lists, capitals, ranges of numbers, days and temperatures, days of the week."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from gardenmate.core.units import Units, show_date, show_span, show_temp


def sentence(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def an(text: str) -> str:
    """The text with its article: "an 8 cm pot", "a 4 in pot", "an elder"."""
    first = text.split(maxsplit=1)[0] if text else ""
    number = first.partition("-")[0]
    vowel = number.startswith("8") or number in ("11", "18") or first[:1].lower() in ("a", "e", "i", "o", "u")
    return f"{'an' if vowel else 'a'} {text}"


def listed(words: Iterable[str], last: str = "and") -> str:
    """ "a", "a and b", "a, b and c"."""
    items = list(words)
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def unique(*groups: Iterable[str]) -> tuple[str, ...]:
    """Everything in the groups, once, in order."""
    return tuple(dict.fromkeys(item for group in groups for item in group))


def span(low: float, high: float) -> str:
    """A range of plain numbers: "7 to 14", or "7" when both ends agree."""
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def days_text(low: float, high: float) -> str:
    """A span of days in words: "about 8 days", "5 to 10 days"."""
    a, b = round(low), round(high)
    if a == b:
        return f"about {a} day{'' if a == 1 else 's'}"
    return f"{a} to {b} days"


def when(day: date, today: date) -> str:
    """A date near today in words: "today", "tomorrow", "Thursday", "18 Apr"."""
    ahead = (day - today).days
    if ahead == 0:
        return "today"
    if ahead == 1:
        return "tomorrow"
    if ahead == -1:
        return "yesterday"
    return f"{day:%A}" if 1 < ahead < 7 else show_date(day, today)


def show_temp_range(low_c: float, high_c: float, units: Units) -> str:
    """A temperature range: "75 to 85 F"."""
    low, high = show_temp(low_c, units), show_temp(high_c, units)
    return high if low == high else f"{low.split()[0]} to {high}"


def show_span_range(low_c: float, high_c: float, units: Units) -> str:
    """A range of temperature differences: "10 to 20 degrees F"."""
    low, high = show_span(low_c, units), show_span(high_c, units)
    return f"{low.split()[0]} to {high}"
