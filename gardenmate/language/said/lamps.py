"""What is said of lamps over seedlings: how many, and over which shelf."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.core.units import FT_M
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import (
    number_of,
    size_in,
)

_HOW_MANY = Pattern(
    r"\bhow many (?:\w+ ){0,2}(?:leds?|lights?|lamps?|tubes?|bulbs?|fixtures?|watts?|bars?)\b"
    r"|\bhow (?:much|big) (?:a |of a )?(?:led|light|lamp|wattage|watts?)\b"
    r"|\b(?:what|which) (?:size )?(?:lamp|lights?)\b"
    r"|\b(?:lights?|lamps?|leds?)\b[^.?!]{0,20}\b(?:good|enough|use) (?:for|over) (?:\w+ )?(?:trays?|flats?)\b"
    r"|\b(?:leds?|lights?|lamps?|tubes?|bars?) (?:\w+ )?(?:cover|light|do|reach)\b[^.?!]{0,20}\b(?:shelf|rack|flats?)\b"
)
_SHELF = Pattern(
    r"\b(\d{1,3}(?:\.\d+)?|two|three|four|five|six)[ -]?(feet|foot|ft|'|m|metres?|meters?|cm)\s?(?:long |wide )?"
    r"(?:\w+ )?(?:shelf|shelves|rack|bench|stand|table)\b",
    ignore_case=True,
)
_STANDS_ON = Pattern(r"\b(?:shelf|shelves|rack|bench|stand|table)\b")


def read(said: Said) -> Iterator[Typed]:
    """asks (how-many-lamps), size (shelf-length, shelf-depth: metres)."""
    asked = _HOW_MANY.search(said.plain)
    if asked is not None:
        yield Typed("asks", "how-many-lamps", text=asked.group())
    size = size_in(said.text, said.metric)
    if size is not None and _STANDS_ON.search(said.plain) is not None:
        text = said.text[size.start : size.end].strip()
        yield Typed("size", size.width_m, "m", "shelf-depth", text, size.start, size.end)
        yield Typed("size", size.length_m, "m", "shelf-length", text, size.start, size.end)
        return
    shelf = _SHELF.search(said.text)
    length = None if shelf is None else number_of(shelf[1])
    if shelf is not None and length:
        unit = shelf[2].lower()
        metres = length * (FT_M if unit[0] in "f'" else 0.01 if unit == "cm" else 1.0)
        yield Typed("size", metres, "m", "shelf-length", shelf.group(), shelf.start(), shelf.end())
