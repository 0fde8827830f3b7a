"""Smooth daily normals from twelve monthly means.

The curve is the periodic histospline: a parabola over each month, joined so that value and slope run on
across every month's end, each parabola's mean being that month's mean (Boneva, Kendall and Stefanov 1971).
Straight lines between mid-months would shave the top off summer and the bottom off winter.
"""

from __future__ import annotations

from collections.abc import Sequence

LEAP_MONTH_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)  # days of each month
DAYS = sum(LEAP_MONTH_DAYS)
_SWEEPS = 24  # rounds in which the equations settle to rounding


def daily_normals(monthly: Sequence[float]) -> tuple[float, ...]:
    """366 daily values (index 0 = 1 January, 59 = 29 February) with these 12 monthly means.

    Each value is the curve's mean over its day, so the means over the days of a month are kept to rounding.
    """
    ends = _month_end_values(monthly)
    days: list[float] = []
    for m, length in enumerate(LEAP_MONTH_DAYS):
        start, end, mean = ends[m - 1], ends[m], monthly[m]
        slope = 6.0 * mean - 4.0 * start - 2.0 * end
        bend = 3.0 * start + 3.0 * end - 6.0 * mean
        spread = 1.0 / (12.0 * length * length)
        for d in range(length):
            t = (d + 0.5) / length
            days.append(start + slope * t + bend * (t * t + spread))
    return tuple(days)


def _month_end_values(monthly: Sequence[float]) -> list[float]:
    """The curve's value at the end of each month: equal slopes on both sides of it.

    The system is strongly diagonal, so Gauss-Seidel sweeps settle to rounding within a couple of dozen.
    """
    ends = [0.5 * (monthly[m] + monthly[(m + 1) % 12]) for m in range(12)]
    lengths = LEAP_MONTH_DAYS
    for _ in range(_SWEEPS):
        for m in range(12):
            after = (m + 1) % 12
            this, following = 1.0 / lengths[m], 1.0 / lengths[after]
            pull = 3.0 * (monthly[m] * this + monthly[after] * following)
            ends[m] = (pull - ends[m - 1] * this - ends[after] * following) / (2.0 * (this + following))
    return ends
