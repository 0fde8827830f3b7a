"""What plants cost bought and what they cost raised: packets, mix, trays, energy, time. One currency.

A way of raising has a part that comes in steps (packets, trays) and a part per plant, so a total is always
worked out for a count of plants, and break-even points are searched, not solved.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil

from gardenmate.records import dataclass


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line of a bill: what, and how much money."""

    what: str
    money: float


@dataclass(frozen=True, slots=True)
class Bill:
    """A bill of lines for a number of plants."""

    plants: int
    lines: tuple[CostLine, ...]

    @property
    def total(self) -> float:
        """Sum of the lines."""
        return sum(line.money for line in self.lines)

    @property
    def each(self) -> float:
        """Money per plant. Raises ValueError for a bill without plants."""
        if self.plants <= 0:
            raise ValueError("a bill without plants has no price per plant")
        return self.total / self.plants

    def part(self, what: str) -> float:
        """Money of the lines called ``what``, 0 when there is none."""
        return sum(line.money for line in self.lines if line.what == what)


def packets(seeds: int, per_packet: int) -> int:
    """Whole packets for that many seeds."""
    if per_packet < 1:
        raise ValueError("a packet holds at least one seed")
    return ceil(max(0, seeds) / per_packet)


def spread(price: float, seasons: float) -> float:
    """The share of one season in something that lasts several."""
    if seasons <= 0:
        raise ValueError(f"seasons must be above zero, got {seasons:g}")
    return price / seasons


def cheaper(one: float, other: float, tolerance: float = 0.1) -> int:
    """1 when ``one`` is clearly below ``other``, -1 when clearly above, 0 within the tolerance (a share)."""
    if abs(one - other) <= tolerance * max(one, other):
        return 0
    return 1 if one < other else -1


def break_even_count(
    raised: Callable[[int], float], bought: Callable[[int], float], most: int = 400
) -> int | None:
    """The smallest number of plants from which raising costs no more than buying, and goes on doing so.

    Whole packets and trays make the bill climb in steps, so "from here on" is meant up to ``most`` plants.
    None when buying is cheaper all the way.
    """
    found = None
    for n in range(most, 0, -1):
        if raised(n) > bought(n):
            break
        found = n
    return found
