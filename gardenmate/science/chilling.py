"""Winter chill and the warmth that ends it: units by the hour, an hourly course from daily extremes.

Every function is one published method. Temperatures in degrees C unless a name says ``_f``; a sequence of
hourly temperatures is in time order without gaps. Totals of different methods cannot be compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, exp, log, pi, sin, sqrt

from gardenmate.science.thermal_time import degree_days_sine

CHILL_CEILING_C = (45.0 - 32.0) / 1.8
"""45 F: the warm end of a chill hour."""
_EDGE = 1e-9  # 45.0 F must count although 7.2222... C is not exact in binary
_NO_CUT_OFF_C = 99.0

Bands = Sequence[tuple[float, float]]
"""(warm edge, weight), coldest band first; a temperature on an edge belongs to the cooler band."""


def chill_hours(hourly_c: Sequence[float], floor_c: float | None = None) -> int:
    """Hours at or below 45 F; with ``floor_c`` (0 C in the 32-45 F count) only those not colder than it.

    Source: UC Davis Fruit and Nut Research and Information Center, About Chilling Hours, Units, and Portions.
    """
    low = -1e9 if floor_c is None else floor_c - _EDGE
    return sum(1 for t in hourly_c if low <= t <= CHILL_CEILING_C + _EDGE)


def banded_units(hourly: Sequence[float], bands: Bands, *, negative: bool = True) -> float:
    """Chill units by a table of weights, such as the Utah table of 1974, in the table's own degrees.

    ``negative`` False drops the weights below zero (positive chill units). Above the last edge its weight
    holds on.
    """
    total = 0.0
    for t in hourly:
        weight = next((w for edge, w in bands if t <= edge + _EDGE), bands[-1][1])
        total += weight if negative or weight > 0.0 else 0.0
    return total


def utah_start(hourly_units: Sequence[float]) -> int:
    """Index of the hour the Utah count starts: just after the running total is most negative in autumn."""
    low, at, running = 0.0, 0, 0.0
    for i, unit in enumerate(hourly_units, start=1):
        running += unit
        if running < low:
            low, at = running, i
    return at


def dynamic_portions(hourly_c: Sequence[float]) -> float:
    """Chill portions of the Dynamic model (Fishman, Erez and Couvillon 1987), from zero.

    An intermediate gathers in the cold and falls apart in warmth; each time it reaches 1 a share that depends
    on temperature is kept for good. Kelvin is Celsius + 273 exactly, as in the published spreadsheet.
    """
    e0, e1, a0, a1, slope, tf = 4153.5, 12888.8, 139500.0, 2.567e18, 1.6, 277.0
    portions = level = share = 0.0
    for t in hourly_c:
        kelvin = t + 273.0
        target = a0 / a1 * exp((e1 - e0) / kelvin)
        rate = a1 * exp(-e1 / kelvin)
        start = level if level < 1.0 else level * (1.0 - share)
        level = target - (target - start) * exp(-rate)
        z = exp(slope * tf * (kelvin - tf) / kelvin)
        share = z / (1.0 + z)
        if level >= 1.0:
            portions += share * level
    return portions


def growing_degree_hour(temp_c: float) -> float:
    """Growing degree hours of one hour by the asymmetric curve (Acta Horticulturae 184, 1986).

    0 at 4 C and below, 21 at 25 C, 0 again from 36 C.
    """
    base, best, top = 4.0, 25.0, 36.0
    if temp_c <= base or temp_c >= top:
        return 0.0
    if temp_c <= best:
        return 0.5 * (best - base) * (1.0 + cos(pi + pi * (temp_c - base) / (best - base)))
    return (best - base) * (1.0 + cos(0.5 * pi + 0.5 * pi * (temp_c - best) / (top - best)))


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
