"""How much light seedlings want, and how much a lamp, a sill or a greenhouse gives in a day.

Light is the day's total (DLI, mol/m2); PPFD is its strength at the leaves, umol/m2/s.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from math import ceil
from typing import Any

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import Lamp
from gardenmate.knowledge.crops import Crop
from gardenmate.records import NamedTuple, dataclass
from gardenmate.science import light
from gardenmate.science.sun import clear_sky_daily_mj
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.raising import gear


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
    """Light a place or lamp gives in a day, mol/m2, usual and the range, and how that was found.

    ``hot``: it is, or may be, a filament bulb, whose watts are nearly all heat.
    """

    usual: float
    low: float
    high: float
    how: str
    sources: tuple[str, ...]
    assumed: tuple[str, ...] = ()
    hot: bool = False


def light_need(crop: Crop | None, world: World) -> LightNeed:
    """The need of one crop; of leafy crops in general when None."""
    table = world.facts.table("raising")["light"]
    fruiting = crop is not None and crop.family in table["fruiting"]["families"]
    return _need("fruiting" if fruiting else "leafy", crop.lamp if crop is not None else None, table)


def fruiting_need(world: World) -> LightNeed:
    """The need of fruiting crops in general."""
    return _need("fruiting", None, world.facts.table("raising")["light"])


def _need(sort: str, short: Lamp | None, table: Mapping[str, Any]) -> LightNeed:
    row = table[sort]
    hours = short.hours if short else table["hours"]
    return LightNeed(
        (row["dli"][0], row["dli"][1]),
        (row["ppfd"][0], row["ppfd"][1]),
        (hours[0], hours[1]),
        short.why if short else "",
        unique(row["sources"], short.sources if short else table["sources"].of("hours")),
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


def supply_of(question: Request, world: World) -> Supply | None:
    """The light spoken of: measured, from lamp watts, on a sill, in a greenhouse; None if none."""
    hours = lamp_hours(question)
    need = light_need(None, world)
    on = hours if hours is not None else sum(need.hours) / 2
    table = world.facts.table("raising")["light"]
    assumed: tuple[str, ...] = () if hours is not None else (f"The lamp is on {on:g} hours a day.",)
    assumed += (*_on_the_day(question, world, table), *_stand_on(question, world))
    ppfd = number_cue(question, "ppfd")
    if ppfd is not None:
        given = light.dli(ppfd, on)
        return Supply(
            given, given, given, f"{ppfd:g} umol/m2/s for {on:g} hours", table["sources"].of("hours"), assumed
        )
    lux = number_cue(question, "lux")
    if lux is not None:
        return _lux_supply(lux, on, assumed, table)
    lumens = number_cue(question, "lumens")
    if lumens is not None:
        trays = max(1.0, _trays(question, world))
        at_leaf = lumens * table["share_on_plants"] / (table["tray_m2"] * trays)
        over = "one tray" if trays == 1 else f"{trays:g} trays"
        taken = f"{lumens:,.0f} lumens, {table['share_on_plants']:.0%} of them on {over}."
        return _lux_supply(at_leaf, on, (*assumed, taken), table)
    watts = number_cue(question, "lamp_watts")
    if watts is not None:
        return _watt_supply(
            watts * (lamps.number if (lamps := question.first("count", "lamps")) is not None else 1),
            on,
            assumed,
            question,
            world,
        )
    if _is_bulb(question):
        usual = float(table["lamps"]["usual_bulb_watts"])
        bulb = (*assumed, f"A bulb of {usual:g} W; tell me its watts.")
        return _watt_supply(usual, on, bulb, question, world)
    place = question.cue("place_kind") or ""
    sun_hours = number_cue(question, "sun_hours")
    if sun_hours is None and place == "sill":
        sun_hours = number_cue(question, "lamp_hours")
    if sun_hours is not None:
        return _sun_hours_supply(sun_hours, table, _on_the_day(question, world, table))
    porch = question.has("stand", "house") and not gear(question) and not question.ask.temps
    if porch or "greenhouse" in (place, question.cue("cover"), *gear(question)):
        return outdoor_share(
            world, question, table["sill"]["greenhouse_share"], "a glazed porch" if porch else "a greenhouse"
        )
    if place == "sill":
        return outdoor_share(world, question, table["sill"]["share_of_outdoors"], "a sunny sill") or (
            _sun_hours_supply(5.0, table, ("Five hours of sun on the sill.",))
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
        (*assumed, "A white LED lamp; a lux meter says nothing about red and blue lamps."),
    )


def _trays(question: Request, world: World) -> float:
    """How many trays the lamp hangs over: those said, else the count asked for (not the watts), else one."""
    said = question.first("count", "trays")
    if said is not None:
        return said.number
    pots = in_pots(question, world)
    if pots is not None:
        return float(pots[1])
    count = question.ask.count
    return count if count and count != number_cue(question, "lamp_watts") else 1


def in_pots(question: Request, world: World) -> tuple[int, int] | None:
    """The plants counted under a lamp, and the flats their pots stand on; None where none are, or trays are."""
    told = next((t.number for t in question.all("count") if t.role is None and not t.told), None)
    if (
        not told
        or question.has("asks", "how-many-lamps")
        or question.cue("count_unit") not in (None, "plant")
    ):
        return None
    taken = {number_cue(question, name) for name in ("lamp_watts", "lumens", "lux", "ppfd")}
    taken |= {t.number for role in ("lamps", "trays") for t in question.all("count", role)}
    if told in taken or question.cue("lamp_kind") in ("fluorescent", "shop"):
        return None  # watts, trays, or the tubes themselves
    return round(told), ceil(told / world.facts.table("prices")["per_tray"][_POT])


_POT = "4in"  # plants told of as so many under a lamp stand in pots of this size (design value)


def _stand_on(question: Request, world: World) -> tuple[str, ...]:
    """On how many trays the plants counted stand."""
    pots = in_pots(question, world)
    return () if pots is None else (f"The {pots[0]} plants stand in pots on {plural(pots[1], 'tray')}.",)


def _is_bulb(question: Request) -> bool:
    """True when a household or filament bulb is asked about by no watts, and not how long or how high."""
    if question.cue("lighting") in ("hours", "ppfd", "dli", "distance", "cost"):
        return False
    return question.cue("lamp_form") == "bulb" or question.cue("lamp_kind") == "filament"


class _Lamp(NamedTuple):
    """What a lamp gives: umol a joule, the share of it on the tray; how it is called; what was assumed."""

    umol_per_j: float
    share: float
    name: str
    sources: tuple[str, ...]
    assumed: tuple[str, ...]
    hot: bool = False


def _watt_supply(
    watts: float, hours: float, assumed: tuple[str, ...], question: Request, world: World
) -> Supply:
    table = world.facts.table("raising")["light"]
    trays = _trays(question, world)
    tray_words = "one tray" if trays == 1 else f"{trays:g} trays"
    area = table["tray_m2"] * trays
    drawn, lamps, named, notes = _lamps_of(watts, question, table)
    ppfds = [
        light.lamp_ppfd(w, lamp.umol_per_j, lamp.share, area) for w, lamp in zip(drawn, lamps, strict=True)
    ]
    ppfd = sum(ppfds) / len(ppfds)
    return Supply(
        light.dli(ppfd, hours),
        light.dli(min(ppfds), hours) * 0.7,
        light.dli(max(ppfds), hours) * 1.2,
        f"{named} over {tray_words} (about {ppfd:.0f} umol/m2/s) for {hours:g} hours",
        unique(*(lamp.sources for lamp in lamps)),
        (*assumed, *unique(*(lamp.assumed for lamp in lamps)), *notes),
        hot=any(lamp.hot for lamp in lamps),
    )


def _lamps_of(
    watts: float, question: Request, table: Mapping[str, Any]
) -> tuple[tuple[float, ...], tuple[_Lamp, ...], str, tuple[str, ...]]:
    """Watts drawn and the lamp, for each thing the words may mean; how it is called; what to note.

    "A 60 watt bulb" draws 60 W as a filament bulb and about 9 W as the LED sold as equal to it: either way
    it gives the light of a bulb, not that of 60 W of grow lamp.
    """
    kinds, share = table["lamps"], table["equivalent_share"]
    kind = lamp_kind(question)
    bulb = question.cue("lamp_form") == "bulb"
    box = f"A bulb sold as equal to {watts:g} W draws about {watts * share:.0f} W."
    if question.cue("lamp_rating") == "equivalent":
        lamp = _lamp(kinds["led-bulb"])
        return (watts * share,), (lamp,), f"an LED bulb sold as equal to {watts:g} W", (box,)
    if kind is None and bulb and watts >= kinds["bulb_from_watts"]:
        both = (_lamp(kinds["filament"]), _lamp(kinds["led-bulb"]))
        note = f"The {watts:g} W are a filament bulb's own or those an LED is sold as equal to. {box}"
        return (watts, watts * share), both, f"a {watts:g} W household bulb", (note,)
    if kind is None and bulb:
        kind = "led-bulb"
    if kind is not None:
        lamp = _lamp(kinds[kind])
        return (watts,), (lamp,), f"{watts:g} W of {lamp.name}", ("Real watts drawn.",)
    panel = _Lamp(
        table["led_umol_per_j"],
        table["share_on_plants"],
        "LED",
        tuple(table["sources"]),
        (
            f"White LED grow lamp, {table['led_umol_per_j']} umol/J, 7/10 of its light on trays of "
            "10 x 20 in.",
        ),
    )
    return (
        (watts,),
        (panel,),
        f"{watts:g} W of LED",
        ("Real watts drawn, not the 'equal to' watts on the box.",),
    )


def lamp_kind(question: Request) -> str | None:
    """The kind of lamp in knowledge/raising.toml [light.lamps] that was named; None for a grow lamp."""
    kind = question.cue("lamp_kind")
    if kind == "led" or kind is None:
        return "led-bulb" if question.cue("lamp_form") == "bulb" and question.has("lamp", "led") else None
    return kind


def _lamp(row: Mapping[str, Any]) -> _Lamp:
    each = light.ppfd_from_illuminance(row["lm_per_w"], row["lux_per_umol"])
    return _Lamp(
        each,
        row["share"],
        row["name"],
        tuple(row["sources"]),
        (
            f"{row['name'][0].upper()}{row['name'][1:]} giving {row['lm_per_w']} lumens a watt, with "
            f"{row['share']:.0%} of it on trays of 10 x 20 in.",
        ),
        hot=bool(row.get("hot", False)),
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
        (*assumed, f"I used sun through a clean window of {low_fc:,} to {high_fc:,} foot-candles."),
    )


def _on_the_day(question: Request, world: World, table: Mapping[str, Any]) -> tuple[str, ...]:
    """What a sill there gets in all on the day told, beside the hours of sun told; () where no day is."""
    if question.ask.date is None and not question.has("date"):
        return ()
    there = outdoor_share(world, question, table["sill"]["share_of_outdoors"], "a sill facing the midday sun")
    if there is None:
        return ()
    return (
        f"{sentence(there.how)} gets about {there.usual:.1f} mol/m2 a day in all, {there.low:.1f} when it is dull.",
    )


def outdoor_share(world: World, question: Request, share: Sequence[float], where: str) -> Supply | None:
    """Daylight at the place on the day told, or today, cut to what gets in; None while the place is unknown."""
    site = world.site or next(iter(world.sites), None)
    if site is None:
        return None
    told = next((t.value for t in question.all("date") if isinstance(t.value, date)), None)
    day = question.ask.date or told or world.today
    clear = light.dli_from_sun_mj(clear_sky_daily_mj(site.lat, day, site.elev_m or 0.0))
    sill = world.facts.table("raising")["light"]["sill"]
    middle = sum(share) / 2
    return Supply(
        clear * sill["usual_share"] * middle,
        clear * sill["dull_share"] * share[0],
        clear * share[1],
        f"{where} {site.where} {f'in {day:%B}' if day != world.today else 'at this time of year'}",
        tuple(sill["sources"]),
        (
            f"Outdoors a clear day there gives {clear:.0f} mol/m2, and {share[0]:.0%} to {share[1]:.0%} of "
            "it gets in through clear glass facing the midday sun.",
        ),
    )


def lamp_hours(question: Request) -> float | None:
    """Hours of lamp a day as typed; None when none were, or more than a day has."""
    spans = (t for t in question.all("span") if t.unit == "hours" and not t.told)
    told = next((t.number for t in spans if t.number <= _DAY_HOURS), None)
    cue = number_cue(question, "lamp_hours")
    return told if cue is None else cue


_DAY_HOURS = 24.0  # hours


def number_cue(question: Request, name: str) -> float | None:
    """A numeric cue ("20,000" -> 20000.0); None when it was not said or is no number."""
    text = (question.cue(name) or "").replace(",", "")
    try:
        return float(text)
    except ValueError:
        return None
