"""Tall, thin seedlings: why, what still helps, and how to hold them while it is too cold to plant out."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import show_date, show_temp
from gardenmate.core.world import World
from gardenmate.topics.seedlings.bottom_heat import warmth_of
from gardenmate.topics.seedlings.lamps import (
    distance,
    lamp_cautions,
    need_numbers,
    need_working,
    needs_of,
    paired,
)
from gardenmate.topics.seedlings.potting_stay import Wait, lasts, weeks_to_set_out
from gardenmate.topics.shared.containers import containers
from gardenmate.topics.shared.grammar import listed, sentence, span, unique
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants


def answer(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """More light, less heat; where they must wait for warmer weather also the pot, the cool and the day."""
    needs = needs_of(crops, world)
    buried = {n.name: _bury(n, world) for n in crops}
    steps = (
        f"Lower the lamp: {distance(world)}; {span(*needs[0][1].hours)} hours a day.",
        "Keep them cooler, by night above all, and thin so that no leaf shades the next.",
        "Brush them lightly with a hand or set a small fan on them: it thickens stems.",
        *(f"{sentence(name)}: when you pot up, set it {text}." for name, text in buried.items() if text),
    )
    numbers = tuple(n for each, (_, f) in paired(crops, needs) for n in need_numbers(f, each))
    plain = Answer(
        question=question,
        verdict=None,
        headline="Leggy seedlings have too little light for the warmth. Give them more light and less heat; "
        "stems already long stay long.",
        numbers=numbers,
        steps=steps,
        changes=(
            "If they are very long and falling over, sow again if there is time: new ones soon overtake them.",
        ),
        cautions=lamp_cautions(world),
        sources=unique(*(need.sources for _, need in needs), ("common-practice",)),
        working=tuple(need_working(label, need) for label, need in needs),
    )
    wait = weeks_to_set_out(question, world, crops) if crops and _held_back(question) else None
    return plain if wait is None else _held(plain, wait, world, crops)


def _held_back(question: Request) -> bool:
    """True when the plants are spoken of as waiting for the weather."""
    return question.cue("potting") == "ahead" or question.cue("going_out") == "yes"


def _held(plain: Answer, wait: Wait, world: World, crops: tuple[Named, ...]) -> Answer:
    """The answer for plants that must wait: pot on, keep cool, out by day, and until when."""
    day = show_date(wait.until, world.today)
    night = show_temp(max(warmth_of(n.crop, world.facts).night_c for n in crops), world.units)
    rows = [(n, row) for n in crops if (row := world.facts.group_of(n.crop, "potting")) is not None]
    sizes = containers(world.facts)
    pots = [
        f"{n.name} into a {sizes[row['held_in']].label(world.units)}, {row['bury_text']}" for n, row in rows
    ]
    names = listed(plants(n).word for n in crops)
    return Answer(
        question=plain.question,
        verdict="yes" if rows else None,
        headline=f"Pot the {names} on, keep them cool and bright, and wait: planting out is about {day}.",
        numbers=(Number("set_out", wait.until, "date", "plant out about"), *plain.numbers),
        details=tuple(lasts(n, row, sizes[row["held_in"]], world) for n, row in rows),
        steps=(
            *(f"Pot {pot}." for pot in pots),
            f"Keep the nights near {night}: cool and bright slows them without harm.",
            "On mild days stand them outside in shade and shelter, and bring them in for the night.",
            *plain.steps[:1],
            plain.steps[2],
        ),
        changes=plain.changes,
        cautions=plain.cautions,
        sources=unique(
            plain.sources, ("umn-transplants-cool-weather",), *(row["sources"] for _, row in rows)
        ),
        working=plain.working,
        key_figures=("set_out", "lamp_hours"),
        polar=False,
    )


def _bury(named: Named, world: World) -> str:
    row = world.facts.group_of(named.crop, "potting")
    return str(row["bury_text"]) if row is not None else ""
