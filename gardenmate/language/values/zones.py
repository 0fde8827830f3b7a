"""Hardiness zones named in a text: "zone 8b", "usda 5"."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words

_NAMED = words("zone usda z")
_LAST = 13  # hardiness zones are numbered 1 to 13
_HALVES = frozenset({"a", "b"})


def find_zones(board: Board) -> None:
    """Lay a `zone` span (value: "8b") on every zone named; what follows the figure is no count."""
    for i, token in enumerate(board.tokens):
        n = token.number
        if n is None or n != int(n) or not 1 <= n <= _LAST or i in board.taken:
            continue
        lead = board.word(i - 1)
        if lead not in _NAMED or (lead == "z" and board.tokens[i].gap):
            continue
        glued = i + 1 < len(board.tokens) and board.tokens[i + 1].gap == "" and board.word(i + 1) in _HALVES
        board.lay(i, i + 1 + glued, "zone", f"{int(n)}{board.word(i + 1) if glued else ''}")
