"""What a night of frost is about where no plant is named: the plants the log says stand outside."""

from __future__ import annotations

from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.plantings.current import batches_of
from gardenmate.records import replace

_OUT = frozenset({"hardening", "out", "picking"})


def with_plants_outside(question: Request, world: World) -> Request:
    """The question, about the plants that stand outside where it names none and some are known."""
    if question.crops or question.cue("unknown") or question.cue("other_plant"):
        return question
    alive = [b for b in batches_of(world.journal) if b.alive and b.stage in _OUT and not b.garden]
    crops = tuple(
        CropRef(c) for c in dict.fromkeys(b.crop for b in alive) if world.facts.crop_for(CropRef(c))
    )
    if not crops:
        return question
    said = "about what you have outside"
    return replace(question, crops=crops, reading="; ".join(r for r in (question.reading, said) if r))
