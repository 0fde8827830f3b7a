"""Days that no calendar has: "30 February"."""

from __future__ import annotations

from calendar import monthrange

from gardenmate.core.pattern import Pattern

_MONTH = (
    r"(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)"
    r"(?:(?<=jan)uary|(?<=feb)ruary|(?<=mar)ch|(?<=apr)il|(?<=jun)e|(?<=jul)y|(?<=aug)ust|"
    r"(?<=sep)t(?:ember)?|(?<=oct)ober|(?<=nov)ember|(?<=dec)ember)?"
)
_NOT_A_MONTH = r"(?!\s+(?:be|have|hit|come|do|need|well)\b)"  # "32 may hit"
_DAY_MONTH = Pattern(rf"\b(\d{{1,2}})(?:st|nd|rd|th)?\s+(?:of\s+)?{_MONTH}\b{_NOT_A_MONTH}")
_MONTH_DAY = Pattern(rf"\b{_MONTH}\.?\s+(?:the\s+)?(\d{{1,2}})(?:st|nd|rd|th)?\b(?!\s*(?:\d|%|f\b|c\b))")
_ISO = Pattern(r"\b(?:19|20)\d\d-(\d{1,2})-(\d{1,2})\b")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_LEAP_YEAR = 2028  # any leap year: 29 February is a day


def impossible_day(text: str) -> str | None:
    """A day as typed that no year has ("30 February"), None when every day told can be."""
    low = text.lower()
    told = [(m[0], m[2], m[1]) for m in _DAY_MONTH.finditer(low)]
    told += [(m[0], m[1], m[2]) for m in _MONTH_DAY.finditer(low)]
    for said, month, day in told:
        if not 1 <= int(day) <= monthrange(_LEAP_YEAR, _MONTHS.index(month) + 1)[1]:
            return _as_typed(text, said)
    for match in _ISO.finditer(low):
        month_number, day_number = int(match[1]), int(match[2])
        if not 1 <= month_number <= 12 or not 1 <= day_number <= monthrange(_LEAP_YEAR, month_number)[1]:
            return match[0]
    return None


def _as_typed(text: str, said: str) -> str:
    at = text.lower().find(said)
    return text[at : at + len(said)] if at >= 0 else said
