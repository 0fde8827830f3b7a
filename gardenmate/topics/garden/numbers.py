"""Numbers in a statement about the garden: counts in words, heights above the sea, sizes."""

from __future__ import annotations

import re

from gardenmate.core.pattern import Pattern

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
SPELLED = rf"(?:(?:{_WORD})(?:[\s-]+(?:{_WORD}))*)"
FT_M = 0.3048


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


_HEIGHT = Pattern(
    rf"(?<![\w.])(\d[\d,]*(?:\.\d+)?|{SPELLED})\s*[- ]?(feet|foot|ft|m|metres|meters|metre|meter)\b",
    ignore_case=True,
)
_OF_A_THING = Pattern(
    r"^\s*(?:wide|long|tall|high frame|deep|away|apart|of (?:row|bed|fence)|by|x|from|down|back)\b",
    ignore_case=True,
)
_UP = Pattern(r"\b(?:at|up|elevation|altitude|above|sea|asl|height|high|sits?)\b", ignore_case=True)


def elevation_in(text: str) -> tuple[float, str] | None:
    """(metres above the sea, as typed) of a garden "at 2,100 feet"; None when no height is told."""
    for match in _HEIGHT.finditer(text):
        value = number_of(match[1])
        around = text[max(0, match.start() - 30) : match.start()] + " " + text[match.end() : match.end() + 25]
        if value is None or _OF_A_THING.match(text[match.end() :]) or not _UP.search(around):
            continue
        if re.search(r"(?:by|x)\s*$", text[: match.start()]):
            continue
        metres = value * FT_M if match[2].lower().startswith("f") else value
        if value < 20 or not -430 <= metres <= 6000:
            continue
        return round(metres, 1), match[0].strip()
    return None


_SIZE = Pattern(
    rf"(?<![\w.])(\d+(?:\.\d+)?|{SPELLED})\s*(feet|foot|ft|m|metres|meters|cm|in|inches|')?\s*(?:by|x|×)\s*"
    rf"(\d+(?:\.\d+)?|{SPELLED})\s*(feet|foot|ft|m|metres|meters|cm|in|inches|')?",
    ignore_case=True,
)


_LARGEST_SIZE = 1e5  # of any unit: wider is no garden


def size_in(text: str, metric: bool) -> tuple[float, float, bool] | None:
    """(width, length, whether the unit was typed) in metres of "3 by 6 feet"; None when no size is told.

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
        per = {"f": FT_M, "'": FT_M, "i": 0.0254}.get(unit[0], 0.01 if unit == "cm" else 1.0)
    elif metric and min(first, second) >= 30:
        per = 0.01
    elif metric and max(first, second) <= 3:
        per = 1.0
    else:
        per = FT_M
    width, length = sorted((round(first * per, 3), round(second * per, 3)))
    return width, length, bool(unit)
