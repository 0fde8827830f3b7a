"""How high a garden lies, told with a question: "at 8,000 feet", "elevation 1,900 m"."""

from __future__ import annotations

from gardenmate.language.text.spans import Board, words

_FEET = words("ft feet foot")
_METRES = words("m metres meters metre meter")
_LEADS = words("at above elevation altitude up about around nearly over roughly is sit sits")
_SAYS = words("elevation altitude above up high here sea asl")
M_PER_FT = 0.3048
LEAST_M, MOST_M = 250.0, 4500.0  # lower, a length is more likely a row or a hedge (design value)
_BEFORE, _AFTER = 3, 3


def find_heights(board: Board) -> None:
    """Lay `height` spans (value: metres above the sea) over heights a garden may lie at."""
    tokens = board.tokens
    for i, token in enumerate(tokens[:-1]):
        if token.number is None:
            continue
        unit = tokens[i + 1].raw.lower()
        if unit not in _FEET and unit not in _METRES:
            continue
        metres = token.number * (M_PER_FT if unit in _FEET else 1.0)
        before = {t.word for t in tokens[max(0, i - _BEFORE) : i] if t.sentence == token.sentence}
        after = {t.word for t in tokens[i + 2 : i + 2 + _AFTER] if t.sentence == token.sentence}
        led = bool(before & _LEADS) or bool(after & _SAYS)
        if led and LEAST_M <= metres <= MOST_M:
            board.lay(i, i + 2, "height", round(metres, 1))
