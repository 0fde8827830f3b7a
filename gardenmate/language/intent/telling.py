"""Statements that are told so plainly that no weighing of words may read them otherwise."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.language.text.spans import Board, words

_WHO = words("i we")
_GROWS = words("grow want growing")
_BESIDE = words(
    "and or some the a also only just mostly usually always like will would are am to in my our garden "
    "this year season do not"
)


def tells_crops(board: Board) -> bool:
    """True for "we grow leeks, peppers and tomatoes": who, grow or want, the crops, and no more."""
    if len(board.tokens) < 3 or board.word(0) not in _WHO:
        return False
    crops = board.of("crop")
    first = min((s.start for s in crops), default=0)
    before = {board.word(i) for i in range(1, first)}
    rest = [
        board.word(i) for i in range(1, len(board.tokens)) if not any(s.start <= i < s.end for s in crops)
    ]
    return bool(crops) and bool(before & _GROWS) and set(rest) <= _BESIDE | _GROWS


_BOUGHT = Pattern(
    r"^(?:(?:so|ok|today|yesterday|tonight|finally|just|this morning|this afternoon|last week) )*"
    r"(?:i|we) (?:(?:have|ve|just|finally|also|went and) )*(?:bought|ordered|picked up|paid)\b"
)
_WEIGHED = words("or worth versus instead")


def tells_purchase(board: Board) -> bool:
    """True for "today I bought 6 pepper plants for $21": done and paid, nothing weighed against it."""
    said = [t.word for t in board.tokens]
    return not _WEIGHED & set(said) and _BOUGHT.match(" ".join(said)) is not None


_DONE = words(
    "sowed sown planted pruned picked potted hardened took transplanted thinned dug divided moved started "
    "harvested trimmed layered grafted mulched pricked covered"
)
_OPENERS = words("i we just finally today yesterday have ve so ok")
_ALONG = words(
    "up on out off in into under the a an my our some of and to at first last more this morning afternoon "
    "evening today yesterday all both few couple bed row rows tray trays pot pots frame tunnel greenhouse "
    "outside indoors inside side back beds cell cells plants seeds cuttings seedlings tree trees bush "
    "bushes fleece cloche cloches now done kg lb lbs heads from with"
)


def tells_done(board: Board) -> bool:
    """True for "pruned apple today" and "we sowed 2 rows of carrots": a job done to a plant, and no more."""
    said = [board.word(i) for i in range(len(board.tokens))]
    start = next((i for i, word in enumerate(said) if word not in _OPENERS), len(said))
    if start == len(said) or said[start] not in _DONE or not board.of("crop"):
        return False
    told = {i for s in board.spans for i in range(s.start, s.end) if s.tag in _THINGS}
    return all(i in told or word in _ALONG for i, word in enumerate(said[start + 1 :], start + 1))


_THINGS = frozenset({"crop", "family", "date", "count", "money", "cells"})
