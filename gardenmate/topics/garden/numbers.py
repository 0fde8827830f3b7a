"""Numbers in a statement about the garden: counts in words, heights above the sea, sizes."""

from __future__ import annotations

import re

from gardenmate.core.pattern import Pattern
from gardenmate.language.values.sizes import FT_M, SPELLED, number_of

_HEIGHT = Pattern(
    rf"(?<![\w.])(\d[\d,]{{0,9}}(?:\.\d+)?|{SPELLED})\s{{0,3}}[- ]?(feet|foot|ft|m|metres|meters|metre|meter)\b",
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
