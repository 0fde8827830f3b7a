"""Stated chances against what happened in years the distributions never saw.

Real daily records (data/README.md): Champion 1982-2018, Brussels 1976-2005, Cambridge and Lincolnshire
1991-2021, Clemson 1930-2020. See calibration.py for how starts are tried.
"""

from __future__ import annotations

import pytest

from gardenmate.knowledge.facts import Facts
from tests.published.calibration import Trial, reliability, trials


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> list[Trial]:
    return list(trials(tmp_path_factory.mktemp("weather"), Facts()))


def test_enough_starts_and_outcomes(found: list[Trial]) -> None:
    assert len(found) > 200
    assert sum(t.outcomes for t in found) > 10_000


def test_of_the_starts_called_80_percent_70_to_90_succeed(found: list[Trial]) -> None:
    called = [t for t in found if 0.7 <= t.stated < 0.9]
    n = sum(t.outcomes for t in called)
    assert 0.70 <= sum(t.succeeded * t.outcomes for t in called) / n <= 0.90


def test_every_band_is_near_what_it_says(found: list[Trial]) -> None:
    for low, high, _, stated, worked in reliability(found):
        assert abs(stated - worked) <= 0.15, (low, high, stated, worked)


def test_a_higher_stated_chance_succeeds_more_often(found: list[Trial]) -> None:
    worked = [row[4] for row in reliability(found)]
    assert worked == sorted(worked)


def test_the_longest_records_are_honest_on_their_own(found: list[Trial]) -> None:
    for record in ("champion", "clemson"):
        called = [t for t in found if t.record == record and 0.7 <= t.stated < 0.9]
        n = sum(t.outcomes for t in called)
        assert 0.65 <= sum(t.succeeded * t.outcomes for t in called) / n <= 0.92
