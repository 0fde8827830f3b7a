"""A night in sentences: where its low comes from, what is assumed of the sky, and the arithmetic."""

from __future__ import annotations

from gardenmate.core.units import F_DEGREE, Units, c_to_f, f_to_c, show_date
from gardenmate.core.world import World
from gardenmate.topics.frost.night import Night
from gardenmate.topics.shared.protection import (
    frost_span,
    frost_temp,
)

_SPOTS = {
    "hollow": "Cold air gathers in a low spot, so I allow for {colder} colder there (taken as 100 ft, or 30 m, below "
    "the slopes around).",
    "own-hollow": "Cold air gathers in your low spot, so I allow for {colder} colder there, as you told me.",
    "slope": "On a still night a slope above the hollow stays warmer than the valley forecast.",
    "mixed": "Cloud and wind mix the air, so tonight a hollow or a slope makes little difference.",
}


def night_details(tonight: Night, hours: float | None, world: World) -> tuple[str, ...]:
    """How the low was found, where the garden lies, what the dew point says, how long it will freeze."""
    units = world.units
    said = []
    if tonight.reread is not None:
        said.append(f"I read {tonight.reread:g} as F: no frosty night is that warm in Celsius.")
    if tonight.forecast:
        said.append(_forecast(tonight, world))
    if tonight.spot is not None:
        said.append(_SPOTS[tonight.spot].format(colder=frost_span(_colder_c(tonight), units)))
    if not tonight.forecast and (tonight.sunset_c is None or tonight.dew_c is None):
        said += _hints(tonight, world)
    if hours is not None:
        said.append(f"It will be at or below freezing for about {hours:.0f} hours before sunrise.")
    return tuple(said)


def night_assumptions(tonight: Night, world: World) -> tuple[str, ...]:
    """That the sky was taken as clear when nothing was said of it."""
    if tonight.sky != "unknown":
        return ()
    gap = frost_span(_gap_c(world), world.units)
    return (
        f"A clear, calm night, as you didn't mention the sky: leaves near the ground may then be {gap} colder than the "
        "forecast. Under cloud or in wind they are hardly colder.",
    )


def night_working(tonight: Night, world: World) -> tuple[str, ...]:
    """The arithmetic from the forecast to leaf height."""
    units = world.units
    lines = []
    low = frost_temp(tonight.low_c, units)
    if tonight.forecast and tonight.heard_c is not None:
        rule = world.facts.table("protection")["minimum_rule"]
        lines.append(
            f"Forecast: {rule['slope_t0']:g} x {tonight.sunset_c or 0.0:.1f} + {rule['slope_td']:g} x "
            f"{tonight.dew_c or 0.0:.1f} {rule['constant_c']:+g} = {tonight.heard_c:.1f} C (readings two hours after "
            "sunset)."
        )
    if tonight.spot in ("hollow", "own-hollow") and tonight.heard_c is not None:
        heard, colder = frost_temp(tonight.heard_c, units), frost_span(_colder_c(tonight), units)
        lines.append(f"Low in this garden: {heard} - {colder} = {low}.")
    lines.append(
        f"Leaf height on a clear, calm night: {low} - {frost_span(_gap_c(world), units)} = "
        f"{frost_temp(tonight.leaf_clear_c, units)}; under cloud or wind {frost_temp(tonight.leaf_cloudy_c, units)}."
    )
    return tuple(lines)


def night_name(tonight: Night, world: World) -> str:
    """The night in a sentence: "tonight", or "on Tue 25 May" when its date was typed."""
    if tonight.on is None or tonight.on == world.today:
        return "tonight"
    return f"on {tonight.on:%a} {show_date(tonight.on, world.today)}"


def low_and_night(tonight: Night, world: World) -> str:
    """The low, with its night when that was typed: "28 F on Wed 21 Apr"."""
    low = tonight.low_text(world.units)
    return low if tonight.on is None else f"{low} {night_name(tonight, world)}"


def night_label(tonight: Night, number: int, world: World) -> str:
    """The night at the head of a row: "Tue 25 May", "night 2" when its date was not typed."""
    return (
        f"night {number}" if tonight.on is None else f"{tonight.on:%a} {show_date(tonight.on, world.today)}"
    )


def _colder_c(tonight: Night) -> float:
    return 0.0 if tonight.heard_c is None else tonight.heard_c - tonight.low_c


def _gap_c(world: World) -> float:
    return float(world.facts.table("protection")["radiation"]["ground_colder_f"]) * F_DEGREE


def _forecast(tonight: Night, world: World) -> str:
    units = world.units
    span = frost_span(world.facts.table("protection")["minimum_rule"]["elsewhere_c"], units)
    return (
        f"If it stays clear and calm, {frost_temp(tonight.sunset_c or 0.0, units)} soon after sunset with a dew point "
        f"of {frost_temp(tonight.dew_c or 0.0, units)} points to a low near "
        f"{frost_temp(tonight.heard_c or 0.0, units)}, give or take {span}: the rule was fitted to other people's "
        "nights."
    )


def _hints(tonight: Night, world: World) -> list[str]:
    """What a dew point or a sunset temperature alone says."""
    radiation, units = world.facts.table("protection")["radiation"], world.units
    hints = []
    if tonight.dew_c is not None:
        hints.append(_dew_hint(tonight.dew_c, radiation, units))
    if tonight.sunset_c is not None and c_to_f(tonight.sunset_c) <= radiation["frost_likely_sunset_f"]:
        limit = frost_temp(f_to_c(radiation["frost_likely_sunset_f"]), units)
        hints.append(f"{limit} or less at sunset under a clear, calm sky usually means frost by morning.")
    return hints


def _dew_hint(dew_c: float, radiation: dict[str, float], units: Units) -> str:
    dew = frost_temp(dew_c, units)
    if dew_c <= radiation["frost_probable_dew_point_c"]:
        return f"A dew point of {dew} makes frost probable if it stays clear and calm."
    if dew_c < radiation["frost_possible_dew_point_c"]:
        return f"A dew point of {dew} makes frost possible if it stays clear and calm."
    return f"A dew point of {dew} speaks against frost: dew forming will slow the fall."
