"""Bare-root trees, bushes and canes: may they be planted now? Leafless plant, ground that can be dug."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody, woody_for
from gardenmate.topics.pruning.advice import common
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_phase import Spring, bud_break
from gardenmate.topics.shared.woody_text import joined, sentence

_LEAFLESS_DAYS = 14  # after leaf fall starts, the plant is asleep enough to lift


def woody_asked(question: Request, world: World) -> tuple[Woody, ...]:
    """The woody plants of the question, each once."""
    found = (woody_for(world.facts, ref) for ref in question.crops)
    return tuple({w.id: w for w in found if w is not None}.values())


def bare_root_answer(
    question: Request, world: World, spring: Spring, plants: tuple[Woody, ...], day: str
) -> Answer:
    """yes = asleep and the ground open; tight = frozen ground, or just past bud break; no = in leaf."""
    table = world.facts.table("propagation")["bare_root"]
    found = [_verdict(w, spring, world, table["soil_c"], table["late_days"]) for w in plants]
    verdict = common(found)
    names = joined(w.name for w in plants)
    start, end = asleep(plants[0], spring, world.today)
    frozen = _frozen(world, table["soil_c"])
    headline = _headline(verdict, names, day, (start, end), frozen, world.today)
    told = cautions(world.facts, "propagation", "buried_services")
    return Answer(
        question=question,
        verdict=verdict,
        headline=sentence(headline),
        numbers=(
            Number("plant_from", start, "date", "asleep from"),
            Number("plant_to", end, "date", "buds open about"),
            Number("spread_days", spring.spread_days, "days", "give or take"),
        ),
        steps=tuple(table["steps"]),
        details=(str(table["wait"]),),
        changes=("Tell me what the buds show, and whether the ground is frozen.",),
        cautions=told.texts,
        assumptions=place_assumption(spring),
        sources=tuple(dict.fromkeys((*table["sources"], *told.sources))),
        working=spring_working(spring),
    )


def _headline(
    verdict: Verdict | None, names: str, day: str, sleep: tuple[date, date], frozen: bool, today: date
) -> str:
    start, end = (show_date(d, today) for d in sleep)
    if verdict == "yes":
        return (
            f"Yes, plant bare-root {names} {day}, while asleep, until about {end} (buds open), unless "
            "the ground is frozen or waterlogged"
        )
    if verdict == "tight" and frozen:
        return (
            f"As soon as the ground can be dug, and before buds open about {end}: bare-root {names} rest "
            "now, but soil is usually frozen at this date"
        )
    if verdict == "tight":
        return f"Late for bare-root {names}: only plants kept cold and still asleep, at once and well watered"
    if verdict == "no":
        return (
            f"Not bare-root {day}: {names} should be in leaf; plant a potted one, or bare-root ones when the "
            f"leaves are off, from about {start}"
        )
    return f"It depends on the plant, bare-root {names}: only those still asleep"


def asleep(plant: Woody, spring: Spring, day: date) -> tuple[date, date]:
    """Leaf fall to bud break: the winter ``day`` lies in, else the next one."""
    for frame in (spring, spring.shifted(1), spring.shifted(2)):
        end = bud_break(plant, frame)
        if day <= end + timedelta(days=_LEAFLESS_DAYS):
            return frame.shifted(-1).leaf_fall + timedelta(days=_LEAFLESS_DAYS), end
    return spring.leaf_fall + timedelta(days=_LEAFLESS_DAYS), bud_break(plant, spring.shifted(1))


def _verdict(plant: Woody, spring: Spring, world: World, soil_c: float, late_days: int) -> Verdict:
    start, end = asleep(plant, spring, world.today)
    if start <= world.today <= end:
        return "tight" if _frozen(world, soil_c) else "yes"
    return "tight" if end < world.today <= end + timedelta(days=late_days) else "no"


def _frozen(world: World, soil_c: float) -> bool:
    return world.site is not None and world.site.mean_c(world.today) < soil_c
