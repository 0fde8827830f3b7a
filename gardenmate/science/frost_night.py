"""How cold a still night gets, and how cold the ground is beneath it. Numbers only; degrees C.

The minimum-temperature rules hold for radiation nights: clear sky, no fog or rain, wind under about 2 m/s.
Every one of them was fitted to somebody else's nights; treat a result as a hint within a couple of degrees.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log
from typing import Literal

from gardenmate.records import dataclass

Product = Literal["frost advisory", "freeze warning", "hard freeze warning"]

COLD_POOL_K_PER_M = 0.062  # 6.2 C per 100 m above a valley floor at dawn, Agric. Meteorol. 8:371 (1971)


@dataclass(frozen=True, slots=True)
class MinimumRule:
    """Tmin = slope_t0 x T0 + slope_td x Td + constant, degrees C, read two hours after sunset (FAO 2005)."""

    slope_t0: float
    slope_td: float
    constant: float

    def minimum_c(self, t0_c: float, td_c: float) -> float:
        """The night's minimum from air temperature ``t0_c`` and dew point ``td_c`` two hours after sunset."""
        return self.slope_t0 * t0_c + self.slope_td * td_c + self.constant


def _line(x: Sequence[float], y: Sequence[float]) -> tuple[float, float]:
    """Least-squares slope and intercept."""
    from statistics import linear_regression

    slope, intercept = linear_regression(x, y)
    return slope, intercept


def hours_at_or_below(limit_c: float, t2_c: float, tmin_c: float, night_hours: float) -> float:
    """Hours before sunrise spent at or under ``limit_c`` on the square-root cooling curve."""
    if tmin_c > limit_c:
        return 0.0
    if t2_c <= limit_c or t2_c <= tmin_c:
        return night_hours - 2.0
    reached = ((t2_c - limit_c) / (t2_c - tmin_c)) ** 2
    return (night_hours - 2.0) * (1.0 - reached)


def saturation_vapour_pressure_kpa(temp_c: float) -> float:
    """Saturation vapour pressure over water, kPa: FAO-56 equation 11."""
    return 0.6108 * exp(17.27 * temp_c / (temp_c + 237.3))


def dew_point_c(temp_c: float, humidity_pct: float) -> float:
    """Dew point from air temperature and relative humidity (0 < RH <= 100 percent), inverse of FAO-56 eq. 11.

    Raises ValueError when the humidity is not in that range.
    """
    if not 0.0 < humidity_pct <= 100.0:
        raise ValueError("relative humidity must be above 0 and at most 100 percent")
    ratio = log(saturation_vapour_pressure_kpa(temp_c) * humidity_pct / 100.0 / 0.6108)
    return 237.3 * ratio / (17.27 - ratio)


def cold_pool_warming_c(height_above_floor_m: float) -> float:
    """How much warmer a slope is than the hollow under it at dawn on a clear, calm night, C degrees."""
    return COLD_POOL_K_PER_M * height_above_floor_m


def forecast_product(low_c: float) -> Product | None:
    """What the US weather service issues for a forecast low: 33-36 F, 29-32 F, 28 F or lower; else None."""
    low_f = round(low_c * 1.8 + 32.0)
    if low_f <= 28:
        return "hard freeze warning"
    if low_f <= 32:
        return "freeze warning"
    return "frost advisory" if low_f <= 36 else None
