"""Chill and warmth by the hour: edges, shapes, and the hourly course."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.units import f_to_c
from gardenmate.science.chilling import (
    banded_units,
    chill_hours,
    dynamic_portions,
    expected_degree_days,
    growing_degree_hour,
    hourly_course,
    utah_start,
)
from gardenmate.science.thermal_time import degree_days_sine

BANDS = ((34.0, 0.0), (36.0, 0.5), (48.0, 1.0), (999.0, -1.0))
TEMPS = st.floats(-40, 45)


def test_45_f_itself_is_a_chill_hour() -> None:
    assert chill_hours([f_to_c(45.0)]) == 1
    assert chill_hours([f_to_c(45.2)]) == 0


def test_the_modified_count_drops_freezing_hours() -> None:
    hours = [f_to_c(f) for f in (20.0, 31.9, 32.0, 40.0, 46.0)]
    assert chill_hours(hours, floor_c=0.0) == 2
    assert chill_hours(hours) == 4


def test_an_edge_belongs_to_the_cooler_band() -> None:
    assert banded_units([34.0], BANDS) == 0.0
    assert banded_units([34.1], BANDS) == 0.5
    assert banded_units([48.0], BANDS) == 1.0
    assert banded_units([2000.0], BANDS) == -1.0


def test_positive_units_leave_out_the_warm_hours() -> None:
    assert banded_units([40.0, 70.0], BANDS) == 0.0
    assert banded_units([40.0, 70.0], BANDS, negative=False) == 1.0


def test_utah_counting_starts_at_the_lowest_running_total() -> None:
    assert utah_start([-1.0, -1.0, 0.5, -1.0, 1.0, 1.0]) == 4
    assert utah_start([1.0, 1.0]) == 0


def test_portions_never_fall() -> None:
    cold = [6.0] * 240
    assert dynamic_portions(cold + [25.0] * 100) >= dynamic_portions(cold)


def test_growing_degree_hours_peak_at_25_c() -> None:
    hours = [growing_degree_hour(t / 2) for t in range(-20, 90)]
    assert max(hours) == growing_degree_hour(25.0) == pytest.approx(21.0)
    assert growing_degree_hour(4.0) == growing_degree_hour(36.0) == 0.0


@given(TEMPS, st.floats(0, 25), TEMPS, st.floats(0, 24))
def test_the_hourly_course_stays_within_its_extremes(
    low: float, swing: float, following: float, day: float
) -> None:
    course = hourly_course(low, low + swing, following, day)
    assert len(course) == 24
    assert min(low, following) - 1e-6 <= min(course)
    assert max(course) <= max(low + swing, following) + 1e-6
    assert course[0] == pytest.approx(low)


@given(TEMPS, st.floats(0, 25), st.floats(0, 10), st.floats(0, 8))
def test_spread_adds_warmth_never_takes_it(low: float, swing: float, base: float, spread: float) -> None:
    plain = degree_days_sine(low, low + swing, base, 99.0)
    assert expected_degree_days(low, low + swing, base, spread) >= plain - 1e-9
    assert expected_degree_days(low, low + swing, base, 0.0) == plain
