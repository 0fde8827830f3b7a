"""How high a garden lies, told with a question: "at 8,000 feet", "elevation 1,900 m"."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.core.units import FT_M
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.sizes import SPELLED, number_of

_FEET = words("ft feet foot")
_METRES = words("m metres meters metre meter")
_LEADS = words("at above elevation altitude up about around nearly over roughly is sit sits")
_SAYS = words("elevation altitude above up high here sea asl")
LEAST_M, MOST_M = 250.0, 4500.0  # lower, a length is more likely a row or a hedge (design value)
_BEFORE, _AFTER = 3, 3  # words to either side that say what is so high; design value


def find_heights(board: Board) -> None:
    """Lay `height` spans (value: metres above the sea) over heights a garden may lie at."""
    tokens = board.tokens
    for i, token in enumerate(tokens[:-1]):
        if token.number is None:
            continue
        unit = tokens[i + 1].raw.lower()
        if unit not in _FEET and unit not in _METRES:
            continue
        metres = token.number * (FT_M if unit in _FEET else 1.0)
        before = {t.word for t in tokens[max(0, i - _BEFORE) : i] if t.sentence == token.sentence}
        after = {t.word for t in tokens[i + 2 : i + 2 + _AFTER] if t.sentence == token.sentence}
        led = bool(before & _LEADS) or bool(after & _SAYS)
        if led and LEAST_M <= metres <= MOST_M:
            board.lay(i, i + 2, "height", round(metres, 1))


_HEIGHT = Pattern(
    rf"(?<![\w.])(\d[\d,]{{0,9}}(?:\.\d+)?|{SPELLED})\s{{0,3}}[- ]?(feet|foot|ft|m|metres|meters|metre|meter)\b",
    ignore_case=True,
)
_OF_A_THING = Pattern(
    r"^\s*(?:wide|long|tall|high frame|deep|away|apart|of (?:row|bed|fence)|by|x|from|down|back)\b",
    ignore_case=True,
)
_UP = Pattern(r"\b(?:at|up|elevation|altitude|above|sea|asl|height|high|sits?)\b", ignore_case=True)
_SECOND_SIDE = Pattern(r"(?:by|x)\s*$")
_LEAST_TOLD = 20  # of either unit: lower is the height of a thing (design value)
_LOWEST_M, _HIGHEST_M = -430.0, 6000.0  # no garden lies lower (the Dead Sea shore) or higher (design values)


def height_told(text: str) -> tuple[float, str] | None:
    """(metres above the sea, as typed) of a garden "at 2,100 feet" in a statement; None when no height is told."""
    for match in _HEIGHT.finditer(text):
        value = number_of(match[1])
        around = text[max(0, match.start() - 30) : match.start()] + " " + text[match.end() : match.end() + 25]
        if value is None or _OF_A_THING.match(text[match.end() :]) or not _UP.search(around):
            continue
        if _SECOND_SIDE.search(text[: match.start()]):
            continue
        metres = value * FT_M if match[2].lower().startswith("f") else value
        if value < _LEAST_TOLD or not _LOWEST_M <= metres <= _HIGHEST_M:
            continue
        return round(metres, 1), match[0].strip()
    return None
