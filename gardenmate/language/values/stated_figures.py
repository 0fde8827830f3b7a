"""Figures the words state that no reader of the board has laid: a bare temperature, a count, a price, a share.

What a bare figure is follows from the topic: of a frost it is degrees, of buying a price. Only one figure that is
nothing else yet is taken so.
"""

from __future__ import annotations

import re
from typing import Any

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Slots, Temperature
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.temperatures import bare_unit
from gardenmate.language.values.thermometer import BELOW, NOT_TEMPERATURE

_OF_AIR = words("frost cold-frame hardening-off")
_OF_HEAT = words("germination heat-and-light explain")
_HELD = frozenset({"temp", "date", "span", "age", "money", "people", "dtm", "place", "height", "cells"})
_LEADS = words("at on is in to get kill kills why would did like with covered")
_THERE = words("there here the my")
_LEAST, _MOST = 5.0, 140.0  # degrees a bare number may be; design value
_LEAST_INDOORS = 30.0  # degrees; less is no warmth of a room or a mat; design value
_PERCENT = Pattern(r"(\d{1,3}(?:\.\d+)?)\s?(?:%|percent\b|per cent\b)", ignore_case=True)
_CENTS = Pattern(r"(?<![\w.])(\d{1,2})c\b", ignore_case=True)
_BUCK_AND = Pattern(
    r"\ba (?:buck|dollar|quid) (?:and )?(?:a half|(fifty|twenty five|seventy five))\b", ignore_case=True
)
_BUCKS = {"fifty": 1.5, "twenty five": 1.25, "seventy five": 1.75, "": 1.5}


def figures(board: Board, slots: Slots, topic: str) -> dict[str, Any]:
    """The slots that bare figures fill under a topic, those they no longer fill as None."""
    found: dict[str, Any] = {}
    percent = _PERCENT.search(board.text.typed)
    if percent is not None and slots.percent is None:
        found["percent"] = float(percent[1])
    if topic == "buy-or-sow" and slots.price is None:
        found |= _price(board, slots)
    elif topic in _OF_AIR | _OF_HEAT and not slots.temps:
        found |= _degrees(board, slots, topic)
    return found


def _degrees(board: Board, slots: Slots, topic: str) -> dict[str, Any]:
    """The one bare figure of a question about cold or warmth; a count it was taken for is none."""
    free = [i for i, t in enumerate(board.tokens) if t.number is not None and _free(board, i)]
    if len(free) != 1:
        return {}
    i = free[0]
    value = board.tokens[i].number or 0.0
    below = board.word(i - 1) in BELOW
    value = -value if below else value
    within = _LEAST <= abs(value) <= _MOST
    led = board.word(i - 1) in _LEADS or i == 0 or "," in board.tokens[i].gap
    if topic in _OF_HEAT and (not led or value < _LEAST_INDOORS):
        return {}
    if not within or (topic in _OF_AIR and not (led or i + 1 == len(board.tokens) or below)):
        return {}
    unit = bare_unit(value, board)
    name = "temp_f" if unit == "F" else "temp_c"
    found: dict[str, Any] = {name: value, "temps": (Temperature(value, unit),)}
    if slots.count == value:
        found["count"] = None
    if slots.days == value:
        found["days"] = None
    return found


def _free(board: Board, i: int) -> bool:
    """True for a number that is nothing else, and not followed by what it counts."""
    if any(s.start <= i < s.end for s in board.spans if s.tag in _HELD):
        return False
    after = board.word(i + 1)
    if after == "in" and (board.word(i + 2) in _THERE or board.word(i - 1) in BELOW):
        return True  # "135 in there", "minus 12 in winter"
    parted = i + 1 < len(board.tokens) and "," in board.tokens[i + 1].gap
    return parted or not (after in NOT_TEMPERATURE or any(s.start == i + 1 for s in board.of("crop")))


def _price(board: Board, slots: Slots) -> dict[str, Any]:
    cents, bucks = _CENTS.search(board.text.typed), _BUCK_AND.search(board.text.typed)
    if bucks is not None:
        return {"price": _BUCKS[(bucks[1] or "").lower()]}
    if cents is not None:
        return {"price": float(cents[1]) / 100.0, **_NO_DEGREES}
    decimal = next((t for t in board.tokens if re.fullmatch(r"\d{1,3}\.\d\d", t.raw)), None)
    if decimal is not None and decimal.number:
        return {"price": decimal.number}
    bare = slots.temps[0] if len(slots.temps) == 1 and slots.temps[0].role is None else None
    said_degrees = any(t.word in ("degrees", "degree", "f", "°", "c") for t in board.tokens)
    if bare is not None and bare.value > 0 and not said_degrees:
        return {"price": bare.value, **_NO_DEGREES}
    return {}


_NO_DEGREES: dict[str, Any] = {"temps": (), "temp_f": None, "temp_c": None}
