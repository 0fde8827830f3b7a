"""A night as plants meet it: the forecast low, and how much colder it may be at leaf height.

A forecast is for air at head height. On a clear, calm night leaves near the ground are several degrees
colder; under cloud or in wind they are not. A hollow is colder still. Nothing is worded here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, Literal

from gardenmate.core.question import Request, Slots, Temperature, Typed
from gardenmate.core.units import (
    F_DEGREE,
    FT_M,
    Units,
    f_to_c,
)
from gardenmate.core.world import World
from gardenmate.records import NamedTuple, dataclass, replace
from gardenmate.science import frost_night
from gardenmate.science.sun import day_length_hours
from gardenmate.topics.shared.protection import frost_temp

Sky = Literal["clear", "cloudy", "unknown"]
Spot = Literal["hollow", "own-hollow", "slope", "mixed"]
"""hollow: a low spot, taken as usual; own-hollow: as the grower measured it; slope: above the hollow; mixed: a
hollow or a slope on a night whose cloud or wind makes it no different."""
_WARMEST_NIGHT_C = 25.0  # design value: no frost is feared on a warmer night
_MILD_NIGHT_C = 15.0  # design value: the same where the unit was only assumed
_FAR_BELOW_NORMAL_C = 15.0  # design value, three times the spread of nights: colder is no possible weather
_NOT_LOWS = ("high", "inside", "soil", "setting")
_SHORTEST_NIGHT_H = 4.0  # design value: nearer the pole the night is too short to speak of its hours
_DEW_FIGURES = ("frost_possible_dew_point_c", "frost_probable_dew_point_c", "frost_likely_sunset_f")


class Low(NamedTuple):
    """One low as typed, degrees C, and its night when that was typed beside it."""

    low_c: float
    typed: Temperature
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Night:
    """One night. ``low_c`` is the air at head height in this garden, degrees C.

    ``leaf_clear_c`` / ``leaf_cloudy_c`` are leaf height under a clear, calm or a cloudy, windy sky; ``sky``
    tells which of them holds, or that either may. ``typed`` is the temperature as the grower wrote it, ``on``
    its date; ``heard_c`` the low before the ``spot`` moved it. ``sunset_c`` and ``dew_c`` are the evening's
    readings, from which the low was ``forecast`` when none was typed. ``reread`` is a figure taken for
    Fahrenheit because no frosty night is that warm in Celsius; ``doubt_c`` the colder low a bare figure may mean.
    """

    low_c: float
    sky: Sky
    leaf_clear_c: float
    leaf_cloudy_c: float
    heard_c: float | None = None
    spot: Spot | None = None
    typed: Temperature | None = None
    on: date | None = None
    sunset_c: float | None = None
    dew_c: float | None = None
    forecast: bool = False
    reread: float | None = None
    doubt_c: float | None = None
    sources: tuple[str, ...] = ()

    def low_text(self, units: Units) -> str:
        """The low in the grower's units; typed in the other unit, both: "-15 C (5 F)"."""
        return as_typed(self.low_c, self.typed, units)

    @property
    def leaf_worst_c(self) -> float:
        """The coldest the leaf is expected to get."""
        return self.leaf_cloudy_c if self.sky == "cloudy" else self.leaf_clear_c


def as_typed(temp_c: float, typed: Temperature | None, units: Units) -> str:
    """A temperature in the grower's units, and first as typed when that was the same in the other unit."""
    shown = frost_temp(temp_c, units)
    if typed is None or shown.endswith(typed.unit) or abs(typed.celsius - temp_c) > 0.05:
        return shown
    return f"{typed.value + 0.0:g} {typed.unit} ({shown})"


# -- the lows that were typed ----------------------------------------------------------------------------
def governing(ask: Slots) -> Temperature | None:
    """The one temperature that governs, with the unit it was typed in."""
    if ask.temp_c is not None:
        return Temperature(ask.temp_c, "C")
    return None if ask.temp_f is None else Temperature(ask.temp_f, "F")


def lows(question: Request) -> tuple[Low, ...]:
    """Every low of the question in the order typed, those marked low, else the governing one, else all that are
    not marked otherwise. The dew point is none of them, nor is the temperature at sunset."""
    in_a_row = question.all("night-low")
    if in_a_row:
        return tuple(_of_row(one, question) for one in in_a_row)
    spots = [t for t in question.typed if t.kind == "temperature" and isinstance(t.value, int | float)]
    if spots and not question.slots.temps:
        return _listed(question, spots)
    air = [float(said) for name in ("dew_point_c", "sunset_c") if (said := question.cue(name)) is not None]
    temps = [t for t in question.ask.temps if all(abs(t.celsius - one) >= 0.1 for one in air)]
    marked = [t for t in temps if t.role == "low"]
    if len(marked) == 2 and question.has("range", "one-night"):
        marked = [min(marked, key=lambda t: t.celsius)]
    if len(marked) > 1 and len(spots) == len(question.ask.temps):
        return _listed(question, [s for s in spots if s.role == "low"])
    if not marked:
        main = governing(question.ask)
        marked = [main] if main is not None else [t for t in temps if t.role not in _NOT_LOWS]
    return tuple(Low(_sensible_c(t, question), t, question.ask.date) for t in marked)


def _listed(question: Request, spots: Sequence[Typed]) -> tuple[Low, ...]:
    """Lows typed in a row, each with the date that stands beside it."""
    days = [t for t in question.typed if t.kind in ("date", "night") and isinstance(t.value, date)]
    found = []
    for number, spot in enumerate(spots):
        after = spots[number - 1].end if number else 0
        until = spots[number + 1].start if number + 1 < len(spots) else spot.end + 1000
        beside = [d for d in days if after <= d.start < spot.start] or [
            d for d in days if spot.end <= d.start < until and len(days) == len(spots)
        ]
        temp = Temperature(spot.number, spot.unit or "F", "low")
        on = beside[-1].value if beside else None
        found.append(Low(_sensible_c(temp, question), temp, on if isinstance(on, date) else None))
    return tuple(found)


def _of_row(one: Typed, question: Request) -> Low:
    """A low of a row, its night in the role."""
    temp = Temperature(one.number, one.unit, "low")
    return Low(_sensible_c(temp, question), temp, date.fromisoformat(one.role) if one.role else None)


def _assumed(temp: Temperature, question: Request) -> bool:
    """True when the unit of a figure was not typed but taken."""
    return any(t.value == temp.value and t.unit == temp.unit for t in question.all("unit-assumed"))


def _misread(temp: Temperature, question: Request) -> bool:
    """True for a low that makes no sense in degrees C: Fahrenheit was meant. A figure whose unit was only
    assumed is doubted sooner than one typed with it."""
    warmest = _MILD_NIGHT_C if _assumed(temp, question) else _WARMEST_NIGHT_C
    return temp.unit == "C" and temp.value > warmest


def _sensible_c(temp: Temperature, question: Request) -> float:
    return f_to_c(temp.value) if _misread(temp, question) else temp.celsius


def without_misreading(question: Request) -> Request:
    """The question without the assumption that a figure was meant in C, where no night is that warm."""
    wrong = {f"{low.typed.value:g} as C" for low in lows(question) if _misread(low.typed, question)}
    if not wrong:
        return question
    kept = tuple(text for text in question.assumptions if not any(w in text for w in wrong))
    return replace(question, assumptions=kept)


def doubt_c(temp: Temperature, question: Request, world: World) -> float | None:
    """The colder low a bare figure may stand for, degrees C: Celsius was assumed, the place uses Fahrenheit, and
    that is possible weather there on the date. None when there is no such doubt."""
    site = world.site
    if temp.unit != "C" or not _assumed(temp, question) or site is None or site.country not in ("US", "USA"):
        return None
    colder_c = f_to_c(temp.value)
    normal_c = site.min_c(question.ask.date or world.today)
    possible = normal_c - _FAR_BELOW_NORMAL_C <= colder_c < temp.celsius
    return colder_c if possible else None


# -- the night itself ------------------------------------------------------------------------------------
def sky_of(question: Request) -> Sky:
    """What the words say of tonight's sky and wind."""
    if question.cue("wind") == "windy" or question.cue("sky") in ("cloudy", "rain"):
        return "cloudy"
    if question.cue("sky") == "clear" or question.cue("wind") == "calm":
        return "clear"
    return "unknown"


def night(question: Request, world: World) -> Night | None:
    """The coldest night that was typed, else tonight from sunset temperature and dew point."""
    each = nights(question, world)
    return min(each, key=lambda n: n.low_c) if each else None


def nights(question: Request, world: World) -> tuple[Night, ...]:
    """A night for every low typed, in that order, else the one forecast from the evening's readings."""
    found = tuple(
        replace(
            night_at(low.low_c, question, world),
            typed=low.typed,
            on=low.on if low.on is not None and low.on >= world.today else None,
            reread=low.typed.value if _misread(low.typed, question) else None,
            doubt_c=doubt_c(low.typed, question, world),
        )
        for low in lows(question)
    )
    sunset, dew_c = question.cue("sunset_c"), _dew_c(question)
    if found or sunset is None or dew_c is None:
        return found
    rule = world.facts.table("protection")["minimum_rule"]
    low_c = frost_night.MinimumRule(rule["slope_t0"], rule["slope_td"], rule["constant_c"]).minimum_c(
        float(sunset), dew_c
    )
    sky = sky_of(question)
    forecast = night_at(low_c, question, world, "clear" if sky == "unknown" else sky)
    return (replace(forecast, forecast=True, sources=(*forecast.sources, *rule["sources"])),)


def night_at(low_c: float, question: Request, world: World, sky: Sky | None = None) -> Night:
    """A night with this forecast low, in this garden: hollow or slope, clear or cloudy, leaf height."""
    radiation = world.facts.table("protection")["radiation"]
    sky = sky or sky_of(question)
    spot, colder_c = _spot(question, world, radiation)
    sunset, dew_c = question.cue("sunset_c"), _dew_c(question)
    here_c = low_c - colder_c
    hinted = (sunset is None) != (dew_c is None)
    return Night(
        low_c=here_c,
        sky=sky,
        leaf_clear_c=here_c - radiation["ground_colder_f"] * F_DEGREE,
        leaf_cloudy_c=here_c - radiation["cloudy_colder_f"] * F_DEGREE,
        heard_c=low_c,
        spot=spot,
        sunset_c=None if sunset is None else float(sunset),
        dew_c=dew_c,
        sources=(
            *radiation["sources"].of("ground_colder_f", "ground_colder_most_f", "cloudy_colder_f"),
            *(radiation["sources"].of(*_DEW_FIGURES) if hinted else ()),
        ),
    )


def _dew_c(question: Request) -> float | None:
    """The dew point told, else that of the humidity told with the temperature at sunset; None without either."""
    told, sunset = question.cue("dew_point_c"), question.cue("sunset_c")
    if told is not None:
        return float(told)
    humidity = question.first("percent", "humidity")
    if humidity is None or sunset is None:
        return None
    return frost_night.dew_point_c(float(sunset), humidity.number)


def _spot(question: Request, world: World, radiation: Mapping[str, Any]) -> tuple[Spot | None, float]:
    """Where the garden lies, and how much colder than the forecast that makes it, C degrees."""
    kind, own_c = question.cue("place_kind"), abs(world.garden.low_spot_c)
    if sky_of(question) == "cloudy":
        return ("mixed" if kind in ("low-spot", "hill") or own_c else None), 0.0
    if own_c and kind in (None, "low-spot"):
        return "own-hollow", own_c
    if kind == "low-spot":
        return "hollow", frost_night.cold_pool_warming_c(radiation["low_spot_assumed_ft"] * FT_M)
    return ("slope" if kind == "hill" else None), 0.0


def under_cloud(tonight: Night) -> Night:
    """The same forecast under cloud or in wind."""
    return replace(tonight, sky="cloudy")


def hours_of_frost(question: Request, world: World, tonight: Night) -> float | None:
    """How many hours it will freeze, when the evening temperature and the place are known; None under one."""
    sunset = tonight.sunset_c
    if sunset is None or world.site is None or tonight.low_c > 0.0 or sunset <= tonight.low_c:
        return None
    length = 24.0 - day_length_hours(world.site.lat, question.ask.date or world.today)
    if length < _SHORTEST_NIGHT_H:
        return None
    hours = frost_night.hours_at_or_below(0.0, sunset, tonight.low_c, length)
    return hours if hours >= 1.0 else None
