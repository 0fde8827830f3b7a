"""Two uncertain dates against each other."""

from __future__ import annotations

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science.frost_risk import chance_before, chance_still_to_come, normal_cdf, standard_quantile


def test_even_chance_when_both_fall_together() -> None:
    assert chance_before(100.0, 5.0, 100.0, 10.0) == 0.5


def test_one_spread_of_margin() -> None:
    assert chance_before(100.0, 3.0, 105.0, 4.0) == pytest.approx(normal_cdf(1.0))


def test_certain_dates_give_certain_answers() -> None:
    assert chance_before(100.0, 0.0, 100.0, 0.0) == 1.0
    assert chance_before(101.0, 0.0, 100.0, 0.0) == 0.0
    assert chance_still_to_come(100.0, 99.0, 0.0) == 0.0


@given(st.floats(0.01, 0.99))
def test_quantile_and_chance_undo_each_other(p: float) -> None:
    assert normal_cdf(standard_quantile(p)) == pytest.approx(p, abs=1e-9)


@given(st.floats(1e-6, 1 - 1e-6))
def test_quantile_is_that_of_the_standard_library(p: float) -> None:
    assert standard_quantile(p) == pytest.approx(NormalDist().inv_cdf(p), abs=1e-9)


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, 1.1, float("nan")])
def test_no_quantile_outside_the_probabilities(p: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        standard_quantile(p)


@given(st.floats(0, 300), st.floats(0, 300), st.floats(1, 30), st.floats(0, 60))
def test_later_is_never_surer(ready: float, end: float, sd: float, later: float) -> None:
    assert chance_before(ready + later, sd, end, sd) <= chance_before(ready, sd, end, sd) + 1e-12
    assert chance_still_to_come(ready + later, end, sd) <= chance_still_to_come(ready, end, sd) + 1e-12
