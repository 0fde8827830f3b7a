"""Day length, sun height and clear-sky light, checked at their edges and against worked examples."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science import sun

DAYS = st.dates(date(1950, 1, 1), date(2050, 12, 31))
LATITUDES = st.floats(-90, 90)


@given(LATITUDES, DAYS)
def test_a_day_has_between_0_and_24_hours(lat: float, day: date) -> None:
    assert 0.0 <= sun.day_length_hours(lat, day) <= 24.0


@given(st.floats(-90, 90), DAYS)
def test_radiation_is_never_negative(lat: float, day: date) -> None:
    assert 0.0 <= sun.extraterrestrial_daily_mj(lat, day) < 50.0
    assert sun.clear_sky_daily_mj(lat, day) <= sun.extraterrestrial_daily_mj(lat, day)


def test_the_poles_and_the_equator() -> None:
    assert sun.day_length_hours(90, date(2027, 6, 21)) == 24.0
    assert sun.day_length_hours(90, date(2027, 12, 21)) == 0.0
    assert sun.day_length_hours(-90, date(2027, 12, 21)) == 24.0
    assert sun.day_length_hours(69.7, date(2027, 12, 21)) == 0.0
    assert sun.day_length_hours(0, date(2027, 3, 20)) == pytest.approx(12.1, abs=0.05)


def test_hemispheres_mirror_half_a_year_apart() -> None:
    north = sun.day_length_hours(45, date(2027, 6, 21))
    south = sun.day_length_hours(-45, date(2027, 12, 21))
    assert north == pytest.approx(south, abs=0.02)


def test_sunrise_and_sunset_stand_either_side_of_noon() -> None:
    day = date(2027, 4, 18)
    length = sun.day_length_hours(46.8, day)
    assert sun.sunset_hour(46.8, day) - 12.0 == pytest.approx(length / 2)
    assert sun.elevation_at_hour_deg(46.8, day, 24.0 - sun.sunset_hour(46.8, day)) == pytest.approx(
        -0.833, abs=0.01
    )


def test_noon_height_is_ninety_less_latitude_at_the_equinox() -> None:
    assert sun.noon_elevation_deg(40, date(2027, 3, 20)) == pytest.approx(50, abs=0.5)


def test_any_time_zone_is_the_same_moment() -> None:
    from datetime import timezone

    utc = datetime(2027, 4, 18, 18, tzinfo=UTC)
    local = utc.astimezone(timezone(timedelta(hours=-5)))
    assert sun.solar_hour(-92.2, utc) == sun.solar_hour(-92.2, local)


def test_no_light_below_the_horizon() -> None:
    assert sun.clear_sky_w_m2(-5) == 0.0
    assert sun.clear_sky_w_m2(0) == 0.0


def test_higher_places_get_more_sun() -> None:
    assert sun.clear_sky_w_m2(50, 2000) == pytest.approx(sun.clear_sky_w_m2(50) * 0.79 / 0.75)
    assert sun.clear_sky_daily_mj(40, date(2027, 6, 21), 2000) > sun.clear_sky_daily_mj(40, date(2027, 6, 21))


def test_the_day_sum_of_moments_is_near_the_daily_model() -> None:
    """Two published models of the same clear sky: they agree within a tenth in the growing season."""
    for lat in (30, 40, 50):
        for month in (4, 6, 8):
            day = date(2027, month, 15)
            moments = [sun.clear_sky_w_m2(sun.elevation_at_hour_deg(lat, day, h / 4)) for h in range(96)]
            day_sum_mj = sum(moments) * 900 / 1e6
            assert day_sum_mj == pytest.approx(sun.clear_sky_daily_mj(lat, day), rel=0.1)
