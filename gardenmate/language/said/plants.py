"""What is said of woody and lasting plants: how they look, a cut already made, what is asked of their season."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_PICK = r"(?:cut|cutting|pick|picking|pull|pulling|harvest|harvesting)"
_LAST_PICKING = Pattern(
    rf"\b(?:stop|quit|finish|last|end|until when|till when|how (?:long|late)|how many weeks)\b.*\b{_PICK}\b",
    rf"\b{_PICK}\b.*\b(?:stop|until|till|end|last)\b",
)
_UNCOVER = Pattern(
    r"\b(?:take|pull|rake|get|remove|lift|move|comes?)\b.*\b(?:mulch|straw|covers?)\b",
    r"\buncover(?:ing|ed)?\b",
    r"\b(?:mulch|straw)\b.*\b(?:off|away|back)\b",
)
_IN_LEAF = Pattern(
    r"\b(?:ha(?:ve|s) (?:got )?leaves|in (?:full )?leaf|leaf(?:ed)? out|leaves are (?:out|open))\b"
)
_HARM = Pattern(
    r"\b(?:hurt|kill(?:ed)?|harm(?:ed)?|ruin(?:ed)?|damaged?|wreck(?:ed)?|dead|die|survive|recover|forgive)\b"
)
_BLEEDS = Pattern(r"\b(?:drip|dripping|bleeds?|bleeding|weeps?|weeping)\b")
_HARD = Pattern(r"\b(?:hard|down|ground|stumps?|bare|short|low)\b")
_SEASON = r"(?:fall|autumn|winter|spring|summer)"
_BEARS_IN = Pattern(
    r"\b(?:fruit|bear|crop|ripen|pick|flower|bloom|berr(?:y|ie))\w*(?:\W+\w+){0,2}?\W+in\W+(?:the\W+)?"
    rf"(?P<season>{_SEASON})"
)
_ANY_SEASON = Pattern(rf"\b{_SEASON}\b")


def read(said: Said) -> Iterator[Typed]:
    """asks (last-picking, uncover, harm), look (in-leaf, bleeding), cut (hard), season (of: fruit)."""
    last = _LAST_PICKING.search(said.plain)
    if last is not None:
        yield Typed("asks", "last-picking", text=last.group())
    off = _UNCOVER.search(said.plain)
    if off is not None and last is None:
        yield Typed("asks", "uncover", text=off.group())
    for kind, value, pattern in (
        ("look", "in-leaf", _IN_LEAF),
        ("look", "bleeding", _BLEEDS),
        ("asks", "harm", _HARM),
        ("cut", "hard", _HARD),
    ):
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed(kind, value, text=match.group())
    bears = _BEARS_IN.search(said.plain)
    if bears is not None and sum(1 for _ in _ANY_SEASON.finditer(said.plain)) == 1:
        yield Typed("season", bears["season"], role="fruit", text=bears.group())
