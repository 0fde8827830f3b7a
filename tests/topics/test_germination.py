"""Germination: days, warm enough, waiting, the log, depth and age, as a gardener would sign them."""

import re
from datetime import date, timedelta

import pytest

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.units import f_to_c
from gardenmate.core.world import Decision
from gardenmate.topics.germination import answer as germination
from gardenmate.topics.germination.emergence_facts import soil_reaches, trial_of
from tests.topics.raising_bench import (
    FACTS,
    TODAY,
    FakeJournal,
    ask,
    bare_world,
    continental_site,
    number,
    refs,
)
from tests.topics.said import spoken

G = "germination"


def test_days_without_a_temperature_come_with_the_whole_table() -> None:
    reply = ask(G, "beet")
    assert reply.verdict is None
    assert reply.headline == "Beet seed comes up in about 17 days at 50 F, 10 at 59 F and 6 at 68 F."
    assert reply.table is not None
    assert ("50 F", "17", "72") in reply.table.rows


def test_a_seed_without_a_table_gets_its_range() -> None:
    reply = ask(G, "cilantro")
    assert reply.headline.startswith("Cilantro seed comes up in 7 to 14 days")
    assert (number(reply, "days_to_emerge_min"), number(reply, "days_to_emerge_max")) == (7, 14)


@pytest.mark.parametrize(
    ("crop", "f", "verdict", "opening"),
    [
        ("spinach", 45, "yes", "Yes: spinach seed comes up in about 16 days"),
        ("spinach", 75, "tight", "Poorly: at 75 F only about 33 in 100"),
        ("spinach", 95, "no", "No: spinach seed does not come up"),
        ("onion", 41, "tight", "Slowly: at 41 F onion seed comes up in about 31 days"),
        ("tomato", 50, "no", "No: at 50 F tomato seed lies about 43 days"),
        ("tomato", 70, "yes", "Yes: tomato seed comes up in about 7 days"),
        ("pepper", 50, "no", "No: pepper seed does not come up at 50 F"),
        ("lettuce", 86, "no", "No: at 86 F only about 12 in 100"),
        ("celery", 80, "tight", "Poorly: at 80 F only about 43 in 100"),
        ("bush-bean", 45, "no", "No"),
        ("kale", 50, "yes", "Yes: kale seed comes up in about 15 days"),
        ("basil", 50, "no", "No: basil seed wants soil of at least 60 F"),
        ("basil", 75, "yes", "Yes: 75 F suits basil seed"),
    ],
)
def test_warm_enough(crop: str, f: float, verdict: str, opening: str) -> None:
    reply = ask(G, crop, f=f)
    assert reply.verdict == verdict, reply.headline
    assert reply.headline.startswith(opening)


def test_both_units_of_the_same_soil() -> None:
    us, metric = ask(G, "onion", c=5), ask(G, "onion", c=5, world=bare_world(units="metric"))
    assert number(us, "soil_f") == 41.0
    assert number(us, "soil_c") == 5
    assert "41 F" in us.headline
    assert "5 C" in metric.headline
    assert us.verdict == metric.verdict


def test_a_relatives_table_is_named() -> None:
    reply = ask(G, "kale", f=60)
    assert any("relative cabbage" in said for said in reply.assumptions)


def test_air_is_not_soil() -> None:
    reply = ask(G, "carrot", f=50, role="low")
    assert any("temperature of the soil" in said for said in reply.assumptions)


def test_four_weeks_without_peppers_is_overdue_and_one_may_be_dug_up() -> None:
    reply = ask(G, "pepper", weeks=4.0, cues={"asks": "dig"})
    assert reply.verdict == "yes"
    assert reply.headline.startswith("Yes, look now: 4 weeks is overdue for pepper seed at 65 F")
    assert "no harm" in reply.steps[0]
    assert any("65 F" in said for said in reply.assumptions)


def test_not_overdue_while_the_cold_explains_it() -> None:
    reply = ask(G, "pepper", f=59, weeks=4.0)
    assert reply.verdict == "no"
    assert reply.headline.startswith("Not overdue yet")
    assert number(reply, "overdue_on") == TODAY + timedelta(days=10)


def test_waiting_at_a_temperature_that_brings_nothing() -> None:
    assert ask(G, "pepper", f=50, weeks=3.0).headline.startswith("Yes, stop waiting")


@pytest.mark.parametrize(("days", "verdict"), [(3, "no"), (11, "no"), (12, "yes"), (30, "yes")])
def test_overdue_turns_at_half_as_long_again(days: int, verdict: str) -> None:
    assert ask(G, "tomato", f=68, days=float(days)).verdict == verdict  # 8 days at 68 F


def test_poor_germination_goes_through_causes_and_clears_the_lights() -> None:
    reply = ask(G, "tomato", "hot-pepper", cues={"asks": "why"})
    assert reply.verdict is None
    assert reply.headline.startswith("Not the lights: tomato and hot pepper seed comes up in the dark")
    text = " ".join(reply.steps)
    for cause in ("Temperature", "Water", "Age", "Depth", "Light"):
        assert cause in text


def test_a_logged_sowing_says_when_it_is_due() -> None:
    sown = Decision(1, TODAY - timedelta(days=12), "sow", "peppers", ("pepper",), 24, temp_c=f_to_c(68))
    reply = ask(G, "pepper", world=bare_world(journal=FakeJournal(sown)))
    assert reply.headline == "Pepper seed sown 12 days ago at 68 F: due tomorrow to Friday."
    assert number(reply, "due_from") == date(2027, 4, 19)


def test_a_logged_sowing_past_its_time_is_overdue() -> None:
    sown = Decision(1, TODAY - timedelta(days=40), "sow", "peppers", ("pepper",), temp_c=f_to_c(75))
    reply = ask(G, "pepper", world=bare_world(journal=FakeJournal(sown)))
    assert reply.verdict == "yes"
    assert "overdue" in reply.headline


def test_without_a_crop_the_log_is_listed_soonest_first() -> None:
    journal = FakeJournal(
        Decision(1, TODAY - timedelta(days=3), "sow", "kale", ("kale",)),
        Decision(2, TODAY - timedelta(days=12), "sow", "peppers", ("pepper",), temp_c=20.0),
    )
    reply = ask(G, world=bare_world(journal=journal))
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["Pepper", "Kale"]


def test_without_a_crop_or_a_log_the_staples_are_shown() -> None:
    reply = ask(G)
    assert reply.verdict is None
    assert reply.table is not None
    assert ("Pepper", "none", "25", "13", "8") in reply.table.rows


def test_several_crops_at_one_temperature_tell_which_yes_and_which_no() -> None:
    reply = ask(G, "carrot", "tomato", "pepper", f=50)
    assert reply.verdict is None
    assert reply.headline == "At 50 F, yes: carrot; no: tomato and pepper."
    assert {n.crop for n in reply.numbers if n.name == "days_to_emerge"} == {"carrot", "tomato"}


def test_cloves_and_tubers_are_not_seed() -> None:
    assert "cloves" in ask(G, "garlic").headline


def test_light_soak_depth_and_age() -> None:
    assert ask(G, "lettuce", cues={"asks": "light"}).verdict == "yes"
    assert ask(G, "tomato", cues={"asks": "light"}).verdict == "no"
    assert ask(G, "parsley", cues={"asks": "soak"}).verdict == "yes"
    assert ask(G, "bush-bean", cues={"asks": "soak"}).verdict == "no"
    assert ask(G, "pea", cues={"asks": "depth"}).headline == "Sow pea seed 1 in deep."
    assert ask(G, "parsnip", plant_age_years=3.0, cues={"asks": "seed-age"}).verdict == "no"
    assert ask(G, "onion", plant_age_years=3.0, cues={"asks": "seed-age"}).verdict == "tight"
    assert ask(G, "tomato", plant_age_years=3.0, cues={"asks": "seed-age"}).verdict == "yes"


def test_share_is_unknown_where_only_days_were_counted() -> None:
    crop = FACTS.crop_for(CropRef("cabbage"))
    assert crop is not None
    trial = trial_of(crop, FACTS)
    assert trial.percent_at(f_to_c(86)) is None
    assert trial.percent_at(f_to_c(77)) == pytest.approx(99)


def test_soil_reaches_is_never_before_today() -> None:
    site = continental_site()
    day = soil_reaches(site, f_to_c(60), TODAY)
    assert day is not None
    assert TODAY <= day <= date(2027, 7, 1)
    assert soil_reaches(site, 60.0, TODAY) is None


def test_the_place_dates_the_soil() -> None:
    world = bare_world(site=continental_site())
    reply = ask(G, "bush-bean", cues={"asks": "warm-enough"}, world=world)
    assert any("usual for the date" in said for said in reply.assumptions)
    assert any("usually about" in said for said in reply.details)


def test_carrots_in_a_bed_are_given_time() -> None:
    reply = ask(G, "carrot", weeks=3.0)
    assert reply.verdict == "no"
    assert any("A bed with soil at 50 F" in said for said in reply.assumptions)
    assert ask(G, "carrot", weeks=5.0).verdict == "yes"


def test_seed_in_a_cold_bed_waits_for_the_soil_of_the_place() -> None:
    world = bare_world(site=continental_site())
    reply = ask(G, "carrot", weeks=3.0, world=world)
    assert reply.verdict == "no"
    assert reply.headline.startswith("Not overdue yet: carrot seed sown 28 Mar is due about")
    due = number(reply, "due_from")
    assert isinstance(due, date)
    assert TODAY < due < date(2027, 5, 20)
    summer = bare_world(site=continental_site(), today=date(2027, 7, 20))
    assert ask(G, "carrot", weeks=3.0, world=summer).verdict == "yes"


def test_beans_three_weeks_in_a_cold_bed_have_rotted() -> None:
    reply = ask(G, "bush-bean", weeks=3.0, world=bare_world(site=continental_site()))
    assert reply.verdict == "yes"
    assert "rots bush bean seed" in reply.headline


def test_hardy_seed_too_cold_to_sprout_is_left_alone() -> None:
    reply = ask(G, "carrot", f=34, weeks=3.0)
    assert reply.verdict == "no"
    assert reply.headline.startswith("Leave it")


def test_weeks_still_to_come_are_no_wait() -> None:
    reply = ask(G, "tomato", weeks=3.0, cues={"span_means": "until"})
    assert reply.verdict is None
    assert "days_since_sowing" not in {n.name for n in reply.numbers}


def test_best_temperature() -> None:
    reply = ask(G, "celeriac", cues={"asks": "best-temp"})
    assert reply.headline.startswith("Celeriac seed comes up best at 68 F, in about 7 days")


def test_one_wait_for_two_crops() -> None:
    reply = ask(G, "tomato", "pepper", days=16.0, cues={"asks": "overdue"})
    assert reply.verdict is None
    assert reply.headline == "After 16 days: look at the tomato now; leave the pepper."


def test_spinach_is_taken_to_be_in_a_bed_unless_raised_indoors() -> None:
    assert ask(G, "spinach", days=10.0).verdict == "no"
    assert ask(G, "spinach", days=10.0, cues={"place_kind": "sill"}).verdict == "yes"


def test_an_absurd_wait_is_still_answered() -> None:
    assert ask(G, "tomato", weeks=1e9).verdict == "yes"


def test_no_seed_is_given_up_before_ten_days() -> None:
    assert ask(G, "lettuce", f=75, days=7.0).verdict == "no"
    assert ask(G, "lettuce", f=75, days=10.0).verdict == "yes"


def test_a_temperature_that_explains_it_is_blamed() -> None:
    reply = ask(G, "pumpkin", c=14, cues={"asks": "why"})
    assert reply.headline.startswith("The temperature, most likely: at 57 F")
    assert ask(G, "tomato", f=75, cues={"asks": "why"}).headline.startswith("Not the lights")


def test_soaked_seed_that_waits_is_a_wait() -> None:
    assert "overdue" in ask(G, "beet", weeks=3.0, cues={"asks": "soak"}).headline


@pytest.mark.parametrize(
    ("text", "verdict", "share"),
    [
        ("7 of 10 came up", "yes", 70),
        ("test: 5 out of 10 sprouted", "tight", 50),
        ("2/20 came up", "no", 10),
    ],
)
def test_a_counted_test_tells_how_thick_to_sow(text: str, verdict: str, share: int) -> None:
    for crop in ("tomato", "parsnip"):
        question = spoken(text, "germination", crops=(CropRef(crop),))
        reply = germination.answer(question, bare_world())
        assert reply.verdict == verdict
        assert number(reply, "came_up") == share
        assert f"{share}%" in reply.headline


def test_a_packet_of_an_old_year_is_judged_by_its_age() -> None:
    for text, crop, verdict in (
        ("parsnip seed from 2024, still good?", "parsnip", "no"),
        ("tomato seed from 2026", "tomato", "yes"),
    ):
        question = spoken(text, "germination", crops=(CropRef(crop),), cues={"germinating": "seed-age"})
        assert germination.answer(question, bare_world()).verdict == verdict


@pytest.mark.parametrize("crop", ["onion/seed", "parsnip", "carrot"])
def test_seed_is_named_once_and_counted_in_years(crop: str) -> None:
    plain = ask("germination", crop, f=60)
    said = " ".join((plain.headline, *plain.details, *plain.steps))
    assert "seed seed" not in said
    assert "1 years" not in said


@pytest.mark.parametrize(
    "topic", ["germination", "heat-and-light", "potting-up", "hardening-off", "cold-frame"]
)
@pytest.mark.parametrize("crop", ["pepper", "tomato", "leek", "cucumber"])
def test_no_more_than_seven_figures_are_drawn(topic: str, crop: str) -> None:
    for reply in (ask(topic, crop), ask(topic, crop, f=50, role="low"), ask(topic, crop, f=65)):
        assert len({n.label for n in reply.numbers if n.shown and n.label}) <= 7


@pytest.mark.parametrize(("age", "years"), [("4 year old", 4), ("six-year-old", 6), ("1 yr old", 1)])
def test_an_age_in_words_is_judged_against_the_seed_s_life(age: str, years: int) -> None:
    reply = ask(
        "germination", "onion", text=f"are my {age} onion seeds still good", cues={"asks": "seed-age"}
    )
    assert reply.verdict == ("yes" if years <= 2 else "tight" if years <= 4 else "no")


# ------------------------------------------------------------- what was asked is what the reply opens with


def typed(text: str, crop: str, soil_f: float | None = None, **more: object) -> Answer:
    """The reply to a text as typed, its crop and soil temperature already found."""
    slots = Slots() if soil_f is None else Slots(temp_f=soil_f, temps=(Temperature(soil_f, "F", "soil"),))
    cues = {k: str(v) for k, v in more.items()}
    return germination.answer(spoken(text, "germination", refs(crop), slots=slots, cues=cues), bare_world())


@pytest.mark.parametrize(
    ("text", "crop", "soil_f", "verdict", "opens"),
    [
        ("would beans rot in 48 degree ground?", "bush-bean", 48, "no", "Yes, most of it rots"),
        ("is 46 too cold for melon seed", "melon", 46, "no", "Yes, too cold"),
        ("soil is 95, too hot for spinach?", "spinach", 95, "no", "Yes, too hot"),
        ("is 70 too warm for tomato seed", "tomato", 70, "yes", "No: "),
        ("will okra come up at 50", "okra", 50, "no", "No: "),
        ("how long does tomato take at 70", "tomato", 70, None, "Tomato seed comes up in"),
        ("how many days for peas at 60", "pea", 60, None, "Pea seed comes up in"),
    ],
)
def test_the_reply_opens_with_what_was_asked(
    text: str, crop: str, soil_f: float, verdict: str | None, opens: str
) -> None:
    reply = typed(text, crop, soil_f)
    assert reply.verdict == verdict
    assert reply.headline.startswith(opens)


def test_headline_and_figure_name_the_same_days() -> None:
    for crop in ("pepper", "tomato", "onion/seed", "carrot", "bush-bean"):
        for soil_f in range(50, 90):
            reply = typed("how long does it take", crop, soil_f)
            days = next((n.value for n in reply.numbers if n.name == "days_to_emerge"), None)
            if isinstance(days, float) and "comes up in about" in reply.headline:
                assert re.search(rf"\b{round(days)} days?\b", reply.headline), reply.headline


@pytest.mark.parametrize(
    ("text", "crop", "verdict"),
    [
        ("any point sowing three year old leek seed?", "leek", "tight"),
        ("my parsnip seed is dated 2022", "parsnip", "no"),
        ("6-year-old onion seeds, chuck them?", "onion/seed", "no"),
        ("found a 2026 packet of lettuce seed", "lettuce/leaf", "yes"),
        ("tomato seeds saved in 2024 - alive?", "tomato", "yes"),
    ],
)
def test_the_age_of_seed_is_judged_by_how_long_that_seed_keeps(text: str, crop: str, verdict: str) -> None:
    assert typed(text, crop).verdict == verdict


def test_years_of_a_plant_are_not_years_of_seed() -> None:
    reply = typed("three year old asparagus seedlings, when do they come up", "asparagus")
    assert "keeps" not in reply.headline


def test_corn_that_was_planted_lies_in_the_soil_of_the_place() -> None:
    world = bare_world(site=continental_site(), today=date(2027, 6, 8))
    slots = Slots(date=date(2027, 5, 14))
    for text, crop in (("planted corn, nothing", "sweet-corn"), ("my cucumber row never showed", "cucumber")):
        reply = germination.answer(spoken(text, "germination", refs(crop), slots=slots), world)
        assert any("Usual soil of a bed" in line for line in reply.assumptions)
        assert not any("mat" in step.split() for step in reply.steps)
        assert any("there is time until" in step for step in reply.steps), reply.headline
    room = germination.answer(
        spoken("cucumber seed on the sill", "germination", refs("cucumber"), slots=slots), world
    )
    assert "usual soil" not in room.headline


def test_seed_that_needs_light_is_brought_out_of_the_dark() -> None:
    for text, crop in (
        ("celery in a dark cupboard, no sign", "celery"),
        ("lettuce tray in a closet", "lettuce/leaf"),
    ):
        reply = germination.answer(
            spoken(text, "germination", refs(crop), slots=Slots(days=6), cues={"germinating": "overdue"}),
            bare_world(),
        )
        assert "into the light" in reply.headline
    plain = germination.answer(
        spoken("tomato tray in a dark cupboard", "germination", refs("tomato"), slots=Slots(days=6)),
        bare_world(),
    )
    assert "into the light" not in plain.headline


def test_an_airing_cupboard_is_warmer_than_a_room() -> None:
    question = spoken(
        "pepper seed in the airing cupboard", "germination", refs("pepper"), slots=Slots(days=9)
    )
    assert number(germination.answer(question, bare_world()), "soil_f") == 75


def test_old_seed_of_no_crop_named_gets_the_list() -> None:
    reply = germination.answer(spoken("any use in seed packed in 2022?", "germination"), bare_world())
    assert reply.table is not None
    said = {row[0]: row[2] for row in reply.table.rows}
    assert said["Parsnip"] == "buy fresh"
    assert said["Cucumber"] == "sow it"
    assert "onion" in reply.headline


def test_warm_seed_that_soil_would_keep_for_weeks_is_looked_at_after_two() -> None:
    world = bare_world(site=continental_site(), today=date(2027, 5, 25))
    slots = Slots(date=date(2027, 5, 8))
    question = spoken("squash planted in the bed, nothing", "germination", refs("winter-squash"), slots=slots)
    reply = germination.answer(question, world)
    assert reply.verdict == "yes"
    assert "rots" in reply.headline


def test_cold_that_makes_seed_wait_long_is_not_called_warm_enough() -> None:
    slow = typed("is 60 too cold for chillies", "hot-pepper", 60)
    assert slow.verdict == "tight"
    assert slow.headline.startswith("Rather cold")
    assert typed("is 75 too cold for chillies", "hot-pepper", 75).verdict == "yes"
