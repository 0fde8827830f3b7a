"""Seed counts: the binomial against hand sums and its own definition, rows, trays, mix."""

from __future__ import annotations

from math import comb, isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science.seed_counts import (
    cell_chance,
    chance_of_at_least,
    mix_litres,
    plants_in_bed,
    plants_in_row,
    trays_needed,
    tries_needed,
)


def test_two_coins_by_hand() -> None:
    assert chance_of_at_least(1, 2, 0.5) == pytest.approx(0.75)
    assert chance_of_at_least(2, 2, 0.5) == pytest.approx(0.25)


def test_ends() -> None:
    assert chance_of_at_least(0, 5, 0.2) == 1.0
    assert chance_of_at_least(6, 5, 0.9) == 0.0
    assert chance_of_at_least(3, 5, 0.0) == 0.0
    assert chance_of_at_least(5, 5, 1.0) == 1.0


@given(st.integers(0, 60), st.integers(1, 60), st.floats(0.02, 0.98))
def test_tail_is_the_sum_of_its_terms(wanted: int, tries: int, chance: float) -> None:
    exact = sum(comb(tries, k) * chance**k * (1 - chance) ** (tries - k) for k in range(wanted, tries + 1))
    assert isclose(chance_of_at_least(wanted, tries, chance), exact, rel_tol=1e-9, abs_tol=1e-12)


@given(st.integers(1, 300), st.floats(0.05, 0.99), st.floats(0.5, 0.99))
def test_fewest_tries_and_not_one_less(wanted: int, chance: float, confidence: float) -> None:
    n = tries_needed(wanted, chance, confidence)
    assert n >= wanted
    assert chance_of_at_least(wanted, n, chance) >= confidence
    assert n == wanted or chance_of_at_least(wanted, n - 1, chance) < confidence


@given(st.integers(1, 200), st.floats(0.1, 0.9))
def test_worse_seed_never_needs_fewer(wanted: int, chance: float) -> None:
    assert tries_needed(wanted, chance) >= tries_needed(wanted, min(1.0, chance + 0.05))


def test_sure_seed_needs_no_spare() -> None:
    assert tries_needed(48, 1.0) == 48
    assert tries_needed(0, 0.5) == 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: tries_needed(3, 0.0), "never comes up"),
        (lambda: tries_needed(3, 1.4), "between 0 and 1"),
        (lambda: tries_needed(3, 0.5, 1.0), "confidence"),
        (lambda: cell_chance(0.7, 0), "at least one seed"),
        (lambda: trays_needed(5, 0), "at least one cell"),
        (lambda: plants_in_row(100, 0), "above zero"),
        (lambda: plants_in_row(-1, 10), "long"),
        (lambda: plants_in_bed(100, 100, 10, 0), "row distance"),
        (lambda: mix_litres(3, -1), "must not be negative"),
    ],
)
def test_figures_without_meaning_are_named(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()


def test_cells_rows_and_beds() -> None:
    assert cell_chance(0.75, 2, 0.1) == pytest.approx((1 - 0.25**2) * 0.9)
    assert trays_needed(0, 72) == 0
    assert trays_needed(72, 72) == 1
    assert trays_needed(73, 72) == 2
    assert plants_in_row(300, 30) == 11  # both ends
    assert plants_in_row(300, 30, both_ends=False) == 10
    assert plants_in_bed(120, 240, 30, 40) == 3 * 8
    assert mix_litres(72, 43, 1.15) == pytest.approx(3.56, abs=0.01)
