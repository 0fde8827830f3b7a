"""Woody plants to prune, and tender plants to cover tonight."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.question import CropRef
from gardenmate.core.world import World
from gardenmate.knowledge.woody import woody_for
from gardenmate.plantings.current import batches_of
from gardenmate.records import dataclass, replace
from gardenmate.topics.agenda.item import Item, crop_words, decisions_on, make_item, wanted_crops
from gardenmate.topics.pruning.seasons import cuts
from gardenmate.topics.shared.grammar import listed
from gardenmate.topics.shared.woody_phase import spring_at

_OUTSIDE = frozenset({"hardening", "out", "picking"})
_SEASON_DAYS = 200  # days in which a cut told counts for this season; design value
_FROST_C = 2.0  # at head height; the ground may freeze under a clear sky (common practice)


def plant_items(world: World, until: date) -> list[Item]:
    """Pruning of the garden's woody plants, from their own seasons."""
    if not world.garden.plants:
        return []
    spring = spring_at(world)
    found: list[Item] = []
    for plant in world.garden.plants:
        woody = woody_for(world.facts, CropRef(plant.id, plant.kind))
        if woody is None:
            continue
        if (
            plant.planted_year is not None
            and world.today.year - plant.planted_year < woody.limits.min_age_years
        ):
            continue
        for cut in cuts(woody, spring):
            if cut.lesser:
                continue
            done = decisions_on(world, woody.base, cut.start - timedelta(days=14))
            if any(d.action in ("prune", "skip") for d in done):
                continue
            third = (cut.end - cut.start) / 3
            item = make_item(
                world,
                "prune",
                woody.base,
                woody.base.replace("-", " "),
                opens=cut.start,
                best_by=cut.end - third,
                closes=cut.end,
                until=until,
                way_out=_next_cut(woody.base, world),
            )
            if item is not None:
                found.append(item)
    return found


def _next_cut(name: str, world: World) -> str:
    return f"ask 'can I still prune the {name.replace('-', ' ')}?'; dead wood may come out at any time"


def frost_items(world: World, tonight_c: float | None) -> list[Item]:
    """Cover or bring in, when the low said for tonight endangers something that stands outside."""
    if tonight_c is None or tonight_c > _FROST_C + 1.0:
        return []
    outside = _outside(world, tonight_c)
    item = make_item(
        world,
        "cover",
        outside[0].id if len(outside) == 1 else "",
        listed(name.text for name in outside) if outside else "everything tender outdoors",
        opens=world.today,
        best_by=world.today,
        closes=world.today,
        until=world.today,
    )
    if item is None:
        return []
    return [replace(item, status="frost", weight=99.0)]


@dataclass(frozen=True, slots=True)
class _Name:
    """A crop that stands outside: its contract id and the word for it."""

    id: str
    text: str


def _outside(world: World, low_c: float) -> list[_Name]:
    """Crops this night would hurt: those the frost question named, else those logged as set out, planted or
    hardening this season, else the tender ones wanted."""
    before = world.previous.question if world.previous is not None else None
    if before is not None and before.topic == "frost" and before.crops:
        named = [c for ref in before.crops if (c := world.facts.crop_for(ref)) is not None]
        return [_Name(c.base, crop_words(c)) for c in named if c.frost.damage_below_c >= low_c]
    since = world.today - timedelta(days=_SEASON_DAYS)
    outside = [b for b in batches_of(world.journal) if b.alive and b.since >= since and b.stage in _OUTSIDE]
    found: dict[str, _Name] = {}
    for batch in outside:
        crop = world.facts.crop_for(CropRef(batch.crop, batch.kind))
        if crop is not None and crop.frost.damage_below_c >= low_c:
            found[batch.crop] = _Name(batch.crop, crop_words(crop))
    if outside:
        return list(found.values())
    crops, said = wanted_crops(world)
    if said:
        return [_Name(c.base, crop_words(c)) for c in crops if c.warm and c.frost.damage_below_c >= low_c]
    return []
