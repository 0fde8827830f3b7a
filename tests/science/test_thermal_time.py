"""Degree-days: exact cases, and what must hold of any day."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science.thermal_time import (
    cumulative,
    day_reached,
    degree_days_sine,
    usual_degree_days,
)

temps = st.floats(-30.0, 45.0)
swings = st.floats(0.0, 25.0)


def test_a_day_wholly_above_base_counts_its_mean() -> None:
    assert degree_days_sine(15.0, 25.0, 10.0, 40.0) == pytest.approx(10.0)


def test_a_cold_day_counts_nothing() -> None:
    assert degree_days_sine(-5.0, 9.0, 10.0, 30.0) == 0.0


def test_warmth_above_the_cut_off_does_not_count() -> None:
    assert degree_days_sine(32.0, 40.0, 10.0, 30.0) == pytest.approx(20.0)
    assert degree_days_sine(20.0, 40.0, 10.0, 30.0) < degree_days_sine(20.0, 40.0, 10.0, 99.0)


def test_a_cut_off_below_the_base_gives_nothing() -> None:
    assert degree_days_sine(10.0, 30.0, 15.0, 12.0) == 0.0


@given(temps, swings, st.floats(0.0, 15.0), st.floats(16.0, 35.0))
def test_between_nothing_and_the_span(low: float, swing: float, base: float, upper: float) -> None:
    assert -1e-9 <= degree_days_sine(low, low + swing, base, upper) <= upper - base + 1e-9


@given(temps, swings, st.floats(0.0, 5.0))
def test_a_warmer_day_never_counts_less(low: float, swing: float, warmer: float) -> None:
    cool = degree_days_sine(low, low + swing, 10.0, 30.0)
    assert degree_days_sine(low + warmer, low + swing + warmer, 10.0, 30.0) >= cool - 1e-9


@given(temps, swings)
def test_scattered_days_count_no_more_than_the_most(low: float, swing: float) -> None:
    assert usual_degree_days(low, low + swing, 10.0, 30.0, 8.0, 3.0) <= 8.0


def test_scatter_lifts_a_day_at_the_base_and_lowers_one_at_the_ceiling() -> None:
    at_base = usual_degree_days(4.0, 12.0, 10.0, 30.0, 99.0, 3.0)
    assert at_base > degree_days_sine(4.0, 12.0, 10.0, 30.0)
    at_most = usual_degree_days(14.0, 26.0, 10.0, 30.0, 10.0, 3.0)
    assert at_most < degree_days_sine(14.0, 26.0, 10.0, 30.0)


def test_running_total_and_the_day_a_need_is_met() -> None:
    total = cumulative([5.0] * 10)
    assert total[0] == 0.0
    assert total[-1] == 50.0
    assert day_reached(total, 0, 20.0) == 4
    assert day_reached(total, 3, 20.0) == 7
    assert day_reached(total, 0, 51.0) is None
