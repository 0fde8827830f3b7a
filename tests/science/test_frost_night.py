from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science import frost_night as fn

TEMPS = st.floats(-30.0, 40.0)


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
