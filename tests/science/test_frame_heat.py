from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science import frame_heat as fh

# 3 x 6 ft, 12-18 in walls, single glass on inch boards
BOX = fh.FrameBox(width_m=0.914, length_m=1.829, height_m=0.381, u_lid=6.2, u_wall=2.8, transmittance=0.88)


def test_sizes_of_the_common_frame() -> None:
    assert BOX.lid_m2 == pytest.approx(1.67, abs=0.01)
    assert BOX.wall_m2 == pytest.approx(2.09, abs=0.01)
    assert BOX.volume_m3 == pytest.approx(0.637, abs=0.001)


@given(st.floats(0.0, 60.0), st.floats(0.1, 60.0))
def test_more_air_exchange_loses_more_heat(changes: float, more: float) -> None:
    assert BOX.loss_w_k(changes + more) > BOX.loss_w_k(changes)


@given(st.floats(0.1, 4.0))
def test_a_blanket_lowers_the_lid_u(resistance: float) -> None:
    assert fh.covered_u(6.2, resistance) < 6.2
    assert BOX.loss_w_k(2.0, fh.covered_u(6.2, resistance)) < BOX.loss_w_k(2.0)


def test_night_rise_is_where_soil_heat_meets_the_loss() -> None:
    rise = fh.night_rise_k(20.0, BOX.lid_m2, BOX.loss_w_k(2.0))
    assert fh.heat_loss_w(BOX.loss_w_k(2.0), rise, 0.0) == pytest.approx(20.0 * BOX.lid_m2)


def test_heat_loss_is_negative_when_it_is_warmer_outside() -> None:
    assert fh.heat_loss_w(10.0, 5.0, 8.0) == -30.0
