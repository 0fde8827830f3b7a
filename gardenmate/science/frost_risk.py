"""Chances with two uncertain dates: when a crop is ready, and when the season ends. Days in, chances out."""

from __future__ import annotations

from functools import lru_cache
from math import erf, sqrt

_WIDEST_Z = 9.0  # a normal value is farther out once in 1e18


def normal_cdf(z: float) -> float:
    """Chance that a standard normal value is at most ``z``."""
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))


def chance_before(ready: float, ready_sd: float, end: float, end_sd: float) -> float:
    """Chance that ``ready`` comes on or before ``end`` when both are normal and independent (day numbers)."""
    sd = sqrt(ready_sd * ready_sd + end_sd * end_sd)
    if sd == 0.0:
        return 1.0 if ready <= end else 0.0
    return normal_cdf((end - ready) / sd)


def chance_still_to_come(day: float, mean: float, sd: float) -> float:
    """Chance that an event with a normal date is after ``day``: a last spring freeze still to come."""
    if sd == 0.0:
        return 1.0 if mean > day else 0.0
    return 1.0 - normal_cdf((day + 0.5 - mean) / sd)


@lru_cache(maxsize=256)
def standard_quantile(probability: float) -> float:
    """The z below which a standard normal value lies with this probability (0 < p < 1).

    Raises ValueError outside that range. Halving finds it as exactly as `statistics.NormalDist`, which would
    bring decimal, fractions and random into every start (7 ms).
    """
    if not 0.0 < probability < 1.0:
        raise ValueError(f"a probability lies between 0 and 1, not {probability}")
    if probability > 0.5:  # the lower tail keeps more digits
        return -standard_quantile(1.0 - probability)
    low, high = -_WIDEST_Z, 0.0
    for _ in range(60):
        middle = (low + high) / 2
        if normal_cdf(middle) < probability:
            low = middle
        else:
            high = middle
    return high
