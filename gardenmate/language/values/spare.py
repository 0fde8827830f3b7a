"""What a count counts ("200 lb", "40 foot", "60 ears"), the time to spare, and the days meant, as cues."""

from __future__ import annotations

from collections.abc import Mapping

from gardenmate.language.text.spans import Board
from gardenmate.language.values.dates import Stretch

_UNITS: dict[str, str] = {
    word: unit
    for unit, words in {
        "lb": "lb lbs pound pounds",
        "kg": "kg kilo kilos",
        "oz": "oz ounce ounces",
        "ft": "ft foot feet",
        "m": "m meter meters metre metres",
        "yd": "yd yard yards",
        "quart": "quart quarts qt",
        "pint": "pint pints",
        "jar": "jar jars",
        "litre": "litre litres liter liters",
        "gallon": "gallon gallons",
        "ear": "ear ears cob cobs",
        "head": "head heads bulb bulbs",
        "fruit": "fruit fruits",
        "tray": "tray trays flat flats",
        "pack": "pack packs punnet punnets",
        "seed": "seed seeds",
        "plant": "plant plants seedling seedlings start starts plug plugs",
    }.items()
    for word in words.split()
}
_SPARE = frozenset(["have", "got", "only", "just", "about", "spare", "before", "free", "for"])
_LIT = frozenset(["light", "lights", "lamp", "lamps", "led", "lit", "sun", "window", "sill", "grow"])
_HOURS = frozenset({"hour", "hours", "hr", "hrs"})


def cues(board: Board, known: Mapping[str, str]) -> dict[str, str]:
    """count_unit, pack (plants in a bought pack), limit_minutes, days ("2027-04-24/2027-04-25")."""
    found: dict[str, str] = {}
    unit = count_unit(board)
    if unit is not None:
        found["count_unit"] = unit
    if unit == "pack":
        found["pack"] = f"{board.of('count')[0].value:g}"
    minutes = spare_minutes(board)
    if minutes is not None and "limit_minutes" not in known:
        found["limit_minutes"] = str(minutes)
    stretches = [s.value for s in board.of("date") if isinstance(s.value, Stretch)]
    if stretches and (stretches[-1].last - stretches[-1].first).days < 14:
        found["days"] = f"{stretches[-1].first.isoformat()}/{stretches[-1].last.isoformat()}"
    return found


def count_unit(board: Board) -> str | None:
    """The unit standing within three words after the count, None when the count is bare."""
    counts = board.of("count")
    if not counts:
        return None
    start = counts[0].end
    tokens = board.tokens
    for i in range(start, min(start + 3, len(tokens))):
        if tokens[i].sentence != tokens[start - 1].sentence or tokens[i].number is not None:
            return None
        if tokens[i].word in _UNITS:
            return _UNITS[tokens[i].word]
        if any(s.start == i and s.tag == "crop" for s in board.spans):
            continue
    return None


def spare_minutes(board: Board) -> int | None:
    """Minutes from "I have one hour", "about four hours"; not the hours of a lamp."""
    for i, token in enumerate(board.tokens):
        if token.number is None or board.word(i + 1) not in _HOURS or board.near(i, _LIT, 8, 8):
            continue
        if board.near(i, _SPARE, 3, 4) and 0 < token.number <= 12:
            return round(token.number * 60)
    return None
