"""The lid: when to shut it, what a wax opener does, and the rules of the day when no reading is given."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE, f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frame.box import Readings, frame_facts, noon_sun_w_m2, shut_time
from gardenmate.topics.frame.decide_day import has_opener, verdict_of
from gardenmate.topics.frame.facts import SUN_SOURCE, Vent, vent_limits
from gardenmate.topics.frame.words_day import LABELS, as_asked
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import (
    frame_asks,
    frost_span,
    frost_temp,
)
from gardenmate.topics.shared.raising import Named

_WARM_OUT_C = 3.0 * F_DEGREE  # design value: air this near the opening limit needs no shut frame yet
Shut = Literal["too-warm", "crack", "mild-out", "dull", "by-the-clock"]
"""Why to shut or not: over the limit inside; warm enough inside for a crack; mild outside; no sun to wait for; else
in the afternoon, while still warm."""
_SHUT: dict[Shut, Verdict] = {
    "too-warm": "no",
    "crack": "tight",
    "mild-out": "no",
    "dull": "yes",
    "by-the-clock": "yes",
}


def decide_shut(read: Readings, vent: Vent, *, dull: bool) -> Shut:
    """Whether to shut the lid now, and why."""
    inside, outside = read.inside_c, read.outside_c
    if inside is not None and inside >= vent.open_c:
        return "too-warm"
    if inside is not None and inside > vent.shut_c and not dull:
        return "crack"
    if outside is not None and outside >= vent.open_c - _WARM_OUT_C and not read.night:
        return "mild-out"
    return "dull" if dull else "by-the-clock"


def answer_shut(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> Answer:
    """Shut it? yes = shut."""
    vent, units = vent_limits(world, crops), world.units
    dull = question.cue("sky") in ("cloudy", "rain")
    why = decide_shut(read, vent, dull=dull)
    shut, opens = frost_temp(vent.shut_c, units), frost_temp(vent.open_c, units)
    inside, outside = frost_temp(read.inside_c or 0.0, units), frost_temp(read.outside_c or 0.0, units)
    time = shut_time(question, world)
    care = cautions(world.facts, "cold-frame", "heat", "lid")
    back = "If the sun comes back a shut frame heats within minutes: look again or leave a crack."
    late = "Shut it too late and the day's warmth is gone; shut it too early in sun and it overheats."
    return Answer(
        question=question,
        verdict=_SHUT[why],
        headline={
            "too-warm": f"Not yet: {inside} inside is still over the {opens} limit; shut {time}, or at {shut} inside.",
            "crack": f"Lower the lid but leave a crack: {inside} inside; shut it at {shut} or {time}.",
            "mild-out": f"Not yet: {outside} outside is warm enough; shut it when it drops to {shut} inside, {time}.",
            "dull": "Yes, shut it while there is warmth in it: without sun it soon cools down; open again if it "
            f"passes {opens} inside.",
            "by-the-clock": f"Yes, shut it {time}, while it is still warm, or once it drops to "
            f"{shut} inside.",
        }[why],
        numbers=(
            *temp_numbers("shut_at_inside", LABELS["shut_at_inside"], vent.shut_c),
            *temp_numbers("open_at_inside", LABELS["open_at_inside"], vent.open_c),
            Number("shut_time", time, "", LABELS["shut_time"]),
        ),
        details=(back if dull else late, *_noon(question, world, read)),
        changes=("Tell me the temperature inside and outside for a firmer answer.",)
        if read.inside_c is None
        else (),
        cautions=care.texts,
        assumptions=unique(read.assumed, () if crops else ("Tender and hardy seedlings mixed.",)),
        sources=unique(world.facts.table("protection")["venting"]["sources"], care.sources),
        key_figures=("shut_at_inside", "open_at_inside", "shut_time"),
    )


def _noon(question: Request, world: World, read: Readings) -> tuple[str, ...]:
    """What a shut frame comes to at a sunny noon, where the air outside by day was told."""
    if read.outside_c is None or read.night:
        return ()
    sun, _ = noon_sun_w_m2(question, world)
    shut_c = read.outside_c + frame_facts(question, world).day_rise_c(sun, "closed")
    outside, inside = (frost_temp(t, world.units) for t in (read.outside_c, shut_c))
    return (f"With {outside} outside, a shut frame would reach about {inside} at a sunny noon.",)


def answer_opener(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """What a wax opener will and will not catch."""
    opener = world.facts.table("protection")["opener"]
    units = world.units
    low, high = (frost_temp(f_to_c(f), units) for f in opener["set_f"])
    more_low, more_high = (frost_span(f * F_DEGREE, units) for f in opener["fully_open_above_f"])
    lag = f"{opener['lag_min'][0]} to {opener['lag_min'][1]} minutes"
    vent = vent_limits(world, crops)
    care = cautions(world.facts, "cold-frame", "lid")
    return Answer(
        question=question,
        verdict="yes",
        headline=f"Yes, a wax opener is worth fitting: it starts to lift at about {low.split()[0]} to "
        f"{high} (you "
        f"set it) and needs {lag} to answer.",
        numbers=(
            *temp_numbers("opener_from", "lowest setting, about", f_to_c(opener["set_f"][0])),
            *temp_numbers("opener_to", "highest setting, about", f_to_c(opener["set_f"][1])),
            Number("lag_min", opener["lag_min"][1], "minutes", "slowest answer"),
            Number("lift_lb", opener["lift_lb"], "lb", "lifts at most"),
        ),
        details=(
            "It copes with an ordinary sunny morning that warms slowly. It is fully open only "
            f"{more_low.split()[0]} to "
            f"{more_high} above the setting, and shuts a few degrees below it.",
            "It can't cope with sudden hot sun after cloud on a small frame, a lid heavier than it lifts (about "
            f"{opener['lift_lb']} lb, 7 kg), or wind getting under the lid. It does not shut "
            "for frost by itself "
            "once stiff or jammed, and it keeps no heat in.",
        ),
        steps=(f"Set it so that it starts near {frost_temp(vent.crack_c, units)} for what you grow.",),
        changes=("On days forecast hot and clear, open the lid all the way yourself.",),
        cautions=care.texts,
        sources=unique(opener["sources"], care.sources),
    )


def answer_general(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """No reading at all: the rules of the day, and from what outside temperature this frame must be open."""
    frame, vent = frame_facts(question, world), vent_limits(world, crops)
    sun, assumed_sun = noon_sun_w_m2(question, world)
    units = world.units
    needs_c = vent.open_c - frame.day_rise_c(sun, "closed")
    prop, wide = (frost_temp(t, units) for t in (vent.prop_outside_c, vent.wide_outside_c))
    care = cautions(world.facts, "cold-frame", "heat", "lid")
    time = shut_time(question, world)
    sunny = question.cue("sky") in ("clear", "hazy", "part-cloud")
    rise = frost_span(frame.day_rise_c(sun, "closed"), units)
    opens = f"{frost_temp(vent.crack_c, units).split()[0]} to {frost_temp(vent.open_c, units)}"
    turned, opener = frame_asks(question) == "leave-shut", has_opener(question, world)
    sun_says = f"Open it: in full sun a shut frame gets {rise} warmer than outside by noon; prop it before you leave."
    return Answer(
        question=question,
        verdict=verdict_of("yes", turned=turned, opener=opener) if sunny else None,
        headline=as_asked(sun_says, turned=turned, opens="yes", opener=opener)
        if sunny
        else f"Go by the thermometer inside: open at {opens}, and shut {time}, while it is still warm.",
        numbers=(
            *temp_numbers("open_at_inside", "open when inside reaches", vent.open_c),
            *temp_numbers("open_at_outside", LABELS["open_at_outside"], needs_c),
            *temp_numbers("shut_at_inside", "shut when inside drops to", vent.shut_c),
            Number("shut_time", time, "", "shut on a sunny day"),
        ),
        details=(
            f"Without a thermometer: sunny and {prop} or more outside, prop the lid; {wide} or more, "
            "open the lid all the way.",
            frame.table["frame"]["killer"],
        ),
        changes=(
            "Give me inside and outside ('55 out and hazy, frame at 72') for an answer about now.",
            "Give me tonight's low for how cold it gets inside.",
        ),
        cautions=care.texts,
        assumptions=unique(frame.assumptions, assumed_sun),
        sources=unique(
            frame.sources,
            frame.table["venting"]["sources"],
            frame.table["frame"]["sources"].of("killer"),
            SUN_SOURCE,
            care.sources,
        ),
        working=(
            f"Clear noon sun {sun:.0f} W/m2 warms the shut frame by "
            f"{frame.day_rise_c(sun, 'closed'):.0f} degrees C.",
        ),
    )
