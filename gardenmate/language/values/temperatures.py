"""Temperatures typed in a text: with or without a unit, in ranges, each with the role its neighbours give."""

from __future__ import annotations

from typing import Protocol

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Temperature
from gardenmate.core.units import Units
from gardenmate.language.text.spans import Board, words
from gardenmate.language.values.temperature_roles import SHELTERS, shared_roles
from gardenmate.language.values.thermometer import (
    BELOW,
    FIRM_LEADS,
    NOT_TEMPERATURE,
    TIMERS,
    about_weather,
    by_number,
    clock_hour,
    ends_clause,
    reads_as_degrees,
)

_UNIT = {"f": "F", "fahrenheit": "F", "c": "C", "celsius": "C", "celcius": "C", "centigrade": "C"}
_DEGREES = frozenset({"°", "degree", "degrees", "deg", "degs"})
HOTTEST, COLDEST = 130.0, -60.0  # degrees, F or C: outside lies no garden; design value
_INDOOR = words(
    "germinate germination germinated sprout sprouting sprouts seed seeds mat propagator room pots soil "
    "ground"
)
_OUT_COLD = words(
    "frost freeze freezing frozen cold tonight overnight night nights low lows dips drops survive hardy cover"
)
_WITHIN_TEN = {"high": 7.0, "upper": 7.0, "mid": 5.0, "middle": 5.0, "low": 2.0, "lower": 2.0}
MILD_C = 11.0  # a bare 4 to 11 is a cool night in Celsius; few plant at such Fahrenheit
COLD_F = 30.0  # a night of 30 and more that someone worries about is in Fahrenheit
_FORESEEN = words("calling asking forecasting looking predicting down set in")
_REACHED = words(
    "to at hit hits touched touches reached reaches read reads near nearly almost only just of about"
)
_WINTER = words("winter winters subzero")
_COOKED = words(
    "flopped flop wilted limp cooked cooking cooks roasting roasted lid vent fright sauna oven baking baked"
)
_HEATWAVE = words("scorching sweltering heatwave hades stinker boiling roasting baking")
HEATWAVE_C = (18.0, 45.0)  # a day that anyone calls hot is none of these in Fahrenheit
HOT_FRAME = (30.0, 45.0)  # nobody airs a frame that reads so in Fahrenheit; in Celsius it cooks what is in it
_AT_NIGHT = frozenset({"tonight", "overnight", "dawn", "night", "nights", "lows", "frost", "freeze"})


_OPENS = words(
    "and what about how at if it its is or but so ok then now say says said saying they with for make that "
    "change to be sorry no not actually i meant mean oops wait only just more like maybe around was a the "
    "there down up even drops drop hits hit gets get goes go why not too still would will could might we "
    "does do that this instead really tonight tomorrow overnight night on monday tuesday wednesday thursday "
    "friday saturday sunday mon tue tues wed thu thur thurs fri sat sun"
)


def only_a_number(board: Board) -> int | None:
    """The token of the one number of a turn that says nothing else: "and 28?", "sixty eight with basil"."""
    named = {i for s in board.spans if s.tag in ("crop", "family") for i in range(s.start, s.end)}
    rest = [i for i, token in enumerate(board.tokens) if token.word not in _OPENS and i not in named]
    return rest[0] if len(rest) == 1 and board.tokens[rest[0]].number is not None else None


def _another(board: Board) -> list[tuple[int, int, float, str | None]]:
    i = only_a_number(board)
    if i is None or i in board.taken:
        return []
    return [(i, i + 1, board.tokens[i].number or 0.0, None)]


class Possible(Protocol):
    """What air temperatures are possible where and when a figure is typed (see intent.reading.Weather)."""

    @property
    def units(self) -> Units:
        """The unit of bare figures there."""
        ...

    @property
    def settled(self) -> bool:
        """True when the grower has chosen that unit for good."""
        ...

    def holds(self, celsius: float, night: bool) -> bool:
        """True when the air may be as cold or warm as that, by night or at any hour."""
        ...


def find_temperatures(
    board: Board, units: Units, spoken_of: bool = False, weather: Possible | None = None
) -> None:
    """Lay a `temp` span (value: Temperature) on every temperature of the text.

    ``spoken_of``: the turn before was about a temperature, so that "and 28?" is another one. A bare figure of the air
    is in the unit of the place whenever that is possible ``weather`` there, in the other only when it is not.
    """
    explicit = _explicit_unit(board)
    found: list[tuple[int, int, float, str | None]] = []
    i = 0
    while i < len(board.tokens):
        one = _one(board, i, bool(found) and found[-1][1] == i, spoken_of)
        if one is not None and not any(k in board.taken for k in range(one[0], one[1])):
            found.append(one)
            i = one[1]
        else:
            i += 1
    if spoken_of and not found:
        found = _another(board)
    found = _ranges(board, found)
    if units == "metric" and any(
        unit is None and value >= COLD_F and _guess(value, units, board) == "F" for _, _, value, unit in found
    ):
        units = "us"  # bare numbers of one text are in one unit, and one of them cannot be Celsius
    assumed: dict[str, list[str]] = {}
    roles = shared_roles(board, [(start, end) for start, end, _, _ in found])
    for (start, end, value, unit), role in zip(found, roles, strict=True):
        typed = unit or explicit or _of_weather(value, role, weather, board) or _guess(value, units, board)
        if not COLDEST <= value <= HOTTEST:
            continue
        if unit is None and explicit is None:
            assumed.setdefault(typed, []).append(f"{value:g}")
        board.lay(start, end, "temp", Temperature(value, typed, role))
    for typed, values in assumed.items():
        *most, last = dict.fromkeys(values)
        said = f"{', '.join(most)} and {last}" if most else last
        board.assumptions.append(f"Read {said} as {typed} degrees.")


_TYPED = Pattern(
    r"\d\s{0,3}(?:°|deg(?:rees?)?)?\s{0,3}([cf])\b|\b(celsius|centigrade|fahrenheit)\b", ignore_case=True
)


def unit_typed(text: str) -> str | None:
    """The unit a text names beside its temperatures, None when it names none or both."""
    found = {(match[1] or match[2])[0].upper() for match in _TYPED.finditer(text)}
    return found.pop() if len(found) == 1 and not found - {"C", "F"} else None


def _explicit_unit(board: Board) -> str | None:
    units = {
        _UNIT[t.word]
        for i, t in enumerate(board.tokens)
        if t.word in _UNIT
        and (
            board.word(i - 1) in _DEGREES | {"in"}
            or (i and board.tokens[i - 1].number is not None)
            or len(t.word) > 1
        )
    }
    return units.pop() if len(units) == 1 else None


_OF_THE_AIR = frozenset({"low", "high", "outside", "air"})


def _of_weather(value: float, role: str | None, weather: Possible | None, board: Board) -> str | None:
    """The unit of a bare figure of the air; None where the figure is of something else, or no place is known."""
    if weather is None:
        return None
    own, other = ("F", "C") if weather.units == "us" else ("C", "F")
    if weather.settled:
        return own
    said = {t.word for t in board.tokens}
    if role not in _OF_THE_AIR and not said & _AT_NIGHT:
        return None

    night = role == "low" or bool(said & _AT_NIGHT)

    def possible(unit: str) -> bool:
        return weather.holds(value if unit == "C" else (value - 32.0) / 1.8, night)

    if not possible(own) and possible(other):
        return other
    if possible(own) and possible(other):
        board.assumptions.append(
            f"{value:g} could be {other} too; say '{value:g} {other}' if you meant that."
        )
    return own


def _guess(value: float, units: Units, board: Board) -> str:
    said = {t.word for t in board.tokens}
    if MILD_C < value <= COLD_F and said & _INDOOR and not said & _OUT_COLD:
        return "C"  # no seed sprouts at such Fahrenheit
    if 0 < value <= MILD_C and not any(t.word in ("zero", "winter") for t in board.tokens):
        return "C"
    if units == "metric" and value >= COLD_F and (said & _AT_NIGHT or _low_of(board)):
        return "F"
    if -15 <= value < 0 and not any(t.word in ("zero", "subzero") for t in board.tokens):
        return "C"
    if HOT_FRAME[0] <= value <= HOT_FRAME[1] and said & _COOKED and said & SHELTERS and not said & _OUT_COLD:
        return "C"
    if _HEATWAVE & said and HEATWAVE_C[0] <= value <= HEATWAVE_C[1]:
        return "C"
    if value > 45:
        return "F"
    return "C" if units == "metric" else "F"


def bare_unit(value: float, board: Board) -> str:
    """The unit of a bare figure in words that settle none: Fahrenheit, unless only Celsius makes sense."""
    return _explicit_unit(board) or _guess(value, "us", board)


def _low_of(board: Board) -> bool:
    """True when a low is told, not a low tunnel."""
    return any(t.word == "low" and board.word(i + 1) != "tunnel" for i, t in enumerate(board.tokens))


def _one(
    board: Board, i: int, after_temperature: bool, spoken_of: bool
) -> tuple[int, int, float, str | None] | None:
    """The temperature that starts at token ``i`` as (start, end, value, unit or None)."""
    tokens = board.tokens
    start, token = i, tokens[i]
    sign = 1.0
    if token.word in BELOW and i + 1 < len(tokens) and tokens[i + 1].number is not None:
        sign, i, token = -1.0, i + 1, tokens[i + 1]
    if token.number is None:
        return None
    if token.gap.endswith("-") and ((len(token.gap) == 1 and i == 0) or token.gap.endswith(" -")):
        sign = -1.0
    elif (
        token.gap.endswith("-") and i and tokens[i - 1].number is None and tokens[i - 1].word not in ("mid",)
    ):
        pass
    if sign > 0 and board.word(i - 1) == "plus" and i and token.number <= 12 and about_weather(board, i):
        start = i - 1
    value = sign * token.number
    end = i + 1
    degrees = end < len(tokens) and tokens[end].word in _DEGREES
    if degrees:
        end += 1
    unit = (
        _UNIT.get(board.word(end)) if end < len(tokens) and tokens[end].sentence == token.sentence else None
    )
    if unit and len(tokens[end].word) == 1 and not degrees and len(tokens[end].gap) > 1:
        unit = None
    if unit:
        end += 1
    if unit or degrees:
        low = board.word(end) in ("below", "under")
        if (
            degrees
            and low
            and (board.word(end + 1) == "zero" or (board.word(end + 1) == "freezing" and unit != "F"))
        ):
            value, end = -abs(value), end + 2
        return start, end, value, unit
    follow = board.word(end) if end < len(tokens) and tokens[end].sentence == token.sentence else ""
    if follow in ("below", "under") and board.word(end + 1) == "zero":
        return start, end + 2, -abs(value), unit
    if follow in ("below", "above") and value <= 40 and ends_clause(board, end) and about_weather(board, i):
        if follow == "above":
            return start, end + 1, value, None
        return start, end + 1, -abs(value), "C" if value <= 25 else None
    glued = end < len(tokens) and tokens[end].gap == "" and tokens[end].number is None
    tens = value in (10, 20, 30, 40, 50, 60, 70, 80, 90) and board.word(i - 1) in {"the", *_WITHIN_TEN}
    if glued and follow == "s" and tens and about_weather(board, i):
        return start, end + 1, value + _WITHIN_TEN.get(board.word(i - 1), 0.0), None
    if board.words(end, end + 3) == "in a row" or board.word(start - 1) in ("us", "me"):
        return None  # "20 in a row", "gave us 70 last summer"
    if follow == "in" and board.word(end + 1) in ("the", "my", "a", "here", "there", "this"):
        follow = ""
    if follow == "in" and ends_clause(board, end) and "out" in {t.word for t in tokens[:start]}:
        follow = ""  # "64 out and 71 in"
    if (
        glued
        or follow in NOT_TEMPERATURE
        or (token.gap in ("$", "£", "€") or board.word(start - 1) in ("$", "£", "€"))
    ):
        return None
    if (
        board.word(start - 1) in ("zone", "usda", "for", "make", "want", "another")
        and board.word(start - 2) not in _FORESEEN
    ):
        return None
    if token.word == "zero":
        reached = board.word(i - 1) in _REACHED and about_weather(board, i)
        return (start, end, 0.0, None if _WINTER & {t.word for t in tokens} else "C") if reached else None
    if end < len(tokens) and tokens[end].gap in ("/", "-", ".") and tokens[end].number is None:
        return None
    if board.word(start - 1) in ("day", "days") and "night" in (board.word(end), board.word(end + 1)):
        return start, end, value, None  # "day 72 night 60"
    if by_number(board, i, end) or clock_hour(board, i, end) or board.near(i, TIMERS, 4, 2):
        return None
    said = not token.raw[0].isdigit() and token.raw[0] != "."
    if said and sign > 0 and value <= 12 and board.word(i - 1) not in FIRM_LEADS:
        return None
    if board.word(i - 1) in ("is", "am", "are") and board.word(i - 2) in ("he", "she", "i", "we", "kid"):
        return None
    if not -45 <= value <= 120 or (
        said and sign > 0 and ((value <= 2 and start == i) or (board.word(start - 1) == "at" and value <= 12))
    ):
        return None
    return (
        (start, end, value, None)
        if reads_as_degrees(board, start, end, sign < 0, after_temperature, spoken_of)
        else None
    )


def _ranges(
    board: Board, found: list[tuple[int, int, float, str | None]]
) -> list[tuple[int, int, float, str | None]]:
    """ "28 to 32", "28-32F", "between 5 and 8 C": the other end of a range has the unit of its neighbour."""
    out = list(found)
    tokens = board.tokens
    for start, end, value, unit in found:
        joins = (
            start >= 2
            and tokens[start - 1].word in ("to", "or", "and")
            and tokens[start - 2].number is not None
        )
        direct = (
            start >= 1 and tokens[start - 1].number is not None and tokens[start].gap in ("-", "/", " - ")
        )
        other = start - 2 if joins else start - 1 if direct else None
        if other is None or any(s <= other < e for s, e, _, _ in out) or other in board.taken:
            continue
        first = tokens[other].number
        if (
            first is not None
            and abs(first - value) <= 40
            and (unit or board.word(end) not in NOT_TEMPERATURE)
        ):
            begin = other - 1 if board.word(other - 1) in BELOW else other
            out.append((begin, other + 1, -first if begin != other else first, unit))
    filled: list[tuple[int, int, float, str | None]] = []
    ordered = sorted(out)
    for n, (start, end, value, own) in enumerate(ordered):
        next_to = n + 1 < len(ordered) and ordered[n + 1][0] - end <= 1
        filled.append((start, end, value, ordered[n + 1][3] if own is None and next_to else own))
    return filled


def governing(temps: tuple[Temperature, ...]) -> Temperature | None:
    """The one temperature that governs: the only one, the low of a range; None when roles differ."""
    if not temps:
        return None
    if len({t.value for t in temps}) == 1:
        return temps[0]
    roles = {t.role for t in temps}
    if roles <= {"low", None}:
        return min(temps, key=lambda t: t.celsius)
    if roles >= {"outside", "inside"} or ("inside" in roles and len(roles) > 1):
        return None
    lows = [t for t in temps if t.role == "low"]
    if lows and len(lows) < len(temps):
        return min(lows, key=lambda t: t.celsius)
    if len(roles) == 1:
        return min(temps, key=lambda t: t.celsius)
    return None
