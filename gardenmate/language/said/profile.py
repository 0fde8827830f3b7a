"""What of the garden's profile a line asks to see: its zone, its frosts, where it is."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_LONGEST = 2000  # characters read of a line (design value)
_OF = (
    ("zone", Pattern(r"\bzones?\b")),
    ("frosts", Pattern(r"frost")),
    ("where", Pattern(r"\bwhere\b|\bwhich (?:weather )?stations?\b")),
)


def read(said: Said) -> Iterator[Typed]:
    """profile (zone, frosts, where)."""
    text = said.plain[:_LONGEST]
    yield from (Typed("profile", name) for name, pattern in _OF if pattern.search(text))
