"""What must hold of every crop in every place, whatever the figures."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.climate.adjust import at_height
from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace
from gardenmate.topics.season.calendar import calendar_windows
from gardenmate.topics.season.plan import count_back, longest_maturity, make_plan
from gardenmate.topics.season.scan import opening, opening_day
from gardenmate.topics.season.season import Season
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import Terms, cover_named, terms_for, with_dtm
from gardenmate.topics.season.windows import spans

FACTS = Facts()
PLACES = (
    "Duluth", "Miami", "Phoenix", "Honolulu", "Mt. Washington", "Auckland", "Hobart", "London Heathrow",
    "Fairbanks", "Reykjavik", "San Diego", "Barrow", "Macon", "Seattle Sea-Tac", "Darwin", "Winnipeg",
)  # fmt: skip
CROPS = FACTS.crop_ids
METHODS = ("indoors", "outdoors", "setout")


@cache
def site(name: str) -> Site:
    found = resolve_site(place=name, facts=FACTS).site
    assert found is not None
    return found


@cache
def terms(crop_id: str) -> Terms:
    return terms_for(FACTS.crop(crop_id), FACTS)


days = st.dates(date(2026, 1, 1), date(2029, 12, 31))
crops = st.sampled_from(CROPS)
places = st.sampled_from(PLACES)


@settings(max_examples=400, deadline=None)
@given(crops, places, days, st.sampled_from(METHODS))
def test_every_start_has_a_plan_with_dates_in_order(crop_id: str, name: str, day: date, method: str) -> None:
    year = site_year(site(name))
    plan = make_plan(terms(crop_id), year, method, day)
    assert 0.0 <= plan.chance <= 1.0
    order = [d for d in (plan.start, plan.set_out, plan.first_pick) if d is not None]
    assert order == sorted(order)
    if plan.first_pick is not None:
        assert plan.terms.rule == "crown" or (plan.first_pick - plan.start).days < 800
    if plan.up is not None:
        assert plan.up > plan.start
    count_back(terms(crop_id), year, method, year.origin(day))
    fits = longest_maturity(terms(crop_id), year, method, day, 0.8)
    if fits is not None:
        sure, slower = (make_plan(with_dtm(terms(crop_id), d), year, method, day) for d in (fits, fits + 1))
        assert round(slower.chance, 2) < 0.8 <= round(sure.chance, 2)


@settings(max_examples=200, deadline=None)
@given(crops, places)
def test_windows_are_ordered_and_shorter_than_a_year(crop_id: str, name: str) -> None:
    for span in spans(terms(crop_id), site_year(site(name))):
        assert span.earliest <= span.best_from <= span.best_to <= span.latest, (crop_id, name, span)
        assert span.latest - span.earliest <= 366


@settings(max_examples=100, deadline=None)
@given(crops, places, days)
def test_coming_windows_are_open_or_ahead(crop_id: str, name: str, day: date) -> None:
    for w in Season(terms(crop_id), site_year(site(name))).windows(day):
        assert w.latest >= day
        assert w.earliest <= day + timedelta(days=366)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([c for c in CROPS if FACTS.crop(c).warm]), st.sampled_from(PLACES), st.integers(0, 80))
def test_a_later_start_never_raises_the_chance(crop_id: str, name: str, later: int) -> None:
    """Within a window that opens in spring, for crops that frost or cold ends."""
    year = site_year(site(name))
    t = terms(crop_id)._replace(heat_c=None)
    method = "outdoors" if t.can_sow_outdoors else "setout"
    for w in Season(t, year).windows(date(2027, 6, 20)):
        if w.activity not in ("sow-outdoors", "set-out"):
            continue
        day = min(w.earliest + timedelta(days=later), w.latest)
        first = make_plan(t, year, method, day, wait=False).chance
        second = make_plan(t, year, method, min(day + timedelta(days=10), w.latest), wait=False).chance
        assert second <= first + 1e-9


@settings(max_examples=150, deadline=None)
@given(crops, places, st.floats(0.05, 0.9), st.floats(0.05, 0.9))
def test_more_accepted_risk_never_opens_later(crop_id: str, name: str, a: float, b: float) -> None:
    year, t = site_year(site(name)), terms(crop_id)
    low, high = sorted((a, b))
    assert opening_day(t, year, "setout", high) <= opening_day(t, year, "setout", low)
    careful = opening(t._replace(own_risk=low), year, "setout", good=True)
    daring = opening(t._replace(own_risk=high), year, "setout", good=True)
    assert daring.after <= careful.after
    assert daring[1:] == careful[1:]


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(["tomato", "pepper", "bush-bean", "sweet-corn", "cucumber", "winter-squash", "okra"]),
    st.sampled_from(["Duluth", "Macon", "Winnipeg", "London Heathrow", "Seattle Sea-Tac"]),
    st.integers(100, 900),
)
def test_a_colder_place_never_ripens_a_warm_crop_sooner(crop_id: str, name: str, higher: int) -> None:
    t, here = terms(crop_id)._replace(heat_c=None), site(name)
    there = at_height(here, (here.elev_m or 0.0) + higher, FACTS)
    day = date(2027, 6, 1)
    method = "outdoors" if t.can_sow_outdoors else "setout"
    warm = make_plan(t, site_year(here), method, day, wait=False)
    cold = make_plan(t, site_year(there), method, day, wait=False)
    assert cold.chance <= warm.chance + 1e-9
    if warm.first_pick is not None and cold.first_pick is not None:
        assert cold.first_pick >= warm.first_pick


def mirrored(north: Site) -> Site:
    """The same climate half a year later, south of the equator."""

    def turn(values: tuple[float, ...]) -> tuple[float, ...]:
        return values[-182:] + values[:-182]

    return replace(
        north,
        lat=-north.lat,
        normal_min_c=turn(north.normal_min_c),
        normal_max_c=turn(north.normal_max_c),
    )


@pytest.mark.parametrize("name", ["Duluth", "Macon", "London Heathrow", "Winnipeg"])
def test_the_hemispheres_mirror(name: str) -> None:
    north, south = site_year(site(name)), site_year(mirrored(site(name)))
    for crop_id in ("tomato", "bush-bean", "lettuce-leaf", "broccoli", "pea", "garlic", "asparagus"):
        up, down = spans(terms(crop_id), north), spans(terms(crop_id), south)
        assert [s.activity for s in up] == [s.activity for s in down]
        for a, b in zip(up, down, strict=True):
            assert abs(a.earliest - b.earliest) <= 6
            assert abs(a.latest - b.latest) <= 6


@pytest.mark.parametrize("name", PLACES)
def test_the_whole_calendar_of_a_place(name: str) -> None:
    """Every crop of every sample place: no exception, no nonsense date."""
    for w in calendar_windows(site(name), FACTS, date(2027, 4, 18)):
        assert date(2026, 1, 1) < w.earliest <= w.best_from <= w.best_to <= w.latest < date(2029, 6, 1)


def test_a_shorter_variety_is_picked_sooner_and_more_surely() -> None:
    year = site_year(site("Duluth"))
    long, short = (
        make_plan(with_dtm(terms("tomato"), d), year, "setout", date(2027, 6, 10)) for d in (85, 60)
    )
    assert short.first_pick is not None
    assert long.first_pick is None or short.first_pick < long.first_pick
    assert short.chance > long.chance


def test_a_tunnel_helps_a_warm_crop() -> None:
    year = site_year(site("Duluth"))
    bare = make_plan(terms("pepper"), year, "setout", date(2027, 6, 10))
    covered = make_plan(
        terms("pepper"), year, "setout", date(2027, 6, 10), cover=cover_named(FACTS, "tunnel")
    )
    assert covered.chance > bare.chance


def test_tropical_and_frozen_places_give_their_own_answer() -> None:
    """Tomatoes have no season at Barrow, a cool-half season in Miami."""
    assert not any(s.activity == "set-out" for s in spans(terms("tomato"), site_year(site("Barrow"))))
    miami = site_year(site("Miami"))
    assert any(s.activity in ("set-out", "fall-set-out") for s in spans(terms("tomato"), miami))
