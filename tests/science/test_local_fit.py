"""A plane through values round a point: worked by hand, and properties any weighted ridge fit has."""

from __future__ import annotations

import pytest

from gardenmate.science.local_fit import Sample, Slope, local_fit

LOOSE, FIRM = Slope(0.0, 1e-9), Slope(0.0, 1e9)


def test_a_plane_that_is_there_is_found_whatever_the_weights() -> None:
    samples = [
        Sample(10 + 2 * x - 3 * y, 1 + x * x, (x, y)) for x in (-1.0, 0.5, 2.0) for y in (-2.0, 1.0, 3.0)
    ]
    found = local_fit(samples, (LOOSE, LOOSE))
    assert found.value == pytest.approx(10, abs=1e-6)
    assert found.variance == pytest.approx(0, abs=1e-9)


def test_held_firmly_it_is_the_weighted_mean_of_values_carried_along_the_usual_slope() -> None:
    samples = [Sample(5.0, 3.0, (1.0,)), Sample(9.0, 1.0, (-2.0,))]
    found = local_fit(samples, (Slope(2.0, 1e9),))
    assert found.value == pytest.approx((3 * (5 - 2) + 1 * (9 + 4)) / 4, abs=1e-6)


def test_halfway_at_a_firmness_equal_to_the_variance_along_the_axis() -> None:
    """Two equal samples at -1 and +1 differ by 4: slope 2 by themselves; along the axis their variance is 1. Held
    to 0 with firmness 1 the slope is 1 (Hoerl and Kennard 1970: x'y / (x'x + k)), and each lies 1 off the line."""
    found = local_fit([Sample(1.0, 1.0, (-1.0,)), Sample(5.0, 1.0, (1.0,))], (Slope(0.0, 1.0),))
    assert found.value == pytest.approx(3.0)
    assert found.variance == pytest.approx(1.0)


def test_one_sample_is_enough_and_lies_on_its_own_plane() -> None:
    assert local_fit([Sample(7.0, 0.2, (3.0, 1.0))], (Slope(2.0, 0.1), FIRM)).value == pytest.approx(1.0)
