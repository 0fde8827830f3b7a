"""The four season topics, asked as a grower asks them."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from gardenmate.climate.history import history_site
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.places import Place, resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace
from gardenmate.topics.season.answer import answer
from tests.topics.said import spoken

FACTS = Facts()
APRIL = date(2027, 4, 18)
RECORDS = Path(__file__).parents[1] / "published" / "data"


@cache
def place(name: str) -> Place:
    return resolve_site(place=name, facts=FACTS)


def world(name: str | None = "Duluth", today: date = APRIL) -> World:
    if name is None:
        return World(today, FACTS, NO_GARDEN, "us")
    at = place(name)
    return World(today, FACTS, NO_GARDEN, "us", at.site, at.sites, at.region)


def ask(
    topic: str,
    *crops: str,
    at: str | None = "Duluth",
    today: date = APRIL,
    cues: dict[str, str] | None = None,
    **slots: object,
) -> Answer:
    refs = tuple(CropRef(c, typed=c) for c in crops)
    said = Slots(**slots)  # type: ignore[arg-type]
    return answer(spoken("as asked", topic, refs, said, cues=cues or {}), world(at, today))


def number(found: Answer, name: str) -> object:
    return next(n.value for n in found.numbers if n.name == name)


def names(found: Answer) -> set[str]:
    return {n.name for n in found.numbers}


# -- too late ------------------------------------------------------------------------------------------------


def test_peppers_in_mid_april_are_not_too_late_in_duluth() -> None:
    found = ask("late-start", "pepper")
    assert found.verdict in ("yes", "tight")
    assert found.headline.startswith("Not too late")
    assert {"set_out", "first_pick", "last_frost", "first_frost", "margin_days"} <= names(found)
    assert {"latest_sow", "count_back_date", "chance_early", "chance_usual", "longest_dtm"} <= names(found)
    assert "days or fewer" in found.headline


def test_peppers_in_mid_june_are_too_late_from_seed_and_say_what_helps() -> None:
    found = ask("late-start", "pepper", today=date(2027, 6, 20), method="indoors")
    assert found.verdict == "no"
    assert found.headline.startswith("Too late")
    assert any("quick crop" in c for c in found.changes)
    assert "next time" in found.headline.lower()


def test_bought_starts_outlast_seed() -> None:
    may_end = date(2027, 5, 28)
    seed = ask("late-start", "tomato", today=may_end, method="indoors")
    plants = ask("late-start", "tomato", today=may_end, method="starts")
    assert (plants.chance or 0) > (seed.chance or 0)
    assert any("Bought plants" in c for c in seed.changes)


def test_beans_at_the_end_of_august_are_too_late() -> None:
    found = ask("late-start", "bush-bean", today=date(2027, 8, 25))
    assert found.verdict == "no"
    assert found.headline.startswith("Too late to sow bush beans")


def test_a_shorter_variety_turns_a_no() -> None:
    day = date(2027, 6, 28)
    slow = ask("late-start", "winter-squash", at="Boston", today=day, days_to_maturity=115)
    quick = ask("late-start", "winter-squash", at="Boston", today=day, days_to_maturity=80)
    assert (quick.chance or 0) > (slow.chance or 0)
    assert any("days or fewer" in c for c in slow.changes)


def test_class_words_choose_the_variety() -> None:
    early = ask("late-start", "tomato", today=date(2027, 5, 1), cultivar_class="early")
    cherry = ask("late-start", "tomato", today=date(2027, 5, 1), cultivar_class="cherry")
    late = ask("late-start", "tomato", today=date(2027, 5, 1), cultivar_class="late")
    assert (early.chance or 0) > (late.chance or 0)
    assert (cherry.chance or 0) > (late.chance or 0)
    assert any("early variety" in a.lower() for a in early.assumptions)


def test_time_left_before_the_window_is_not_too_late() -> None:
    found = ask("late-start", "bush-bean", at="Boston")
    assert found.verdict == "yes"
    assert "May" in found.headline


def test_spring_lettuce_in_a_hot_place_names_the_autumn_window() -> None:
    found = ask("late-start", "lettuce", at="Macon", today=date(2027, 6, 10))
    assert found.verdict == "no"
    assert "too hot" in found.headline
    assert any(w.activity == "fall-sow" for w in found.windows)


def test_garlic_follows_its_own_rule() -> None:
    assert ask("late-start", "garlic", at="Boston", today=date(2027, 10, 25)).verdict == "yes"
    missed = ask("late-start", "garlic", at="Boston", today=date(2027, 12, 30))
    assert missed.verdict == "no"
    assert missed.headline.startswith("Too late")


def test_a_crop_without_a_season_says_so() -> None:
    found = ask("late-start", "sweet-potato", at="Barrow", today=date(2027, 6, 10))
    assert found.verdict == "no"
    assert "seldom" in found.headline


# -- too early -----------------------------------------------------------------------------------------------


def test_tomatoes_outside_in_april_are_too_early_with_the_day_it_becomes_possible() -> None:
    found = ask("early-start", "tomato")
    assert found.verdict == "no"
    opens = number(found, "earliest")
    assert isinstance(opens, date)
    assert date(2027, 5, 1) < opens < date(2027, 6, 10)
    assert opens.strftime("%-d %b") in found.headline


def test_peas_in_april_are_fine_in_boston() -> None:
    found = ask("early-start", "pea", at="Boston")
    assert found.verdict == "yes"
    assert found.headline.startswith("Not too early")


def test_a_soil_reading_decides() -> None:
    cold = ask("early-start", "bush-bean", at="Macon", temps=(Temperature(50, "F", "soil"),), temp_f=50.0)
    warm = ask("early-start", "bush-bean", at="Macon", temps=(Temperature(66, "F", "soil"),), temp_f=66.0)
    assert cold.verdict == "no"
    assert "soil" in cold.headline
    assert warm.verdict == "yes"


def test_warm_soil_does_not_outweigh_the_frost() -> None:
    found = ask("early-start", "bush-bean", temps=(Temperature(65, "F", "soil"),), temp_f=65.0)
    assert found.verdict == "no"
    assert "frost" in found.headline


def test_a_month_is_answered_for_its_middle() -> None:
    february = ask(
        "early-start", "tomato", at="Macon", today=date(2027, 1, 20), cues={"job_in": "2027-02-01/2027-02-28"}
    )
    assert february.verdict == "no"
    assert "15 Feb" in february.headline


def test_autumn_in_the_south_is_the_wrong_end_of_the_year() -> None:
    found = ask("early-start", "tomato", at="Melbourne, Australia")
    assert found.verdict == "no"
    assert found.headline.startswith("Too late to set out tomatoes now")
    assert "The next time to set out is from" in found.headline


# -- when, and when ready ------------------------------------------------------------------------------------


def test_when_to_start_lists_the_windows_and_says_when_it_is_now() -> None:
    found = ask("when-start", "tomato", at="Boston")
    assert {w.activity for w in found.windows} >= {"sow-indoors", "set-out"}
    assert found.verdict in ("yes", None)
    assert "sow indoors" in found.headline
    assert any(m.label == "last frost" for m in found.marks)


def test_when_to_start_by_one_method_only() -> None:
    found = ask("when-start", "cabbage", at="Boston", method="indoors", today=date(2027, 1, 2))
    assert "set out" not in found.headline


def test_onions_are_told_their_day_length() -> None:
    north = ask("when-start", "onion", at="Duluth")
    south = ask("when-start", "onion", at="Houston")
    assert any("long-day" in d for d in north.details)
    assert any("short-day" in d for d in south.details)


def test_first_picking_has_a_range() -> None:
    sown = date(2027, 5, 25)
    found = ask(
        "harvest-date",
        "cucumber",
        at="Boston",
        date=sown,
        method="outdoors",
        days_to_maturity=52,
    )
    pick, soon, late = (number(found, n) for n in ("first_pick", "first_pick_early", "first_pick_late"))
    assert isinstance(pick, date)
    assert isinstance(soon, date)
    assert isinstance(late, date)
    assert soon < pick < late
    assert 45 < (pick - sown).days < 85


def test_a_harvest_the_frost_forestalls_is_a_no() -> None:
    found = ask("harvest-date", "bush-bean", date=date(2027, 8, 20), method="outdoors")
    assert found.verdict == "no"


def test_a_packet_figure_is_not_how_long_ago() -> None:
    said = ask("harvest-date", "winter-squash", at="Boston", days=105.0)
    assert number(said, "first_pick") > APRIL  # type: ignore[operator]
    weeks = ask("harvest-date", "radish", at="Boston", today=date(2027, 5, 10), weeks=2.0)
    assert number(weeks, "first_pick") < date(2027, 6, 10)  # type: ignore[operator]


def test_garlic_in_the_ground_is_lifted_in_summer() -> None:
    found = ask("harvest-date", "garlic", at="Boston")
    pick = number(found, "first_pick")
    assert isinstance(pick, date)
    assert date(2027, 6, 1) < pick < date(2027, 8, 15)


# -- several, regions, none named ----------------------------------------------------------------------------


def test_several_crops_make_one_table() -> None:
    found = ask("early-start", "tomato", "pea", at="Boston")
    assert found.table is not None
    assert [r[0] for r in found.table.rows] == ["tomatoes", "peas"]
    assert found.verdict is None
    assert "peas" in found.headline


def test_no_crop_named_lists_what_can_be_started() -> None:
    found = ask("when-start", at="Boston")
    assert found.table is not None
    assert len(found.table.rows) > 15
    assert found.verdict == "yes"


def test_a_region_says_where_it_is_yes_and_names_a_town() -> None:
    found = ask("early-start", "pea", at="Minnesota")
    assert found.table is not None
    assert any("name your town" in a.lower() for a in found.assumptions)


def test_the_place_is_asked_for() -> None:
    with pytest.raises(NeedPlaceError, match="Where is the garden"):
        ask("late-start", "pepper", at=None)


def test_a_woody_plant_is_declined_honestly() -> None:
    found = ask("when-start", "hydrangea")
    assert found.verdict is None
    assert "no planting dates" in found.headline


def test_everything_cited_resolves() -> None:
    for topic in ("late-start", "early-start", "when-start", "harvest-date"):
        for crop in ("tomato", "pea", "garlic", "asparagus"):
            for source in ask(topic, crop, at="Boston").sources:
                FACTS.source(source)


def test_past_years_are_told_when_a_record_is_there(tmp_path: Path) -> None:
    history = import_weather(RECORDS / "champion.csv.gz", tmp_path / "champion").history
    base = place("Grand Island, NE").site
    assert base is not None
    here = replace(world("Grand Island, NE"), site=history_site(history, base), today=date(2027, 7, 10))
    found = answer(spoken("as asked", "late-start", (CropRef("bush-bean"),)), here)
    told = [d for d in found.details if "years on record" in d]
    assert told
    assert "worst" in told[0]
    assert "best" in told[0]


def test_a_mat_is_offered_where_none_is_owned() -> None:
    bare = replace(world("Duluth", date(2027, 5, 1)), garden=replace(NO_GARDEN, gear={"lamp": 1.0}))
    found = answer(spoken("as asked", "late-start", (CropRef("pepper"),), Slots(method="indoors")), bare)
    assert any("heat mat" in c for c in found.changes)
    assert any("without a mat" in a for a in found.assumptions)


@pytest.mark.parametrize("crop", ["pepper", "leek", "pumpkin", "tomato", "melon", "eggplant"])
@pytest.mark.parametrize("town", ["Duluth", "Leeds", "Fairbanks"])
def test_headline_chance_variety_and_working_are_of_one_plan(crop: str, town: str) -> None:
    """A start that rests on an early variety names that variety in what is assumed and in the arithmetic."""
    for day in (APRIL, date(2027, 5, 10)):
        found = ask("late-start", crop, at=town, today=day)
        match = re.search(r"with an? (\d+)-day variety", found.headline)
        if match is None:
            continue
        days = match[1]
        assert f"{days} days to maturity" in found.assumptions[0]
        assert any(line.startswith(f"{days} days to maturity") for line in found.working)
        assert found.verdict != "no"


def test_the_same_question_twice_has_the_same_answer() -> None:
    first, again = (
        answer(
            spoken("as asked", "when-start", (CropRef("kale", None, "kale"),)),
            world("Duluth", date(2027, 7, 5)),
        )
        for _ in range(2)
    )
    assert again.headline == first.headline
    assert again.verdict == first.verdict
    assert again.assumptions == first.assumptions
