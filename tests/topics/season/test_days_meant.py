"""What a date in a season question means, through the rules: counted back, past, away, seen, wanted.

Dates called usual are common practice in the region.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import pytest

from gardenmate.climate.places import Place, resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.answer import answer
from gardenmate.topics.season.days_meant import days_meant, job_day
from tests.topics.said import spoken

FACTS = Facts()
APRIL = date(2027, 4, 20)


@cache
def place(name: str) -> Place:
    return resolve_site(place=name, facts=FACTS)


def ask(
    topic: str,
    *crops: str,
    at: str = "Boston",
    today: date = APRIL,
    text: str = "as asked",
    typed: str = "",
    cues: dict[str, str] | None = None,
    **slots: object,
) -> Answer:
    refs = tuple(CropRef(c, typed=typed or c) for c in crops)
    where = place(at)
    question = spoken(text, topic, refs, Slots(**slots), cues=cues or {})  # type: ignore[arg-type]
    return answer(question, World(today, FACTS, NO_GARDEN, "us", where.site, where.sites, where.region))


def number(found: Answer, name: str) -> date:
    value = next(n.value for n in found.numbers if n.name == name)
    assert isinstance(value, date)
    return value


# -- one reading of the days ---------------------------------------------------------------------------------


def _question(topic: str = "when-start", cues: dict[str, str] | None = None, **slots: object) -> Request:
    return spoken("as asked", topic, (), Slots(**slots), cues=cues or {})  # type: ignore[arg-type]


def test_a_bare_day_is_that_of_the_job() -> None:
    assert days_meant(_question(date=date(2027, 6, 1)), APRIL).job == date(2027, 6, 1)


@pytest.mark.parametrize("cue", ["wanted_on", "out_on", "begun_on", "seen_on", "told_on"])
def test_a_day_of_something_else_is_not_that_of_the_job(cue: str) -> None:
    day = date(2027, 6, 1)
    assert days_meant(_question(cues={cue: day.isoformat()}, date=day), APRIL).job is None


def test_a_start_of_last_year_is_not_this_years_job() -> None:
    days = days_meant(_question(cues={"begun_on": "2026-10-15"}, date=date(2027, 10, 15)), APRIL)
    assert days.begun == date(2026, 10, 15)
    assert days.job is None


def test_a_day_just_past_is_today_and_one_long_past_next_years() -> None:
    question = _question("early-start")
    just = job_day(days_meant(_question(date=date(2027, 4, 2)), APRIL), question, APRIL)
    assert just.job is None
    assert just.past
    autumn = date(2027, 11, 20)
    long_ago = job_day(days_meant(_question(date=date(2027, 4, 2)), autumn), question, autumn)
    assert long_ago.job == date(2028, 4, 2)


# -- the plants go out on a day ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("crop", "at", "today", "out"),
    [
        ("eggplant", "Boston", date(2027, 1, 15), date(2027, 6, 1)),
        ("cabbage", "Leeds", date(2027, 2, 1), date(2027, 5, 10)),
        ("tomato", "Melbourne, Australia", date(2027, 8, 5), date(2027, 11, 2)),
    ],
)
def test_seed_is_counted_back_from_the_day_plants_go_out(crop: str, at: str, today: date, out: date) -> None:
    found = ask("when-start", crop, at=at, today=today, cues={"out_on": out.isoformat()}, date=out)
    low, high = FACTS.crop(crop).timing.weeks_indoors or (4.0, 6.0)
    assert number(found, "sow") == out - timedelta(days=round(7 * high))
    assert number(found, "latest_sow") == out - timedelta(days=round(7 * low))
    assert found.verdict is None
    assert "now" not in found.headline.lower().split()


def test_a_day_too_early_for_setting_out_is_said_so() -> None:
    found = ask("when-start", "pepper", today=date(2027, 1, 20), cues={"out_on": "2027-04-10"})
    assert "too early to set out peppers" in found.headline


def test_seed_for_a_day_too_near_is_too_late() -> None:
    found = ask("when-start", "pepper", today=date(2027, 5, 20), cues={"out_on": "2027-06-01"})
    assert found.verdict == "no"
    assert any("Bought plants" in c for c in found.changes)


def test_a_start_for_a_day_too_near_to_pick_is_one_to_set_out() -> None:
    cues = {"wanted_on": "2027-06-01", "start_verb": "start"}
    found = ask("late-start", "tomato", cues=cues, date=date(2027, 6, 1))
    assert found.verdict == "yes"
    assert "weeks before 1 Jun" in found.headline


def test_seed_sown_and_plants_to_go_out() -> None:
    cues = {"begun_on": "2027-03-01", "begun_by": "sow", "going_out": "yes", "asks_when": "yes"}
    for topic in ("harvest-date", "early-start", "when-start"):
        found = ask(topic, "pepper", cues=cues, date=date(2027, 3, 1))
        assert "set out" in found.headline, topic
        assert "1 Mar" not in found.headline, topic


# -- the harvest is wanted by a day --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("crop", "at", "today", "wanted"),
    [
        ("beet", "Boston", APRIL, date(2027, 11, 25)),
        ("bush-bean", "Boston", APRIL, date(2027, 9, 6)),
        ("cucumber", "Duluth", APRIL, date(2027, 8, 20)),
        ("potato", "Leeds", date(2027, 3, 20), date(2027, 8, 30)),
        ("carrot", "Christchurch, New Zealand", date(2027, 9, 5), date(2028, 2, 6)),
    ],
)
def test_a_start_is_counted_back_to_this_years_day(crop: str, at: str, today: date, wanted: date) -> None:
    found = ask("when-start", crop, at=at, today=today, cues={"wanted_on": wanted.isoformat()}, date=wanted)
    assert today <= number(found, "start_from") <= number(found, "start_latest") < wanted
    assert number(found, "first_pick") <= wanted
    assert (wanted - number(found, "start_latest")).days < 365
    after = number(found, "start_latest") + timedelta(days=21)
    late = ask("late-start", crop, at=at, today=after, cues={"wanted_on": wanted.isoformat()})
    assert late.verdict != "yes"


def test_a_day_that_cannot_be_met_names_the_soonest_and_the_year_after() -> None:
    found = ask("when-start", "melon", today=date(2027, 6, 25), cues={"wanted_on": "2027-08-18"})
    assert found.verdict == "no"
    assert number(found, "first_pick") > date(2027, 8, 18)
    assert any("2028" in c for c in found.changes)


def test_bought_plants_are_told_where_seed_is_too_slow() -> None:
    found = ask(
        "when-start", "tomato", today=date(2027, 5, 20), cues={"wanted_on": "2027-08-25"}, method="indoors"
    )
    assert found.verdict in ("no", "tight")
    assert any("Bought plants" in c for c in found.changes)


def test_the_day_wanted_is_the_day_named() -> None:
    found = ask(
        "late-start", "pumpkin", at="Tampa", today=date(2027, 9, 10), cues={"wanted_on": "2027-10-31"}
    )
    assert found.verdict == "no"
    assert "31 Oct" in found.headline
    assert "Nov" not in found.headline.split("first picking")[0]
    assert not any("can go out until" in c for c in found.changes)


def test_several_crops_wanted_for_one_day_each_have_their_own_sentence() -> None:
    found = ask("when-start", "radish", "beet", cues={"wanted_on": "2027-07-10"})
    assert found.headline.count("by 10 Jul") == 2


# -- nobody is there -----------------------------------------------------------------------------------------


def test_days_away_are_taken_out_of_the_window() -> None:
    cues = {"away": "2027-05-25/2027-06-15", "start_verb": "plant"}
    found = ask("when-start", "tomato", cues=cues, date=date(2027, 5, 25))
    assert number(found, "start_from") == date(2027, 6, 16)
    assert "when you are back" in found.headline
    assert found.verdict is None


def test_days_away_outside_the_window_do_not_matter() -> None:
    cues = {"away": "2027-12-20/2028-01-02"}
    plain = ask("when-start", "bush-bean")
    assert ask("when-start", "bush-bean", cues=cues).headline == plain.headline


# -- a start already made ------------------------------------------------------------------------------------


def test_today_is_the_start_of_what_was_sown_today() -> None:
    today = date(2027, 6, 14)
    found = ask("harvest-date", "beet", today=today, cues={"begun_on": "2027-06-14", "begun_by": "sow"})
    assert "sown now" in found.headline
    assert number(found, "first_pick") > today + timedelta(days=35)


def test_seed_of_what_is_raised_indoors_was_not_set_out_that_day() -> None:
    sown = ask("harvest-date", "pepper", cues={"begun_on": "2027-03-10", "begun_by": "sow"})
    assert "sown indoors" in sown.headline
    assert number(sown, "set_out") > date(2027, 4, 30)


def test_a_usual_start_is_told_as_assumed() -> None:
    found = ask("harvest-date", "beet", today=date(2027, 6, 14))
    assert any("didn't say when" in a for a in found.assumptions)


@pytest.mark.parametrize("crop", ["pumpkin", "melon", "sweet-corn", "winter-squash"])
@pytest.mark.parametrize("month", range(5, 11))
def test_what_is_in_the_ground_is_not_judged_by_a_start_nobody_told(crop: str, month: int) -> None:
    today = date(2027, month, 20)
    found = ask("harvest-date", crop, at="Duluth", today=today)
    if any("didn't say when" in a for a in found.assumptions):
        assert found.verdict != "yes"
        assert "time to sow" not in found.headline


def test_a_harvest_weighed_against_the_frost_has_a_verdict() -> None:
    asked = {"text": "set out June 1, will frost beat them?", "cues": {"job_on": "2027-06-01"}}
    assert ask("harvest-date", "tomato", method="setout", **asked).verdict == "yes"  # type: ignore[arg-type]
    late = {"text": "set out July 25, will frost beat them?", "cues": {"job_on": "2027-07-25"}}
    found = ask("harvest-date", "tomato", at="Duluth", method="setout", **late)  # type: ignore[arg-type]
    assert found.verdict == "no"


def test_a_wintered_kind_in_the_ground_is_cut_not_sown() -> None:
    found = ask(
        "harvest-date",
        "cabbage",
        at="Leeds",
        today=date(2027, 12, 5),
        typed="spring cabbage",
        cues={"begun_on": "2027-08-01"},
    )
    assert found.verdict is None
    assert number(found, "first_pick").year == 2028
    assert " sow " not in found.headline


def test_a_harvest_of_no_crop_asks_which() -> None:
    found = ask("harvest-date", today=date(2027, 6, 14), date=date(2027, 6, 1))
    assert found.verdict is None
    assert found.headline.startswith("Which crop")


def test_a_day_told_and_a_day_wanted_are_two() -> None:
    cues = {"job_on": "2027-06-10", "wanted_on": "2027-10-01"}
    assert ask("harvest-date", "beet", cues=cues, date=date(2027, 6, 10)).verdict == "yes"
    cues["wanted_on"] = "2027-07-01"
    assert ask("harvest-date", "beet", cues=cues, date=date(2027, 6, 10)).verdict == "no"


def test_seed_in_cold_ground_is_feared_for_by_its_kind() -> None:
    cues, text = {"begun_by": "sow"}, "Snow on the peas I sowed, are they lost?"
    hardy = ask("early-start", "pea", text=text, cues=cues, method="outdoors")
    tender = ask("early-start", "bush-bean", text=text, cues=cues, method="outdoors")
    assert hardy.verdict == "yes"
    assert tender.verdict == "no"
    assert any("Sow again" in c for c in tender.changes)


# -- seen on the plant ---------------------------------------------------------------------------------------


def test_garlic_is_counted_from_its_scapes() -> None:
    seen = date(2027, 6, 18)
    cues = {"seen_on": seen.isoformat(), "seen": "scape"}
    found = ask("harvest-date", "garlic", today=date(2027, 6, 28), cues=cues, date=seen)
    assert date(2027, 7, 5) <= number(found, "first_pick") <= date(2027, 7, 15)
    assert found.verdict is None


@pytest.mark.parametrize(("set_on", "verdict"), [(date(2027, 7, 25), "yes"), (date(2027, 9, 10), "no")])
def test_green_fruit_is_weighed_against_the_frost(set_on: date, verdict: str) -> None:
    # 40-50 days from blossom to mature green: Louisiana extension column on ripening, 2012.
    cues = {"seen_on": set_on.isoformat(), "seen": "fruit"}
    found = ask(
        "harvest-date",
        "tomato",
        at="Duluth" if verdict == "no" else "Boston",
        today=set_on + timedelta(days=14),
        text="will they ripen before frost?",
        cues=cues,
    )
    assert found.verdict == verdict
    assert number(found, "first_pick") == set_on + timedelta(days=40)


def test_days_after_a_stage_are_of_stages_that_are_there() -> None:
    stages = {row["id"] for row in FACTS.table("stages")["stage"]}
    told = [(stage, days) for crop in FACTS.crops() for stage, days in crop.picked_after.items()]
    assert {stage for stage, _ in told} == stages
    assert all(0 <= low < high <= 120 for _, (low, high) in told)


# -- weeks from a frost --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("crop", "weeks", "verdict"),
    [
        ("pepper", "-8/-7:last", "yes"),  # six to ten weeks: usual in extension calendars
        ("tomato", "-7/-5:last", "yes"),
        ("tomato", "-14/-13:last", "no"),
        ("spinach", "-3/-3:last", "yes"),
        ("bush-bean", "-5/-4:last", "no"),
        ("bush-bean", "1/2:last", "yes"),
    ],
)
def test_weeks_from_the_last_frost(crop: str, weeks: str, verdict: str) -> None:
    found = ask("early-start", crop, at="Duluth", today=date(2027, 3, 1), cues={"from_frost": weeks})
    assert found.verdict == verdict


# -- varieties by name ---------------------------------------------------------------------------------------


def test_first_earlies_are_lifted_before_maincrop() -> None:
    days = {
        name: number(
            ask(
                "harvest-date",
                "potato",
                at="Leeds",
                today=date(2027, 6, 20),
                typed=name,
                cues={"begun_on": "2027-04-02"},
            ),
            "first_pick",
        )
        for name in ("first earlies", "second earlies", "maincrop")
    }
    assert days["first earlies"] < days["second earlies"] < days["maincrop"]
    assert days["first earlies"] <= date(2027, 7, 25)  # June and July: common practice in Britain


# -- jobs beside the planting --------------------------------------------------------------------------------


def test_chitting_is_counted_back_from_planting() -> None:
    # Four to six weeks before planting: common practice in Britain.
    found = ask("when-start", "potato", at="Leeds", today=date(2027, 1, 10), text="when do I chit my spuds?")
    plant, chit = number(found, "earliest"), number(found, "start_from")
    assert chit == plant - timedelta(weeks=6)
    assert found.verdict is None
    later = ask("when-start", "potato", at="Leeds", today=plant - timedelta(weeks=5), text="time to chit?")
    assert later.verdict == "yes"


def test_potatoes_are_earthed_up_some_weeks_after_planting() -> None:
    found = ask("when-start", "potato", today=date(2027, 4, 22), text="when do I earth up potatoes?")
    assert date(2027, 5, 15) < number(found, "start_from") < date(2027, 6, 15)
    assert "deep" in found.headline


@pytest.mark.parametrize("crop", ["bush-bean", "carrot", "radish"])
def test_what_is_sown_in_place_is_not_started_indoors(crop: str) -> None:
    found = ask("when-start", crop, text="is it worth starting these indoors?", method="indoors")
    assert found.verdict == "no"
    assert "sown where" in found.headline


def test_an_indoor_start_is_weighed_by_the_days_it_gains() -> None:
    found = ask(
        "when-start", "melon", at="Duluth", text="any point starting melons inside?", method="indoors"
    )
    assert found.verdict in ("yes", "tight")
    assert "sooner than sown outdoors" in found.headline
