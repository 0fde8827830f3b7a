"""A climate moved to the garden: height, low spot, distance, own frost dates, and none but those."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.climate.adjust import at_height, in_low_spot, with_own_dates
from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.errors import UsageError
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
NORTH, SOUTH = date(2027, 1, 15), date(2026, 7, 15)


def site(name: str) -> Site:
    found = resolve_site(place=name, facts=FACTS).site
    assert found is not None
    return found


def spring(here: Site, f: int = 32) -> float:
    known = here.freezes[f].last_spring
    assert known is not None
    return known.offset_days


def autumn(here: Site, f: int = 32) -> float:
    known = here.freezes[f].first_autumn
    assert known is not None
    return known.offset_days


def test_higher_is_colder_by_the_standard_atmosphere() -> None:
    """ICAO standard atmosphere: 6.5 C per 1000 m."""
    denver = site("Denver")
    assert denver.elev_m is not None
    higher = at_height(denver, denver.elev_m + 1000.0, FACTS)
    assert higher.min_c(date(2027, 7, 1)) == pytest.approx(denver.min_c(date(2027, 7, 1)) - 6.5)
    assert higher.monthly_max_c[6] == pytest.approx(denver.monthly_max_c[6] - 6.5)
    assert spring(higher) > spring(denver)
    assert autumn(higher) < autumn(denver)
    assert higher.basis == "estimated"
    assert any("1000 m" in note and "colder" in note for note in higher.notes)


def test_lower_is_warmer() -> None:
    denver = site("Denver")
    assert denver.elev_m is not None
    lower = at_height(denver, denver.elev_m - 300.0, FACTS)
    assert spring(lower) < spring(denver)
    assert any("warmer" in note for note in lower.notes)


def test_the_same_height_changes_nothing() -> None:
    denver = site("Denver")
    assert denver.elev_m is not None
    assert at_height(denver, denver.elev_m + 5.0, FACTS).freezes == denver.freezes


def test_a_frost_pocket_freezes_later_in_spring_and_keeps_its_days() -> None:
    duluth = site("Duluth")
    pocket = in_low_spot(duluth, 2.0)
    assert spring(pocket) > spring(duluth)
    assert autumn(pocket) < autumn(duluth)
    assert pocket.normal_max_c == duluth.normal_max_c
    assert pocket.min_c(date(2027, 5, 1)) == pytest.approx(duluth.min_c(date(2027, 5, 1)) - 2.0)
    slope = in_low_spot(duluth, -1.0)
    assert spring(slope) < spring(duluth)
    assert in_low_spot(duluth, 0.0) is duluth


def test_own_dates_move_every_threshold_by_as_many_days() -> None:
    duluth = site("Duluth")
    own = with_own_dates(duluth, (5, 25), (9, 20), FACTS)
    assert own.basis == "own"
    assert NORTH.toordinal() + spring(own) == date(2027, 5, 25).toordinal()
    assert NORTH.toordinal() + autumn(own) == date(2027, 9, 20).toordinal()
    for f in (28, 36):
        assert spring(own, f) - spring(duluth, f) == pytest.approx(8.0)
        assert autumn(own, f) - autumn(duluth, f) == pytest.approx(-7.0)
    assert any("25 May" in note and "8 days later" in note for note in own.notes)
    assert "own-frost-dates" in own.source_ids
    before, after = duluth.freezes[32].last_spring, own.freezes[32].last_spring
    assert before is not None
    assert after is not None
    assert after.sd_days == before.sd_days


def test_one_own_date_leaves_the_other_side() -> None:
    duluth = site("Duluth")
    own = with_own_dates(duluth, (5, 25), None, FACTS)
    assert autumn(own) == autumn(duluth)
    assert spring(own) != spring(duluth)


def test_own_dates_make_a_frost_free_place_seasonal() -> None:
    own = with_own_dates(site("Miami"), (2, 1), (12, 20), FACTS)
    assert own.regime == "seasonal"
    assert spring(own) < autumn(own)
    assert not any("frost-free" in note for note in own.notes)


def test_own_dates_in_the_south() -> None:
    own = with_own_dates(site("Hobart Airport"), (10, 5), (5, 10), FACTS)
    assert SOUTH.toordinal() + spring(own) == date(2026, 10, 5).toordinal()
    assert SOUTH.toordinal() + autumn(own) == date(2027, 5, 10).toordinal()


@pytest.mark.parametrize(
    ("place", "last", "first"),
    [
        ("Duluth", (9, 25), (5, 20)),
        ("Duluth", (8, 20), None),
        ("Duluth", None, (6, 1)),
        ("Hobart Airport", (5, 10), (10, 5)),
        ("Hobart Airport", (2, 20), None),
    ],
)
def test_dates_that_do_not_fit_the_hemisphere_are_refused(
    place: str, last: tuple[int, int] | None, first: tuple[int, int] | None
) -> None:
    with pytest.raises(UsageError, match="does not fit"):
        with_own_dates(site(place), last, first, FACTS)


@given(st.dates(date(2027, 3, 1), date(2027, 7, 10)), st.dates(date(2027, 8, 10), date(2027, 12, 31)))
def test_any_northern_pair_of_dates_stands_without_a_place(last: date, first: date) -> None:
    found = resolve_site(
        last_frost=(last.month, last.day), first_frost=(first.month, first.day), facts=FACTS
    ).site
    assert found is not None
    assert not found.southern
    assert NORTH.toordinal() + spring(found) == last.toordinal()
    assert NORTH.toordinal() + autumn(found) == first.toordinal()
    assert any("place is not known" in note for note in found.notes)
    assert -60 < min(found.normal_min_c) < max(found.normal_max_c) < 50


def test_southern_dates_without_a_place() -> None:
    found = resolve_site(last_frost=(10, 5), first_frost=(5, 1), facts=FACTS).site
    assert found is not None
    assert found.southern


def test_one_date_alone_says_what_is_taken_from_elsewhere() -> None:
    found = resolve_site(last_frost=(5, 10), facts=FACTS).site
    assert found is not None
    assert any("the first frost come from" in note for note in found.notes)
    other = resolve_site(first_frost=(10, 1), facts=FACTS).site
    assert other is not None
    assert any("the last frost come from" in note for note in other.notes)
