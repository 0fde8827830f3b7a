"""Places without a northern year: hot summers, mild winters, cool coasts. Months are common practice there
unless a source stands beside them."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest

from gardenmate.climate.places import Place, resolve_site
from gardenmate.core.answer import Answer, Number, Window
from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.agenda import answer as agenda
from gardenmate.topics.season.answer import answer
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import terms_for
from gardenmate.topics.season.windows import SHORT_DAYS, joined, spans
from tests.topics.said import spoken

FACTS = Facts()


@cache
def place(name: str) -> Place:
    return resolve_site(place=name, facts=FACTS)


def ask(
    topic: str, crop: str, at: str, day: date, cues: dict[str, str] | None = None, **slots: object
) -> Answer:
    said = Slots(**slots)  # type: ignore[arg-type]
    question = spoken("as asked", topic, (CropRef(crop, typed=crop),), said, cues=cues or {})
    return answer(question, World(day, FACTS, NO_GARDEN, "us", place(at).site))


def number(found: Answer, name: str) -> Number:
    return next(n for n in found.numbers if n.name == name)


def allowed(crop: str, at: str, activity: str) -> set[tuple[int, int]]:
    """The (month, half) parts of the year in which the engine lets an activity be done."""
    site = place(at).site
    assert site is not None
    terms, year = terms_for(FACTS.crop(crop), FACTS), site_year(site)
    origin = year.origin(date(2027, 6, 1))
    found = set()
    for span in spans(terms, year):
        if span.activity == activity:
            for d in range(span.earliest, span.latest + 1):
                day = date.fromordinal(origin.toordinal() + d)
                found.add((day.month, 1 if day.day < 16 else 2))
    return found


# -- hot summers ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("at", ["Corpus Christi", "Houston", "Austin, Texas", "Orlando", "Tampa"])
def test_tomatoes_come_again_after_a_hot_summer(at: str) -> None:
    assert (8, 1) in allowed("tomato", at, "fall-set-out")
    assert (3, 1) in allowed("tomato", at, "set-out")


@pytest.mark.parametrize("at", ["Boston", "Duluth", "Leeds", "Seattle", "Denver", "Dunedin, New Zealand"])
def test_where_summer_is_the_season_tomatoes_have_no_second_one(at: str) -> None:
    assert not allowed("tomato", at, "fall-set-out")


def test_plants_for_autumn_are_raised_in_summer() -> None:
    found = ask("early-start", "tomato", "Houston", date(2027, 6, 20), {"start_verb": "start"})
    assert found.verdict == "yes"
    assert "indoors" in found.headline


def test_autumn_broccoli_of_the_deep_south_is_started_in_late_summer() -> None:
    assert (
        ask("early-start", "broccoli", "Mobile, Alabama", date(2027, 8, 1), {"start_verb": "start"}).verdict
        == "yes"
    )


def test_set_out_into_the_heat_is_no_and_says_when() -> None:
    found = ask("late-start", "tomato", "Phoenix", date(2027, 6, 15), {"start_verb": "plant"})
    assert found.verdict == "no"
    assert "too hot" in found.headline
    assert "autumn" in found.headline


# -- mild winters --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("day", [date(2027, 4, 20), date(2027, 6, 15), date(2027, 6, 24), date(2027, 7, 2)])
def test_garlic_goes_in_until_past_midwinter_in_the_south(day: date) -> None:
    """April to July: New Zealand and Tasmania."""
    found = ask("late-start", "garlic", "Hobart", day)
    assert found.verdict in ("yes", "tight")
    assert "rounds" not in found.headline


def test_garlic_planted_at_midwinter_is_lifted_in_early_summer() -> None:
    found = ask("harvest-date", "garlic", "Hobart", date(2027, 6, 25), date=date(2027, 6, 25))
    picked = number(found, "first_pick").value
    assert isinstance(picked, date)
    assert date(2027, 11, 10) <= picked <= date(2028, 1, 31)


@pytest.mark.parametrize("at", ["Melbourne", "Adelaide", "Christchurch, New Zealand"])
def test_broad_beans_are_sown_from_april_in_the_south(at: str) -> None:
    assert {(4, 2), (5, 1), (6, 1)} <= allowed("broad-bean", at, "fall-sow")


@pytest.mark.parametrize("at", ["San Diego", "Savannah, Georgia", "Los Angeles City"])
def test_strawberries_go_in_in_october_where_frost_is_light(at: str) -> None:
    assert {(10, 2), (11, 1)} <= allowed("strawberry", at, "fall-set-out")


def test_strawberries_of_autumn_are_picked_the_next_spring() -> None:
    found = ask("harvest-date", "strawberry", "San Diego", date(2027, 10, 20), date=date(2027, 10, 20))
    picked = number(found, "first_pick").value
    assert isinstance(picked, date)
    assert date(2028, 2, 1) <= picked <= date(2028, 5, 15)


@pytest.mark.parametrize(
    ("at", "day"), [("Burlington, Vermont", date(2027, 9, 12)), ("Leeds", date(2027, 9, 20))]
)
def test_corn_salad_sown_in_september_stands_the_winter(at: str, day: date) -> None:
    assert ask("late-start", "corn-salad", at, day).verdict == "yes"


def test_no_day_begins_at_the_solstice_where_winter_stops_nothing() -> None:
    found = ask("early-start", "cabbage", "New Orleans", date(2027, 1, 6))
    assert "21 Dec" not in found.headline


def test_windows_parted_by_midwinter_alone_are_one() -> None:
    autumn = Window(
        "kale", "fall-sow", date(2026, 8, 1), date(2026, 8, 20), date(2026, 12, 20), date(2026, 12, 20)
    )
    spring = Window(
        "kale", "sow-outdoors", date(2026, 12, 21), date(2027, 1, 10), date(2027, 2, 20), date(2027, 3, 9)
    )
    (one,) = joined([spring, autumn], date(2027, 1, 5), autumn_best=False)
    assert (one.activity, one.earliest, one.best_to, one.latest) == (
        "sow-outdoors",
        date(2026, 8, 1),
        date(2027, 2, 20),
        date(2027, 3, 9),
    )
    later = spring._replace(earliest=date(2027, 1, 20), best_from=date(2027, 3, 1))
    assert (later.earliest - autumn.latest).days > SHORT_DAYS
    assert len(joined([autumn, later], date(2027, 1, 5), autumn_best=False)) == 2


# -- cool coasts and the north -------------------------------------------------------------------------------


@pytest.mark.parametrize("at", ["Leeds", "Edinburgh", "Dublin"])
def test_parsnips_are_a_spring_sowing_in_britain(at: str) -> None:
    found = allowed("parsnip", at, "sow-outdoors")
    assert {(4, 1), (5, 1)} <= found
    assert not {(7, 1), (7, 2)} & (found | allowed("parsnip", at, "fall-sow"))


@pytest.mark.parametrize("crop", ["leek", "brussels-sprouts"])
def test_winter_crops_are_not_sown_in_july_in_britain(crop: str) -> None:
    assert ask("late-start", crop, "Leeds", date(2027, 7, 20), {"start_verb": "sow"}).verdict == "no"


@pytest.mark.parametrize("at", ["Burlington, Vermont", "Duluth", "Leeds"])
def test_celery_is_raised_indoors_where_it_is_cold(at: str) -> None:
    assert not allowed("celery", at, "sow-outdoors")
    assert allowed("celery", at, "sow-indoors")


def test_seed_that_should_have_been_sown_before_means_plants_are_bought() -> None:
    found = ask("when-start", "celery", "Burlington, Vermont", date(2027, 4, 25))
    assert "buy plants" in found.headline


def test_drawing_and_windows_tell_one_story() -> None:
    found = ask("when-start", "runner-bean", "Dublin", date(2027, 2, 1))
    out = next(m.on for m in found.marks if m.label == "set out")
    windows = [w for w in found.windows if w.activity == "set-out"]
    assert any(w.earliest <= out <= w.latest for w in windows)


def test_what_ripens_only_with_help_says_so() -> None:
    found = ask("when-start", "sweet-corn", "Inverness", date(2027, 2, 1))
    assert "Only a" in found.headline
    assert any(n.name == "first_pick" for n in found.numbers)


def test_raised_plants_wait_for_the_frost() -> None:
    found = ask("early-start", "tomato", "Burlington, Vermont", date(2027, 2, 8), {"start_verb": "start"})
    out = number(found, "set_out").value
    assert isinstance(out, date)
    assert out >= date(2027, 5, 1)


@pytest.mark.parametrize("at", ["Norwich, England", "Toronto"])
def test_long_day_onions_are_lifted_in_high_summer(at: str) -> None:
    found = ask("harvest-date", "onion-seed", at, date(2027, 2, 15), date=date(2027, 2, 15))
    picked = number(found, "first_pick").value
    assert isinstance(picked, date)
    assert date(2027, 7, 20) <= picked <= date(2027, 9, 15)


def test_spears_are_cut_in_their_own_season() -> None:
    found = ask("harvest-date", "asparagus", "Duluth", date(2027, 5, 10), date=date(2027, 5, 10))
    picked = number(found, "first_pick").value
    assert isinstance(picked, date)
    assert picked.year >= 2029
    assert (5, 1) <= (picked.month, picked.day) <= (6, 10)
    assert not any("days to maturity" in a for a in found.assumptions)


def test_lettuce_in_a_hot_spell_is_shaded() -> None:
    found = ask(
        "early-start",
        "lettuce",
        "Boston",
        date(2027, 8, 3),
        temps=(Temperature(35.0, "C", "outside"),),
    )
    assert found.verdict == "yes"
    assert "Shade" in found.headline


def test_a_short_summer_still_has_something_to_sow() -> None:
    question = spoken("as asked", "agenda", (), Slots(), cues={"start_verb": "sow"})
    found = agenda.answer(question, World(date(2027, 7, 30), FACTS, NO_GARDEN, "us", place("Anchorage").site))
    assert found.verdict == "yes"
    assert "radishes" in found.headline
