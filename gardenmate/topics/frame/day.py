"""The frame by day: open it now or leave it, how wide, and what a reading teaches about this frame."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.effects import Effect, GardenChange
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.frame.box import (
    FrameFacts,
    Readings,
    frame_facts,
    has_heat,
    in_greenhouse,
    noon_sun_w_m2,
    shut_time,
    sky_share,
)
from gardenmate.topics.frame.lid import SUN_SOURCE, Vent, vent_limits
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.protection import frame_asks, frost_span, frost_temp
from gardenmate.topics.shared.raising import Named

_FACTOR = (0.5, 2.0)  # a day reading further off than this is not the frame's own doing


def answer_day(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> Answer:
    """Open it? From the reading inside when there is one, else from outside and the sky."""
    frame, vent = frame_facts(question, world), vent_limits(world, crops)
    sun, assumed_sun = noon_sun_w_m2(question, world)
    share, sky = sky_share(question, world)
    effects, learnt, factor = _calibration(question, world, read, frame, sun * share)
    shut_c = (
        None if read.outside_c is None else read.outside_c + factor * frame.day_rise_c(sun * share, "closed")
    )
    now_c = read.inside_c if read.inside_c is not None else shut_c
    assert now_c is not None
    verdict = _open_verdict(now_c, read, vent, sky)
    measured = read.inside_c is not None
    width = _width(read.outside_c, now_c if measured else vent.open_c, vent)
    units = world.units
    numbers: list[Number] = []
    if read.inside_c is not None:
        numbers += temp_numbers("inside", "inside now", read.inside_c)
    if read.outside_c is not None:
        numbers += temp_numbers("outside", "outside", read.outside_c)
        for name, label, how in (
            ("noon_closed", "noon inside, shut", "closed"),
            ("noon_propped", "noon inside, propped", "propped"),
            ("noon_open", "noon inside, lid right back", "open"),
        ):
            rise = frame.day_rise_c(sun * share, how) * (factor if how != "open" else 1.0)
            numbers += temp_numbers(name, label, read.outside_c + rise)
    numbers += temp_numbers("open_at_inside", "open when inside reaches", vent.open_c)
    needs_c = vent.open_c - factor * frame.day_rise_c(sun, "closed")
    numbers += temp_numbers("open_at_outside", "on a sunny day, open once outside reaches", needs_c)
    care = cautions(world.facts, "cold-frame", "heat", "lid")
    assumed = [*read.assumed, *frame.assumptions, *assumed_sun]
    if read.outside_c is not None and question.cue("sky") is None:
        assumed.append("A sunny sky.")
    if read.outside_c is not None or read.inside_c is None:
        assumed.append("Worked out for midday sun; morning and late-afternoon sun is weaker.")
    if question.cue("vent") in (None, "open"):  # "open" is often only the verb
        assumed.append("It is shut now.")
    if in_greenhouse(question) and read.outside_c is not None:
        assumed.append("Reckoned as for a frame: a larger house warms and cools more slowly.")
    return Answer(
        question=question,
        verdict=verdict,
        headline=_headline(verdict, _how_wide(width, question), now_c, read, vent, sky, world),
        numbers=tuple(numbers),
        details=(*_details(question, read, frame, vent, now_c, sun * share, factor, world), *learnt),
        steps=_steps(verdict, now_c, read, width, vent, question, world),
        changes=_changes(vent, needs_c, crops, question, world),
        cautions=care.texts,
        assumptions=unique(assumed),
        sources=unique(frame.sources, frame.table["venting"]["sources"], SUN_SOURCE, care.sources),
        working=_working(frame, read, sun, share, sky, factor, units),
        effects=effects,
    )


def _open_verdict(now_c: float, read: Readings, vent: Vent, sky: str) -> Verdict:
    if now_c >= vent.open_c:
        return "yes"
    sunny = sky in ("clear", "hazy")
    outside = read.outside_c
    if read.inside_c is None and outside is not None and sunny and outside >= vent.prop_outside_c:
        return "yes"  # sunny and over 40 F outside: prop it, whatever the balance says
    if now_c >= vent.crack_c:
        return "tight"
    return "no"


def _width(outside_c: float | None, now_c: float, vent: Vent) -> str:
    """How wide: lid right back, propped by a hand's breadth, or a crack."""
    if now_c >= vent.harm_c:
        return "wide"
    if outside_c is None:
        return "propped"
    if outside_c >= vent.wide_outside_c:
        return "wide"
    return "propped" if outside_c >= vent.prop_outside_c else "crack"


_LID_WORDS = {
    "wide": "lid right back",
    "propped": "prop it about 6 in (15 cm)",
    "crack": "only a crack of 1-2 in (3-5 cm), out of the wind",
}
_DOOR_WORDS = {
    "wide": "all doors and vents open",
    "propped": "vents open and the door ajar",
    "crack": "one vent open a crack, out of the wind",
}


def _how_wide(width: str, question: Request) -> str:
    return (_DOOR_WORDS if in_greenhouse(question) else _LID_WORDS)[width]


def _headline(
    verdict: Verdict,
    how: str,
    now_c: float,
    read: Readings,
    vent: Vent,
    sky: str,
    world: World,
) -> str:
    units = world.units
    now = frost_temp(now_c, units)
    for_whom = {"cool": "for cool crops", "warm": "for warm crops", "either": "for most seedlings"}[
        vent.likes
    ]
    limit = frost_temp(vent.open_c, units)
    if read.inside_c is not None and now_c >= vent.harm_c:
        danger = "is cooking them" if now_c >= vent.cook_c else "harms seedlings"
        return f"Open it right now, {how}: {now} inside {danger}; {limit} is the limit {for_whom}."
    if read.inside_c is None:
        if verdict == "yes":
            return (
                f"Open it, {how}: shut, a {_sky_word(sky)} noon at "
                f"{_out(read, world)} outside "
                f"would take it to about {now}; {limit} is the limit {for_whom}."
            )
        if verdict == "tight":
            return (
                f"Crack it open: shut, it would reach about {now} inside, near the {limit} limit {for_whom}."
            )
        return f"Leave it shut: under a {_sky_word(sky)} sky it reaches only about {now} inside."
    if verdict == "yes":
        return f"Open it, {how}: {now} inside is at or over the {limit} limit {for_whom}."
    if verdict == "tight":
        return (
            f"Crack it open now: {now} inside is near the {limit} limit {for_whom}, and sun takes "
            "it over fast."
        )
    return f"Leave it shut for now: {now} inside is comfortable; open at {limit} {for_whom}."


def _out(read: Readings, world: World) -> str:
    return frost_temp(read.outside_c or 0.0, world.units)


def _sky_word(sky: str) -> str:
    return {"clear": "sunny", "part-cloud": "partly cloudy", "rain": "rainy"}.get(sky, sky)


def _details(
    question: Request,
    read: Readings,
    frame: FrameFacts,
    vent: Vent,
    now_c: float,
    sun_w_m2: float,
    factor: float,
    world: World,
) -> list[str]:
    units = world.units
    details = []
    if read.outside_c is not None:
        shut, propped = (
            read.outside_c + factor * frame.day_rise_c(sun_w_m2, v) for v in ("closed", "propped")
        )
        wide = read.outside_c + frame.day_rise_c(sun_w_m2, "open")
        details.append(
            f"At noon under this sky: about {frost_temp(shut, units)} shut, "
            f"{frost_temp(propped, units)} propped, "
            f"{frost_temp(wide, units)} with the lid right back."
        )
    if now_c >= vent.crack_c:
        details.append(frame.table["frame"]["killer"])
    return details


def _steps(
    verdict: Verdict,
    now_c: float,
    read: Readings,
    width: str,
    vent: Vent,
    question: Request,
    world: World,
) -> tuple[str, ...]:
    if verdict == "no":
        return ()
    steps = []
    if read.inside_c is not None and now_c >= vent.harm_c:
        steps.append("If it is open already, shade it with cloth or newspaper; water once it has cooled.")
    hinge = "" if in_greenhouse(question) else ", hinge side to the wind"
    steps.append(f"{sentence(_how_wide(width, question))}{hinge}.")
    shut = frost_temp(vent.shut_c, world.units)
    steps.append(
        f"Shut again {shut_time(question, world)}, or when the inside has dropped to {shut}, to keep "
        "the warmth."
    )
    return tuple(steps)


def _changes(
    vent: Vent, needs_c: float, crops: Sequence[Named], question: Request, world: World
) -> tuple[str, ...]:
    changes = [sunny_rule(needs_c, world)]
    if not crops:
        changes.append(
            "Tell me the crops: vent cool-season ones from 60-65 F (16-18 C), warm ones from 70-75 F (21-24 C)."
        )
    if not (world.garden.frame.opener or "opener" in (question.cue("gear") or "")):
        changes.append("If nobody is home on a sunny day, prop it before you leave or fit a wax opener.")
    return tuple(changes)


def sunny_rule(needs_c: float, world: World) -> str:
    """From what outside temperature a shut frame overheats on a sunny day at this time of year."""
    if needs_c < 0.0:
        return "On a sunny day around now this frame needs air at noon even when it freezes outside."
    limit = frost_temp(needs_c, world.units)
    return f"On a sunny day around now this frame needs opening from about {limit} outside."


def _working(
    frame: FrameFacts, read: Readings, sun: float, share: float, sky: str, factor: float, units: str
) -> tuple[str, ...]:
    loss = frame.loss_w_k("closed")
    box = frame.box
    rise = factor * frame.day_rise_c(sun * share, "closed")
    lines = [
        f"Clear noon sun {sun:.0f} W/m2 x {share:g} ({sky}) = {sun * share:.0f} W/m2.",
        f"Rise shut: {frame.table['frame']['heat_share']:g} x {box.transmittance:g} x {sun * share:.0f} x "
        f"{box.lid_m2:.2f} m2 / {loss:.1f} W per C degree = {rise:.0f} degrees C.",
    ]
    if factor != 1.0 or frame.gain_factor != 1.0:
        lines.append(f"Scaled by {factor * frame.gain_factor:.2f}, learnt from this frame's own readings.")
    return tuple(lines)


def _calibration(
    question: Request, world: World, read: Readings, frame: FrameFacts, sun_w_m2: float
) -> tuple[tuple[Effect, ...], tuple[str, ...], float]:
    """What a day reading teaches: effects to keep it, sentences, and the factor that holds for this answer.

    Kept only when the lid was said to be shut, the sky was named and the place is known: otherwise the sun
    behind the reading is a guess.
    """
    if read.inside_c is None or read.outside_c is None or has_heat(question) or in_greenhouse(question):
        return (), (), 1.0
    if frame_asks(question) in ("close", "leave-shut"):
        return (), (), 1.0
    if question.cue("vent") not in (None, "closed") or question.cue("sky") is None or sun_w_m2 < 100.0:
        return (), (), 1.0
    measured, reckoned = read.inside_c - read.outside_c, frame.day_rise_c(sun_w_m2, "closed")
    factor = measured / reckoned
    units = world.units
    compared = (
        f"It is {frost_span(measured, units)} warmer than outside; at noon "
        f"{frost_span(reckoned, units)} is expected"
    )
    if not _FACTOR[0] <= factor <= _FACTOR[1]:
        if question.cue("vent") is None:
            return (), (), 1.0
        return (), (f"{compared}, too far off to learn from (not noon, or not shut?).",), 1.0
    if question.cue("vent") != "closed" or world.site is None:
        return (), (
            f"{compared}. Say 'frame shut, {frost_temp(read.inside_c, units)} inside, "
            f"{frost_temp(read.outside_c, units)} outside, clear' at noon and I keep it for your frame.",
        ), max(1.0, factor)  # fmt: skip
    kept = round(frame.gain_factor * factor, 2)
    return (
        (GardenChange("frame.gain_factor", kept),),
        (f"{compared}: I keep the difference for this frame.",),
        factor,
    )
