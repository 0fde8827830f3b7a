"""A region stands for its places: few enough to answer at once, from its coldest to its warmest."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gardenmate.climate.site import Site
    from gardenmate.knowledge.facts import Facts

MOST_PLACES = 9  # places of a region asked; design value
MOST_PLACES_FOR_A_LIST = 5
"""With many crops at once: a place costs twenty plans."""


def in_sentence(region: str | None, facts: Facts) -> str:
    """A region as a sentence names it: "the Midwest", "Ohio"; "the region" for none."""
    if region is None:
        return "the region"
    return f"the {region}" if region.lower() in facts.table("regions")["article"]["the"] else region


def spread_out(sites: Sequence[Site], most: int = MOST_PLACES) -> list[Site]:
    """At most ``most`` (two or more) places of a region, evenly from its coldest to its warmest, both ends
    among them. In the order they came when all are taken."""
    if len(sites) <= most:
        return list(sites)
    ranked = sorted(sites, key=lambda s: sum(s.monthly_min_c) + sum(s.monthly_max_c))
    last = len(ranked) - 1
    return [ranked[round(i * last / (most - 1))] for i in range(most)]
