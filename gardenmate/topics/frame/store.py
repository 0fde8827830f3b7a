"""What water jugs, insulation and the right slope add to a frame."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import (
    F_DEGREE,
    GALLON_L,
    INCH_CM,
    Units,
)
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.frame.box import FrameFacts, frame_facts
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import frost_span

_WATER_WH_PER_LITRE_K = 1.163  # heat a litre of water gives back per C degree it cools


def answer_store(question: Request, world: World) -> Answer:
    """What water jugs, a barrel, bricks or insulated sides add at night."""
    frame = frame_facts(question, world)
    units = world.units
    table = frame.table["store"]
    litres, cools_c, hours = table["litres"], table["cools_f"] * F_DEGREE, table["night_hours"]
    watts = _WATER_WH_PER_LITRE_K * litres * cools_c / hours
    water_c = watts / frame.loss_w_k("closed")
    walls_c = _insulated_gain_c(frame)
    care = cautions(world.facts, "cold-frame", "lid")
    return Answer(
        question=question,
        verdict="yes",
        headline=f"Yes, a little: {_water(litres, units)} of water in dark jugs adds about "
        f"{frost_span(water_c, units)} at night, insulated sides about {frost_span(walls_c, units)}.",
        numbers=(
            Number("water_gain_c", round(water_c, 1), "C", f"{_water(litres, units)} of water adds"),
            Number("water_gain_f", round(water_c * 1.8, 1), "F", f"{_water(litres, units)} of water adds"),
            Number("insulation_gain_c", round(walls_c, 1), "C", "insulated sides add"),
            Number("insulation_gain_f", round(walls_c * 1.8, 1), "F", "insulated sides add"),
        ),
        details=(
            "Water only gives back what a sunny day has put in: stand the jugs in full sun, dark, "
            "and full. After "
            "dull days they do little.",
            "Straw bales, leaves or earth banked against the sides work like insulation as long as "
            "they stay dry.",
        ),
        changes=("A dry blanket over the lid usually adds more than either.",),
        cautions=care.texts,
        assumptions=unique(
            frame.assumptions,
            (f"The water cools by {frost_span(cools_c, units)} over a night of {hours} hours.",),
        ),
        sources=unique(frame.sources, table["sources"], care.sources),
        working=(
            f"{litres} litres x {_WATER_WH_PER_LITRE_K} Wh x {cools_c:.1f} degrees C / {hours} h = "
            f"{watts:.0f} W; over "
            f"{frame.loss_w_k('closed'):.1f} W per C degree that is {water_c:.1f} degrees C.",
        ),
    )


def _water(litres: float, units: Units) -> str:
    """A lot of water: "19 litres" or "5 gallons"."""
    return f"{litres / GALLON_L:.0f} gallons" if units == "us" else f"{litres:g} litres"


def _insulated_gain_c(frame: FrameFacts) -> float:
    """What foam sides would add to the night rise, C degrees."""
    u_wall = float(frame.table["frame"]["u_wall_insulated_w_m2k"])
    better = replace(frame, box=replace(frame.box, u_wall=u_wall), insulated=True)
    return max(0.0, better.night_rise_c() - frame.night_rise_c())


def answer_siting(question: Request, world: World) -> Answer:
    """Which way it faces and how steep the lid stands."""
    table = world.facts.table("protection")["siting"]
    site = world.site
    care = cautions(world.facts, "cold-frame", "lid")
    low, high = table["slope_deg"]
    side = "north" if site is not None and site.southern else "south"
    if site is None:
        steep = f"{low} to {high} degrees from level"
    else:
        spring = min(high, max(low, round(abs(site.lat))))
        winter = min(high, max(low, round(abs(site.lat) + table["winter_adds_deg"])))
        steep = f"about {spring} degrees from level for spring use, {winter} for winter"
    return Answer(
        question=question,
        verdict=None,
        headline=f"Face it {side} with shelter behind, the lid at {steep}.",
        numbers=(
            Number("slope_min_deg", low, "degrees", "flattest useful slope"),
            Number("slope_max_deg", high, "degrees", "steepest useful slope"),
            Number("back_higher_in", table["back_higher_in"], "in", "back above the front, at least"),
        ),
        details=(
            f"At least the back is {table['back_higher_in']} in "
            f"({table['back_higher_in'] * INCH_CM:.0f} cm) above the "
            "front, so that rain runs off and low sun comes in; brush wet snow off.",
        ),
        cautions=care.texts,
        assumptions=() if site else ("North of the equator.",),
        sources=unique(table["sources"], care.sources),
    )
