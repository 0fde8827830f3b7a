"""The frame at night, in words."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.frame.box import FrameFacts, Readings
from gardenmate.topics.frame.decide_night import FrameNight, InFrame
from gardenmate.topics.frost.groups import group_rows
from gardenmate.topics.frost.night import Night, as_typed
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import (
    frost_span,
    frost_temp,
)
from gardenmate.topics.shared.subjects import plants, together
from gardenmate.topics.shared.wording import numbers

_LABELS = {
    "outside_low": "low outside",
    "inside_low": "low inside, about",
    "inside_low_blanket": "with a blanket on",
    "hurt_below": "hurt below",
    "killed_below": "killed near",
    "heat_w": "heat to keep it all safe",
}
_FATE = {"yes": "comes through", "tight": "may be marked", "no": "lost"}
_BRUSH = " Brush snow off the lid before it piles up, last thing tonight and again at dawn."
SNOW_ON_LID = (
    "Dry snow left lying keeps the frost out for a few days; wet snow is heavy enough to break glass."
)
_MOST_LINES = 2  # crops that get a line of their own under "what would change it"


def frame_night(question: Request, world: World, found: FrameNight, read: Readings) -> Answer:
    """The finding as an answer."""
    lost = any(one.verdict == "no" for one in found.fate)
    heat = ("heater", "electricity") if found.heated or lost else ()
    keys = (*(() if found.house else ("lid",)), *heat)
    care = cautions(world.facts, "cold-frame", *keys) if keys else Cautions()
    named = bool(found.fate)
    inside = Night(found.inside_c, "cloudy", found.inside_c, found.inside_c)
    table = _table(found, world) if len(found.fate) > 1 else None
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=f"{_headline(found, world)}{_BRUSH if snow_comes(question) else ''}",
        numbers=numbers(found.figures, _LABELS),
        details=(*_details(found, world), *((SNOW_ON_LID,) if snow_comes(question) else ())),
        table=table if named else group_rows(question, world, inside),
        steps=_steps(question, found),
        changes=_changes(found, world),
        cautions=care.texts,
        assumptions=unique(
            read.assumed,
            () if found.house else found.frame.assumptions,
            ("The lid is shut before the sun leaves it, on moist soil after a fairly bright day.",),
            () if named else ("Hardened plants.",),
        ),
        sources=unique(found.sources, care.sources),
        working=night_working(found.frame, found.outside_c, found.inside_c, found.blanket),
        key_figures=found.key,
    )


def snow_comes(question: Request) -> bool:
    """True when snow is spoken of."""
    return question.cue("weather") == "snow" or question.has("weather", "snow")


def place_of(found: FrameNight) -> str:
    """What it is: a frame or a greenhouse."""
    return "greenhouse" if found.house else "frame"


def published_gain(frame: FrameFacts, world: World) -> str:
    """What plain frames hold at night, as published."""
    least, most = (f * F_DEGREE for f in (5.0, float(frame.table["frame"]["night_gain_most_f"])))
    if world.units == "us":
        return "5 to 10 degrees F"
    return f"{least:.0f} to {most:.1f} degrees C"


def _headline(found: FrameNight, world: World) -> str:
    inside = frost_temp(found.inside_c, world.units)
    low = as_typed(found.outside_c, found.typed, world.units)
    on = " with the blanket on" if found.blanket else ""
    expect = f"with {low} outside, expect about {inside} in the shut {place_of(found)}{on}"
    if not found.fate:
        text = f"{sentence(expect)}."
    elif len(found.fate) == 1:
        text = f"{sentence(_one(found.fate[0]))}: {expect} ({_edge(found.fate[0], world)})."
        text += _under_blanket(found, found.fate[0], world)
    else:
        text = f"{sentence(_several(found.fate))}: {expect}."
    if len(found.every) > 1:
        text = f"{text} That is the coldest of the {len(found.every)} nights."
    if found.doubtful and found.typed is not None:
        text = f"If you mean {found.typed.value:g} F (tell me if it is C): {text[:1].lower()}{text[1:]}"
    return f"I have no figures for {listed(found.unknown)}. {text}" if found.unknown else text


def _under_blanket(found: FrameNight, one: InFrame, world: World) -> str:
    """What a blanket makes of a night that kills without one; "" where it changes nothing."""
    if found.blanket or found.house or one.lives != "no" or found.warm_c < one.limits.killed_c:
        return ""
    warm = frost_temp(found.warm_c, world.units)
    return f" With a dry blanket or mat over the lid, about {warm}: marked, but most likely alive."


def _one(one: InFrame) -> str:
    p = plants(one.named)
    if one.chill_c is not None:
        return f"no, bring the {p.word} in for the night"
    return {
        "yes": f"{p.word} should come through",
        "tight": f"{p.word} may be marked or chilled",
        "no": f"{p.word} won't survive",
    }[one.verdict]


def _edge(one: InFrame, world: World) -> str:
    """The figure that decides, for the air inside."""
    if one.chill_c is not None:
        killed = f"; killed near {frost_temp(one.limits.killed_c, world.units)}" if one.lives != "yes" else ""
        return f"young plants are set back below about {frost_temp(one.chill_c, world.units)}{killed}"
    if one.verdict == "no":
        return f"killed near {frost_temp(one.limits.killed_c, world.units)}"
    return f"hurt below {frost_temp(one.limits.hurt_c, world.units)}"


def _several(fate: Sequence[InFrame]) -> str:
    groups: Sequence[tuple[str, Sequence[InFrame]]] = (
        ("bring the {word} in for the night", [one for one in fate if one.chill_c is not None]),
        ("{word} should come through", [one for one in fate if one.verdict == "yes"]),
        ("{word} may be marked or chilled", [one for one in fate if one.verdict == "tight"]),
        ("{word} won't survive", [one for one in fate if one.lives == "no"]),
    )
    told = "; ".join(text.format(word=together(plants(o.named) for o in g).word) for text, g in groups if g)
    return f"no, {told}" if all(one.chill_c is not None for one in fate) else told


def _details(found: FrameNight, world: World) -> tuple[str, ...]:
    units = world.units
    gain = frost_span(found.inside_c - found.outside_c, units)
    said = [
        f"Shut and unheated, a greenhouse stays about {gain} warmer than outside here."
        if found.house
        else f"Shut and unheated, a frame stays about {gain} warmer than outside here; published nights run "
        f"{published_gain(found.frame, world)}."
    ]
    if not found.blanket and not found.house:
        adds = frost_span(found.warm_c - found.plain_c, units)
        said.append(f"A dry blanket or mat over the lid adds about {adds}; take it off in the morning.")
    if len(found.fate) == 1 and found.fate[0].verdict != "yes" and found.fate[0].limits.note:
        said.append(worded(found.fate[0].limits.note, Manner(units)))
    slow = [plants(one.named) for one in found.fate if one.slow]
    if slow:
        p = together(slow)
        said.append(
            f"At that temperature {p.word} {p.does('survive')} but {p.does('stop')} growing; many such nights"
            f" set {p.them} back."
        )
    return tuple(said)


def _table(found: FrameNight, world: World) -> Table:
    units = world.units
    rows = tuple(
        (
            plants(one.named).word,
            frost_temp(one.limits.hurt_c, units),
            frost_temp(one.limits.killed_c, units),
            "too cold" if one.chill_c is not None else _FATE[one.verdict],
        )
        for one in found.fate
    )
    unknown = tuple((name, "-", "-", "no figures") for name in found.unknown)
    return Table(("crop", "hurt below", "killed near", f"in the {place_of(found)}"), (*rows, *unknown))


def _steps(question: Request, found: FrameNight) -> tuple[str, ...]:
    steps = []
    if question.cue("vent") in ("ajar", "propped", "open"):
        what = "door and vents" if found.house else "lid"
        steps.append(f"Shut the {what} now, while there is warmth in it.")
    if any(one.verdict == "no" for one in found.fate):
        steps.append("Bring pots and trays into the house for the night.")
    if any(one.verdict != "yes" for one in found.fate):
        steps.append("Shut early, lay fleece over the plants inside and a dry blanket or mat over the lid.")
    return tuple(steps)


def _changes(found: FrameNight, world: World) -> tuple[str, ...]:
    units, place = world.units, place_of(found)
    changes = []
    for one in found.fate[:_MOST_LINES]:
        p = plants(one.named)
        plain, warm = (
            frost_temp(one.floor_c - (inside - found.outside_c), units)
            for inside in (found.plain_c, found.warm_c)
        )
        under = "" if found.house else f", {warm} with a blanket on"
        changes.append(
            f"{sentence(p.word)} {p.are} safe in this {place} down to about {plain} outside{under}."
        )
        if one.blanket_saves and not found.house:
            changes.append("The blanket would do it tonight.")
    if any(one.verdict == "no" for one in found.fate):
        low, high = (f * F_DEGREE for f in found.frame.table["frame"]["lights_gain_f"])
        gain = f"{frost_span(low, units).split()[0]} to {frost_span(high, units)}"
        changes.append(
            f"A string of old filament lights inside added {gain} in trials; LED strings add nothing."
        )
    changes.append(f"Read a thermometer inside at dawn and tell me both figures, and I'll know your {place}.")
    return tuple(changes)


def night_working(frame: FrameFacts, outside_c: float, inside_c: float, blanket: bool) -> tuple[str, ...]:
    """The heat balance of the shut frame."""
    box, loss = frame.box, frame.loss_w_k("closed", blanket)
    ground = frame.table["frame"]["ground_w_m2"]
    return (
        f"Loss of the shut frame: lid {box.lid_m2:.2f} m2 of {frame.lid_name}, walls {box.wall_m2:.2f} m2, "
        f"{frame.table['air']['closed']} air changes an hour = {loss:.1f} W per C degree.",
        f"Soil gives back about {ground} W/m2 x {box.lid_m2:.2f} m2 = {ground * box.lid_m2:.0f} W, so it stays "
        f"{inside_c - outside_c:.1f} degrees C warmer than outside (never more than the published gain).",
    )
