"""Own average frost dates in a statement: which days, and whether each is the last of spring or the first of autumn."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_LONGEST = 2000  # characters read of a statement (design value)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = (
    r"(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|"
    r"oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)"
)
_MONTH_NAMED = Pattern(rf"\b{_MONTH}\b", ignore_case=True)
_DAY = Pattern(rf"\b{_MONTH}\.?\s+(?:the\s+)?(\d{{1,2}})(?:st|nd|rd|th)?\b(?!\s*:)", ignore_case=True)
_DAY_FIRST = Pattern(rf"\b(\d{{1,2}})(?:st|nd|rd|th)?\s+(?:of\s+)?{_MONTH}\b", ignore_case=True)
_PART = Pattern(
    rf"\b(early|start of|beginning of|mid|middle of|late|end of)[\s-]+(?:in\s+)?{_MONTH}\b", ignore_case=True
)
_PART_DAY = {
    "early": 5,
    "start of": 3,
    "beginning of": 3,
    "mid": 15,
    "middle of": 15,
    "late": 25,
    "end of": 28,
}
_FROST = Pattern(r"\b(?:frosts?|freezes?|freezing)\b", ignore_case=True)
_FIRST = Pattern(r"\bfirst\b|\b(?:autumn|fall)\b", ignore_case=True)
_BESIDE = Pattern(r"\b(first|last)(?:\s+\w+){0,3}?\s+(?:frosts?|freezes?)\b", ignore_case=True)
_LAST = Pattern(r"\blast\b|\bspring\b", ignore_case=True)


def read(said: Said) -> Iterator[Typed]:
    """own-frosts (named), frost-role (last, first, both), frost-day ("05-12"; role as told of it; unit "part" where a
    part of a month was read, ``text`` as typed), frost-month where a month is named."""
    text = said.text[:_LONGEST]
    if _FROST.search(text):
        yield Typed("own-frosts", "named")
    role = _role_in(text)
    if role is not None:
        yield Typed("frost-role", role)
    if _MONTH_NAMED.search(text):
        yield Typed("frost-month", True)
        yield from _days(text)


def _days(text: str) -> Iterator[Typed]:
    """Every day named, in order, with what "last" or "first" between it and the one before says of it."""
    found: dict[int, str] = {}
    for match in _DAY.finditer(text):
        _keep(found, match.start(), match[1], match[2])
    for match in _DAY_FIRST.finditer(text):
        if not any(abs(match.start() - at) < 6 for at in found):
            _keep(found, match.start(), match[2], match[1])
    start = 0
    for at, day in sorted(found.items()):
        role = _role_in(text[start : at + 1])
        yield Typed("frost-day", day, role=None if role == "both" else role)
        start = at
    part = _PART.search(text) if not found else None
    if part is not None:
        month = _MONTHS.index(part[2][:3].lower()) + 1
        yield Typed("frost-day", f"{month:02}-{_PART_DAY[part[1].lower()]:02}", "part", text=part[0])


def _keep(found: dict[int, str], at: int, month: str, day: str) -> None:
    number = _MONTHS.index(month[:3].lower()) + 1
    try:
        date(2000, number, int(day))
    except ValueError:
        return
    found[at] = f"{number:02}-{int(day):02}"


def _role_in(text: str) -> str | None:
    """ "first" or "last", as it stands before "frost"; else by the only one of the words there, "both" for both."""
    beside = _BESIDE.search(text)
    if beside is not None:
        return beside[1].lower()
    first, last = _FIRST.search(text), _LAST.search(text)
    if first and last:
        return "both"
    return "first" if first else ("last" if last else None)
