"""The day an entry is about: days no calendar has, and past deeds whose date lies ahead."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request

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
_LEAP_YEAR = 2028
_AHEAD = Pattern(r"\b(?:will|shall|going to|plan(?:s|ned|ning)? to|want|tomorrow|next|i'll|should|to be)\b")
_PAST = Pattern(
    r"\b(?:planted|sowed|sown|seeded|started|set out|put out|put in|transplanted|potted|pricked|pruned|cut|"
    r"picked|harvested|lifted|dug|bought|moved|divided|took|covered|grafted|hardened|had|was|were|did)\b"
)


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


def day_told(question: Request, today: date) -> date | None:
    """The date of the entry: one said of a deed done, with no year, is the latest such day gone by."""
    day = question.slots.date
    low = question.text.lower()
    if day is None or day <= today or _AHEAD.search(low) or not _PAST.search(low):
        return day
    if re.search(r"\b(?:19|20)\d\d\b", low) or not (_DAY_MONTH.search(low) or _MONTH_DAY.search(low)):
        return day
    years = day.year - 1
    leap = (day.month, day.day) == (2, 29) and monthrange(years, 2)[1] < 29
    return date(years, 2, 28) if leap else day.replace(year=years)
