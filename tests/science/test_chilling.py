"""Chill and warmth by the hour: edges, shapes, and the hourly course."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.units import f_to_c
from gardenmate.science.chilling import (
    chill_hours,
    expected_degree_days,
    hourly_course,
)
from gardenmate.science.thermal_time import degree_days_sine

TEMPS = st.floats(-40, 45)


def test_45_f_itself_is_a_chill_hour() -> None:
    assert chill_hours([f_to_c(45.0)]) == 1
    assert chill_hours([f_to_c(45.2)]) == 0


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
