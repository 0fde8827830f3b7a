"""Winter chill and the warmth that ends it: hours counted, an hourly course from daily extremes.

Every function is one published method. Temperatures in degrees C; a sequence of hourly temperatures is in
time order without gaps.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log, pi, sin, sqrt

from gardenmate.science.thermal_time import degree_days_sine

CHILL_CEILING_C = (45.0 - 32.0) / 1.8
"""45 F: the warm end of a chill hour."""
_EDGE = 1e-9  # 45.0 F must count although 7.2222... C is not exact in binary
_NO_CUT_OFF_C = 99.0  # degrees C: warmer than any day


def chill_hours(hourly_c: Sequence[float]) -> int:
    """Hours at or below 45 F.

    Source: UC Davis Fruit and Nut Research and Information Center, About Chilling Hours, Units, and Portions.
    """
    return sum(1 for t in hourly_c if t <= CHILL_CEILING_C + _EDGE)


def hourly_course(
    min_c: float, max_c: float, next_min_c: float, day_length_hours: float
) -> tuple[float, ...]:
    """24 hourly temperatures from sunrise to the next sunrise: a sine by day, a logarithmic fall by night.

    ``next_min_c`` is the minimum at the end of the night. Source: Linvill, HortScience 25(1), 1990. Day
    length is held between 2 and 22 hours, where the curve is defined.
    """
    day = min(max(day_length_hours, 2.0), 22.0)
    swing = max_c - min_c
    sunset_c = min_c + swing * sin(pi * day / (day + 4.0))
    fall = (sunset_c - next_min_c) / log(24.0 - day)
    hours: list[float] = []
    for hour in range(24):
        if hour <= day:
            hours.append(min_c + swing * sin(pi * hour / (day + 4.0)))
        else:
            hours.append(sunset_c - fall * log(max(1.0, hour - day)))
    return tuple(hours)


def expected_degree_days(min_c: float, max_c: float, base_c: float, day_spread_c: float) -> float:
    """Degree-days an average day gathers when single days vary by ``day_spread_c`` (one sd) around normals.

    The sine-wave sum is averaged over a normal spread (three-point Gauss-Hermite rule), so that a March whose
    normal lies under the base still gathers what its warm days bring.
    """
    step = day_spread_c * sqrt(3.0)
    middle = degree_days_sine(min_c, max_c, base_c, _NO_CUT_OFF_C)
    if step == 0.0:
        return middle
    cold = degree_days_sine(min_c - step, max_c - step, base_c, _NO_CUT_OFF_C)
    warm = degree_days_sine(min_c + step, max_c + step, base_c, _NO_CUT_OFF_C)
    return (4.0 * middle + cold + warm) / 6.0
