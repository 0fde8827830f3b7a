"""The place a statement names: with its region, known to the climate records, or asked back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gardenmate.climate.places import find_place
from gardenmate.core.errors import AmbiguousPlaceError, UsageError
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.records import dataclass

if TYPE_CHECKING:
    from gardenmate.climate.places import Place


@dataclass(frozen=True, slots=True)
class Settled:
    """The outcome: ``name`` to keep and the ``place`` it stands for, or a ``problem`` to ask back, with the
    candidates when several places share the name."""

    name: str = ""
    place: Place | None = None
    problem: str = ""
    candidates: tuple[str, ...] = ()


def settle(question: Request, world: World) -> Settled | None:
    """The place named in the question, None when it names none.

    The region typed beside a town ("boyzee idaho", "the other Hamilton, in Ontario") tells towns of one name
    apart; so does one given after the town was asked back ("sorry, Ontario").
    """
    said = question.slots.place
    if said is None:
        return None
    regions = [str(t.value) for t in question.all("region")]
    if question.slots.place_within is not None:
        regions = [question.slots.place_within, *regions]
    tries = [f"{said}, {_proper(region)}" for region in dict.fromkeys(regions)]
    before = _town_before(world)
    if before is not None and before.lower() != said.lower() and not _is_town(said, world):
        tries.append(f"{before}, {said}")
    tries.append(said)
    problem: UsageError | None = None
    for name in tries:
        try:
            return Settled(name, find_place(name, world.facts))
        except UsageError as error:
            problem = error
    assert problem is not None
    if isinstance(problem, AmbiguousPlaceError):
        return Settled(problem=problem.asked, candidates=problem.candidates)
    return Settled(problem=str(problem))


def _is_town(said: str, world: World) -> bool:
    """True for the name of a town: told after another town it is where the garden is, and no region of that one."""
    try:
        return find_place(said, world.facts).site is not None
    except UsageError:
        return False


def _proper(region: str) -> str:
    """A region as it is written: "Idaho", "BC"."""
    return region.upper() if len(region) <= 3 else region.title() if region.islower() else region


def _town_before(world: World) -> str | None:
    """The town of the statement before, when that was about the garden's place."""
    previous = world.previous
    if previous is None or previous.question.topic != "garden":
        return None
    return previous.question.slots.place
