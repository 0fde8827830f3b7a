"""Soil temperature as a damped, late wave; emergence as a rate that adds up day by day."""

from __future__ import annotations

from math import cos, pi

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.science.emergence import (
    days_to_emerge,
    emergence_rate,
    emerges_on,
    from_range,
    percent,
)
from gardenmate.science.soil import damping_depth_m, lag_days, soil_means_c
from gardenmate.topics.season.terms import emergence_curve

YEAR = [12.0 - 10.0 * cos(2 * pi * i / 365) for i in range(365)]
TOMATO = ((10.0, 43.0), (15.0, 14.0), (20.0, 8.0), (25.0, 6.0), (30.0, 6.0), (35.0, 9.0))


def test_deeper_soil_swings_less_and_later() -> None:
    shallow, deep = soil_means_c(YEAR, 5.0), soil_means_c(YEAR, 100.0)
    assert max(deep) - min(deep) < max(shallow) - min(shallow) < max(YEAR) - min(YEAR)
    assert deep.index(max(deep)) > shallow.index(max(shallow)) > YEAR.index(max(YEAR))


def test_the_mean_of_the_year_is_kept() -> None:
    assert sum(soil_means_c(YEAR, 50.0)) / 365 == pytest.approx(12.0, abs=0.01)


def test_damping_depth_of_the_yearly_wave() -> None:
    """About 2.2 m at 0.5e-6 m2/s: sqrt(2 k / omega)."""
    assert damping_depth_m() == pytest.approx(2.24, abs=0.02)
    assert lag_days(10.0) == pytest.approx(2.6, abs=0.1)


def test_frozen_ground_stays_near_freezing() -> None:
    arctic = [t - 30.0 for t in YEAR]
    assert min(soil_means_c(arctic, 7.5)) > -12.0


@pytest.mark.parametrize(("soil_c", "days"), TOMATO)
def test_the_table_itself_is_given_back(soil_c: float, days: float) -> None:
    assert days_to_emerge(TOMATO, soil_c) == pytest.approx(days)


def test_between_points_the_rate_is_interpolated() -> None:
    """Half way between 43 and 14 days lies nearer the quick end than the mean of the days."""
    found = days_to_emerge(TOMATO, 12.5)
    assert found is not None
    assert 14.0 < found < 28.5


def test_colder_than_the_table_it_slows_to_nothing() -> None:
    slow = days_to_emerge(TOMATO, 9.0)
    assert slow is not None
    assert slow > 43.0
    assert days_to_emerge(TOMATO, 2.0) is None


def test_hotter_than_the_table_it_fails() -> None:
    assert emergence_rate(TOMATO, 36.0) < emergence_rate(TOMATO, 35.0)
    assert days_to_emerge(TOMATO, 39.0) is None


def test_rates_add_up_over_warming_soil() -> None:
    assert emerges_on(TOMATO, [20.0] * 30, 0) == 8
    warming = emerges_on(TOMATO, [10.0] * 10 + [20.0] * 30, 0)
    assert warming is not None
    assert 8 < warming < 18
    assert emerges_on(TOMATO, [2.0] * 30, 0) is None


def test_percent_on_a_straight_line_and_falling_off() -> None:
    curve = ((10.0, 80.0), (20.0, 100.0), (30.0, 60.0))
    assert percent(curve, 15.0) == 90.0
    assert percent(curve, 31.5) == 30.0
    assert percent(curve, 40.0) == 0.0
    assert percent((), 20.0) is None


def test_a_curve_needs_a_point() -> None:
    with pytest.raises(ValueError, match="at least one point"):
        emergence_rate((), 20.0)


def test_a_range_of_days_becomes_a_rough_curve() -> None:
    curve = from_range(6.0, 14.0, 25.0, 10.0)
    assert days_to_emerge(curve, 25.0) == 6.0
    slow = days_to_emerge(curve, 17.5)
    assert slow == 14.0


def test_every_crop_has_a_curve_and_says_whose_it_is() -> None:
    facts = Facts()
    for crop in facts.crops():
        curve, whose = emergence_curve(crop, facts)
        assert curve
        assert whose == "" or whose in facts.crop_ids
    assert emergence_curve(facts.crop("kale"), facts)[1] in ("kale", "cabbage")
