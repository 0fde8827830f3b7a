"""How much light seedlings want, and how much a lamp, a sill or a greenhouse gives in a day.

Light is the day's total (DLI, mol/m2); PPFD is its strength at the leaves, umol/m2/s.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from gardenmate.answer import Verdict
from gardenmate.knowledge.crops import Crop
from gardenmate.question import Question
from gardenmate.rules.raising import gear, place_name, unique
from gardenmate.science import light
from gardenmate.world import World


@dataclass(frozen=True, slots=True)
class LightNeed:
    """What a crop's seedlings want: DLI mol/m2/day, PPFD umol/m2/s, hours of lamp."""

    dli: tuple[float, float]
    ppfd: tuple[float, float]
    hours: tuple[float, float]
    why_hours: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Supply:
    """Light a place or lamp gives in a day, mol/m2, usual and the range, and how that was found."""

    usual: float
    low: float
    high: float
    how: str
    sources: tuple[str, ...]
    assumed: tuple[str, ...] = ()


def light_need(crop: Crop | None, world: World) -> LightNeed:
    """The need of one crop; of leafy crops in general when None."""
    table = world.facts.table("raising")["light"]
    fruiting = crop is not None and crop.family in table["fruiting"]["families"]
    row = table["fruiting" if fruiting else "leafy"]
    short = table["shorter_hours"].get(crop.id) if crop is not None else None
    hours = short["hours"] if short else table["hours"]
    return LightNeed(
        (row["dli"][0], row["dli"][1]),
        (row["ppfd"][0], row["ppfd"][1]),
        (hours[0], hours[1]),
        short["why"] if short else "",
        unique(row["sources"], short["sources"] if short else table["sources"]),
    )


def judge_light(given: float, need: LightNeed, world: World) -> Verdict:
    """yes from the lower end of the need; tight from two thirds of it, above the floor; else no."""
    floor = world.facts.table("raising")["light"]["floor_dli"]
    if given >= need.dli[0] * 0.98:
        return "yes"
    return "tight" if given >= max(floor, need.dli[0] * 0.67) else "no"


def judge_supply(supply: Supply, need: LightNeed, world: World) -> Verdict:
    """As `judge_light`; never a plain yes where the dull days fall under the floor."""
    verdict = judge_light(supply.usual, need, world)
    floor = world.facts.table("raising")["light"]["floor_dli"]
    return "tight" if verdict == "yes" and supply.low < floor else verdict


def supply_of(question: Question, world: World) -> Supply | None:
    """The light spoken of: measured, from lamp watts, on a sill, in a greenhouse; None if none."""
    hours = number_cue(question, "lamp_hours")
    need = light_need(None, world)
    on = hours if hours is not None else sum(need.hours) / 2
    assumed = () if hours is not None else (f"Lamp taken as on {on:g} hours a day.",)
    table = world.facts.table("raising")["light"]
    ppfd = number_cue(question, "ppfd")
    if ppfd is not None:
        given = light.dli(ppfd, on)
        return Supply(given, given, given, f"{ppfd:g} umol/m2/s for {on:g} hours", table["sources"], assumed)
    lux = number_cue(question, "lux")
    if lux is not None:
        return _lux_supply(lux, on, assumed, table)
    watts = number_cue(question, "lamp_watts")
    if watts is not None:
        return _watt_supply(watts, on, assumed, question, table)
    place = question.cue("place_kind") or ""
    sun_hours = number_cue(question, "sun_hours")
    if sun_hours is None and place == "sill":
        sun_hours = hours
    if sun_hours is not None:
        return _sun_hours_supply(sun_hours, table)
    if place == "greenhouse" or "greenhouse" in gear(question):
        return outdoor_share(world, table, table["sill"]["greenhouse_share"], "a greenhouse")
    if place == "sill":
        return outdoor_share(world, table, table["sill"]["share_of_outdoors"], "a sunny sill") or (
            _sun_hours_supply(5.0, table, ("The sill is taken to get five hours of sun.",))
        )
    return None


def _lux_supply(lux: float, hours: float, assumed: tuple[str, ...], table: Mapping[str, Any]) -> Supply:
    factor = table["lux_per_umol"]["white-led"]
    ppfd = light.ppfd_from_illuminance(lux, factor)
    return Supply(
        light.dli(ppfd, hours),
        light.dli(lux / table["lux_per_umol"]["fluorescent"], hours),
        light.dli(lux / table["lux_per_umol"]["sun"], hours),
        f"{lux:,.0f} lux (about {ppfd:.0f} umol/m2/s) for {hours:g} hours",
        tuple(table["lux_per_umol"]["sources"]),
        (*assumed, "Lamp taken as a white LED; a lux meter says nothing about red and blue lamps."),
    )


def _watt_supply(
    watts: float, hours: float, assumed: tuple[str, ...], question: Question, table: Mapping[str, Any]
) -> Supply:
    trays = question.ask.count or 1
    note = "Real watts drawn, not the 'equal to' watts on the box."
    if question.cue("lamp_rating") == "equivalent":
        share = table["equivalent_share"]
        note = f"A bulb sold as equal to {watts:g} W draws about {watts * share:.0f} W."
        watts *= share
    area = table["tray_m2"] * trays
    ppfd = light.lamp_ppfd(watts, table["led_umol_per_j"], table["share_on_plants"], area)
    given = light.dli(ppfd, hours)
    tray_words = "one tray" if trays == 1 else f"{trays:g} trays"
    return Supply(
        given,
        given * 0.7,
        given * 1.2,
        f"{watts:g} W of LED over {tray_words} (about {ppfd:.0f} umol/m2/s) for {hours:g} hours",
        tuple(table["sources"]),
        (
            *assumed,
            f"White LED, {table['led_umol_per_j']} umol/J, 7/10 of its light on trays of 10 x 20 in.",
            note,
        ),
    )


def _sun_hours_supply(hours: float, table: Mapping[str, Any], assumed: tuple[str, ...] = ()) -> Supply:
    low_fc, high_fc = table["sill"]["direct_foot_candles"]
    per = table["foot_candles_per_umol"]["sun"]
    low = light.dli(light.ppfd_from_illuminance(low_fc, per), hours)
    high = light.dli(light.ppfd_from_illuminance(high_fc, per), hours)
    return Supply(
        (low + high) / 2,
        low,
        high,
        f"{hours:g} hours of sun on a sill",
        unique(table["sill"]["sources"], table["foot_candles_per_umol"]["sources"]),
        (*assumed, f"Sun through a clean window taken as {low_fc:,} to {high_fc:,} foot-candles."),
    )


def outdoor_share(
    world: World, table: Mapping[str, Any], share: Sequence[float], where: str
) -> Supply | None:
    """Daylight at the place and date, cut to what gets in; None while the place is unknown."""
    site = world.site
    if site is None:
        return None
    from gardenmate.science.sun import clear_sky_daily_mj

    clear = light.dli_from_sun_mj(clear_sky_daily_mj(site.lat, world.today, site.elev_m or 0.0))
    sill = table["sill"]
    middle = sum(share) / 2
    return Supply(
        clear * sill["usual_share"] * middle,
        clear * sill["dull_share"] * share[0],
        clear * share[1],
        f"{where} in {place_name(site)} at this time of year",
        tuple(sill["sources"]),
        (
            f"Outdoors a clear day there gives {clear:.0f} mol/m2; {share[0]:.0%} to {share[1]:.0%} of it "
            "taken to get in, through clear glass facing the midday sun.",
        ),
    )


def number_cue(question: Question, name: str) -> float | None:
    """A numeric cue ("20,000" -> 20000.0); None when it was not said or is no number."""
    text = (question.cue(name) or "").replace(",", "")
    try:
        return float(text)
    except ValueError:
        return None
