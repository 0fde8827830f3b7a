"""The frame at night: how cold inside, whether what stands in it lives, what a blanket or heat adds."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.science.frame_heat import heat_loss_w
from gardenmate.topics.frame.box import FrameFacts, Readings, frame_facts, has_heat, in_greenhouse
from gardenmate.topics.frame.comfort import night_row
from gardenmate.topics.frame.house import limit_of, night_gain_c
from gardenmate.topics.frost.groups import group_rows
from gardenmate.topics.frost.night import Night, as_typed, governing
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import (
    F_DEGREE,
    Limits,
    frame_asks,
    frost_span,
    frost_temp,
    limits,
    note_in_units,
)
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_MARGIN_C = 0.9 * F_DEGREE
BLANKETS = ("blanket", "fleece", "heavy-fleece", "mulch")


def has_blanket(question: Request) -> bool:
    """True when a blanket, mat or fleece over the lid or the plants is named."""
    return question.cue("cover") in BLANKETS or frame_asks(question) == "blanket"


def inside_low_c(question: Request, world: World, frame: FrameFacts, outside_c: float) -> tuple[float, float]:
    """Low inside, degrees C, plainly shut and with the blanket on (the same when there is none)."""
    plain = outside_c + night_gain_c(question, world, frame)
    if in_greenhouse(question):
        return plain, plain
    bright = question.cue("sky") not in ("cloudy", "rain")
    return plain, outside_c + frame.night_rise_c(bright, blanket=True)


def answer_night(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> Answer:
    """How cold it gets inside tonight, and whether the crops named live through it."""
    assert read.outside_c is not None
    frame = frame_facts(question, world)
    units = world.units
    blanket = has_blanket(question)
    plain_c, warm_c = inside_low_c(question, world, frame, read.outside_c)
    inside_c = warm_c if blanket else plain_c
    judged = [
        (n, b, _with_chill(_verdict(b, inside_c), n, question, world, inside_c))
        for n, b in _bounds(question, world, crops)
    ]
    verdicts = {v for _, _, v in judged}
    gain = frost_span(inside_c - read.outside_c, units)
    place = "greenhouse" if in_greenhouse(question) else "frame"
    low = as_typed(read.outside_c, governing(question.ask), units)
    details = [
        f"Shut and unheated, a {place} stays about {gain} warmer than outside here"
        + (f"; published nights run {published_gain(frame, world)}." if place == "frame" else ".")
    ]
    if not blanket and place == "frame":
        details.append(
            f"A dry blanket or mat over the lid adds about {frost_span(warm_c - plain_c, units)}; "
            "take it off "
            "in the morning."
        )
    if len(judged) == 1 and judged[0][2] != "yes" and judged[0][1].note:
        details.append(note_in_units(judged[0][1].note, units))
    slow = [n for n, b, _ in judged if b.hurt_c <= inside_c < f_to_c(night_row(world, n)["stall_f"])]
    if any(n.crop.season == "warm" for n in slow):
        standing = listed(plants(n).word for n in slow if n.crop.season == "warm")
        details.append(f"That cold {standing} survive but stop growing; many such nights set them back.")
    numbers = _numbers(read.outside_c, inside_c, warm_c, blanket or place == "greenhouse", judged)
    warned = (
        ("lid", "heater", "electricity")
        if has_heat(question) or any(v == "no" for v in verdicts)
        else ("lid", "heater")
    )
    care = cautions(world.facts, "cold-frame", *warned)
    watts = _heat_w(frame, judged, read.outside_c) if place == "frame" else None
    if watts is not None:
        numbers += (Number("heat_w", watts, "W", "heat to keep all of it unhurt"),)
    groups = (
        group_rows(question, world, Night(inside_c, "cloudy", inside_c, inside_c)) if not judged else None
    )
    return Answer(
        question=question,
        verdict=(verdicts.pop() if len(verdicts) == 1 else None) if judged else None,
        headline=_headline(judged, low, inside_c, blanket, place, question, world),
        numbers=numbers,
        details=tuple(details),
        table=_table(judged, world) if len(judged) > 1 else groups,
        steps=_steps(judged, question),
        changes=_changes(judged, read.outside_c, frame, blanket, plain_c, warm_c, world, place),
        cautions=care.texts,
        assumptions=unique(
            read.assumed, frame.assumptions if place == "frame" else (),
            ("The lid is shut before the sun leaves it, on moist soil after a fairly bright day.",),
            () if crops else ("Hardened plants.",),
        ),
        sources=unique(
            frame.sources, *(b.sources for _, b, _ in judged), () if judged else ("hill",),
            frame.table["frame"]["sources"].of("lights_gain_f"), care.sources,
        ),
        working=night_working(frame, read.outside_c, inside_c, blanket, world),
    )  # fmt: skip


def _bounds(question: Request, world: World, crops: Sequence[Named]) -> list[tuple[Named, Limits]]:
    return [(n, limits(world.facts, n.crop, question.cue("stage"), world.units)) for n in crops]


def _verdict(bound: Limits, inside_c: float) -> Verdict:
    if inside_c >= bound.hurt_c + _MARGIN_C:
        return "yes"
    return "tight" if inside_c >= bound.killed_c + 0.01 else "no"


def _with_chill(verdict: Verdict, named: Named, question: Request, world: World, inside_c: float) -> Verdict:
    """Tender plants live through a night too cold for them, but it sets them back."""
    limit_c = limit_of(question, world, named.crop)
    return "tight" if verdict == "yes" and limit_c is not None and inside_c < limit_c - 1e-6 else verdict


def published_gain(frame: FrameFacts, world: World) -> str:
    if world.units == "us":
        return "5 to 10 degrees F, generally no more"
    return f"{5 * F_DEGREE:.0f} to {10 * F_DEGREE:.1f} degrees C, generally no more"


def _numbers(
    outside_c: float,
    inside_c: float,
    warm_c: float,
    blanket: bool,
    judged: Sequence[tuple[Named, Limits, Verdict]],
) -> tuple[Number, ...]:
    numbers = [
        *temp_numbers("outside_low", "low outside", outside_c),
        *temp_numbers("inside_low", "low inside, about", inside_c),
    ]
    if not blanket:
        numbers += temp_numbers("inside_low_blanket", "with a blanket on", warm_c)
    for named, bound, _ in judged:
        crop = None if len(judged) == 1 else named.id
        numbers += temp_numbers("hurt_below", "hurt below", bound.hurt_c, crop)
        numbers += temp_numbers("killed_below", "killed near", bound.killed_c, crop)
    return tuple(numbers)


def _heat_w(
    frame: FrameFacts, judged: Sequence[tuple[Named, Limits, Verdict]], outside_c: float
) -> int | None:
    """Heat that keeps the tenderest of them above its hurt figure, W, when the soil's own does not."""
    short = [b.hurt_c + _MARGIN_C for _, b, v in judged if v != "yes"]
    if not short:
        return None
    loss = frame.loss_w_k("closed")
    soil_c = frame.night_rise_c()
    need = heat_loss_w(loss, max(short), outside_c + soil_c)
    return max(5, round(need / 5.0) * 5)


def _headline(
    judged: Sequence[tuple[Named, Limits, Verdict]],
    low: str,
    inside_c: float,
    blanket: bool,
    place: str,
    question: Request,
    world: World,
) -> str:
    units = world.units
    inside = frost_temp(inside_c, units)
    on = " with the blanket on" if blanket else ""
    if not judged:
        return f"With {low} outside expect about {inside} in the shut {place}{on}."
    parts = []
    for verdict, text in (
        ("yes", "{} should come through"),
        ("tight", "{} may be marked or chilled"),
        ("no", "{} will not live"),
    ):
        names = [plants(n).word for n, _, v in judged if v == verdict]
        if names:
            parts.append(text.format(listed(names)))
    if len(judged) == 1:
        bound = judged[0][1]
        hurt, killed = frost_temp(bound.hurt_c, units), frost_temp(bound.killed_c, units)
        edge = f"killed near {killed}" if judged[0][2] == "no" else f"hurt below {hurt}"
        limit_c = limit_of(question, world, judged[0][0].crop)
        if judged[0][2] == "tight" and inside_c >= bound.hurt_c + _MARGIN_C and limit_c is not None:
            parts = [f"{plants(judged[0][0]).word} {plants(judged[0][0]).does('live')}, but chilled"]
            edge = f"set back below about {frost_temp(limit_c, units)}"
        expect = f"with {low} outside expect about {inside} in the shut {place}{on}"
        return f"{sentence(parts[0])}: {expect} ({edge})."
    return f"{sentence('; '.join(parts))}: with {low} outside expect about {inside} in the shut {place}{on}."


def _table(judged: Sequence[tuple[Named, Limits, Verdict]], world: World) -> Table:
    words = {"yes": "comes through", "tight": "may be marked", "no": "lost"}
    return Table(
        ("crop", "hurt below", "killed near", "in the frame"),
        tuple(
            (plants(n).word, frost_temp(b.hurt_c, world.units), frost_temp(b.killed_c, world.units), words[v])
            for n, b, v in judged
        ),
    )


def _steps(judged: Sequence[tuple[Named, Limits, Verdict]], question: Request) -> tuple[str, ...]:
    steps = []
    if question.cue("vent") in ("ajar", "propped", "open"):
        steps.append("Shut the lid now, while there is warmth in it.")
    if any(v != "yes" for _, _, v in judged):
        steps.append("Shut early, lay fleece over the plants inside and a dry blanket or mat over the lid.")
    if any(v == "no" for _, _, v in judged):
        steps.append("Bring pots and trays into the house for the night.")
    return tuple(steps)


def _changes(
    judged: Sequence[tuple[Named, Limits, Verdict]],
    outside_c: float,
    frame: FrameFacts,
    blanket: bool,
    plain_c: float,
    warm_c: float,
    world: World,
    place: str,
) -> tuple[str, ...]:
    units = world.units
    changes = []
    for named, bound, verdict in judged[:2]:
        plain = frost_temp(bound.hurt_c - (plain_c - outside_c), units)
        p = plants(named)
        text = f"{sentence(p.word)} {p.are} unhurt in this {place} down to about {plain} outside"
        under = f", {frost_temp(bound.hurt_c - (warm_c - outside_c), units)} with a blanket on"
        changes.append(f"{text}{under if place == 'frame' else ''}.")
        if not blanket and verdict != "yes" and _verdict(bound, warm_c) == "yes":
            changes.append("The blanket would do it tonight.")
    low, high = frame.table["frame"]["lights_gain_f"]
    if any(v == "no" for _, _, v in judged):
        gain = f"{frost_span(low * F_DEGREE, units).split()[0]} to {frost_span(high * F_DEGREE, units)}"
        changes.append(
            f"A string of old filament lights inside added {gain} in trials; LED strings add nothing."
        )
    changes.append(f"Read a thermometer inside at dawn and tell me both figures: I then know your {place}.")
    return tuple(changes)


def night_working(
    frame: FrameFacts, outside_c: float, inside_c: float, blanket: bool, world: World
) -> tuple[str, ...]:
    box, loss = frame.box, frame.loss_w_k("closed", blanket)
    ground = frame.table["frame"]["ground_w_m2"]
    return (
        f"Loss of the shut frame: lid {box.lid_m2:.2f} m2 of {frame.lid_name}, walls {box.wall_m2:.2f} m2, "
        f"{frame.table['air']['closed']} air changes an hour = {loss:.1f} W per C degree.",
        f"Soil gives back about {ground} W/m2 x {box.lid_m2:.2f} m2 = {ground * box.lid_m2:.0f} W, so "
        "it stays "
        f"{inside_c - outside_c:.1f} degrees C warmer than outside (never more than the published gain).",
    )
