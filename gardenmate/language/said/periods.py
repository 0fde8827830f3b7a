"""The days a question to the log is about: "in March", "last spring", "this week", "since 2025"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed

_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
    "november", "december",
)  # fmt: skip
_MONTH = r"(january|february|march|april|may|june|july|august|september|october|november|december|" \
         r"jan|feb|mar|apr|jun|jul|aug|sept?|oct|nov|dec)"  # fmt: skip
_IN_MONTH = Pattern(
    r"\b(in|for|of|during|from|since|last|this|early|mid|late|through|until)\s+(?:last\s+)?"
    rf"{_MONTH}\b"
    r"(?:\s+(?:of\s+)?(\d{4}|last year|this year))?",
)
_MONTH_ALONE = Pattern(rf"\b{_MONTH}\s+(?:notes|log|entries|records)\b")
_YEAR = Pattern(r"\b(?:in|for|of|from|during|since)\s+((?:19|20)\d\d)\b")
_SEASON = Pattern(r"\b(last|this)\s+(spring|summer|autumn|fall|winter)\b")
_SPAN = Pattern(r"(?<!like )\b(last|this|past)\s+(week|month|year)\b")
_SEASON_MONTH = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}


_WEEKDAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"


def period_in(text: str, day: date | None, today: date) -> Iterator[Typed]:
    """since and until (dates), or a season of the year (role "last" or "this") whose days depend on the place. ``day``
    is one the text names. Nothing for any day; the future is never meant."""
    if day is not None:
        if day > today and re.search(rf"\b{_WEEKDAY}\b", text):
            day = _back(day, 7)  # "what did I do on Friday": the one gone by
        yield from _days(day, day)
        return
    month = _IN_MONTH.search(text) or _MONTH_ALONE.search(text)
    season, year, span = _SEASON.search(text), _YEAR.search(text), _SPAN.search(text)
    if month is not None:
        yield from _month(month, today)
    elif season is not None:
        yield Typed("season", season[2], role=season[1], text=season[0])
    elif year is not None and 1 <= int(year[1]) <= 9999:
        number = int(year[1])
        yield from _days(date(number, 1, 1), date(number, 12, 31))
    elif span is not None:
        yield from _span(span[1], span[2], today)


def _days(since: date, until: date) -> tuple[Typed, Typed]:
    return Typed("since", since), Typed("until", until)


def _month(match: re.Match[str], today: date) -> tuple[Typed, Typed]:
    groups = match.groups()
    word, name, year_said = groups if len(groups) == 3 else ("in", groups[0], None)
    number = next(i for i, full in enumerate(_MONTHS, start=1) if full.startswith(name[:3]))
    if year_said == "last year":
        year = today.year - 1
    elif year_said == "this year":
        year = today.year
    elif year_said:
        year = int(year_said)
    else:
        year = today.year if number <= today.month else today.year - 1
        if word == "last" and number == today.month:
            year -= 1
    first = date(max(year, 1), number, 1)
    until = today if word == "since" else _month_end(first)
    return _days(first, until)


def _month_end(first: date) -> date:
    following = first.month % 12 + 1
    if first.year == date.max.year and following == 1:
        return date.max
    return date(first.year + (following == 1), following, 1) - timedelta(days=1)


def _span(which: str, unit: str, today: date) -> tuple[Typed, Typed]:
    if unit == "year":
        year = today.year if which == "this" else today.year - 1
        year = max(year, 1)
        return _days(date(year, 1, 1), date(year, 12, 31))
    if unit == "month":
        first = today.replace(day=1)
        if which != "this" and first > date.min:
            first = (first - timedelta(days=1)).replace(day=1)
        return _days(first, _month_end(first))
    if which == "past":
        return _days(_back(today, 7), today)
    monday = _back(today, today.weekday())
    if which == "last":
        return _days(_back(monday, 7), _back(monday, 1))
    return _days(monday, today)


def _back(day: date, days: int) -> date:
    return date.fromordinal(max(1, day.toordinal() - days))
