"""The frame's heat balance against printed figures and a reference library. Each check names its source."""

from __future__ import annotations

import pytest

from gardenmate.core.units import span_c_to_f
from gardenmate.knowledge.facts import Facts
from gardenmate.science import frame_heat as fh
from gardenmate.science.sun import clear_sky_w_m2

FACTS = Facts()


@pytest.mark.parametrize(
    ("glazing", "low", "high"), [("glass", 1.0, 1.2), ("double-glass", 0.6, 0.7), ("twin-wall", 0.6, 0.7)]
)
def test_glazing_loses_what_is_printed(glazing: str, low: float, high: float) -> None:
    """eXtension Farm Energy 2.6: single 1.0-1.2, double 0.6-0.7 Btu/h.ft2.F (1 is 5.678 W/m2.K); within a
    tenth of the range, thickness and spacing being the spread."""
    ours = next(g for g in FACTS.table("protection")["glazing"] if g["id"] == glazing)["u_w_m2k"] / 5.678
    assert 0.9 * low <= ours <= 1.1 * high


@pytest.mark.parametrize(
    ("elevation", "sun"), [(5, 48.63), (10, 135.74), (30, 487.89), (50, 778.77), (90, 1035.09)]
)
def test_sun_by_height(elevation: float, sun: float) -> None:
    """SAND2012-2389 (2012) zenith-only clear sky; the same figures from pvlib 0.16.1 `clearsky.haurwitz`."""
    assert clear_sky_w_m2(elevation) == pytest.approx(sun, abs=0.01)


@pytest.mark.parametrize(("elevation", "sun"), [(25.169, 397.4), (55.935, 852.4), (68.436, 948.8)])
def test_noon_sun_against_a_fuller_model(elevation: float, sun: float) -> None:
    """pvlib 0.16.1, Ineichen clear sky, Linke turbidity 3, 45 N 250 m: noon in January, April and June 2027.

    The values are committed because the library is heavy; tests/bench/clear_sky.py computes them again.
    """
    assert clear_sky_w_m2(elevation) == pytest.approx(sun, rel=0.04)


def test_closed_frame_by_night_stays_inside_the_published_gain() -> None:
    """Missouri G6965: a plain closed frame is 5-10 F warmer than outside at night, generally no more."""
    box = fh.FrameBox(0.914, 1.829, 0.381, 6.2, 2.8, 0.88)
    for ground in (30.0, 40.0):  # moist soil after a bright day
        gain = span_c_to_f(fh.night_rise_k(ground, box.lid_m2, box.loss_w_k(2.0)))
        assert 5.0 <= gain <= 10.0


def test_closed_frame_in_january_sun() -> None:
    """A garden thermometer log (weak): 32-36 F outside, 61-64 F inside on clear January days at 42 N."""
    box = fh.FrameBox(0.914, 1.829, 0.381, 6.2, 2.8, 0.88)
    noon = clear_sky_w_m2(90.0 - 42.0 - 20.0)  # 21 January: declination -20
    rise = span_c_to_f(fh.sun_rise_k(noon, box.transmittance, 0.4, box.lid_m2, box.loss_w_k(2.0)))
    assert 22.0 <= rise <= 34.0


def test_airtight_frame_can_pass_100_f_on_a_winter_day() -> None:
    """Oregonian 2011 (weak): an airtight frame can exceed 100 F on a sunny winter day (50 F outside, dry);
    not by more than the 35 F at which thermometer logs of such frames end (135 F, Cold Frame Lessons,
    2013)."""
    box = fh.FrameBox(0.914, 1.829, 0.381, 4.0, 1.0, 0.77)  # double glazed, insulated
    rise = span_c_to_f(fh.sun_rise_k(450.0, box.transmittance, 0.6, box.lid_m2, box.loss_w_k(0.75)))
    assert 100.0 < 50.0 + rise <= 135.0
