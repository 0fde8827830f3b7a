"""Sizes of beds and distances between plants, and numbers in words."""

from __future__ import annotations

import re

from gardenmate.core.pattern import Pattern
from gardenmate.core.units import (
    FT_M,
    INCH_CM,
)
from gardenmate.records import NamedTuple

_UNITS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15,
    "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
_WORD = "|".join((*_UNITS, *_TENS, "hundred", "thousand", "and", "couple", "pair", "dozen", "few"))
SPELLED = rf"(?:(?:{_WORD})(?:[\s-]{{1,3}}(?:{_WORD})){{0,8}}+)"
"""A number in words; none has more than nine ("nine hundred and ninety nine thousand ...")."""
_LARGEST_SIZE = 1e5  # of any unit: wider is no garden
_FURTHEST_APART_M = 10.0  # plants further apart than this are no bed


def number_of(text: str) -> float | None:
    """A number in figures ("2,100") or words ("fifty two hundred"); None when it is none."""
    plain = text.strip().lower().replace(",", "")
    if re.fullmatch(r"\d+(?:\.\d+)?", plain):
        return float(plain)
    total = current = 0.0
    known = False
    for word in re.split(r"[\s-]+", plain):
        if word in _UNITS or word in _TENS:
            current += _UNITS.get(word, 0) or _TENS.get(word, 0)
        elif word == "hundred":
            current = (current or 1) * 100
        elif word == "thousand":
            total += (current or 1) * 1000
            current = 0.0
        elif word in ("couple", "pair"):
            current = 2
        elif word == "dozen":
            current = (current or 1) * 12
        elif word == "few":
            current = 3
        elif word != "and":
            return None
        known = known or word != "and"
    return total + current if known else None


class Size(NamedTuple):
    """Width and length in metres, whether the unit was typed, the characters it stands in, and the figures typed."""

    width_m: float
    length_m: float
    unit_typed: bool
    start: int
    end: int
    figures: tuple[float, float]


_UNIT = r"(feet|foot|ft|m|metres|meters|cm|inches|inch|in|')"
_SIZE = Pattern(
    rf"(?<![\w.])(\d{{1,6}}(?:\.\d+)?|{SPELLED})\s?{_UNIT}?\s?(?:by|x|×)\s?"
    rf"(\d{{1,6}}(?:\.\d+)?|{SPELLED})\s?{_UNIT}?",
    ignore_case=True,
)


def size_in(text: str, metric: bool) -> Size | None:
    """The size told in "3 by 6 feet"; None when none is.

    Without a unit figures are feet, or in a metric garden centimetres from 30 up and metres up to 3.
    """
    match = _SIZE.search(text)
    if match is None:
        return None
    first, second = number_of(match[1]), number_of(match[3])
    if not first or not second or max(first, second) > _LARGEST_SIZE:
        return None
    unit = (match[4] or match[2] or "").lower()
    if unit:
        per = _metres(unit)
    elif metric and min(first, second) >= 30:
        per = 0.01
    elif metric and max(first, second) <= 3:
        per = 1.0
    else:
        per = FT_M
    width, length = sorted((round(first * per, 3), round(second * per, 3)))
    return Size(width, length, bool(unit), match.start(), match.end(), (first, second))


def _metres(unit: str) -> float:
    return {"f": FT_M, "'": FT_M, "i": INCH_CM / 100.0}.get(unit[0], 0.01 if unit == "cm" else 1.0)


_APART = Pattern(
    rf"(?<![\w.])(\d{{1,4}}(?:\.\d+)?|{SPELLED})\s?(inches|inch|in|cm|feet|foot|ft|m|metres|meters|\")\s?"
    r"(?:apart|spacing|between)",
    ignore_case=True,
)


def spacing_in(text: str) -> tuple[float, int, int] | None:
    """(metres between plants as told, start, end) of "18 inches apart"; None when it is not told."""
    match = _APART.search(text)
    value = None if match is None else number_of(match[1])
    if match is None or not value:
        return None
    metres = value * (INCH_CM / 100.0 if match[2][0] in 'iI"' else _metres(match[2].lower()))
    return (metres, match.start(), match.end()) if metres <= _FURTHEST_APART_M else None
