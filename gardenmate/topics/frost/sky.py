"""Tonight as plants meet it: the forecast low, and how much colder it may be at the leaf.

A forecast is for air at head height. On a clear, calm night leaves near the ground are several degrees
colder; under cloud or in wind they are not. A hollow is colder still.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from gardenmate.core.question import Request, Slots, Temperature
from gardenmate.core.units import Units, c_to_f, f_to_c
from gardenmate.core.world import World
from gardenmate.science import frost_night
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import F_DEGREE, frost_span, frost_temp

Sky = Literal["clear", "cloudy", "unknown"]
_WARMEST_NIGHT_C = 25.0
_MILD_NIGHT_C = 15.0
_NOT_LOWS = ("high", "inside", "soil", "setting")
_DEW_FIGURES = ("frost_possible_dew_point_c", "frost_probable_dew_point_c", "frost_likely_sunset_f")


@dataclass(frozen=True, slots=True)
class Night:
    """One night. ``low_c`` is the air at thermometer height in this garden, degrees C.

    ``leaf_clear_c`` / ``leaf_cloudy_c`` are leaf height under a clear, calm or a cloudy, windy sky; ``sky``
    tells which of them holds, or that either may. ``typed`` is the temperature as the grower wrote it.
    """

    low_c: float
    sky: Sky
    leaf_clear_c: float
    leaf_cloudy_c: float
    details: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    typed: Temperature | None = None

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


def governing(ask: Slots) -> Temperature | None:
    """The one temperature that governs, with the unit it was typed in."""
    if ask.temp_c is not None:
        return Temperature(ask.temp_c, "C")
    return None if ask.temp_f is None else Temperature(ask.temp_f, "F")


def typed_low_c(question: Request) -> float | None:
    """The low the question names, degrees C: one marked low, else the governing one, else the least."""
    ask = question.ask
    dew = question.cue("dew_point_c")
    lows = [
        _sensible_c(t, question)
        for t in ask.temps
        if t.role == "low" and not (dew is not None and abs(t.celsius - float(dew)) < 0.1)
    ]
    if lows:
        return min(lows)
    main = governing(ask)
    if main is not None:
        return _sensible_c(main, question)
    others = [_sensible_c(t, question) for t in ask.temps if t.role not in _NOT_LOWS]
    return min(others) if others else None


def _misread(temp: Temperature, question: Request) -> bool:
    """True for a night low that makes no sense in degrees C: Fahrenheit was meant.

    A figure whose unit was only assumed is doubted sooner than one typed with it.
    """
    assumed = any(f"{temp.value:g} as C" in text for text in question.assumptions)
    return temp.unit == "C" and temp.value > (_MILD_NIGHT_C if assumed else _WARMEST_NIGHT_C)


def _sensible_c(temp: Temperature, question: Request) -> float:
    return f_to_c(temp.value) if _misread(temp, question) else temp.celsius


def without_misreading(question: Request) -> Request:
    """The question without the assumption that a figure was meant in C, where no night is that warm."""
    read = [t for t in (*question.ask.temps, governing(question.ask)) if t is not None]
    wrong = {f"{t.value:g} as C" for t in read if _misread(t, question)}
    if not wrong:
        return question
    kept = tuple(text for text in question.assumptions if not any(w in text for w in wrong))
    return replace(question, assumptions=kept)


def sky_of(question: Request) -> Sky:
    """What the words say of tonight's sky and wind."""
    if question.cue("wind") == "windy" or question.cue("sky") in ("cloudy", "rain"):
        return "cloudy"
    if question.cue("sky") == "clear" or question.cue("wind") == "calm":
        return "clear"
    return "unknown"


def night(question: Request, world: World) -> Night | None:
    """Tonight from the low that was typed, else forecast from sunset temperature and dew point."""
    low_c = typed_low_c(question)
    forecast = _forecast(question, world)
    if low_c is None and forecast is None:
        return None
    sky = sky_of(question)
    details: list[str] = []
    working: list[str] = []
    sources: list[str] = []
    typed = [
        t for t in (*question.ask.temps, governing(question.ask)) if t is not None and _misread(t, question)
    ]
    if typed:
        details.append(f"Read as {typed[0].value:g} F: no frosty night is that warm in Celsius.")
    if forecast is not None:
        low_forecast, text, line, more = forecast
        details.append(text)
        working.append(line)
        sources += more
        if low_c is None:
            low_c = low_forecast
            sky = "clear" if sky == "unknown" else sky
    assert low_c is not None
    found = replace(night_at(low_c, question, world, sky), typed=governing(question.ask))
    return _after(found, details, working, sources)


def under_cloud(tonight: Night) -> Night:
    """The same forecast under cloud or in wind."""
    return replace(tonight, sky="cloudy")


def _after(tonight: Night, details: list[str], working: list[str], sources: list[str]) -> Night:
    """The night with what led to its low put before what follows from it."""
    return replace(
        tonight,
        details=(*details, *tonight.details),
        working=(*working, *tonight.working),
        sources=unique(tonight.sources, sources),
    )


def night_at(low_c: float, question: Request, world: World, sky: Sky | None = None) -> Night:
    """A night with this forecast low, in this garden: hollow or slope, clear or cloudy, leaf height."""
    radiation = world.facts.table("protection")["radiation"]
    units = world.units
    sky = sky or sky_of(question)
    working: list[str] = []
    assumptions: list[str] = []
    typed_c = low_c
    low_c, details = _placed(low_c, question, world)
    if low_c != typed_c:
        working.append(
            f"Low in this garden: {frost_temp(typed_c, units)} - {frost_span(typed_c - low_c, units)} = "
            f"{frost_temp(low_c, units)}."
        )
    clear_c = low_c - radiation["ground_colder_f"] * F_DEGREE
    cloudy_c = low_c - radiation["cloudy_colder_f"] * F_DEGREE
    gap = frost_span(radiation["ground_colder_f"] * F_DEGREE, units)
    working.append(
        f"Leaf height on a clear, calm night: {frost_temp(low_c, units)} - {gap} = "
        f"{frost_temp(clear_c, units)}; under cloud or wind {frost_temp(cloudy_c, units)}."
    )
    if sky == "unknown":
        assumptions.append(
            f"A clear, calm night, as nothing was said of the sky: leaves near the ground may then be {gap} "
            "colder than the forecast, hardly colder under cloud or in wind."
        )
    details += _dew_hints(question, world)
    return Night(
        low_c, sky, clear_c, cloudy_c, tuple(details), tuple(assumptions), tuple(working),
        unique(
            radiation["sources"].of("ground_colder_f", "ground_colder_most_f", "cloudy_colder_f"),
            radiation["sources"].of(*_DEW_FIGURES) if _dew_hints(question, world) else (),
        ),
    )  # fmt: skip


def _placed(low_c: float, question: Request, world: World) -> tuple[float, list[str]]:
    """The low moved to the grower's spot: a hollow is colder on a still night."""
    radiation = world.facts.table("protection")["radiation"]
    units = world.units
    kind = question.cue("place_kind")
    own_c = abs(world.garden.low_spot_c)
    if sky_of(question) == "cloudy" and (kind in ("low-spot", "hill") or own_c):
        return low_c, ["Cloud and wind mix the air, so tonight a hollow or a slope makes little difference."]
    if kind == "low-spot" or (own_c and kind is None):
        assumed_c = frost_night.cold_pool_warming_c(radiation["low_spot_assumed_ft"] * 0.3048)
        colder_c = own_c or assumed_c
        why = "as you told me" if own_c else "taking it 100 ft (30 m) below the slopes around"
        return low_c - colder_c, [
            f"Cold air gathers in a low spot: {frost_span(colder_c, units)} colder is allowed for here, {why}."
        ]
    if kind == "hill":
        return low_c, ["On a still night a slope above the hollow stays warmer than the valley forecast."]
    return low_c, []


def _forecast(question: Request, world: World) -> tuple[float, str, str, list[str]] | None:
    """Minimum from sunset temperature and dew point: degrees C, sentence, arithmetic, sources."""
    sunset, dew = question.cue("sunset_c"), question.cue("dew_point_c")
    if sunset is None or dew is None:
        return None
    table = world.facts.table("protection")["minimum_rule"]
    rule = frost_night.MinimumRule(table["slope_t0"], table["slope_td"], table["constant_c"])
    t0_c, td_c = float(sunset), float(dew)
    low_c = rule.minimum_c(t0_c, td_c)
    units = world.units
    text = (
        f"If it stays clear and calm, {frost_temp(t0_c, units)} soon after sunset with a dew point of "
        f"{frost_temp(td_c, units)} points to a low near {frost_temp(low_c, units)}, give or take "
        f"{frost_span(table['elsewhere_c'], units)}: the rule was fitted to other people's nights."
    )
    line = (
        f"Forecast: {table['slope_t0']:g} x {t0_c:.1f} + {table['slope_td']:g} x {td_c:.1f} "
        f"{table['constant_c']:+g} = {low_c:.1f} C (readings two hours after sunset)."
    )
    return low_c, text, line, list(table["sources"])


def _dew_hints(question: Request, world: World) -> list[str]:
    """What a dew point or a sunset temperature alone says."""
    radiation = world.facts.table("protection")["radiation"]
    sunset, dew = question.cue("sunset_c"), question.cue("dew_point_c")
    if sunset is not None and dew is not None:
        return []
    units = world.units
    hints = []
    if dew is not None:
        dew_c = float(dew)
        if dew_c <= radiation["frost_probable_dew_point_c"]:
            hints.append(
                f"A dew point of {frost_temp(dew_c, units)} makes frost probable if it stays clear and calm."
            )
        elif dew_c < radiation["frost_possible_dew_point_c"]:
            hints.append(
                f"A dew point of {frost_temp(dew_c, units)} makes frost possible if it stays clear and calm."
            )
        else:
            hints.append(
                f"A dew point of {frost_temp(dew_c, units)} speaks against frost: dew will hold the fall."
            )
    if sunset is not None and c_to_f(float(sunset)) <= radiation["frost_likely_sunset_f"]:
        limit = frost_temp(f_to_c(radiation["frost_likely_sunset_f"]), units)
        hints.append(f"{limit} or less at sunset under a clear, calm sky usually means frost by morning.")
    return hints


def hours_of_frost(question: Request, world: World, tonight: Night) -> str | None:
    """How long it will freeze, when the evening temperature and the place are known."""
    sunset = question.cue("sunset_c")
    if sunset is None or world.site is None or tonight.low_c > 0.0 or float(sunset) <= tonight.low_c:
        return None
    from gardenmate.science.sun import day_length_hours

    length = 24.0 - day_length_hours(world.site.lat, question.ask.date or world.today)
    if length < 4.0:
        return None
    hours = frost_night.hours_at_or_below(0.0, float(sunset), tonight.low_c, length)
    return (
        f"It would be at or below freezing for about {hours:.0f} hours before sunrise."
        if hours >= 1
        else None
    )
