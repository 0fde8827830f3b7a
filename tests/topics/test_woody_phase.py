"""Where a plant stands on a date: order of the stages, places, halves of the world, this year's weather."""

from __future__ import annotations

from array import array
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.climate.history import YEAR_CELLS, History
from gardenmate.climate.site import Site
from gardenmate.knowledge.woody import woody
from gardenmate.records import replace
from gardenmate.topics.shared.woody_phase import (
    Spring,
    bloom,
    bud_break,
    chill_delay,
    month_runs,
    phase_on,
    recorded_extremes,
    site_spring,
    spans,
    spring_at,
    year_of,
)
from tests.topics.woody_bench import FACTS, place, world

PLACES = (
    "Duluth, MN",
    "Boise",
    "Portland, OR",
    "London Heathrow",
    "Miami",
    "Hobart",
    "Minneapolis",
    "Sacramento",
)
IDS = FACTS.ids("woody")


def site(name: str) -> Site:
    found = place(name).site
    assert found is not None
    return found


def spring(name: str, today: str = "2027-04-18") -> Spring:
    return site_spring(FACTS, site(name), date.fromisoformat(today))


@pytest.mark.parametrize("where", PLACES)
@pytest.mark.parametrize("woody_id", IDS)
def test_stages_of_a_year_follow_one_another(woody_id: str, where: str) -> None:
    phases = year_of(woody(FACTS, woody_id), spring(where), FACTS)
    for before, after in pairwise(phases):
        assert before.until == after.since
        assert before.since < before.until


@settings(max_examples=60, deadline=None)
@given(
    woody_id=st.sampled_from(IDS),
    where=st.sampled_from(PLACES),
    day=st.dates(date(2026, 1, 1), date(2028, 12, 31)),
)
def test_every_day_has_a_stage(woody_id: str, where: str, day: date) -> None:
    plant = woody(FACTS, woody_id)
    phase = phase_on(plant, site_spring(FACTS, site(where), day), FACTS, day)
    assert phase.since <= day < phase.until
    for season in plant.seasons:
        for start, end in spans(plant, season, spring(where)):
            assert start <= end
            assert (end - start).days < 250


@pytest.mark.parametrize(
    ("woody_id", "where", "day", "stage"),
    [
        ("apple", "Duluth, MN", "2027-04-01", "dormant"),
        ("apple", "Boise", "2027-04-01", "green_tip"),
        ("apple", "Boise", "2027-07-01", "leafed_out"),
        ("apple", "Boise", "2027-10-25", "leaf_fall"),
        ("apple", "Boise", "2027-12-25", "dormant"),
        ("apple", "Hobart", "2027-07-01", "dormant"),
        ("apple", "Hobart", "2027-01-10", "leafed_out"),
        ("apricot", "Sacramento", "2027-08-01", "after_harvest"),
        ("forsythia", "Boise", "2027-03-20", "bloom"),
        ("elderberry-american", "Boise", "2027-03-16", "green_tip"),
    ],
)
def test_likely_stage(woody_id: str, where: str, day: str, stage: str) -> None:
    frame = spring(where, day)
    assert phase_on(woody(FACTS, woody_id), frame, FACTS, date.fromisoformat(day)).stage == stage


def test_colder_places_open_later() -> None:
    order = [
        spring(w).green_tip for w in ("Sacramento", "Portland, OR", "Boise", "Minneapolis", "Duluth, MN")
    ]
    assert order == sorted(order)


def test_plants_open_in_their_known_order() -> None:
    """Common practice: honeyberry and elder first, walnut and grape last."""
    frame = spring("Boise")
    opened = [
        bud_break(woody(FACTS, i), frame) for i in ("honeyberry", "currant-red", "apple", "grape", "walnut")
    ]
    assert opened == sorted(opened)


def test_without_a_place_zones_5_to_7_and_a_wide_spread() -> None:
    frame = spring_at(world("2027-04-18"))
    assert (frame.basis, frame.spread_days, frame.green_tip) == ("calendar", 21, date(2027, 4, 5))


def test_a_region_is_its_middle_place_with_its_reach() -> None:
    frame = spring_at(world("2027-04-18", "Minnesota"))
    assert frame.basis == "region"
    assert frame.label == "Minnesota"
    assert frame.spread_days >= 10


def test_southern_cycles_span_new_year() -> None:
    frame = spring("Hobart", "2027-02-01")
    assert frame.southern
    assert frame.green_tip.year == 2026
    assert frame.green_tip.month in (8, 9, 10)
    assert date(2027, 4, 1) < frame.leaf_fall < date(2027, 7, 1)


def test_this_years_weather_moves_the_estimate() -> None:
    here = site("Boise")
    warm = _with_weather(here, 6.0)
    today = date(2027, 3, 20)
    usual, moved = site_spring(FACTS, here, today), site_spring(FACTS, warm, today)
    assert moved.basis == "weather"
    assert moved.spread_days < usual.spread_days
    assert moved.green_tip < usual.green_tip
    assert recorded_extremes(here, today) is None


def _with_weather(here: Site, warmer_c: float) -> Site:
    def tenths(values: tuple[float, ...]) -> array[int]:
        return array("h", [round(10 * (v + warmer_c)) for v in values])

    low, high = tenths(here.normal_min_c), tenths(here.normal_max_c)
    assert len(low) == YEAR_CELLS
    return replace(here, history=History("test", 2027, low, high))


def test_bloom_by_degree_days_for_blueberry() -> None:
    plant = woody(FACTS, "blueberry-highbush")
    first, flowers = bud_break(plant, spring("Minneapolis")), bloom(plant, spring("Minneapolis"))
    assert flowers is not None
    assert timedelta(days=8) < flowers - first < timedelta(days=35)


def test_month_runs() -> None:
    assert month_runs((11, 12, 1, 2, 3)) == ((11, 3),)
    assert month_runs((7, 8, 12, 1)) == ((7, 8), (12, 1))
    assert month_runs((6,)) == ((6, 6),)


@pytest.mark.parametrize("woody_id", IDS)
def test_windows_agree_with_the_months_they_were_written_for(woody_id: str) -> None:
    """Weeks from bud break and printed months are two tellings of one season: in zones 5-7 they overlap."""
    plant, frame = woody(FACTS, woody_id), spring_at(world("2027-01-10"))
    for season in plant.seasons:
        for start, end in spans(plant, season, frame):
            months = {(start + timedelta(days=i)).month for i in range((end - start).days + 1)}
            assert months & set(season.months), (season.window, start, end)


def test_winter_chill_grows_with_cold() -> None:
    frames = [spring(w) for w in ("Miami", "Sacramento", "Boise")]
    chill = [f.rest.hours_by(f.green_tip) for f in frames if f.rest is not None]
    assert chill == sorted(chill)
    assert chill[0] < 300
    assert chill[2] > 1500


def test_rest_is_over_before_spring_where_winters_are_cold() -> None:
    frame, apple = spring("Boise"), woody(FACTS, "apple")
    assert frame.rest is not None
    rested = frame.rest.complete(800)
    assert rested is not None
    assert rested < date(2027, 1, 15)
    assert chill_delay(apple, frame) == 0


def test_a_winter_without_chill_is_told_and_a_late_one_delays() -> None:
    assert chill_delay(woody(FACTS, "apple"), spring("Miami")) is None
    rest = spring("Sacramento").rest
    assert rest is not None
    most = rest.hours_by(date(2027, 3, 20))
    assert (rest.delay_days(most) or 0) > 0
    assert rest.delay_days(100) == 0
