"""How many seeds, cells, trays and how much row for a number of plants: exact binomial and plain geometry.

A *chance* is 0..1, lengths are cm, areas m2. Functions raise ValueError for figures without meaning.
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil, exp, floor, lgamma, log, log1p

_MOST = 1_000_000  # tries: beyond any garden


def chance_of_at_least(wanted: int, tries: int, chance: float) -> float:
    """P(X >= wanted) for X binomial(tries, chance): the sum of the exact terms on the shorter side."""
    _a_chance(chance)
    if wanted <= 0:
        return 1.0
    if wanted > tries or chance == 0.0:
        return 0.0
    if chance == 1.0:
        return 1.0
    if wanted > tries * chance:  # the upper tail is the short one
        return min(1.0, _terms(wanted, tries, tries, chance))
    return max(0.0, 1.0 - _terms(0, wanted - 1, tries, chance))


def _terms(first: int, last: int, n: int, p: float) -> float:
    """Sum of the binomial probabilities of ``first`` to ``last`` in ``n``.

    The largest of them is found through logarithms, so that nothing overflows; the others follow from it by
    the ratio of neighbours, outwards until they no longer count.
    """
    top = min(last, max(first, floor((n + 1) * p)))
    log_top = lgamma(n + 1) - lgamma(top + 1) - lgamma(n - top + 1) + top * log(p) + (n - top) * log1p(-p)
    odds = p / (1.0 - p)
    total = term = exp(log_top)
    for k in range(top, last):
        term *= (n - k) / (k + 1) * odds
        total += term
        if term < 1e-18:
            break
    term = exp(log_top)
    for k in range(top, first, -1):
        term *= k / (n - k + 1) / odds
        total += term
        if term < 1e-18:
            break
    return total


@lru_cache(maxsize=4096)
def tries_needed(wanted: int, chance: float, confidence: float = 0.9) -> int:
    """The fewest tries (seeds, or cells) of which at least ``wanted`` succeed with this confidence."""
    _a_chance(chance)
    if not 0.0 < confidence < 1.0:
        raise ValueError(f"confidence must lie between 0 and 1, got {confidence:g}")
    if wanted <= 0:
        return 0
    if chance == 0.0:
        raise ValueError("nothing comes of seed that never comes up")
    low, high, step = wanted, max(wanted, ceil(wanted / chance)), 1
    while chance_of_at_least(wanted, high, chance) < confidence:
        low, high, step = high + 1, high + step, 2 * step
        if high > _MOST:
            raise ValueError("that many seeds cannot be counted out")
    while low < high:
        middle = (low + high) // 2
        if chance_of_at_least(wanted, middle, chance) >= confidence:
            high = middle
        else:
            low = middle + 1
    return low


def cell_chance(germination: float, seeds_per_cell: int, loss_after: float = 0.0) -> float:
    """Chance that a cell (or a station in the row) ends with a plant: one of its seeds comes up, and the
    seedling that is kept is not lost later."""
    _a_chance(germination)
    _a_chance(loss_after)
    if seeds_per_cell < 1:
        raise ValueError("a cell needs at least one seed")
    return (1.0 - (1.0 - germination) ** seeds_per_cell) * (1.0 - loss_after)


def trays_needed(cells: int, cells_per_tray: int) -> int:
    """Whole trays for that many cells."""
    if cells_per_tray < 1:
        raise ValueError("a tray has at least one cell")
    return ceil(max(0, cells) / cells_per_tray)


def plants_in_row(row_cm: float, spacing_cm: float, *, both_ends: bool = True) -> int:
    """Plants in one row. ``both_ends``: one stands at each end of the row, else each has its own spacing."""
    if spacing_cm <= 0:
        raise ValueError(f"spacing must be above zero, got {spacing_cm:g}")
    if row_cm < 0:
        raise ValueError(f"a row cannot be {row_cm:g} cm long")
    return floor(row_cm / spacing_cm + 1e-9) + (1 if both_ends else 0)


def plants_in_bed(width_cm: float, length_cm: float, spacing_cm: float, row_cm: float) -> int:
    """Plants in a bed of straight rows along its length; half a row distance is left at each side."""
    if row_cm <= 0:
        raise ValueError(f"row distance must be above zero, got {row_cm:g}")
    rows = max(1, floor(width_cm / row_cm + 1e-9))
    return rows * plants_in_row(length_cm, spacing_cm, both_ends=False)


def mix_litres(cells: float, cell_cm3: float, settling: float = 1.0) -> float:
    """Litres of mix for that many cells or pots; ``settling`` (1.15) buys for mix that sinks."""
    if cell_cm3 < 0 or settling < 1.0:
        raise ValueError("cell volume must not be negative, nor settling below 1")
    return max(0.0, cells) * cell_cm3 * settling / 1000.0


def _a_chance(value: float) -> None:
    if not 0.0 <= value <= 1.0:
        raise ValueError(f"a chance lies between 0 and 1, got {value:g}")
