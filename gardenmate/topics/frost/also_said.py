"""What is said beside the night, how tall the plants are and how warm the days: each is weighed aloud."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.units import show_length_cm, show_temp
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.frost.outlook import TALL_CM, regrowth_of
from gardenmate.topics.shared.heights import height_typed, room_under_cover
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

EARTHED_CM = 20.0
"""Tops no taller than this can be drawn over with soil (design value, common practice for potatoes)."""


def with_also_said(
    found: Answer, question: Request, world: World, crops: Sequence[Named], *, past: bool
) -> Answer:
    """The answer with a word on the height and the days typed; ``past``: the frost has been."""
    lines = [*_height(question, world, crops, past), *_days(question, world)]
    if not lines:
        return replace(found, details=(*found.details, *_clear_of_cover(question, world, past)))
    return replace(found, headline=" ".join((found.headline, *lines)))


def _clear_of_cover(question: Request, world: World, past: bool) -> tuple[str, ...]:
    """How high a cover must stand over plants of the height typed; what of it, where the frost has been."""
    cover = question.cue("cover")
    if cover in ("greenhouse", "tunnel") or any(world.facts.crop_for(ref) is None for ref in question.crops):
        return ()
    if past and height_typed(question) is not None:
        return ("How tall they are makes no difference to that.",)
    return room_under_cover(question, world, frame=cover == "frame")


def _height(question: Request, world: World, crops: Sequence[Named], past: bool) -> tuple[str, ...]:
    size = question.first("size", "plants")
    if size is None or len(crops) != 1:
        return ()
    p, regrowth = plants(crops[0]), regrowth_of(crops[0].crop, world)
    tall = f"At {show_length_cm(size.number, world.units)}"
    if regrowth is None:
        return ()
    if regrowth.stores and past:
        return ("How tall the tops are makes no difference to that.",)
    if regrowth.stores:
        low = size.number <= EARTHED_CM
        return (
            f"{tall} {p.they} can be earthed over."
            if low
            else f"{tall} {p.they} {p.are} too tall to earth over.",
        )
    if regrowth.young:
        where = "still below" if size.number <= TALL_CM else "above"
        return (f"{tall} the growing point is {where} ground.",)
    return ()


def _days(question: Request, world: World) -> tuple[str, ...]:
    days = [t.celsius for t in question.slots.temps if t.role == "high"]
    nights = any(t.role == "low" for t in question.slots.temps)
    if not days or not nights:
        return ()
    return (f"A day of {show_temp(max(days), world.units)} does not soften the night.",)
