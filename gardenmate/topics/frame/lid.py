"""Air and the lid: at what temperatures to open and shut, when to shut, what a wax opener does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frame.box import Readings, frame_facts, noon_sun_w_m2, shut_time
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import F_DEGREE, frost_span, frost_temp
from gardenmate.topics.shared.raising import Named

Likes = Literal["cool", "warm", "either"]
SUN_SOURCE = ("sandia-national-laboratories-sand2012-2389-2012",)


@dataclass(frozen=True, slots=True)
class Vent:
    """Inside temperatures that call for air, degrees C: from ``crack_c`` a little, from ``open_c`` surely."""

    likes: Likes
    crack_c: float
    open_c: float
    shut_c: float
    harm_c: float
    cook_c: float
    prop_outside_c: float
    wide_outside_c: float


def vent_limits(world: World, crops: Sequence[Named]) -> Vent:
    """When to open for these crops; for a mixed or unknown lot, between the cool and the warm figures."""
    table: dict[str, Any] = world.facts.table("protection")["venting"]
    seasons = {n.crop.season for n in crops}
    cool, warm = table["cool_open_f"], table["warm_open_f"]
    likes: Likes
    if seasons == {"warm"}:
        likes, crack, top, shut = "warm", warm[0], warm[1], table["warm_shut_f"]
    elif seasons == {"cool"}:
        likes, crack, top, shut = "cool", cool[0], cool[1], table["cool_shut_f"]
    else:
        likes, crack, top, shut = "either", cool[1], warm[0], table["warm_shut_f"]
    return Vent(
        likes, f_to_c(crack), f_to_c(top), f_to_c(shut), f_to_c(table["harm_f"]), f_to_c(table["cook_f"]),
        f_to_c(table["outside_prop_f"]), f_to_c(table["outside_open_f"]),
    )  # fmt: skip


def answer_shut(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> Answer:
    """Shut it? yes = shut."""
    vent = vent_limits(world, crops)
    units = world.units
    sky = question.cue("sky")
    dull = sky in ("cloudy", "rain")
    shut, opens = frost_temp(vent.shut_c, units), frost_temp(vent.open_c, units)
    time = shut_time(question, world)
    verdict: Verdict
    if read.inside_c is not None and read.inside_c >= vent.open_c:
        verdict, headline = (
            "no",
            (
                f"Not yet: {frost_temp(read.inside_c, units)} inside is still over the {opens} limit; "
                f"shut {time}, or at "
                f"{shut} inside."
            ),
        )
    elif read.inside_c is not None and read.inside_c > vent.shut_c and not dull:
        verdict, headline = (
            "tight",
            (
                f"Lower the lid but leave a crack: {frost_temp(read.inside_c, units)} inside; shut it "
                f"at {shut} or {time}."
            ),
        )
    elif read.outside_c is not None and read.outside_c >= vent.open_c - 3.0 * F_DEGREE and not read.night:
        verdict, headline = (
            "no",
            (
                f"Not yet: {frost_temp(read.outside_c, units)} outside is warm enough; shut it when "
                f"it drops to {shut} inside, {time}."
            ),
        )
    elif dull:
        verdict, headline = (
            "yes",
            (
                "Yes, shut it while there is warmth in it: without sun it soon cools to outside; "
                "open again if it "
                f"passes {opens} inside."
            ),
        )
    else:
        verdict, headline = (
            "yes",
            (
                f"Yes, shut it in mid to late afternoon, {time}, while still warm, or once it drops "
                f"to {shut} inside."
            ),
        )
    care = cautions(world.facts, "cold-frame", "heat", "lid")
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(
            *temp_numbers("shut_at_inside", "shut when inside drops to", vent.shut_c),
            *temp_numbers("open_at_inside", "open when inside reaches", vent.open_c),
            Number("shut_time", time, "", "shut on a sunny day"),
        ),
        details=("If the sun comes back a shut frame heats within minutes: look again or leave a crack.",)
        if dull
        else ("Shut too late and the day's warmth is gone; too early in sun and it cooks.",),
        changes=("Tell me the temperature inside and outside for a firmer answer.",)
        if read.inside_c is None
        else (),
        cautions=care.texts,
        assumptions=unique(read.assumed, () if crops else ("Tender and hardy seedlings mixed.",)),
        sources=unique(world.facts.table("protection")["venting"]["sources"], care.sources),
    )


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
            "It catches: an ordinary sunny morning that warms slowly. It is fully open only "
            f"{more_low.split()[0]} to "
            f"{more_high} above the setting, and shuts a few degrees below it.",
            "It misses: sudden hot sun after cloud on a small frame, a lid heavier than it lifts (about "
            f"{opener['lift_lb']} lb, 7 kg), wind getting under the lid, and cold: it does not shut "
            "for frost by itself "
            "once stiff or jammed, and it keeps no heat in.",
        ),
        steps=(f"Set it so that it starts near {frost_temp(vent.crack_c, units)} for what you grow.",),
        changes=("On days forecast hot and clear open the lid right back yourself.",),
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
    return Answer(
        question=question,
        verdict="yes" if sunny else None,
        headline=f"Open it: in full sun a shut frame gets {rise} warmer than outside by noon; prop it before "
        "you leave."
        if sunny
        else f"Open by the thermometer inside, at {opens}, and shut {time}, while it is still warm.",
        numbers=(
            *temp_numbers("open_at_inside", "open when inside reaches", vent.open_c),
            *temp_numbers("open_at_outside", "outside, sunny: must be open from", needs_c),
            *temp_numbers("shut_at_inside", "shut when inside drops to", vent.shut_c),
            Number("shut_time", time, "", "shut on a sunny day"),
        ),
        details=(
            f"Without a thermometer: sunny and {prop} or more outside, prop the lid; {wide} or more, "
            "lid right back.",
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
