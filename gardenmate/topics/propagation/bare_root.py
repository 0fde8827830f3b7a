"""Bare-root trees, bushes and canes: may they be planted now? Leafless plant, ground that can be dug."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.finding import Finding
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody, woody_for
from gardenmate.records import dataclass
from gardenmate.topics.pruning.decide import common
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.subjects import plural_of
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import Span, Spring, bud_break, seen_stage
from gardenmate.topics.shared.woody_text import joined, sentence, span_text

_LEAFLESS_DAYS = 14  # design value: after leaf fall starts, the plant is asleep enough to lift
_ASLEEP = ("dormant", "bud_swell")


@dataclass(frozen=True, slots=True, kw_only=True)
class BareRoot(Finding):
    """When the plants are asleep (leaf fall to bud break), and whether the ground is usually frozen on the day."""

    rest: Span
    frozen: bool


def woody_asked(case: WoodyCase) -> tuple[Woody, ...]:
    """The woody plants of the question, each once."""
    found = (woody_for(case.facts, ref, case.manner) for ref in case.question.crops)
    return tuple({w.id: w for w in found if w is not None}.values())


def bare_root_answer(case: WoodyCase, plants: tuple[Woody, ...]) -> Answer:
    """yes = asleep and the ground open; tight = frozen ground, or just past bud break; no = in leaf. Without
    a plant the trees of the place are meant."""
    table = case.facts.told("propagation", case.manner)["bare_root"]
    found = _decide(case, plants, table["soil_c"], table["late_days"])
    names = joined(plural_of(w.name, w.names) for w in plants) or "plants"
    said = cautions(case.facts, "propagation", "buried_services")
    start, end = found.rest
    return Answer(
        question=case.question,
        verdict=found.verdict,
        headline=sentence(_headline(found, case, names)),
        numbers=(
            Number("plant_from", start, "date", "dormant from"),
            Number("plant_to", end, "date", "buds open about"),
            Number("spread_days", case.spring.spread_days, "days", "give or take"),
        ),
        key_figures=("plant_from", "plant_to", "spread_days"),
        steps=tuple(table["steps"]),
        details=(str(table["wait"]),),
        changes=("Tell me what the buds show, and whether the ground is frozen.",),
        cautions=said.texts,
        assumptions=place_assumption(case.spring),
        sources=tuple(dict.fromkeys((*table["sources"], *said.sources))),
        working=spring_working(case.spring),
    )


def keep_answer(case: WoodyCase) -> Answer:
    """Bare-root plants that came before they can be planted: how long they keep, and how."""
    table = case.facts.told("propagation", case.manner)["bare_root"]
    low, high = table["keep_days"]
    return Answer(
        question=case.question,
        verdict="yes",
        headline=sentence(table["keep"]),
        numbers=(
            Number("hold_days_low", low, "days", "keep, at least"),
            Number("hold_days_high", high, "days", "keep, at most"),
        ),
        steps=tuple(table["keep_steps"]),
        details=(str(table["wait"]),),
        sources=tuple(table["sources"]),
        polar=False,
    )


def _decide(case: WoodyCase, plants: tuple[Woody, ...], soil_c: float, late_days: int) -> BareRoot:
    day, seen = case.world.today, seen_stage(case.question)
    rests = [asleep(w, case.spring, day) for w in plants] or [asleep(None, case.spring, day)]
    frozen = _frozen(case.world, soil_c)
    verdicts = [_verdict(rest, day, frozen, late_days, seen) for rest in rests]
    return BareRoot(verdict=common(verdicts), rest=rests[0], frozen=frozen)


def _verdict(rest: Span, day: date, frozen: bool, late_days: int, seen: str | None) -> Verdict:
    start, end = rest
    if seen is not None and seen not in _ASLEEP:
        return "tight" if seen == "green_tip" else "no"
    if seen is not None or start <= day <= end:
        return "tight" if frozen else "yes"
    return "tight" if end < day <= end + timedelta(days=late_days) else "no"


def _headline(found: BareRoot, case: WoodyCase, names: str) -> str:
    start, end = (show_date(day, case.world.today) for day in found.rest)
    if case.asks_when:
        between = span_text(*found.rest, case.world.today)
        return f"Plant bare-root {names} while they are dormant, about {between}, when you can dig"
    if found.verdict == "yes":
        opening = f"{case.in_time}: plant" if case.too_late else "Yes, plant"
        sleep = f"they are dormant until about {end}. Wait if the ground is frozen or soggy"
        return f"{opening} bare-root {names} {case.day}; {sleep}"
    if found.verdict == "tight" and found.frozen:
        frozen = "but the ground is usually still frozen now"
        return f"As soon as you can dig: bare-root {names} go in before the buds open about {end}, {frozen}"
    if found.verdict == "tight":
        return f"Late for bare-root {names}: plant only ones kept cold and still dormant, at once, and water them well"
    if found.verdict == "no":
        opening = (
            f"Too late for bare-root {names}"
            if case.too_late
            else f"Don't plant bare-root {names} {case.day}"
        )
        instead = f"Plant potted ones, or bare-root ones from about {start}"
        return f"{opening}: they should be in leaf. {instead}"
    return f"It depends on the plant: set out only bare-root {names} that are still dormant"


def asleep(plant: Woody | None, spring: Spring, day: date) -> Span:
    """Leaf fall to bud break: the winter ``day`` lies in, else the next one; without a plant, the apple's."""
    for frame in (spring, spring.shifted(1), spring.shifted(2)):
        end = _opens(plant, frame)
        if day <= end + timedelta(days=_LEAFLESS_DAYS):
            return frame.shifted(-1).leaf_fall + timedelta(days=_LEAFLESS_DAYS), end
    return spring.leaf_fall + timedelta(days=_LEAFLESS_DAYS), _opens(plant, spring.shifted(1))


def _opens(plant: Woody | None, spring: Spring) -> date:
    return spring.green_tip if plant is None else bud_break(plant, spring)


def _frozen(world: World, soil_c: float) -> bool:
    return world.site is not None and world.site.mean_c(world.today) < soil_c
