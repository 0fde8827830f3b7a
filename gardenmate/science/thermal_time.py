"""Thermal time: degree-days of a day, of a season, and how long a need takes to run out.

Temperatures in degrees C, degree-days in C-days. Horizontal upper cut-off: warmth above ``upper_c`` does not
count. Sources: Baskerville & Emin 1969 (single sine).
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate
from math import acos, pi, sqrt

DAY_SD_C = 3.0
"""How far real days scatter about the normal of the date in the growing season, degrees C (sd of daily means:
2.8 to 4.0 in the daily records the published checks use)."""


def degree_days_sine(min_c: float, max_c: float, base_c: float, upper_c: float) -> float:
    """Degree-days of one day from its minimum and maximum, the day's course taken as a sine wave."""
    if upper_c <= base_c:
        return 0.0
    return _sine_above(min_c, max_c, base_c) - _sine_above(min_c, max_c, upper_c)


def _sine_above(min_c: float, max_c: float, threshold_c: float) -> float:
    """Degree-days above one threshold under a sine between ``min_c`` and ``max_c``."""
    if max_c <= threshold_c:
        return 0.0
    mean = 0.5 * (min_c + max_c)
    if min_c >= threshold_c:
        return mean - threshold_c
    half = 0.5 * (max_c - min_c)
    x = (threshold_c - mean) / half
    return ((mean - threshold_c) * acos(x) + half * sqrt(1.0 - x * x)) / pi


def usual_degree_days(
    min_c: float, max_c: float, base_c: float, upper_c: float, most: float, day_sd_c: float
) -> float:
    """Degree-days a day of these *normals* gives on average, when real days scatter about them.

    A normal day is smoother than the days behind it: base and ceiling cut real days more. The mean over a
    normal scatter of ``day_sd_c`` (degrees C) is taken at the three Gauss-Hermite points; no day counts more
    than ``most``.
    """
    far = 1.7320508 * day_sd_c
    low = min(most, degree_days_sine(min_c - far, max_c - far, base_c, upper_c))
    middle = min(most, degree_days_sine(min_c, max_c, base_c, upper_c))
    high = min(most, degree_days_sine(min_c + far, max_c + far, base_c, upper_c))
    return (low + 4.0 * middle + high) / 6.0


def cumulative(per_day: Sequence[float]) -> list[float]:
    """Running total with a leading zero: item i is what had gathered before day i."""
    return list(accumulate(per_day, initial=0.0))


def day_reached(total: Sequence[float], start: int, need: float) -> int | None:
    """First index i >= ``start`` with ``total[i] - total[start] >= need``; None when the record ends first.

    ``total`` is a running total from `cumulative` (never falling).
    """
    wanted = total[start] + need - 1e-9
    i = bisect_left(total, wanted, lo=start)
    return i if i < len(total) else None
