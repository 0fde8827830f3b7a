"""Everything laid on the board, as `Typed` values in the order typed: what was said, and where it stands."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any

from gardenmate.core.question import Slots, Temperature, Typed
from gardenmate.language.text.spans import Board, Span
from gardenmate.language.values.calendar_days import Stretch
from gardenmate.language.values.story_days import lasted, of_the_story

Filled = tuple[Any, str, str | None]  # value, unit, role


def _temperature(value: Temperature) -> Filled:
    return value.value, value.unit, value.role


def _day(value: date | Stretch) -> Filled:
    if isinstance(value, Stretch):
        return value.first, value.last.isoformat(), "stretch"
    return value, "", None


def _span(value: tuple[str, float]) -> Filled:
    return value[1], value[0], None


def _plain(unit: str) -> Callable[[Any], Filled]:
    return lambda value: (value, unit, None)


# tag on the board -> (kind of the typed value, how its value is filled). Crops stand in Request.crops.
_KINDS: dict[str, tuple[str, Callable[[Any], Filled]]] = {
    "temp": ("temperature", _temperature),
    "date": ("date", _day),
    "money": ("price", _plain("")),
    "span": ("span", _span),
    "age": ("age", _plain("years")),
    "count": ("count", _plain("")),
    "cells": ("count", _plain("cells")),
    "people": ("people", _plain("people")),
    "people_part": ("people", _plain("people")),
    "dtm": ("maturity", _plain("days")),
    "place": ("place", lambda place: (str(place), "", None)),
    "height": ("height", _plain("m")),
    "zone": ("zone", _plain("")),
}


NO_WEIGHTS: Mapping[int, float] = MappingProxyType({})


def typed_on(board: Board, weights: Mapping[int, float] = NO_WEIGHTS) -> tuple[Typed, ...]:
    """The values on the board, by where they stand; one that stands nowhere (a sum) comes first.

    ``weights``: how much the token at an index counts for the topic; below 1 it stands in the story around it.
    """
    found = []
    for span in board.spans:
        if span.tag in _KINDS:
            kind, fill = _KINDS[span.tag]
            value, unit, role = fill(span.value)
            start, end = _characters(board, span)
            told = weights.get(span.start, 1.0) < 1.0 or _of_story(board, span)
            found.append(Typed(kind, value, unit, role, board.text.typed[start:end], start, end, told))
    return tuple(sorted(found, key=lambda t: (t.start, t.end)))


def prices_typed(typed: Iterable[Typed], slots: Slots) -> Iterator[Typed]:
    """The values, a bare figure that was taken for a price ("blueberries at 18") as the price it is."""
    for value in typed:
        price = value.kind == "temperature" and not slots.temps and value.value == slots.price
        yield value._replace(kind="price", unit="", role=None) if price else value


def _of_story(board: Board, span: Span) -> bool:
    return (span.tag == "date" and of_the_story(board, span)) or (span.tag == "span" and lasted(board, span))


def _characters(board: Board, span: Span) -> tuple[int, int]:
    if span.end <= span.start:
        return 0, 0
    last = min(span.end, len(board.tokens)) - 1
    return board.tokens[span.start].start, board.tokens[last].end
