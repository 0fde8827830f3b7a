"""Own frost dates in a statement: which day, and whether it is the last of spring or the first of autumn."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.core.world import World

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = (
    r"(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|"
    r"oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)"
)
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


@dataclass(frozen=True, slots=True)
class FrostDates:
    """Own average frost dates told: (month, day) each, what was assumed, or a ``problem`` to ask back."""

    last: tuple[int, int] | None = None
    first: tuple[int, int] | None = None
    assumed: tuple[str, ...] = ()
    problem: str = ""
    choices: tuple[str, ...] = ()


def frost_dates(question: Request, world: World) -> FrostDates | None:
    """The frost dates a statement tells, None when it tells none."""
    text = question.text
    earlier = _frost_before(world)
    if not _FROST.search(text) and earlier is None:
        return None
    days, assumed = _days(question, world)
    if not days:
        if _FROST.search(text) and re.search(rf"\b{_MONTH}\b", text, re.IGNORECASE):
            return FrostDates(
                problem="Which day? A month is too wide; say for example 'my last frost is May 12'."
            )
        return None
    if len(days) >= 2:
        return _two(text, days, assumed)
    (_, month_day) = days[0]
    role = _role_in(text) or (None if _FROST.search(text) else earlier)
    southern = world.site is not None and world.site.southern
    spring_half = (month_day[0] <= 7) != southern  # last frosts of the north come before August
    if role is None:
        role = "last" if spring_half else "first"
        if not _LAST.search(text):
            assumed = (*assumed, f"A frost date in that month is the {role} one.")
    elif world.site is not None and (role == "last") != spring_half:
        name = f"{month_day[1]} {_MONTHS[month_day[0] - 1].capitalize()}"
        other = "first" if role == "last" else "last"
        return FrostDates(
            problem=f"A {role} frost on {name} does not fit the seasons at {world.site.label}; which is it?",
            choices=(f"my {other} frost is {name}", "another place: 'I garden in ...'"),
        )
    return FrostDates(**{role: month_day}, assumed=assumed)  # type: ignore[arg-type]


def _days(question: Request, world: World) -> tuple[list[tuple[int, tuple[int, int]]], tuple[str, ...]]:
    """(place in the text, (month, day)) of every day named, and what was assumed of them."""
    text = question.text
    found: dict[int, tuple[int, int]] = {}
    for match in _DAY.finditer(text):
        _keep(found, match.start(), match[1], match[2])
    for match in _DAY_FIRST.finditer(text):
        if not any(abs(match.start() - at) < 6 for at in found):
            _keep(found, match.start(), match[2], match[1])
    if len(found) < 2 and question.slots.date is not None:
        said = question.slots.date
        return [(0, (said.month, said.day))], ()
    if found:
        return sorted(found.items()), ()
    part = _PART.search(text)
    if part is not None:
        day = _PART_DAY[part[1].lower()]
        month = _MONTHS.index(part[2][:3].lower()) + 1
        return [(part.start(), (month, day))], (f"I read '{part[0]}' as the {day}th.",)
    return [], ()


def _keep(found: dict[int, tuple[int, int]], at: int, month: str, day: str) -> None:
    number = _MONTHS.index(month[:3].lower()) + 1
    try:
        date(2000, number, int(day))
    except ValueError:
        return
    found[at] = (number, int(day))


def _two(text: str, days: list[tuple[int, tuple[int, int]]], assumed: tuple[str, ...]) -> FrostDates:
    """Two days: each is what the "last" or "first" before it says; else the one named first is the last."""
    roles: dict[str, tuple[int, int]] = {}
    start = 0
    for at, month_day in days[:2]:
        role = _role_in(text[start : at + 1])
        if role is not None:
            roles.setdefault(role, month_day)
        start = at
    if len(roles) < 2:
        roles = {"last": days[0][1], "first": days[1][1]}
    return FrostDates(last=roles["last"], first=roles["first"], assumed=assumed)


def _role_in(text: str) -> str | None:
    """ "first" or "last", as it stands before "frost"; else by the only one of the words that is there."""
    beside = _BESIDE.search(text)
    if beside is not None:
        return beside[1].lower()
    first, last = _FIRST.search(text), _LAST.search(text)
    if first and last:
        return None
    return "first" if first else ("last" if last else None)


def _frost_before(world: World) -> str | None:
    """The frost the statement before was about, so that "actually it's May 3" corrects it."""
    previous = world.previous
    if previous is None or previous.question.topic != "garden":
        return None
    if not _FROST.search(previous.question.text):
        return None
    named = {n.name for n in previous.numbers}
    if "first_frost" in named and "last_frost" not in named:
        return "first"
    return "last" if "last_frost" in named else _role_in(previous.question.text)
