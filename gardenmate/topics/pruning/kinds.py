"""Which kind of a plant is meant: as said, as the garden has it, or as gardens of the place usually grow."""

from __future__ import annotations

from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.shared.woody_phase import Spring
from gardenmate.topics.shared.woody_text import joined

_NORTH_AMERICA = ("US", "CA", "MX")


def cut_differently(kinds: tuple[Woody, ...]) -> tuple[Woody, ...]:
    """The kinds that are cut so differently that one answer would be wrong for the other; none, or two."""
    return tuple(w for w in kinds if w.cut_differently)


def match_kind(kinds: tuple[Woody, ...], said: str | None) -> Woody | None:
    """The kind a word names ("autumn", "sour", "panicle hydrangea"); None when nothing was said or fits.

    A plant that comes in one kind only needs no word.
    """
    if len(kinds) == 1:
        return kinds[0]
    if not said:
        return None
    word = said.lower().replace("_", "-")
    exact = next((w for w in kinds if w.kind == word), None)
    if exact is not None:
        return exact
    plain = word.replace("-", " ")
    return next((w for w in kinds if any(plain in n.lower().replace("-", " ") for n in w.names)), None)


def usual_kind(kinds: tuple[Woody, ...], spring: Spring, world: World) -> Woody:
    """The kind gardens of the place usually grow: European elder in Europe, low-chill blueberries in mild
    winters, else the default kind."""
    country = world.site.country if world.site else world.sites[0].country if world.sites else None
    here = {"outside-north-america"} if country is not None and country not in _NORTH_AMERICA else set()
    here |= {"mild-winters"} if spring.mild else set()
    return next((w for w in kinds if w.usual_where in here), kinds[0])


def garden_kind(base: str, world: World) -> str | None:
    """The kind the garden file names for a plant."""
    return next((p.kind for p in world.garden.plants if p.id == base and p.kind), None)


def assumed_kind(plant: Woody, kinds: tuple[Woody, ...]) -> tuple[str, ...]:
    """What is said when a kind was taken for granted."""
    others = joined((w.name for w in kinds if w is not plant), "or")
    return (f"{plant.name[0].upper()}{plant.name[1:]}; tell me if it is {others}, which is cut differently.",)
