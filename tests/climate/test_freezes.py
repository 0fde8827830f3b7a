"""Freeze dates: cells read across New Year, thresholds in between, estimates, odds."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.climate.freezes import (
    Freeze,
    FreezeDate,
    MinimumCurve,
    estimate,
    freeze_fit,
    move_along,
    offset_of,
    predictors,
    season_offset,
)
from gardenmate.climate.normals import daily_normals
from gardenmate.climate.places import gazetteer, resolve_site
from gardenmate.climate.site import (
    Site,
    first_frost_odds,
    frost_odds,
    last_frost_odds,
)
from gardenmate.climate.sites import build_site
from gardenmate.core.units import f_to_c
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
FIT = freeze_fit(FACTS.table("climate"))
CONTINENTAL = (-17, -14, -8, -1, 5, 10, 13, 12, 8, 2, -6, -14)


def site(name: str) -> Site:
    found = resolve_site(place=name, facts=FACTS).site
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("cell", "spring", "southern", "offset"),
    [
        ("01-15", True, False, 0),
        ("05-17", True, False, 122),
        ("12-20", True, False, -26),  # Phoenix: nine springs in ten are over by then
        ("01-02", False, False, 352),  # and half its autumns have no frost before New Year
        ("10-10", False, False, 268),
        ("10-05", True, True, 82),
        ("05-01", False, True, 290),
        ("07-01", True, True, -14),
        ("02-29", True, False, 44),
    ],
)
def test_cells_across_new_year(cell: str, spring: bool, southern: bool, offset: int) -> None:
    assert season_offset(cell, spring, southern) == offset


@given(st.integers(1, 12), st.integers(1, 28), st.booleans(), st.booleans())
def test_any_date_lies_on_its_side_of_the_season(month: int, day: int, spring: bool, southern: bool) -> None:
    offset = offset_of((month, day), spring, southern)
    assert (-165 <= offset <= 200) if spring else (165 <= offset <= 530)
    anchor = date(2026, 7, 15) if southern else date(2027, 1, 15)
    there = anchor + timedelta(days=offset)
    if date(2028, 2, 28) >= there:
        assert (there.month, there.day) == (month, day)


def test_every_place_builds_and_is_in_order() -> None:
    rows = gazetteer(FACTS).rows
    assert len(rows) == 509
    for row in rows:
        built = build_site(row, FACTS)
        assert built.regime in ("seasonal", "frost-free", "any-month")
        assert set(built.freezes) == {36, 32, 28}
        springs = [built.freezes[f].last_spring for f in (28, 32, 36)]
        autumns = [built.freezes[f].first_autumn for f in (36, 32, 28)]
        for dates in (springs, autumns):
            known = [d for d in dates if d is not None]
            offsets = [d.offset_days for d in known]
            assert offsets == sorted(offsets), row.label
            for d in known:
                assert 3.0 <= d.sd_days <= 45.0, row.label
                anchor = date(2027, 1, 15)
                quantiles = [d.day_at(p, anchor) for p in (0.1, 0.5, 0.9)]
                assert quantiles == sorted(quantiles)
        at_32 = built.freezes[32]
        assert (at_32.last_spring is None) == (at_32.first_autumn is None), row.label
        if built.regime != "frost-free" and at_32.last_spring and at_32.first_autumn:
            season = at_32.first_autumn.offset_days - at_32.last_spring.offset_days
            assert season > (-1.0 if built.regime == "any-month" else 30.0), row.label
        shares = [built.freezes[f].share for f in (28, 32, 36)]
        assert shares == sorted(shares), row.label
        assert all(0.0 <= share <= 1.0 for share in shares)


def test_published_dates_are_those_of_the_table() -> None:
    duluth = site("Duluth")
    freeze = duluth.freezes[32]
    anchor = date(2027, 1, 15)
    assert duluth.basis == "published"
    assert freeze.last_spring is not None
    assert freeze.first_autumn is not None
    assert freeze.last_spring.day(anchor) == date(2027, 5, 17)
    assert freeze.first_autumn.day(anchor) == date(2027, 9, 27)
    assert freeze.last_spring.sd_days == pytest.approx(16 / 1.2816)  # 1 to 17 May
    lebanon = site("Lebanon, NH").freezes[32].last_spring
    assert lebanon is not None
    assert lebanon.basis == "published"


@pytest.mark.parametrize("name", ["Long Beach", "Miami", "Honolulu", "Key West", "Lihue", "Darwin Airport"])
def test_frost_free_places(name: str) -> None:
    here = site(name)
    assert here.regime == "frost-free"
    assert here.freezes[32].last_spring is None
    assert here.freezes[32].first_autumn is None
    assert any("frost-free" in note for note in here.notes)


@pytest.mark.parametrize(
    "name", ["Mt. Washington", "Kalispell", "Elko", "Nome", "Burns", "Gulkana", "Ely, NV"]
)
def test_places_where_any_month_may_freeze(name: str) -> None:
    here = site(name)
    assert here.regime == "any-month"
    assert any("any month" in note for note in here.notes)


@given(st.floats(-12, 8), st.floats(-12, 8))
def test_a_warmer_threshold_is_met_later_in_spring_and_earlier_in_autumn(one: float, two: float) -> None:
    low, high = sorted((one, two))
    colder, warmer = site("Duluth").freeze_at(low), site("Duluth").freeze_at(high)
    assert colder.last_spring is not None
    assert warmer.last_spring is not None
    assert colder.first_autumn is not None
    assert warmer.first_autumn is not None
    assert colder.last_spring.offset_days <= warmer.last_spring.offset_days + 1e-6
    assert colder.first_autumn.offset_days >= warmer.first_autumn.offset_days - 1e-6


def test_tabulated_thresholds_come_back_as_they_are() -> None:
    duluth = site("Duluth")
    for f in (28, 32, 36):
        assert duluth.freeze_at(f_to_c(f)) == duluth.freezes[f]


def test_between_two_thresholds_the_date_lies_between() -> None:
    duluth = site("Duluth")
    middle = duluth.freeze_at(f_to_c(30)).last_spring
    low, high = duluth.freezes[28].last_spring, duluth.freezes[32].last_spring
    assert middle is not None
    assert low is not None
    assert high is not None
    assert middle.offset_days == pytest.approx((low.offset_days + high.offset_days) / 2)


@given(st.floats(-40, 25))
def test_any_threshold_anywhere_gives_an_answer(threshold: float) -> None:
    for name in ("Miami", "Tampa", "Mt. Washington", "Invercargill", "Camborne", "Barrow"):
        freeze = site(name).freeze_at(threshold)
        assert 0.0 <= freeze.share <= 1.0
        for known in (freeze.last_spring, freeze.first_autumn):
            if known is not None:
                assert -250 < known.offset_days < 620


def test_an_estimate_says_so_and_is_less_certain() -> None:
    regina = site("Regina")
    assert regina.basis == "estimated"
    assert any("estimated" in note for note in regina.notes)
    spring = regina.freezes[32].last_spring
    assert spring is not None
    curve = MinimumCurve(regina.normal_min_c, False)
    assert spring.sd_days > FIT.spread_days(FIT.spring, curve.steepness(spring.offset_days))


def test_a_colder_place_is_estimated_to_freeze_later() -> None:
    terms = predictors(46.0, -90.0, "US", CONTINENTAL, [t + 10 for t in CONTINENTAL])
    here = estimate(MinimumCurve(daily_normals(CONTINENTAL), False), FIT, terms, 0.0)
    colder = [t - 2 for t in CONTINENTAL]
    there = estimate(MinimumCurve(daily_normals(colder), False), FIT, terms, 0.0)
    assert here.last_spring is not None
    assert there.last_spring is not None
    assert there.last_spring.offset_days > here.last_spring.offset_days


def test_moving_along_the_curve_and_back_returns() -> None:
    duluth = site("Duluth")
    curve = MinimumCurve(duluth.normal_min_c, False)
    there = move_along(duluth.freezes[32], 0.0, -2.0, curve, FIT)
    back = move_along(there, -2.0, 0.0, curve, FIT)
    assert back.last_spring is not None
    assert duluth.freezes[32].last_spring is not None
    assert back.last_spring.offset_days == pytest.approx(duluth.freezes[32].last_spring.offset_days, abs=1.5)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("Perth Airport", 0.05, 0.4),  # a freeze now and then
        ("Auckland Airport", 0.02, 0.4),
        ("Camborne", 0.6, 0.95),  # 18 of 23 winters 1998-2020 had air frost (Met Office monthly counts)
        ("Orlando", 0.4, 0.7),
        ("Oxford", 0.98, 1.0),
    ],
)
def test_share_of_winters_with_a_freeze(name: str, low: float, high: float) -> None:
    here = site(name)
    assert low <= here.freezes[32].share <= high
    if high < 0.5:
        assert here.freezes[32].last_spring is None
        assert any("too few to date" in note for note in here.notes)


def test_odds_fall_through_spring_and_rise_through_autumn() -> None:
    duluth = site("Duluth")
    spring = [last_frost_odds(duluth, date(2027, 4, 1) + timedelta(days=i)) for i in range(0, 100, 5)]
    autumn = [first_frost_odds(duluth, date(2027, 8, 10) + timedelta(days=i)) for i in range(0, 100, 5)]
    assert spring == sorted(spring, reverse=True)
    assert autumn == sorted(autumn)
    assert spring[0] > 0.99
    assert autumn[-1] > 0.99
    assert last_frost_odds(duluth, date(2027, 5, 17)) == pytest.approx(0.5, abs=0.03)
    assert last_frost_odds(duluth, date(2027, 9, 1)) == 0.0
    assert first_frost_odds(duluth, date(2027, 6, 1)) == 0.0


def test_odds_at_the_turn_of_the_year_follow_the_season() -> None:
    invercargill = site("Invercargill")
    assert last_frost_odds(invercargill, date(2026, 12, 1)) < 0.05
    assert last_frost_odds(invercargill, date(2026, 8, 1)) > 0.8
    assert frost_odds(invercargill, date(2027, 6, 20)) > 0.8


def test_odds_in_midwinter_look_to_both_sides() -> None:
    duluth = site("Duluth")
    for day in (date(2027, 1, 1), date(2027, 1, 14), date(2027, 1, 15), date(2027, 2, 10)):
        assert last_frost_odds(duluth, day) > 0.99, day
        assert first_frost_odds(duluth, day) > 0.99, day


def test_rare_frosts_keep_a_small_chance() -> None:
    odds = last_frost_odds(site("Los Angeles"), date(2027, 1, 10))
    assert 0.0 < odds < 0.2
    assert last_frost_odds(site("Honolulu"), date(2027, 1, 10)) < 0.001


def test_a_hand_made_site_without_fit_still_answers() -> None:
    known = Freeze(FreezeDate(120.0, 10.0, "own"), FreezeDate(250.0, 9.0, "own"))
    base = site("Duluth")
    plain = Site(
        "x", "", "US", 46.0, -90.0, None, base.normal_min_c, base.normal_max_c, base.monthly_min_c,
        base.monthly_max_c, "seasonal", {32: known}, "own",
    )  # fmt: skip
    moved = plain.freeze_at(2.0)
    assert moved.last_spring is not None
    assert moved.last_spring.offset_days > 120.0
    assert moved.last_spring.sd_days == 10.0
