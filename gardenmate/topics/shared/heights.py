"""How tall the plants are, beside what is to cover them: the room under a lid, and how high a cover has to stand."""

from __future__ import annotations

from gardenmate.core.question import Request, Typed
from gardenmate.core.units import INCH_CM, show_length_cm
from gardenmate.core.world import World

CLEAR_CM = 10.0
"""A cover stands this far above the leaves: where cloth touches one it freezes through (design value)."""


def height_typed(question: Request) -> Typed | None:
    """How tall the plants or their shoots are, in cm, as typed; None where it is not."""
    return question.first("size", "plants") or question.first("size", "shoots")


def room_under_cover(question: Request, world: World, *, frame: bool) -> tuple[str, ...]:
    """The room over plants of the height typed: under the lid of a ``frame``, else under a cover laid for the night."""
    size = height_typed(question)
    if size is None:
        return ()
    tall = show_length_cm(size.number, world.units)
    if not frame:
        hoops = show_length_cm(size.number + CLEAR_CM, world.units)
        return (
            f"At {tall} tall, a cover over them has to stand about {hoops} high to be clear of the leaves.",
        )
    room_cm = world.facts.table("protection")["frame"]["height_in"] * INCH_CM - size.number
    if room_cm < CLEAR_CM:
        return (
            f"At {tall} tall they reach the lid, and leaves that touch cold glass freeze first: tie them clear.",
        )
    left = show_length_cm(room_cm, world.units)
    return (
        f"At {tall} tall they stand about {left} below the lid: room enough for a cloth over them inside.",
    )
