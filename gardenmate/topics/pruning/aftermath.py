"""A cut already made: what it costs, and what to do now."""

from __future__ import annotations

import re

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.pruning.advice import verdict_of
from gardenmate.topics.pruning.kinds import assumed_kind, cut_differently, garden_kind, match_kind, usual_kind
from gardenmate.topics.pruning.one_plant import plant_age
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_phase import spring_at
from gardenmate.topics.shared.woody_text import clause, in_units, sentence

_LIVES = {
    "yes": "No lasting harm, it will live",
    "tight": "It will live, at a price",
    "no": "It may take years to make good, and cut to bare old wood it may not come back",
}


def aftermath(question: Request, world: World, known: list[tuple[CropRef, tuple[Woody, ...]]]) -> Answer:
    """What follows from a cut or a freeze that has already been, and what to do now."""
    table = world.facts.table("pruning")["aftermath"]
    if not known:
        return aftermath_entry(question, world, table["cut_too_late"], ())
    ref, kinds = known[0]
    spring = spring_at(world)
    chosen = match_kind(kinds, ref.kind or question.ask.kind or garden_kind(ref.id, world))
    if question.cue("bud_stage") == "bloom" and kinds[0].group in ("pome", "stone", "tree", "ornamental"):
        plant = chosen or usual_kind(kinds, spring, world)
        when = sentence(f"the right time for the {plant.name}: {plant.seasons[0].window}")
        return aftermath_entry(question, world, table["out_of_season_bloom"], (when,), plant)
    shown = (chosen,) if chosen else cut_differently(kinds)
    shown = shown or (usual_kind(kinds, spring, world),)
    bleeds = question.cue("past_cut") == "bleeds" or question.has("look", "bleeding")
    if bleeds:
        shown = shown[:1]
        lines = [sentence(shown[0].care.bleeding or table["cut_too_late"]["headline"])]
    else:
        lines = [sentence(w.fruit.cost if len(shown) == 1 else f"{w.name}: {w.fruit.cost}") for w in shown]
    if len(shown) == 1 and not bleeds and question.has("asks", "harm"):
        hard = question.cue("cut_low") or question.cue("asks") == "hard" or question.has("cut", "hard")
        lives = _LIVES[shown[0].limits.ground_cut] if hard else "It will live"
        lines = [f"{lives}: {clause(lines[0])}."]
    brief = "; ".join(f"{w.name}: {clause(re.split(r'[.:;]', w.fruit.cost)[0])}" for w in shown)
    age, _ = plant_age(question, world, shown[0])
    young = age is not None and age < shown[0].limits.min_age_years
    more = ("It was still young: let it grow on and only tidy it this year and next.",) if young else ()
    return Answer(
        question=question,
        verdict=None,
        headline=lines[0] if len(shown) == 1 else sentence(f"It depends on the kind: {brief}"),
        details=(
            *(lines if len(shown) > 1 else ()),
            *more,
            *table["cut_too_late"]["details"],
            *(in_units(f"Next time, {w.name}: {w.seasons[0].window}.", world.units) for w in shown),
        ),
        asks=tuple(f"It is {w.name}" for w in shown) if len(shown) > 1 else (),
        assumptions=() if chosen or len(shown) > 1 else assumed_kind(shown[0], kinds),
        cautions=cautions(world.facts, "pruning", "blades").texts,
        sources=tuple(dict.fromkeys(s for w in shown for s in (*w.fruit.sources, *w.seasons[0].sources))),
    )


def aftermath_entry(
    question: Request,
    world: World,
    entry: dict[str, list[str]],
    more: tuple[str, ...],
    plant: Woody | None = None,
) -> Answer:
    """An answer of knowledge/pruning.toml, with ``more`` added to its details."""
    headline = entry["headline"]
    sources = tuple(entry["sources"])
    return Answer(
        question=question,
        verdict=verdict_of(str(entry["verdict"])),
        headline=str(headline),
        details=(*entry["details"], *more),
        steps=tuple(entry["steps"]),
        changes=("Name the plant for its own rule.",) if plant is None else (),
        cautions=cautions(world.facts, "pruning", "blades").texts,
        sources=tuple(dict.fromkeys((*sources, *(plant.source_ids[:2] if plant else ())))),
    )
