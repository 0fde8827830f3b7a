"""What a cold night does to fruit buds, as a line of a pruning answer; the frost rule has the full reply."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Number
from gardenmate.core.question import Request
from gardenmate.core.units import c_to_f, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import bud_kills
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.frost.buds import BudStage, killed_share, stages


def bud_table(facts: Facts, base: str, kind: str | None = None) -> Mapping[str, Any] | None:
    """The kill table of a fruit (of its kind where there are several); None when none is published."""
    rows = bud_kills(facts, base)
    exact = next((f for f in rows if kind and f.get("kind") == kind), None)
    return exact or (rows[0] if rows else None)


def _stage_now(question: Request, world: World, plant: Woody) -> tuple[BudStage, float] | None:
    """The most tender stage that fits what is seen, with the temperature asked about."""
    temp_c, seen = question.ask.temperature_c, question.cue("bud_stage")
    table = bud_table(world.facts, plant.base, plant.kind)
    if temp_c is None or seen is None or table is None:
        return None
    fitting = [s for s in stages(table) if s.phase == seen and s.hurt_c is not None]
    return (fitting[-1], temp_c) if fitting else None


def bud_lines(question: Request, world: World, plant: Woody) -> tuple[str, ...]:
    """What the temperature asked about does to the buds at the stage seen; empty when not asked."""
    found = _stage_now(question, world, plant)
    if found is None or found[0].hurt_c is None:
        return ()
    stage, temp_c = found
    first = f"Flower buds at {stage.name}: damage begins near {show_temp(found[0].hurt_c, world.units)}"
    if stage.lost_c is not None:
        first += f", most are lost near {show_temp(stage.lost_c, world.units)}"
    share = killed_share(stage, temp_c)
    if share is None:
        return (f"{first}.",)
    low = show_temp(temp_c, world.units)
    if share == 0.0:
        return (f"{first}; {low} should spare nearly all of them.",)
    return (f"{first}; {low} may kill about {10 * round(10 * share)}% of them.",)


def bud_loss(question: Request, world: World, plant: Woody) -> str:
    """The loss as a clause ("26 F may kill about 50% of the flower buds"); empty below a tenth."""
    found = _stage_now(question, world, plant)
    share = killed_share(*found) if found is not None else None
    if found is None or not share:
        return ""
    return f"{show_temp(found[1], world.units)} may kill about {10 * round(10 * share)}% of the flower buds"


def bud_numbers(question: Request, world: World, plant: Woody) -> tuple[Number, ...]:
    """Kill temperatures of the stage seen, in F and C."""
    found = _stage_now(question, world, plant)
    if found is None:
        return ()
    us = world.units == "us"
    numbers: list[Number] = []
    pairs = (
        ("kill_10", "10% of buds killed near", found[0].hurt_c),
        ("kill_90", "90% killed near", found[0].lost_c),
    )
    for name, label, value in pairs:
        if value is not None:
            numbers.append(Number(f"{name}_f", round(c_to_f(value), 1), "F", label, plant.base, us))
            numbers.append(Number(f"{name}_c", round(value, 1), "C", label, plant.base, not us))
    return tuple(numbers)
