"""The frame by day, in words."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.frame.box import Readings, shut_time
from gardenmate.topics.frame.decide_day import FrameDay, noon_rise_c
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import frost_span, frost_temp
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.wording import numbers

LABELS = {
    "inside": "inside now",
    "outside": "outside",
    "noon_closed": "inside at noon if shut",
    "noon_propped": "inside at noon if propped",
    "noon_open": "inside at noon with the lid off",
    "open_at_inside": "open when inside reaches",
    "open_at_outside": "on a sunny day, open once outside is",
    "shut_at_inside": "shut when inside drops to",
    "shut_time": "shut on a sunny day",
}
_LID = {
    "wide": "with the lid all the way back",
    "propped": "propped about {6 inches}",
    "crack": "only a crack of {1-2 inches}, out of the wind",
}
_DOORS = {
    "wide": "with all doors and vents open",
    "propped": "with the vents open and the door ajar",
    "crack": "with one vent open a crack, out of the wind",
}
_LID_STEP = {
    "wide": "Open the lid all the way, hinge side to the wind.",
    "propped": "Prop the lid about {6 inches}, hinge side to the wind.",
    "crack": "Open the lid only a crack, {1-2 inches}, hinge side to the wind.",
}
_FOR = {"cool": "for cool crops", "warm": "for warm crops", "either": "for most seedlings"}
_SKY = {"clear": "sunny", "part-cloud": "partly cloudy", "rain": "rainy"}


def frame_day(
    question: Request, world: World, found: FrameDay, read: Readings, crops: Sequence[Named]
) -> Answer:
    """The finding as an answer."""
    care = cautions(world.facts, "cold-frame", "heat", "lid")
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=as_asked(
            _headline(found, world), turned=found.turned, opens=found.opens, opener=found.opener
        ),
        numbers=numbers(found.figures, LABELS),
        details=(*_noon(found, world), *_killer(found), *_lesson(found, world)),
        steps=_steps(question, found, world),
        changes=_changes(found, crops, world),
        cautions=care.texts,
        assumptions=_assumptions(question, found, read),
        sources=unique(found.sources, care.sources),
        working=_working(found),
        effects=found.learnt.effects,
        key_figures=found.key,
    )


def as_asked(text: str, *, turned: bool, opens: str, opener: bool) -> str:
    """The sentence opened with what was asked: asked whether to leave it shut, "open it" is a no."""
    if not turned or opens != "yes":
        return text
    small = f"{text[:1].lower()}{text[1:]}"
    return f"Only with the opener tested and fitted: {small}" if opener else f"No, {small}"


def _how(found: FrameDay, world: World) -> str:
    return worded((_DOORS if found.house else _LID)[found.width], Manner(world.units))


def _headline(found: FrameDay, world: World) -> str:
    units, vent, how = world.units, found.vent, _how(found, world)
    now, limit, for_whom = frost_temp(found.now_c, units), frost_temp(vent.open_c, units), _FOR[vent.likes]
    even = "even " if vent.likes == "warm" else ""
    if found.inside_c is None:
        return _from_outside(found, now, limit, for_whom, world)
    if found.now_c >= vent.harm_c:
        danger = "is cooking them" if found.now_c >= vent.cook_c else "harms seedlings"
        return f"Open it right now, {how}: {now} inside {danger}; {limit} is the limit {for_whom}."
    return {
        "yes": f"Open it, {how}: {now} inside is too warm {even}{for_whom}, which want air from {limit}.",
        "tight": f"Open it a crack now: {now} inside is close to the {limit} limit {for_whom}, and sun will raise it.",
        "no": f"Leave it shut for now: {now} inside is not too warm. Open it at {limit} {for_whom}.",
    }[found.opens]


def _from_outside(found: FrameDay, now: str, limit: str, for_whom: str, world: World) -> str:
    sky = _SKY.get(found.sky, found.sky)
    out = frost_temp(found.outside_c or 0.0, world.units)
    return {
        "yes": f"Open it, {_how(found, world)}: if shut, it would reach about {now} at a {sky} noon with {out} "
        f"outside, and {limit} is the limit {for_whom}.",
        "tight": f"Open it a crack: shut, it would reach about {now} inside, near the {limit} limit {for_whom}.",
        "no": f"Leave it shut: under a {sky} sky it reaches only about {now} inside.",
    }[found.opens]


def _noon(found: FrameDay, world: World) -> tuple[str, ...]:
    if found.outside_c is None:
        return ()
    sun = found.sun_w_m2 * found.share
    shut, propped, wide = (
        frost_temp(found.outside_c + noon_rise_c(found.frame, sun, how, found.learnt.factor), world.units)
        for how in ("closed", "propped", "open")
    )
    return (
        f"At noon under this sky: about {shut} shut, {propped} propped, {wide} with the lid all the way back.",
    )


def _killer(found: FrameDay) -> tuple[str, ...]:
    return (found.frame.table["frame"]["killer"],) if found.now_c >= found.vent.crack_c else ()


def _lesson(found: FrameDay, world: World) -> tuple[str, ...]:
    learnt, units = found.learnt, world.units
    if learnt.lesson is None:
        return ()
    compared = (
        f"It is {frost_span(learnt.measured_c, units)} warmer than outside; at noon I expect "
        f"{frost_span(learnt.expected_c, units)}"
    )
    if learnt.lesson == "kept":
        return (f"{compared}: I keep the difference for this frame.",)
    if learnt.lesson == "too-far":
        return (f"{compared}, too far off to learn from (not noon, or not shut?).",)
    inside, outside = (frost_temp(t or 0.0, units) for t in (found.inside_c, found.outside_c))
    return (
        f"{compared}. Say 'frame shut, {inside} inside, {outside} outside, clear' at noon and I'll keep it for your "
        "frame.",
    )


def _steps(question: Request, found: FrameDay, world: World) -> tuple[str, ...]:
    if found.opens == "no":
        return ()
    steps = []
    if found.inside_c is not None and found.now_c >= found.vent.harm_c:
        steps.append("If it is open already, shade it with cloth or newspaper; water it once it has cooled.")
    if not found.house:
        lid = _LID_STEP["crack" if found.opens == "tight" else found.width]
        steps.append(worded(lid, Manner(world.units)))
    steps.append(
        f"Shut again {shut_time(question, world)}, or when the inside has dropped to "
        f"{frost_temp(found.vent.shut_c, world.units)}, to keep the warmth."
    )
    return tuple(steps)


def _changes(found: FrameDay, crops: Sequence[Named], world: World) -> tuple[str, ...]:
    changes = [_sunny_rule(found, world)]
    if not crops:
        changes.append(
            worded(
                "Tell me the crops: vent cool-season ones from {60-65 F}, warm ones from {70-75 F}.",
                Manner(world.units),
            )
        )
    if not found.opener:
        changes.append("If nobody is home on a sunny day, prop it before you leave or fit a wax opener.")
    return tuple(changes)


def _sunny_rule(found: FrameDay, world: World) -> str:
    """From what outside temperature a shut frame overheats on a sunny day at this time of year."""
    if found.below_freezing:
        return "On a sunny day around now this frame needs air at noon even when it freezes outside."
    return f"On a sunny day around now open this frame from about {frost_temp(found.needs_c, world.units)} outside."


def _assumptions(question: Request, found: FrameDay, read: Readings) -> tuple[str, ...]:
    assumed = [*read.assumed, *found.frame.assumptions, *found.assumed_sun]
    if found.outside_c is not None and question.cue("sky") is None:
        assumed.append("A sunny sky.")
    if found.outside_c is not None:
        assumed.append("Worked out for midday sun; morning and late-afternoon sun is weaker.")
    if question.cue("vent") in (None, "open"):  # "open" is often only the verb
        assumed.append("It is shut now.")
    if found.house and found.outside_c is not None:
        assumed.append("Worked out as for a frame: a larger house warms and cools more slowly.")
    return unique(assumed)


def _working(found: FrameDay) -> tuple[str, ...]:
    frame, box, factor = found.frame, found.frame.box, found.learnt.factor
    sun = found.sun_w_m2 * found.share
    lines = [
        f"Clear noon sun {found.sun_w_m2:.0f} W/m2 x {found.share:g} ({found.sky}) = {sun:.0f} W/m2.",
        f"Rise shut: {frame.table['frame']['heat_share']:g} x {box.transmittance:g} x {sun:.0f} x {box.lid_m2:.2f} m2 "
        f"/ {frame.loss_w_k('closed'):.1f} W per C degree = {factor * frame.day_rise_c(sun, 'closed'):.0f} degrees C.",
    ]
    if factor != 1.0 or frame.gain_factor != 1.0:
        lines.append(f"Scaled by {factor * frame.gain_factor:.2f}, learnt from this frame's own readings.")
    return tuple(lines)
