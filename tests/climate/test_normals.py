"""Daily normals keep the monthly means, run smoothly, and close the year."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from itertools import accumulate
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.climate.normals import DAYS, LEAP_MONTH_DAYS, daily_normals

PLACES = Path(__file__).parents[2] / "knowledge" / "places.csv"
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def monthly_means(daily: Sequence[float]) -> list[float]:
    """The 12 monthly means of 366 daily values."""
    ends = list(accumulate(LEAP_MONTH_DAYS))
    return [sum(daily[end - days : end]) / days for days, end in zip(LEAP_MONTH_DAYS, ends, strict=True)]


@given(st.lists(st.floats(-60, 60), min_size=12, max_size=12))
def test_any_twelve_means_are_kept(monthly: list[float]) -> None:
    assert monthly_means(daily_normals(monthly)) == pytest.approx(monthly, abs=1e-6)


def test_every_bundled_place_keeps_its_means_and_has_no_jump() -> None:
    with PLACES.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 509
    for row in rows:
        for kind in ("tmin", "tmax"):
            monthly = [float(row[f"{kind}_{m}"]) for m in MONTHS]
            days = daily_normals(monthly)
            assert len(days) == DAYS == 366
            assert monthly_means(days) == pytest.approx(monthly, abs=0.05)
            steps = [abs(days[i] - days[i - 1]) for i in range(DAYS)]
            assert max(steps) < 0.75, row["name"]
            assert min(days) > min(monthly) - 2.0
            assert max(days) < max(monthly) + 2.0


def test_a_level_year_stays_level() -> None:
    assert daily_normals([5.0] * 12) == pytest.approx([5.0] * 366)
