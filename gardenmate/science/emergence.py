"""Days and percent of emergence at a soil temperature, from tabulated trials.

Between tabulated temperatures the *rate* (1/days) is interpolated, because growth adds up as rate, not as
days. Below the table the rate falls on a straight line to nothing; above it, no seed is promised.
Temperatures in degrees C. A curve is ((temperature, days), ...) sorted by temperature.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

Curve = Sequence[tuple[float, float]]


def emergence_rate(curve: Curve, soil_c: float) -> float:
    """Share of emergence gained in one day (1/days) at ``soil_c``; 0 outside what the crop comes up in."""
    if not curve:
        raise ValueError("an emergence curve needs at least one point")
    first_c, first_days = curve[0]
    last_c, last_days = curve[-1]
    if soil_c > last_c:
        # Tables stop where seed stops coming up: the rate dies out over the next 3 C.
        return max(0.0, (1.0 - (soil_c - last_c) / 3.0) / last_days)
    if soil_c <= first_c:
        return _below(curve, soil_c) if len(curve) > 1 else (1.0 / first_days if soil_c == first_c else 0.0)
    for (low_c, low_days), (high_c, high_days) in pairwise(curve):
        if soil_c <= high_c:
            share = (soil_c - low_c) / (high_c - low_c)
            return (1.0 - share) / low_days + share / high_days
    raise AssertionError("unreachable: the curve is sorted")


def _below(curve: Curve, soil_c: float) -> float:
    """Rate below the first point: the line through the first two points, no steeper than to 0 at 6 C less."""
    (low_c, low_days), (high_c, high_days) = curve[0], curve[1]
    low, high = 1.0 / low_days, 1.0 / high_days
    slope = max((high - low) / (high_c - low_c), low / 6.0)
    return max(0.0, low - slope * (low_c - soil_c))


def days_to_emerge(curve: Curve, soil_c: float) -> float | None:
    """Days from sowing to emergence at a steady soil temperature; None when it will not come up."""
    rate = emergence_rate(curve, soil_c)
    return 1.0 / rate if rate > 1.0 / 200.0 else None


def percent(curve: Curve, soil_c: float) -> float | None:
    """Percent of seed that comes up at ``soil_c``; None for an empty table, 0 beyond it by more than 3 C.

    ``curve`` here is ((temperature, percent), ...), interpolated on a straight line.
    """
    if not curve:
        return None
    if soil_c < curve[0][0]:
        return max(0.0, curve[0][1] * (1.0 - (curve[0][0] - soil_c) / 3.0))
    if soil_c > curve[-1][0]:
        return max(0.0, curve[-1][1] * (1.0 - (soil_c - curve[-1][0]) / 3.0))
    for (low_c, low), (high_c, high) in pairwise(curve):
        if soil_c <= high_c:
            return low + (high - low) * (soil_c - low_c) / (high_c - low_c)
    return curve[-1][1]


def emerges_on(curve: Curve, soil_by_day_c: Sequence[float], start: int) -> int | None:
    """Index of the day on which seed sown on day ``start`` is up, as daily rates add up to one.

    None when the record ends first.
    """
    grown = 0.0
    for i in range(start, len(soil_by_day_c)):
        grown += emergence_rate(curve, soil_by_day_c[i])
        if grown >= 1.0:
            return i + 1
    return None


def from_range(fast_days: float, slow_days: float, optimum_c: float, minimum_c: float) -> Curve:
    """A rough curve where only a range of days is published: the fast end at the optimum, the slow end half
    way down to the minimum, where the rate line starts. Used only where no trial table exists."""
    half = 0.5 * (optimum_c + minimum_c)
    return ((half, slow_days), (optimum_c, fast_days), (optimum_c + 6.0, fast_days))
