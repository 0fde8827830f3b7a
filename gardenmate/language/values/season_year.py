"""Which year a look back is about: one in figures, this one, or the last."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words

_THIS = words("this")
FIRST_YEAR, LAST_YEAR = 1900, 2200


def season_year(board: Board) -> int:
    """The year named, 0 for this one, -1 for the last (also where none is named)."""
    for token in board.tokens:
        n = token.number
        if n is not None and n == int(n) and FIRST_YEAR <= n <= LAST_YEAR:
            return int(n)
    said = {t.word for t in board.tokens}
    return 0 if said & _THIS and "last" not in said else -1
