"""Which year a look back is about: one in figures, this one, or the last."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words

_THIS = words("this")
_FROSTS = words("frost freeze frosts freezes")
FIRST_YEAR, LAST_YEAR = 1900, 2200  # years a season may be asked about


def frost_side(board: Board) -> str | None:
    """ "last" or "first" where it stands before "frost"."""
    sides = [
        board.word(i - 1)
        for i in range(1, len(board.tokens))
        if board.word(i) in _FROSTS and board.word(i - 1) in ("last", "first")
    ]
    return sides[0] if sides else None


def named_year(board: Board) -> int | None:
    """As `season_year`; None where none is named."""
    said = " ".join(t.word for t in board.tokens)
    named = any(
        f"{which} {part}" in said
        for which in ("this", "last")
        for part in ("year", "spring", "fall", "autumn")
    )
    figure = any(t.number is not None and FIRST_YEAR <= t.number <= LAST_YEAR for t in board.tokens)
    return season_year(board) if named or figure else None


def season_year(board: Board) -> int:
    """The year named, 0 for this one, -1 for the last (also where none is named)."""
    for token in board.tokens:
        n = token.number
        if n is not None and n == int(n) and FIRST_YEAR <= n <= LAST_YEAR:
            return int(n)
    return 0 if {t.word for t in board.tokens} & _THIS else -1
