"""A start is judged by the day: its own windows, the ground as it is seen, the soil as it is or usually is.

Soil temperatures wanted are those of knowledge/crops; what frozen, snow-covered or sodden ground forbids is
common practice.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import pytest

from gardenmate.climate.places import Place, resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.answer import answer
from gardenmate.topics.season.season import ACTIVITIES
from tests.topics.said import spoken

FACTS = Facts()
EARLY = ("Not too early", "Early", "A little early", "Possible to")
PLACES = ("Duluth", "Boston", "Seattle", "Tucson", "Miami", "Hobart", "Leeds")


@cache
def place(name: str) -> Place:
    return resolve_site(place=name, facts=FACTS)


def ask(
    topic: str,
    crop: str,
    at: str,
    day: date,
    text: str = "as asked",
    typed: str = "",
    cues: dict[str, str] | None = None,
    **slots: object,
) -> Answer:
    said = Slots(**slots)  # type: ignore[arg-type]
    question = spoken(text, topic, (CropRef(crop, typed=typed or crop),), said, cues=cues or {})
    where = place(at)
    return answer(question, World(day, FACTS, NO_GARDEN, "us", where.site, where.sites, where.region))


def number(found: Answer, name: str) -> object:
    return next(n.value for n in found.numbers if n.name == name)


# -- the ground as it is seen --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "state"),
    [
        ("the beds are frozen solid, can spinach go in?", "frozen"),
        ("still frost in the ground here, time for onions?", "frozen"),
        ("the bed still has snow on it, direct sow carrots?", "snow"),
        ("garden is under a foot of snow, too early for onion sets?", "snow"),
        ("snow on the garden, too early for radishes?", "snow"),
        ("my plot is still under snow, sow carrots?", "snow"),
        ("the soil is waterlogged, plant potatoes?", "wet"),
        ("can I sow peas, the bed is too wet?", "wet"),
        ("can I sow peas before the ground is frozen", None),
        ("ground isn't frozen any more, sow peas?", None),
        ("the snow is gone from the bed, sow peas?", None),
        ("once the soil is no longer muddy, can I sow?", None),
        ("can I plant frozen garlic cloves", None),
        ("can I sow peas in the garden", None),
    ],
)
def test_the_ground_as_the_grower_sees_it(text: str, state: str | None) -> None:
    seen = spoken(text, "early-start", (CropRef("pea"),)).first("ground")
    assert (None if seen is None else seen.value) == state


@pytest.mark.parametrize("crop", ["pea", "radish", "potato"])
@pytest.mark.parametrize("topic", ["early-start", "late-start"])
def test_nothing_goes_into_ground_seen_frozen(crop: str, topic: str) -> None:
    day = date(2027, 4, 18)
    assert ask(topic, crop, "Boston", day, method="outdoors").verdict == "yes"
    found = ask(topic, crop, "Boston", day, "the ground is frozen solid", method="outdoors")
    assert found.verdict == "no"
    assert "frozen" in found.headline
    assert "thawed" in found.headline


# -- the soil ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("crop", "at", "day"),
    [
        ("melon", "Boston", date(2027, 5, 15)),
        ("cucumber", "Boston", date(2027, 5, 12)),
        ("summer-squash", "Hobart", date(2027, 11, 1)),
    ],
)
def test_usual_soil_well_under_what_seed_wants_is_no_plain_yes(crop: str, at: str, day: date) -> None:
    found = ask("early-start", crop, at, day, method="outdoors")
    assert found.verdict in ("tight", "no")


@pytest.mark.parametrize("at", PLACES)
@pytest.mark.parametrize("crop", FACTS.examples("often_asked"))
def test_a_plain_yes_to_too_early_has_the_soil_it_wants(crop: str, at: str) -> None:
    """Near enough: within three degrees, or the warmest a cool summer gives."""
    base = FACTS.crop(crop)
    low = base.soil.practical_soil_sow_c or base.soil.min_soil_sow_c
    if low is None or "direct" not in base.methods:
        return
    for month in range(1, 13):
        found = ask("early-start", crop, at, date(2027, month, 11), method="outdoors")
        soil = [n.value for n in found.numbers if n.name == "soil_c"]
        if found.verdict == "yes" and soil and "Not too early" in found.headline:
            assert isinstance(soil[0], int)
            assert soil[0] >= low[0] - 3.5 or at in ("Seattle", "Hobart", "Leeds")


def test_soil_read_too_hot_is_a_no() -> None:
    for topic in ("early-start", "late-start"):
        hot = (Temperature(33.0, "C", "soil"),)
        found = ask(topic, "spinach", "Boston", date(2027, 4, 25), temps=hot, method="outdoors")
        assert found.verdict == "no"
        assert "too hot" in found.headline


# -- the windows ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("at", PLACES)
@pytest.mark.parametrize("crop", FACTS.examples("often_asked"))
def test_a_start_not_called_off_lies_in_a_window_of_its_way(crop: str, at: str) -> None:
    """Yes or tight of a season that opens: the day lies in a window of that way, and past its earliest."""
    for method in ("indoors", "outdoors", "setout"):
        for number in range(0, 365, 13):
            day = date(2027, 1, 3) + timedelta(days=number)
            found = ask("early-start", crop, at, day, method=method)
            mine = [w for w in found.windows if w.activity in ACTIVITIES[method]]
            if found.verdict in ("yes", "tight") and mine and found.headline.startswith(EARLY):
                assert any(w.earliest <= day <= w.latest for w in mine), (method, day, found.headline)
                first = [n.value for n in found.numbers if n.name == "earliest"]
                assert not first or first[0] <= day, (method, day, found.headline)  # type: ignore[operator]


# -- what a yes to "too late?" opens with --------------------------------------------------------------------


@pytest.mark.parametrize("at", PLACES)
def test_a_yes_to_too_late_opens_so(at: str) -> None:
    kinds = [(c, "") for c in FACTS.crop_ids] + [
        ("broccoli", "purple sprouting broccoli"),
        ("cabbage", "spring cabbage"),
    ]
    for crop, typed in kinds:
        for month in (2, 6, 8, 10):
            found = ask("late-start", crop, at, date(2027, month, 12), typed=typed)
            assert found.verdict != "yes" or found.headline.startswith("Not too late"), found.headline


def test_autumn_is_too_early_to_sow_peppers_for_summer() -> None:
    for at in ("Boston", "Seattle", "Leeds"):
        found = ask("early-start", "pepper", at, date(2027, 11, 11), method="indoors")
        assert found.verdict == "no"
        assert found.headline.startswith("Too early")


def test_in_a_hot_summer_a_start_weeks_off_is_a_no() -> None:
    for crop in ("lettuce-leaf", "broccoli", "kale"):
        found = ask("late-start", crop, "Miami", date(2027, 6, 3))
        assert found.verdict == "no"
        assert "Next" in found.headline or "next" in found.headline


def test_the_first_picking_told_is_that_of_the_windows_told() -> None:
    """Past the best of every way, what can still be put in now is what is picked first."""
    found = ask("when-start", "tomato", "Brisbane", date(2027, 4, 20))
    planted = ask("late-start", "tomato", "Brisbane", date(2027, 4, 20), method="setout")
    assert number(found, "first_pick") == number(planted, "first_pick")


# -- inside or in place --------------------------------------------------------------------------------------


@pytest.mark.parametrize("crop", ["beet", "melon", "cucumber", "summer-squash"])
@pytest.mark.parametrize("method", ["indoors", "outdoors"])
def test_both_ways_are_compared_from_today_on(crop: str, method: str) -> None:
    day = date(2027, 4, 28)
    found = ask("when-start", crop, "Boston", day, f"{crop} inside, or direct in the bed?", method=method)
    sown = number(found, "sow")
    assert isinstance(sown, date)
    assert sown >= day
    assert "sown indoors" in found.headline
    assert "than sown outdoors" in found.headline


def test_courgettes_on_the_windowsill_are_sown_indoors() -> None:
    cues = {"place_kind": "sill", "start_verb": "sow"}
    assert "indoors" in ask("early-start", "summer-squash", "Leeds", date(2027, 3, 10), cues=cues).headline


def test_days_to_spare_follow_from_the_dates_told() -> None:
    found = ask("harvest-date", "tomato", "Fairbanks", date(2027, 6, 1), method="setout")
    short = next(n for n in found.numbers if n.name == "margin_days")
    assert isinstance(short.value, int)
    assert short.value >= 0 or not short.shown  # fewer than none is told by its dates


@pytest.mark.parametrize(
    ("crop", "method"),
    [("pea", "outdoors"), ("broccoli", "setout"), ("pepper", "indoors"), ("beet", "outdoors")],
)
def test_between_two_seasons_is_no_time_to_begin(crop: str, method: str) -> None:
    """It may live to be picked in June, but it is next season's crop begun at the wrong end of this one."""
    for at in ("Boston", "Duluth"):
        assert ask("late-start", crop, at, date(2027, 11, 14), method=method).verdict == "no"
