"""How much a frame holds at night in general, by lid, and what a reading teaches about the grower's own."""

from __future__ import annotations

from types import MappingProxyType
from typing import Literal

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.effects import Effect, GardenChange
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE
from gardenmate.core.world import World
from gardenmate.records import NamedTuple, replace
from gardenmate.topics.frame.box import Readings, frame_facts, has_heat, in_greenhouse
from gardenmate.topics.frame.decide_night import has_blanket
from gardenmate.topics.frame.words_night import night_working, published_gain
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.protection import frost_span

_OFFSET_C = (-4.0, 6.0)  # design value: a night reading further off than this is not the frame's own doing


def answer_gain(question: Request, world: World) -> Answer:
    """How much warmer than outside a frame stays at night, in general."""
    frame = frame_facts(question, world)
    units = world.units
    rise = frame.night_rise_c()
    typed = question.ask.temperature_c
    most_c = frame.table["frame"]["night_gain_most_f"] * F_DEGREE
    verdict: Verdict | None = None
    start = "Expect about"
    if typed is not None:
        in_c = question.ask.temp_c
        span_c = in_c if in_c is not None else (question.ask.temp_f or 0.0) * F_DEGREE
        verdict = "yes" if 0.0 < span_c <= most_c + 0.6 else "no"
        said = f"{in_c:g} degrees C" if in_c is not None else f"{question.ask.temp_f:g} degrees F"
        start = f"Yes, {said} is about right: expect" if verdict == "yes" else f"Not {said}: expect"
    care = cautions(world.facts, "cold-frame", "lid")
    warm = frame.night_rise_c(blanket=True)
    rows = []
    for row in frame.table["glazing"]:
        other = frame_facts(_with_glazing(question, row["id"]), world)
        rows.append(
            (
                row["name"],
                frost_span(other.night_rise_c(), units),
                frost_span(other.night_rise_c(blanket=True), units),
            )
        )
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{start} {published_gain(frame, world)} more than outside at night in a plain unheated frame, seldom "
        "above that.",
        numbers=(
            Number("night_gain_c", round(rise, 1), "C", "warmer than outside, this frame"),
            Number("night_gain_f", round(rise * 1.8, 1), "F", "warmer than outside, this frame"),
            Number("night_gain_blanket_c", round(warm, 1), "C", "with a blanket on"),
            Number("night_gain_blanket_f", round(warm * 1.8, 1), "F", "with a blanket on"),
        ),
        details=(
            "What it holds is the day's warmth in the soil: a bright day, moist soil, tight joints "
            "and an early "
            "shut make the most of it.",
        ),
        table=Table(("lid", "warmer than outside at night", "with a blanket"), tuple(rows)),
        changes=(
            "A blanket or mat over the lid adds a few degrees; insulated sides and a double lid hold about "
            "twice as much.",
        ),
        cautions=care.texts,
        assumptions=frame.assumptions,
        sources=unique(
            frame.sources, frame.table["frame"]["sources"].of("night_gain_insulated_most_f"), care.sources
        ),
        working=night_working(frame, 0.0, rise, False),
    )


def answer_lids(question: Request, world: World) -> Answer:
    """Which lid: night warmth and light of the one named against single glass."""
    general = answer_gain(question, world)
    lids = {row["id"]: row for row in world.facts.table("protection")["glazing"]}
    named = lids.get(question.cue("glazing") or "", lids["glass"])
    other = lids["twin-wall"] if named["id"] == "glass" else lids["glass"]
    units = world.units
    held, plain = (
        frost_span(frame_facts(_with_glazing(question, row["id"]), world).night_rise_c(), units)
        for row in (named, other)
    )
    return replace(
        general,
        verdict=None,
        headline=f"{sentence(named['name'])} stays about {held} warmer than outside at night and lets in "
        f"{100 * named['light']:.0f}% of the light; {other['name']} {plain} and {100 * other['light']:.0f}%.",
        sources=unique(general.sources, *(row["sources"] for row in lids.values())),
    )


def _with_glazing(question: Request, glazing: str) -> Request:
    return replace(question, cues=MappingProxyType({**question.cues, "glazing": glazing}))


def answer_night_reading(question: Request, world: World, read: Readings) -> Answer:
    """A night's reading inside and outside: what it says of the frame, and keep it."""
    learnt = _learnt(question, world, read)
    general = answer_gain(replace(question, slots=replace(question.slots, temp_c=None, temp_f=None)), world)
    units = world.units
    measured, expected = frost_span(learnt.measured_c, units), frost_span(learnt.expected_c, units)
    said = {
        None: general.headline,
        "too-far": f"Your reading is {measured} warmer than outside, far from the usual; check both thermometers "
        "(shade, same height) before I learn from it.",
        "kept": f"Your frame held {measured} warmer than outside; I expected {expected}, and keep the difference for "
        "this frame.",
    }[learnt.lesson]
    return replace(
        general,
        question=question,
        verdict=None,
        headline=said,
        details=(general.headline, *general.details),
        effects=learnt.effects,
    )


class _Learnt(NamedTuple):
    """What a night reading teaches: how much warmer it was, what was expected, and what is to be kept."""

    lesson: Literal["kept", "too-far"] | None = None
    measured_c: float = 0.0
    expected_c: float = 0.0
    effects: tuple[Effect, ...] = ()


def _learnt(question: Request, world: World, read: Readings) -> _Learnt:
    if read.inside_c is None or read.outside_c is None or has_heat(question) or in_greenhouse(question):
        return _Learnt()
    frame = frame_facts(question, world)
    measured = read.inside_c - read.outside_c
    expected = frame.night_rise_c(blanket=has_blanket(question)) - frame.night_offset_c
    offset = measured - expected
    if not _OFFSET_C[0] <= offset <= _OFFSET_C[1]:
        return _Learnt("too-far", measured, expected)
    kept = GardenChange("frame.night_offset_c", round(offset, 1))
    return _Learnt("kept", measured, expected, (kept,))
