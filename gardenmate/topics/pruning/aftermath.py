"""A cut already made: what it costs, and what to do now."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.pruning.decide import verdict_of
from gardenmate.topics.pruning.kinds import assumed_kind, cut_differently, garden_kind, match_kind, usual_kind
from gardenmate.topics.pruning.one_plant import plant_age
from gardenmate.topics.pruning.several import Known
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_text import clause, sentence

_LIVES = {
    "yes": "No lasting harm, it will live",
    "tight": "It will live, at a price",
    "no": "It may take years to recover",
}
_SPUR_TREES = ("pome", "stone", "tree", "ornamental")


def aftermath(case: WoodyCase, known: list[Known]) -> Answer:
    """What follows from a cut that has already been, and what to do now."""
    question, world = case.question, case.world
    table = case.facts.told("pruning", case.manner)["aftermath"]
    if not known:
        return aftermath_entry(case, table["cut_too_late"], ())
    ref, kinds = known[0]
    chosen = match_kind(kinds, ref.kind or question.ask.kind or garden_kind(ref.id, world))
    if question.has("stage", "bloom") and kinds[0].group in _SPUR_TREES:
        plant = chosen or usual_kind(kinds, case.spring, world)
        when = f"The right time for the {plant.name} is {plant.seasons[0].say}."
        return aftermath_entry(case, table["out_of_season_bloom"], (when,), plant)
    shown = (chosen,) if chosen else cut_differently(kinds)
    shown = shown or (usual_kind(kinds, case.spring, world),)
    bleeds = question.cue("past_cut") == "bleeds" or question.has("look", "bleeding")
    shown = shown[:1] if bleeds else shown
    lines = _lines(case, shown, bleeds, table)
    age, _ = plant_age(question, world, shown[0])
    young = age is not None and age < shown[0].limits.min_age_years
    more = ("It was still young: let it grow on and only tidy it this year and next.",) if young else ()
    return Answer(
        question=question,
        verdict=None,
        headline=lines[0] if len(shown) == 1 else _by_kind(case, shown),
        details=(
            *(lines if len(shown) > 1 else ()),
            *more,
            *table["cut_too_late"]["details"],
            *(f"Next time, prune the {w.name} {w.seasons[0].say}." for w in shown),
        ),
        asks=tuple(f"It is {w.name}" for w in shown) if len(shown) > 1 else (),
        assumptions=() if chosen or len(shown) > 1 else assumed_kind(shown[0], kinds),
        cautions=cautions(case.facts, "pruning", "blades").texts,
        sources=tuple(dict.fromkeys(s for w in shown for s in (*w.fruit.sources, *w.seasons[0].sources))),
    )


def _lines(case: WoodyCase, shown: tuple[Woody, ...], bleeds: bool, table: Mapping[str, Any]) -> list[str]:
    """What the cut costs each kind; whether it lives where that is asked of the one."""
    if bleeds:
        return [sentence(shown[0].care.bleeding or str(table["cut_too_late"]["headline"]))]
    if len(shown) > 1:
        return [sentence(f"{w.name}: {w.fruit.cost}") for w in shown]
    if not case.question.has("asks", "harm"):
        return [sentence(shown[0].fruit.cost)]
    hard = case.right_down or case.asks_how_much or case.question.has("cut", "hard")
    lives = _LIVES[shown[0].limits.ground_cut] if hard else "It will live"
    return [f"{lives}: {clause(shown[0].fruit.cost)}."]


def _by_kind(case: WoodyCase, shown: tuple[Woody, ...]) -> str:
    brief = "; ".join(f"{w.name}: {_first_part(w.fruit.cost)}" for w in shown)
    lives = "It will live; what it costs depends" if case.question.has("asks", "harm") else "It depends"
    return sentence(f"{lives} on the kind: {brief}")


def _first_part(cost: str) -> str:
    for sign in ".;:":
        cost = cost.partition(sign)[0]
    return clause(cost)


def aftermath_entry(
    case: WoodyCase, entry: Mapping[str, Any], more: tuple[str, ...], plant: Woody | None = None
) -> Answer:
    """An answer of knowledge/pruning.toml, with ``more`` added to its details."""
    return Answer(
        question=case.question,
        verdict=verdict_of(str(entry["verdict"])),
        headline=str(entry["headline"]),
        details=(*entry["details"], *more),
        steps=tuple(entry["steps"]),
        changes=("Name the plant for its own rule.",) if plant is None else (),
        cautions=cautions(case.facts, "pruning", "blades").texts,
        sources=tuple(dict.fromkeys((*entry["sources"], *(plant.source_ids[:2] if plant else ())))),
    )
