"""What was typed and not used: found by asking again without it.

Rules are pure, so a figure that a rule used changes something when it is taken away: the verdict, a figure, a reason, a
sentence of what was assumed in its stead. One whose absence changes nothing was dropped, and the answer says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, timedelta
from types import MappingProxyType
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.core.question import NO_SLOTS, SEASON_TOPICS, Request, Slots, Temperature, Typed
from gardenmate.records import replace

EVERYWHERE = frozenset({"temperature", "percent", "price", "size", "zone"})
"""Kinds of `Typed` a grower expects to find again in any answer."""
_SEASON = frozenset(SEASON_TOPICS)
_RAISING = frozenset({"germination", "heat-and-light", "potting-up", "hardening-off"})
BEARS: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "count": frozenset({"how-many", "buy-or-sow", "heat-and-light"}),
        "people": frozenset({"how-many", "buy-or-sow"}),
        "age": frozenset({"pruning", "propagation", "germination"}),
        "maturity": _SEASON,
        "span": _SEASON | _RAISING | {"how-many"},
        "date": _SEASON | _RAISING | {"frost", "pruning", "propagation", "buy-or-sow", "agenda"},
    }
)
"""Kind -> the topics it bears on: "ten peppers" matters to how many, and is background to a frost."""
TOGETHER = frozenset({"temperature", "date"})
"""Kinds of which several are judged together ("29, 34, 38"): the deciding one speaks for its list."""
_SAID = (
    "verdict", "headline", "numbers", "details", "table", "steps", "changes", "chance", "windows", "cautions",
    "assumptions", "working", "asks", "effects", "place_note", "place_doubt",
)  # fmt: skip


def unused_in(
    question: Request, answer: Answer, again: Callable[[Request], Answer], today: date
) -> tuple[Typed, ...]:
    """The values asked with that ``answer`` would be the same without; ``again`` answers a request anew."""
    asked = asked_with(question, today)
    return tuple(
        g[0] for g in asked if not _stated(g[0], answer) and _same(answer, again(without(question, g, today)))
    )


def _stated(value: Typed, answer: Answer) -> bool:
    """True for a sum the first line comes to by itself: "four at seven, that's twenty eight dollars"."""
    return value.kind == "price" and f"{value.number:.2f}" in answer.headline


def asked_with(question: Request, today: date) -> list[tuple[Typed, ...]]:
    """The values typed in the question itself that bear on its topic, by what they say.

    What stands in the story around it, and a day that is now or of the story, is no figure of the question.
    """
    return [
        group
        for group in groups((t for t in question.typed if not (t.end and t.told)), today)
        if any(_bears(t, question) for t in group)
        and not question.in_story(group[0]._replace(told=False))
        and not _now(group[0], today)
    ]


def _bears(value: Typed, question: Request) -> bool:
    """True for a value that bears on the question. A mat warms any number of trays: counts are for lamps to light."""
    if value.kind == "count" and question.topic == "heat-and-light":
        return "lamp" in (question.cue("gear") or "")
    return value.kind in EVERYWHERE or question.topic in BEARS.get(value.kind, ())


def _now(value: Typed, today: date) -> bool:
    """True for today, and for a stretch such as "in April" that today lies in."""
    day = value.value
    if value.kind != "date" or not isinstance(day, date):
        return False
    return day == today or (value.role == "stretch" and (day.year, day.month) == (today.year, today.month))


def _same(one: Answer, other: Answer) -> bool:
    return all(getattr(one, name) == getattr(other, name) for name in _SAID)


def groups(typed: Iterable[Typed], today: date) -> list[tuple[Typed, ...]]:
    """The values by what they say: one that two readers found, or two sides of one size, is one thing."""
    groups: list[list[Typed]] = []
    for value in typed:
        if value.kind not in EVERYWHERE and value.kind not in BEARS:
            continue
        mine = next((g for g in groups if any(_one(value, other, today) for other in g)), None)
        if mine is None:
            groups.append([value])
        else:
            mine.append(value)
    return [tuple(group) for group in groups]


def _one(a: Typed, b: Typed, today: date) -> bool:
    """True when two values are the same thing said; "two weeks" and "in two weeks" are."""
    if {a.kind, b.kind} == {"span", "date"}:
        span, day = (a, b) if a.kind == "span" else (b, a)
        if day.role != "stretch" and any(day.value == one for one in _days_of(span, today)):
            return True
    if a.kind == b.kind and (a.value == b.value or (a.kind in TOGETHER and a.role == b.role)):
        return True
    return a.start < b.end and b.start < a.end


def without(question: Request, group: tuple[Typed, ...], today: date) -> Request:
    """The request as it would be had these values not been typed: gone from ``typed``, slots and cues.

    ``today``: "two weeks ago" is also the day it names.
    """
    numbers = {float(t.value) for t in group if isinstance(t.value, int | float)}
    days = {day for t in group for day in _days_of(t, today)}
    cues = {name: said for name, said in question.cues.items() if not _holds(name, said, numbers, days)}
    return replace(
        question,
        typed=tuple(t for t in question.typed if not _gone(t, group, numbers)),
        slots=_without(question.slots, {t.kind for t in group}, numbers),
        cues=cues,
    )


_DAYS_IN: Mapping[str, float] = MappingProxyType({"days": 1.0, "weeks": 7.0, "months": 30.4})
_LONGEST_DAYS = 3650.0  # days, ten years: no span is longer


def _days_of(value: Typed, today: date) -> Iterable[date]:
    """The days a value may have been read as: a stretch stands for one of its own month, a span for the day so
    long ago or ahead."""
    if isinstance(value.value, date):
        first = value.value
        if value.role != "stretch":
            return (first,)
        month = [first + timedelta(days=n) for n in range(31)]
        return tuple(day for day in month if day.month == first.month)
    days_in = _DAYS_IN.get(value.unit) if value.kind == "span" else None
    if days_in is not None and value.number * days_in < _LONGEST_DAYS:
        span = timedelta(days=round(value.number * days_in))
        return (today - span, today + span)
    return ()


def _gone(value: Typed, group: tuple[Typed, ...], numbers: set[float]) -> bool:
    """True for one of the group, for what was read from the same words (the stage in "half an inch of green"), and for
    the same figure under another kind: the 4 of "day 4", read as four days and as a day of the plan."""
    if value in group or any(value.start < t.end and t.start < value.end for t in group):
        return True
    figure = isinstance(value.value, int | float) and not isinstance(value.value, bool)
    return figure and value.value in numbers


def _holds(name: str, said: str, numbers: set[float], days: set[date]) -> bool:
    """True for a cue made of these figures ("40", "4in", "-14", "-8/-6:last") or days ("05-12", "2027-05-12")."""
    parts = said.replace(":", "/").split("/")
    if any(part[-5:] == f"{day:%m-%d}" for part in parts for day in days):
        return True
    if name == "asked_month":
        return any(said == str(day.month) for day in days)
    return any(n in numbers or n / 7 in numbers for part in parts if (n := _figure(part)) is not None)


def _figure(part: str) -> float | None:
    digits = part.lstrip("-").rstrip("inclgam")  # inches, cm, litres, gallons, metres
    return float(digits) if digits.replace(".", "", 1).isdigit() else None


_SLOT_OF = {
    "count": ("count",),
    "price": ("price",),
    "span": ("weeks", "days"),
    "age": ("plant_age_years",),
    "maturity": ("days_to_maturity",),
    "people": ("people",),
}


def _without(slots: Slots, kinds: set[str], numbers: set[float]) -> Slots:
    gone: dict[str, Any] = {
        name: None
        for kind in kinds
        for name in _SLOT_OF.get(kind, ())
        if getattr(slots, name) is not None and float(getattr(slots, name)) in numbers
    }
    if "date" in kinds and slots.date is not None:
        gone["date"] = None
    if slots.container is not None and slots.container.size in numbers:
        gone["container"] = None
    if "temperature" in kinds:
        temps = tuple(t for t in slots.temps if t.value not in numbers)
        kept: Temperature | None = next((t for t in temps if slots.temperature_c == t.celsius), None)
        gone |= {"temps": temps} if kept is not None else {"temps": temps, "temp_f": None, "temp_c": None}
    return replace(slots, **gone) if slots != NO_SLOTS else slots
