"""Places where growers do otherwise than the middle of the country: dates beside those of publications."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Window
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.season import Season, season_for

FACTS = Facts()
PLANTS, SEED = ("set-out", "fall-set-out"), ("sow-outdoors", "fall-sow")


def season(crop: str, place: str) -> Season:
    site = resolve_site(place=place, facts=FACTS).site
    assert site is not None
    return season_for(FACTS.crop(crop), site, FACTS)


def open_on(crop: str, place: str, activities: tuple[str, ...], day: date) -> Window | None:
    windows = season(crop, place).windows(day)
    return next((w for w in windows if w.activity in activities and w.earliest <= day <= w.latest), None)


@pytest.mark.parametrize("crop", ["tomato", "pepper"])
def test_the_hot_south_has_two_seasons_and_summer_shut(crop: str) -> None:
    """Spring plants from late February, autumn plants in July (Texas A&M AgriLife, Henderson County, Start your fall
    vegetable garden); what is set out between flowers and ripens in the worst of the heat."""
    for day, accepted in ((date(2027, 3, 20), True), (date(2027, 6, 1), False), (date(2027, 7, 31), True)):
        assert (open_on(crop, "Houston", PLANTS, day) is not None) is accepted, day


@pytest.mark.parametrize("place", ["Raleigh", "Boise"])
def test_a_hot_july_alone_shuts_no_summer(place: str) -> None:
    """Tomatoes go out through June there (common practice): the fruit of early summer sets before the heat."""
    assert open_on("tomato", place, PLANTS, date(2027, 6, 10)) is not None


def test_peas_of_september_are_picked_the_same_autumn_in_the_desert() -> None:
    """Sown in September they take 60 to 120 days in southern Arizona, in November 120 to 150 (advice after the
    University of Arizona's planting calendars)."""
    grown = season("pea", "Tucson")
    now = open_on("pea", "Tucson", SEED, date(2027, 9, 15))
    assert now is not None
    assert now.best_from <= date(2027, 9, 20)
    picked = grown.plan("outdoors", date(2027, 9, 15)).first_pick
    assert picked is not None
    assert 60 <= (picked - date(2027, 9, 15)).days <= 120


def test_peas_of_late_autumn_still_stand_the_winter_where_they_do() -> None:
    """Canberra sows peas in April and May too (its calendar in calendars_published.csv) for spring."""
    picked = season("pea", "Canberra").plan("outdoors", date(2027, 4, 20)).first_pick
    assert picked is not None
    assert picked >= date(2027, 9, 1)


@pytest.mark.parametrize("crop", ["broccoli", "cabbage", "cauliflower"])
def test_a_winter_that_is_mild_enough_grows_on_in_the_dark(crop: str) -> None:
    """Melbourne plants them out until May (A Melbourne kitchen garden's May list, of calendars_further.csv); where
    midwinter is colder the short days still end the season."""
    assert open_on(crop, "Melbourne", PLANTS, date(2027, 4, 5)) is not None
    assert open_on(crop, "Sheffield", PLANTS, date(2027, 10, 5)) is None


def test_growers_hurry_where_summers_are_cool_and_wait_where_they_are_warm() -> None:
    """Early June for courgettes in the north of Scotland (common practice), mid May for tomatoes in the Twin Cities
    (University of Minnesota Extension: sow 1-10 April, plants of six weeks)."""
    cool = season("summer-squash", "Aberdeen, Scotland").of("setout", date(2027, 3, 1))[0]
    warm = season("tomato", "Minneapolis").of("setout", date(2027, 3, 1))[0]
    assert date(2027, 5, 28) <= cool.best_from <= date(2027, 6, 15)
    assert date(2027, 5, 9) <= warm.best_from <= date(2027, 5, 25)


def test_broad_beans_of_march_are_picked_in_july() -> None:
    """March sowings crop from late June in England (its garden calendars); packets say 75 to 90 days."""
    picked = season("broad-bean", "Sheffield").plan("outdoors", date(2027, 3, 16), wait=False).first_pick
    assert picked is not None
    assert date(2027, 6, 25) <= picked <= date(2027, 7, 25)


def test_parsnips_are_good_to_sow_in_march_in_ireland() -> None:
    """British and Irish calendars say February to April, the better germination in the later weeks."""
    spring = season("parsnip", "Dublin").of("outdoors", date(2027, 1, 10))[0]
    assert date(2027, 2, 15) <= spring.earliest
    assert date(2027, 3, 10) <= spring.best_from <= date(2027, 4, 10)


@pytest.mark.parametrize("day", [date(2027, 7, 1), date(2027, 7, 20)])
def test_plants_of_july_bear_in_the_cooler_weeks_of_autumn(day: date) -> None:
    """Texas A&M AgriLife (Henderson County, July) sets out tomatoes for autumn then: what is picked for weeks is not
    judged by the heat of its first day."""
    window = open_on("tomato", "Dallas", PLANTS, day)
    assert window is not None
    assert window.best_from <= day <= window.best_to


@pytest.mark.parametrize(
    ("place", "day"), [("Inverness, Scotland", date(2027, 5, 20)), ("Victoria, BC", date(2027, 7, 5))]
)
def test_leeks_of_early_summer_are_grown_of_quick_kinds(place: str, day: date) -> None:
    """British calendars plant leeks out from May into July (common practice); what is not full grown keeps."""
    at_quick = season("leek", place).open_for_quick("setout", day)
    assert at_quick is not None
    assert at_quick.open is not None
