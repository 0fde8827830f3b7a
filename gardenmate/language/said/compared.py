"""Two places side by side, or the length of a season: what of them is asked, and which way."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_LONGEST = 2000  # characters read of a question (design value)
_ASKED = (
    (
        "places",
        Pattern(
            r"\b(?:than|compared?|comparing|comparison|versus|vs|as (?:late|early|long|cold|warm) as|the same as|"
            r"different from|which (?:has|is|gets)|what is the difference)\b"
        ),
    ),
    (
        "season-length",
        Pattern(
            r"\b(?:growing season|season length|frost[- ]free (?:days|season|period))\b|"
            r"\bhow long\b.*\bseason\b"
        ),
    ),
    (
        "own-place",
        Pattern(
            r"^\W*(?:am i|is my (?:place|garden|plot|town|home)|do you (?:think|have|know)|does (?:it|my profile)|"
            r"have (?:you|i) (?:got )?me|are we)\b"
        ),
    ),
    ("whether", Pattern(r"^\W*(?:is|are|does|do|will|would|has|have)\b")),
)
_BY = (
    ("warmth", Pattern(r"\b(?:cold|colder|warm|warmer|mild|milder|hot|hotter)\b")),
    ("season", Pattern(r"\bseason\b|\b(?:longer|shorter)\b")),
    ("first-frost", Pattern(r"\b(?:first|fall|autumn)\b")),
)
_DIRECTIONS = (
    ("colder", Pattern(r"\bcold(?:er)?\b")),
    ("warmer", Pattern(r"\b(?:warm|mild|hott?)(?:er)?\b")),
    ("longer", Pattern(r"\blonger\b")),
    ("shorter", Pattern(r"\bshorter\b")),
    ("later", Pattern(r"\blater\b")),
    ("earlier", Pattern(r"\bearlier\b")),
)
_SECOND = Pattern(
    r"\b(?:than|or|and|vs\.?|versus|with|to|from|as)\s+(?:that of |the one in |in |at |for )?"
    r"([A-Z][\w.'’-]+(?:,?\s[A-Z][\w.'’-]+){0,3})"
)


def read(said: Said) -> Iterator[Typed]:
    """compare (places, season-length, own-place, whether), compare-by (warmth, season, first-frost), direction
    (colder, warmer, longer, shorter, later, earlier), other-place (a name that may be the second place's)."""
    text = said.plain[:_LONGEST]
    yield from (Typed("compare", name) for name, pattern in _ASKED if pattern.search(text))
    for name, pattern in _BY:
        if pattern.search(text) and not (name == "first-frost" and "last" in text):
            yield Typed("compare-by", name)
    yield from (Typed("direction", name) for name, pattern in _DIRECTIONS if pattern.search(text))
    for match in _SECOND.finditer(said.text[:_LONGEST]):
        yield Typed("other-place", re.sub(r"['’]s$", "", match[1]))
