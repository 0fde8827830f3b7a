"""Figures of crops in a frame or house: the nights they grow on, the limits of air, what a house keeps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.shared.raising import Named

Likes = Literal["cool", "warm", "either"]
SUN_SOURCE = ("sandia-national-laboratories-sand2012-2389-2012",)


@dataclass(frozen=True, slots=True)
class Vent:
    """Inside temperatures that call for air, degrees C: from ``crack_c`` a little, from ``open_c`` surely."""

    likes: Likes
    crack_c: float
    open_c: float
    shut_c: float
    harm_c: float
    cook_c: float
    prop_outside_c: float
    wide_outside_c: float


def vent_limits(world: World, crops: Sequence[Named]) -> Vent:
    """When to open for these crops; for a mixed or unknown lot, between the cool and the warm figures."""
    table: dict[str, Any] = world.facts.table("protection")["venting"]
    seasons = {n.crop.season for n in crops}
    cool, warm = table["cool_open_f"], table["warm_open_f"]
    likes: Likes
    if seasons == {"warm"}:
        likes, crack, top, shut = "warm", warm[0], warm[1], table["warm_shut_f"]
    elif seasons == {"cool"}:
        likes, crack, top, shut = "cool", cool[0], cool[1], table["cool_shut_f"]
    else:
        likes, crack, top, shut = "either", cool[1], warm[0], table["warm_shut_f"]
    return Vent(
        likes, f_to_c(crack), f_to_c(top), f_to_c(shut), f_to_c(table["harm_f"]), f_to_c(table["cook_f"]),
        f_to_c(table["outside_prop_f"]), f_to_c(table["outside_open_f"]),
    )  # fmt: skip


def night_row(world: World, named: Named) -> Mapping[str, Any]:
    """Night temperatures of a crop; one without its own row is judged by its season's."""
    found = world.facts.group_of(named.crop, "night")
    if found is not None:
        return found
    table = world.facts.table("protection")
    usual: Mapping[str, Any] = table["night"][table["night_default"][named.crop.season]]
    return usual
