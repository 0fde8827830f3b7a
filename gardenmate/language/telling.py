"""Statements that are told so plainly that no weighing of words may read them otherwise."""

from __future__ import annotations

import re

from gardenmate.language.spans import Board, words

_WHO = words("i we")
_GROWS = words("grow want growing")
_BESIDE = words(
    "and or some the a also only just mostly usually always like will would are am to in my our garden"
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


_BOUGHT = re.compile(
    r"^(?:(?:so|ok|today|yesterday|tonight|finally|just|this morning|this afternoon|last week) )*"
    r"(?:i|we) (?:(?:have|ve|just|finally|also|went and) )*(?:bought|ordered|picked up|paid)\b"
)
_WEIGHED = words("or worth versus instead")


def tells_purchase(board: Board) -> bool:
    """True for "today I bought 6 pepper plants for $21": done and paid, nothing weighed against it."""
    said = [t.word for t in board.tokens]
    return not _WEIGHED & set(said) and _BOUGHT.match(" ".join(said)) is not None
