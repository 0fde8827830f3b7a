"""Frost-night rules against worked examples and tables printed elsewhere. Each check names its source."""

from __future__ import annotations

import psychrolib
import pytest

from gardenmate.core.units import f_to_c, span_c_to_f
from gardenmate.knowledge.facts import Facts
from gardenmate.science import frost_night as fn

# Sample nights of FAO Environment and Natural Resources Series 10 (2005), chapter 5, as carried with the
# documentation of the R package "frost": air and dew point two hours after sunset, and the minimum that came.
T0 = [3.2, 0.8, 0.2, 2.6, 4.4, 5.2, 2.7, 1.2, 4.5, 5.6]
TD = [-4.2, -8.8, -6.5, -6.2, -6.1, 2.6, -0.7, -1.7, -1.2, 0.1]
TMIN = [-3.1, -5.0, -6.3, -5.4, -4.0, -2.5, -4.8, -5.0, -4.4, -3.3]


def shipped_rule() -> fn.MinimumRule:
    """The rule the program answers with."""
    rule = Facts().table("protection")["minimum_rule"]
    return fn.MinimumRule(rule["slope_t0"], rule["slope_td"], rule["constant_c"])


def test_the_shipped_minimum_rule_gives_the_printed_prediction() -> None:
    """R package "frost": 10 C with dew point 2 C gives -0.7409219 C; our constants are its, to three
    figures."""
    assert shipped_rule().minimum_c(10.0, 2.0) == pytest.approx(-0.7409219, abs=0.01)


def test_the_shipped_rule_misses_the_ten_nights_by_0_6_c() -> None:
    """FAO: root-mean-square error 0.6 C on the nights it was fitted to."""
    misses = [shipped_rule().minimum_c(t0, td) - low for t0, td, low in zip(T0, TD, TMIN, strict=True)]
    assert (sum(m * m for m in misses) / len(misses)) ** 0.5 == pytest.approx(0.6, abs=0.1)


def test_slope_above_a_cold_hollow() -> None:
    """Agricultural Meteorology 8:371-383 (1971): 6.2 C per 100 m, 3.4 F per 100 ft."""
    assert fn.cold_pool_warming_c(100.0) == pytest.approx(6.2, abs=0.05)
    assert span_c_to_f(fn.cold_pool_warming_c(100.0 * 0.3048)) == pytest.approx(3.4, abs=0.05)


def test_fao56_saturation_vapour_pressure() -> None:
    """FAO-56 (1998) example 3: 24.5 C and 15 C give 3.075 and 1.705 kPa, mean 2.39."""
    warm, cool = fn.saturation_vapour_pressure_kpa(24.5), fn.saturation_vapour_pressure_kpa(15.0)
    assert warm == pytest.approx(3.075, abs=0.002)
    assert cool == pytest.approx(1.705, abs=0.002)
    assert (warm + cool) / 2.0 == pytest.approx(2.39, abs=0.002)


@pytest.mark.parametrize(
    ("low_f", "product"),
    [(35, "frost advisory"), (33, "frost advisory"), (31, "freeze warning"), (28, "hard freeze warning")],
)
def test_weather_service_products(low_f: float, product: str) -> None:
    """North Dakota and Wisconsin notes on products: 33-36 F, 29-32 F, 28 F or lower."""
    assert fn.forecast_product(f_to_c(low_f)) == product


@pytest.mark.parametrize("temp_c", [0.5, 5.0, 10.0, 20.0, 30.0])
@pytest.mark.parametrize("humidity_pct", [30.0, 60.0, 90.0])
def test_dew_point_against_psychrolib(temp_c: float, humidity_pct: float) -> None:
    """PsychroLib 2.5 follows ASHRAE Fundamentals; over water the two saturation curves part by < 0.15 C."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    reference = psychrolib.GetTDewPointFromRelHum(temp_c, humidity_pct / 100.0)
    if reference < 0.0:  # ASHRAE turns to the curve over ice there; meteorology keeps the one over water
        assert fn.dew_point_c(temp_c, humidity_pct) == pytest.approx(reference, abs=2.0)
    else:
        assert fn.dew_point_c(temp_c, humidity_pct) == pytest.approx(reference, abs=0.15)
