"""Soil temperature from air temperature: the yearly wave of the daily mean, damped and late with depth.

The wave falls by exp(-z/d) and lags z/d radians, with d the damping depth of the yearly wave,
sqrt(2 k / omega). Source: the conduction equation as in FAO-56 and the soil-physics textbooks; the thermal
diffusivity of moist garden soil, about 0.5e-6 m2/s, is common practice.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, pi, sqrt

DIFFUSIVITY_M2_S = 0.5e-6  # of moist garden soil (common practice)
_YEAR_DAYS = 365.0  # days
_OMEGA_PER_S = 2.0 * pi / (_YEAR_DAYS * 86400.0)  # radians a second of the yearly wave


def damping_depth_m(diffusivity_m2_s: float = DIFFUSIVITY_M2_S) -> float:
    """Depth at which the yearly wave has fallen to 1/e, metres."""
    return sqrt(2.0 * diffusivity_m2_s / _OMEGA_PER_S)


def lag_days(depth_cm: float, diffusivity_m2_s: float = DIFFUSIVITY_M2_S) -> float:
    """How many days the yearly wave runs behind the air at a depth."""
    return depth_cm / 100.0 / damping_depth_m(diffusivity_m2_s) / (2.0 * pi) * _YEAR_DAYS


def soil_means_c(
    daily_mean_c: Sequence[float], depth_cm: float = 7.5, diffusivity_m2_s: float = DIFFUSIVITY_M2_S
) -> list[float]:
    """Daily soil temperature (degrees C) at a depth for one year of smooth daily mean air temperatures.

    The list is a closed year: day 0 follows the last. Frozen ground is held near 0 C by the freezing of
    its water, so air below freezing counts a quarter (snow and ice; common practice).
    """
    n = len(daily_mean_c)
    held = [t if t >= 0.0 else 0.25 * t for t in daily_mean_c]
    mean = sum(held) / n
    damp = exp(-depth_cm / 100.0 / damping_depth_m(diffusivity_m2_s))
    lag = lag_days(depth_cm, diffusivity_m2_s)
    whole, part = int(lag), lag - int(lag)
    return [
        mean + damp * ((1.0 - part) * held[(i - whole) % n] + part * held[(i - whole - 1) % n] - mean)
        for i in range(n)
    ]
