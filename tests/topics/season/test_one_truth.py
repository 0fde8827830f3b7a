"""No two answers about one start contradict, and every chance moves the way it must.

What contradicts is told in tests/bench/contradictions.py, which counts it over thousands; here hypothesis looks for
one. The monotone properties are logic: a later autumn, a quicker variety or an earlier start never lowers a chance.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.climate.freezes import (
    Freeze,
    FreezeDate,
)
from gardenmate.climate.site import Site
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN, Variety
from gardenmate.records import replace
from gardenmate.topics.season.answer import answer
from gardenmate.topics.season.decide import late
from gardenmate.topics.season.season import Season, season_for
from gardenmate.topics.season.season_dates import garden_season
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import cover_named, with_dtm
from tests.bench.contradictions import FACTS, PLACES, of_one, site
from tests.bench.contradictions import ask as ask_by
from tests.bench.contradictions import world as no_garden

crops = st.sampled_from(FACTS.crop_ids)
places = st.sampled_from(PLACES)
days = st.dates(date(2027, 1, 1), date(2027, 12, 31))
frosty = st.sampled_from(("Duluth", "Boston", "Denver", "Winnipeg", "Des Moines", "Philadelphia, PA"))
warm = st.sampled_from([c for c in FACTS.crop_ids if FACTS.crop(c).warm and not FACTS.crop(c).calendar.rule])
spring = st.dates(date(2027, 5, 20), date(2027, 7, 25))
RANK = {"no": 0, "tight": 1, "yes": 2}


@settings(max_examples=250, deadline=None)
@given(crops, places, days)
def test_no_two_answers_contradict(crop_id: str, name: str, day: date) -> None:
    assert list(of_one(name, FACTS.crop(crop_id), day)) == []


def moved(here: Site, later_days: float) -> Site:
    """The place with every autumn freeze so much later, and nothing else changed."""

    def shift(frost: FreezeDate | None) -> FreezeDate | None:
        return None if frost is None else frost._replace(offset_days=frost.offset_days + later_days)

    freezes = {t: Freeze(f.last_spring, shift(f.first_autumn)) for t, f in here.freezes.items()}
    return replace(here, freezes=freezes)


def of(crop_id: str, here: Site) -> Season:
    return season_for(FACTS.crop(crop_id), here, FACTS)


def way(season: Season) -> str:
    return "outdoors" if season.terms.can_sow_outdoors else "setout"


@settings(max_examples=120, deadline=None)
@given(warm, frosty, spring, st.integers(1, 30))
def test_a_later_autumn_frost_never_lowers_a_chance(crop_id: str, name: str, day: date, later: int) -> None:
    now, then = of(crop_id, site(name)), of(crop_id, moved(site(name), later))
    method = way(now)
    assert then.plan(method, day).chance >= now.plan(method, day).chance - 1e-9
    found = [RANK[late(s, method, day).verdict] for s in (now, then)]
    assert found[1] >= found[0]


@settings(max_examples=120, deadline=None)
@given(warm, frosty, spring, st.integers(1, 30))
def test_a_quicker_variety_never_lowers_a_chance(crop_id: str, name: str, day: date, fewer: int) -> None:
    usual = of(crop_id, site(name))._replace(terms=of(crop_id, site(name)).terms._replace(heat_c=None))
    quick = usual.with_variety(with_dtm(usual.terms, usual.terms.dtm - min(fewer, usual.terms.dtm / 2)))
    method = way(usual)
    assert quick.plan(method, day).chance >= usual.plan(method, day).chance - 1e-9


@settings(max_examples=120, deadline=None)
@given(warm, frosty, spring, st.integers(1, 30))
def test_a_later_start_never_raises_a_chance(crop_id: str, name: str, day: date, later: int) -> None:
    season = of(crop_id, site(name))
    season = season.with_variety(season.terms._replace(heat_c=None))
    first, second = (season.plan(way(season), d, wait=False) for d in (day, day + timedelta(days=later)))
    assert second.chance <= first.chance + 1e-9


@settings(max_examples=80, deadline=None)
@given(warm, frosty, spring, st.sampled_from(("fleece", "tunnel")))
def test_a_cover_never_lowers_a_chance(crop_id: str, name: str, day: date, gear: str) -> None:
    bare = of(crop_id, site(name))
    bare = bare.with_variety(bare.terms._replace(heat_c=None))
    covered = bare._replace(cover=cover_named(FACTS, gear))
    assert covered.plan(way(bare), day).chance >= bare.plan(way(bare), day).chance - 1e-9


@settings(max_examples=60, deadline=None)
@given(warm, frosty, spring, st.floats(0.2, 3.0))
def test_warmth_never_lowers_the_chance_of_a_warm_crop(
    crop_id: str, name: str, day: date, more: float
) -> None:
    here = site(name)
    warmer = replace(
        here,
        normal_min_c=tuple(v + more for v in here.normal_min_c),
        normal_max_c=tuple(v + more for v in here.normal_max_c),
    )
    cool = of(crop_id, here)
    terms = cool.terms._replace(heat_c=None)
    chances = [Season(terms, site_year(s)).plan(way(cool), day, wait=False).chance for s in (here, warmer)]
    assert chances[1] >= chances[0] - 1e-9


@pytest.mark.parametrize("name", ["Duluth", "Boston", "Seattle Sea-Tac", "Hobart"])
def test_tight_days_lie_inside_their_window_and_are_marked(name: str) -> None:
    """Past ``sure_to`` a day is tight, up to it it is a yes, for what is judged by its chance in the open."""
    for crop_id in ("tomato", "bush-bean", "cucumber", "beet", "broccoli", "summer-squash"):
        season = of(crop_id, site(name))
        for window in season.windows(date(2027, 3, 1) if site(name).lat > 0 else date(2027, 9, 1)):
            if window.activity not in ("set-out", "sow-outdoors") or window.cover or window.days_to_maturity:
                continue
            method = way(season) if window.activity == "sow-outdoors" else "setout"
            marked = [window.latest] if window.sure_to is None else [window.sure_to, window.latest]
            found = [late(season, method, day).verdict for day in marked]
            expected = ["tight"] if window.sure_to is None else ["yes", "tight"]
            if window.sure_to != window.latest:
                assert found == expected, (crop_id, window)


def test_the_growers_own_variety_feeds_every_date() -> None:
    """A quick tomato told of is what the question and the list of the week go by."""
    glacier = Variety("Glacier", "tomato", 55)
    garden = replace(NO_GARDEN, varieties={"Glacier": glacier}, wanted=("tomato",))
    at = World(date(2027, 6, 12), FACTS, garden, "us", site("Duluth"))
    told = answer(Request("asked", "late-start", (CropRef("tomato"),), Slots(method="setout")), at)
    season = garden_season(FACTS.crop("tomato"), site("Duluth"), at)
    assert season.terms.dtm == 55
    assert told.verdict == "yes"
    assert any("Your Glacier, 55 days" in note for note in told.assumptions)
    assert told.windows == season.windows(at.today)


def test_a_quick_variety_is_told_by_when_and_by_late_with_one_date() -> None:
    crop, day = FACTS.crop("leek"), date(2027, 3, 20)
    season = season_for(crop, site("Duluth"), FACTS)
    at = season.open_for_quick("indoors", day)
    assert at is not None
    assert at.open is not None
    when = ask_by("when-start", crop, no_garden("Duluth", day), None)
    judged = ask_by("late-start", crop, no_garden("Duluth", day), "indoors")
    last = {n.value for n in judged.numbers if n.name == "latest_sow"}
    assert last == {at.open.latest}
    assert "24 Apr" in when.headline
    assert "90-day" in when.headline
    assert "90-day" in judged.headline
    before = ask_by("late-start", crop, no_garden("Duluth", date(2027, 3, 5)), "indoors")
    assert {n.value for n in before.numbers if n.name == "latest_sow_quick"} == {at.open.latest}
