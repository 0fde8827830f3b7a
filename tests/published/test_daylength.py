"""The sun against published worked examples and a reference library.

- FAO Irrigation and Drainage Paper 56 (1998), examples 8-10 (20 S on 3 September; Rio de Janeiro in May).
- Sandia report SAND2012-2389 (2012): clear-sky sun by its height.
- The `astral` library: sunrise and sunset.
"""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.science import sun


def test_fao56_example_8_extraterrestrial_radiation() -> None:
    assert sun.extraterrestrial_daily_mj(-20.0, date(2027, 9, 3)) == pytest.approx(32.2, abs=0.1)


def test_fao56_example_9_daylight_hours() -> None:
    # Equation 34 puts the sun's centre on the true horizon (7 minutes less than sunrise to sunset here) and
    # its declination is rounder than ours.
    assert sun.day_length_hours(-20.0, date(2027, 9, 3)) == pytest.approx(11.7, abs=0.12)


def test_fao56_example_10_rio_de_janeiro_in_may() -> None:
    day = date(2027, 5, 15)
    assert sun.clear_sky_daily_mj(-22.9, day) == pytest.approx(18.8, abs=0.15)


@pytest.mark.parametrize(
    ("height_deg", "w_m2"), [(5, 48.63), (10, 135.74), (30, 487.89), (50, 778.77), (90, 1035.09)]
)
def test_sandia_clear_sky_by_sun_height(height_deg: float, w_m2: float) -> None:
    assert sun.clear_sky_w_m2(height_deg) == pytest.approx(w_m2, abs=0.02)


@pytest.mark.parametrize("lat", [-45.0, -20.0, 0.0, 21.3, 40.0, 52.1, 60.2])
def test_day_length_matches_astral(lat: float) -> None:
    from astral import Observer
    from astral.sun import sunrise, sunset

    observer = Observer(lat, 0.0)
    for month in range(1, 13):
        day = date(2027, month, 12)
        span = sunset(observer, day) - sunrise(observer, day)
        assert sun.day_length_hours(lat, day) == pytest.approx(span.total_seconds() / 3600, abs=0.04)


@pytest.mark.parametrize("lat", [-33.9, 5.0, 46.8, 64.8])
def test_sun_height_matches_astral(lat: float) -> None:
    from datetime import UTC, datetime

    from astral import Observer
    from astral.sun import elevation

    observer = Observer(lat, -92.2)
    for month in range(1, 13):
        for hour in (14, 18, 22):
            moment = datetime(2027, month, 12, hour, tzinfo=UTC)
            reference = elevation(observer, moment, with_refraction=False)
            assert sun.elevation_at_hour_deg(
                lat, moment.date(), sun.solar_hour(-92.2, moment)
            ) == pytest.approx(reference, abs=0.25)
