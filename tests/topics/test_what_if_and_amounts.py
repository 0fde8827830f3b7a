"""What-if on the frost that binds, a bed's size, a count for each crop, and the order of the agenda."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots, Typed
from gardenmate.core.units import Units
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.agenda.item import weight_of
from gardenmate.topics.agenda.items import items
from gardenmate.topics.explain import answer as explain
from gardenmate.topics.quantities import answer as how_many
from gardenmate.topics.quantities.sowing import counts_told
from gardenmate.topics.season import answer as season_questions
from tests.topics.said import spoken

FACTS = Facts()


def world(at: str, day: date, units: Units = "us") -> World:
    where = resolve_site(place=at, facts=FACTS)
    return World(day, FACTS, NO_GARDEN, units, where.site, where.sites, where.region)


def what_if(
    topic: str, crop: str, at: str, day: date, cues: dict[str, str], **slots: object
) -> tuple[float, float]:
    """(chance before, chance when the frost is moved)."""
    place = world(at, day)
    before = season_questions.answer(spoken("asked", topic, (CropRef(crop, typed=crop),)), place)
    moved = World(day, FACTS, NO_GARDEN, "us", place.site, previous=before)
    said = Slots(**slots)  # type: ignore[arg-type]
    after = explain.answer(spoken("what if", "explain", (), said, cues={"asks": "what-if", **cues}), moved)
    return odds(before), odds(after)


def odds(found: Answer) -> float:
    """The chance an answer rests on, that of a usual variety, or that no frost which hurts is to come."""
    if found.chance is not None:
        return found.chance
    told = {n.name: n.value for n in found.numbers if n.name in ("chance_usual", "frost_chance")}
    if "chance_usual" in told:
        return int(str(told["chance_usual"])) / 100
    return 1.0 - int(str(told["frost_chance"])) / 100


def asks_why_of(figure: str) -> tuple[Typed, ...]:
    """What language reads in "why 72?"."""
    return (Typed("asks", "why"), Typed("figure", figure))


@pytest.mark.parametrize("text", ["why 72?", "but why only 72", "how come it is 72 days"])
def test_why_a_figure_is_explained_and_changes_nothing(text: str) -> None:
    place = world("Boston", date(2027, 5, 20))
    before = season_questions.answer(spoken("asked", "late-start", (CropRef("tomato"),)), place)
    after = explain.answer(
        spoken(text, "explain", (), Slots(temp_f=72.0), cues={"asks": "why"}, typed=asks_why_of("72")),
        World(place.today, FACTS, NO_GARDEN, "us", place.site, previous=before),
    )
    assert set(after.details) == set(before.working)
    assert "72" in after.details[0]
    assert "Worked again" not in after.headline


def test_why_a_figure_that_is_not_there() -> None:
    place = world("Boston", date(2027, 5, 20))
    before = season_questions.answer(spoken("asked", "late-start", (CropRef("tomato"),)), place)
    after = explain.answer(
        spoken("why 4321?", "explain", (), cues={"asks": "why"}, typed=asks_why_of("4321")),
        World(place.today, FACTS, NO_GARDEN, "us", place.site, previous=before),
    )
    assert after.headline.startswith("There is no 4321")


@pytest.mark.parametrize(
    ("crop", "at", "day"),
    [("bush-bean", "Boston", date(2027, 8, 1)), ("tomato", "Duluth", date(2027, 6, 15))],
)
def test_an_early_frost_takes_from_a_late_start(crop: str, at: str, day: date) -> None:
    before, after = what_if("late-start", crop, at, day, {"shift_days": "-21"})
    assert after < before
    named, told = what_if("late-start", crop, at, day, {"shift_days": "-21", "frost_moved": "autumn"})
    assert (named, told) == (before, after)


def test_a_late_last_frost_takes_from_an_early_start() -> None:
    before, after = what_if("early-start", "tomato", "Boston", date(2027, 5, 10), {"shift_days": "14"})
    assert after < before


def test_a_first_frost_told_as_a_date_moves_the_autumn() -> None:
    day = date(2027, 8, 1)
    cues = {"frost_moved": "autumn"}
    before, early = what_if("late-start", "bush-bean", "Boston", day, cues, date=date(2027, 9, 20))
    _, late = what_if("late-start", "bush-bean", "Boston", day, cues, date=date(2027, 11, 25))
    assert early < before <= late


@pytest.mark.parametrize(
    ("text", "crop", "units", "low", "high"),
    [
        ("how many carrots fit in a 4x8 bed?", "carrot", "us", 100, 800),
        ("how many leeks in a 4 by 8 bed", "leek", "us", 30, 180),
        ("how many lettuces in a bed of 1.2 x 2.4 m", "lettuce", "metric", 20, 140),
    ],
)
def test_the_size_of_a_bed_is_no_count(text: str, crop: str, units: Units, low: int, high: int) -> None:
    figure = 8.0 if "8" in text else 1.2
    question = spoken(
        text, "how-many", (CropRef(crop, typed=crop),), Slots(count=figure), cues={"asks": "bed"}
    )
    found = how_many.answer(question, world("Duluth", date(2027, 4, 18), units))
    assert found.headline.startswith("A bed of")
    holds = {n.name: n.value for n in found.numbers if n.name.startswith("bed_holds")}
    assert low <= int(str(holds["bed_holds"])) < int(str(holds["bed_holds_most"])) <= high


def test_each_crop_keeps_its_own_count() -> None:
    crops = (
        CropRef("tomato", typed="tomatoes"),
        CropRef("pepper", typed="peppers"),
        CropRef("leek", typed="leeks"),
    )
    text = "20 tomatoes, 12 hot peppers and 60 leeks: how many trays?"
    question = spoken(text, "how-many", crops, Slots(count=20), cues={"amount": "trays"})
    assert counts_told(question) == {"tomato": 20, "pepper": 12, "leek": 60}
    found = how_many.answer(question, world("Duluth", date(2027, 2, 20)))
    assert "for 60 leek plants" in found.headline
    assert not any("taken for each crop" in a for a in found.assumptions)


def test_one_count_for_two_crops_is_still_said_to_be_shared() -> None:
    crops = (CropRef("tomato", typed="tomatoes"), CropRef("pepper", typed="peppers"))
    question = spoken("trays for 20 tomatoes and peppers", "how-many", crops, Slots(count=20))
    assert counts_told(question) == {}


def test_what_closes_with_its_best_presses_more_than_what_may_follow() -> None:
    order = FACTS.table("work")["order"]
    today = date(2027, 4, 18)
    best = today + timedelta(days=10)
    closing = weight_of(0.7, "due", today, best, best + timedelta(days=1), order)
    roomy = weight_of(0.7, "due", today, best - timedelta(days=3), best + timedelta(days=40), order)
    assert closing > roomy


@pytest.mark.parametrize("day", [date(2027, 4, 18), date(2027, 4, 25)])
def test_peppers_and_tomatoes_come_before_cabbage_in_their_last_weeks(day: date) -> None:
    jobs = [i.crop for i in items(world("Duluth", day), day + timedelta(days=6))]
    assert jobs.index("pepper") < jobs.index("tomato") < jobs.index("cabbage")


def test_peas_in_november_are_sown_to_stand_the_winter() -> None:
    day = date(2027, 11, 10)
    jobs = [i.do for i in items(world("Leeds", day), day + timedelta(days=6)) if i.crop == "pea"]
    assert jobs == ["Sow peas to overwinter"]
