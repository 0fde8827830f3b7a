from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science import frost_night as fn

TEMPS = st.floats(-30.0, 40.0)


def test_fit_needs_three_nights_of_equal_length() -> None:
    with pytest.raises(ValueError, match="three or more"):
        fn.fit_minimum_rule([1.0, 2.0], [0.0, 0.0], [0.0, 1.0])
    with pytest.raises(ValueError, match="three or more"):
        fn.fit_minimum_rule([1.0, 2.0, 3.0], [0.0, 0.0], [0.0, 1.0, 2.0])


def test_fit_finds_back_a_rule_without_noise() -> None:
    t0 = [2.0, 5.0, 8.0, 11.0]
    fitted = fn.fit_minimum_rule(t0, [-3.0, 1.0, 1.0, -3.0], [0.5 * t - 6.0 for t in t0])
    assert fitted.slope_t0 == pytest.approx(0.5)
    assert fitted.slope_td == pytest.approx(0.0, abs=1e-9)
    assert fitted.minimum_c(10.0, 0.0) == pytest.approx(-1.0)


@given(TEMPS, st.floats(0.5, 20.0), st.floats(8.0, 16.0))
def test_night_cools_from_t2_to_the_minimum(tmin_c: float, drop: float, night_hours: float) -> None:
    t2 = tmin_c + drop
    temps = [fn.temperature_in_night(h, t2, tmin_c, night_hours) for h in range(2, int(night_hours) + 1)]
    assert temps == sorted(temps, reverse=True)
    assert fn.temperature_in_night(night_hours, t2, tmin_c, night_hours) == pytest.approx(tmin_c)


@given(TEMPS, st.floats(0.5, 20.0), st.floats(8.0, 16.0), st.floats(0.01, 0.99))
def test_hours_below_agree_with_the_curve(
    tmin_c: float, drop: float, night_hours: float, share: float
) -> None:
    t2 = tmin_c + drop
    limit = tmin_c + share * drop
    hours = fn.hours_at_or_below(limit, t2, tmin_c, night_hours)
    crossing = fn.temperature_in_night(night_hours - hours, t2, tmin_c, night_hours)
    assert crossing == pytest.approx(limit, abs=1e-6)


def test_hours_below_at_the_ends() -> None:
    assert fn.hours_at_or_below(-1.0, 5.0, 0.0, 12.0) == 0.0
    assert fn.hours_at_or_below(6.0, 5.0, 0.0, 12.0) == 10.0


@given(st.floats(-20.0, 40.0), st.floats(5.0, 100.0))
def test_dew_point_is_the_inverse_of_vapour_pressure(temp_c: float, humidity_pct: float) -> None:
    dew = fn.dew_point_c(temp_c, humidity_pct)
    assert dew <= temp_c + 1e-9
    actual = fn.saturation_vapour_pressure_kpa(temp_c) * humidity_pct / 100.0
    assert fn.saturation_vapour_pressure_kpa(dew) == pytest.approx(actual)


@pytest.mark.parametrize("humidity", [0.0, -5.0, 101.0])
def test_dew_point_refuses_impossible_humidity(humidity: float) -> None:
    with pytest.raises(ValueError, match="humidity"):
        fn.dew_point_c(10.0, humidity)


def test_no_product_above_36_f() -> None:
    assert fn.forecast_product(2.8) is None  # 37 F
    assert fn.forecast_product(2.2) == "frost advisory"  # 36 F
