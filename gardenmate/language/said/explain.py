"""What is asked of the answer before: its reason, a figure of it, what moves; or a word of the trade."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.intent.terms import asks_why, terms_asked
from gardenmate.language.said import Said

_WHY = Pattern(r"^\W*(?:but |and |so |ok(?:ay)? )*(?:why|how come)\b(?!.*\bif\b)")
_FIGURE = Pattern(r"\d+(?:\.\d+)?")
_OF_FROST = Pattern(r"\b(?:frosts?|freezes?|spring|autumn|fall|winter|season|warms?|cold)\b")
_OF_THE_START = Pattern(
    r"\b(?:sow|sowed|start|started|plant|planted|set|put|begin|began|wait|waited|do|did|go|went|move|moved)\b",
    r"^\W*(?:and|what about|how about|a|in)\b",
)


def read(said: Said) -> Iterator[Typed]:
    """term (ids of the glossary), asks (why | reason), figure, moves (start)."""
    terms = terms_asked(said.text, said.facts)
    yield from (Typed("term", term) for term in terms)
    if terms and asks_why(said.text):
        yield Typed("asks", "reason")
    why = _WHY.match(said.plain)
    if why is not None:
        yield Typed("asks", "why", text=why.group().strip())
    yield from (Typed("figure", m.group(), text=m.group()) for m in _FIGURE.finditer(said.plain))
    if _OF_FROST.search(said.plain) is None and _OF_THE_START.search(said.plain) is not None:
        yield Typed("moves", "start")
