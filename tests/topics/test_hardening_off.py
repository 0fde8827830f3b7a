"""Hardening off: days, plan, first outing, nights in or out, held too long."""

from datetime import date, timedelta

import pytest

from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.units import f_to_c
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.topics.seedlings.hardening_facts import hardening_of
from gardenmate.topics.seedlings.hardening_nights import place_for
from gardenmate.topics.shared.raising import Named
from tests.topics.raising_bench import FACTS, TODAY, ask, bare_world, continental_site, number, refs
from tests.topics.said import spoken

O = "hardening-off"  # noqa: E741


def lows(*values: float) -> tuple[Temperature, ...]:
    return tuple(Temperature(v, "F", "low") for v in values)


def test_days() -> None:
    assert ask(O, "melon", cues={"asks": "days"}).headline.startswith("Harden off melons for 5 to 14 days")
    left = ask(O, "tomato", days=5.0, cues={"asks": "days"})
    assert "2 to 9 more" in left.headline
    assert ask(O, "tomato", days=20.0, cues={"asks": "days"}).headline.startswith("Enough")


def test_lettuce_must_be_hardened_and_carrot_not() -> None:
    assert ask(O, "lettuce", cues={"asks": "need"}).verdict == "yes"
    assert ask(O, "carrot", cues={"asks": "need"}).verdict == "no"


def test_tomatoes_come_in_at_42() -> None:
    reply = ask(O, "tomato", f=42, when="tonight")
    assert reply.verdict == "no"
    assert reply.headline.startswith("Bring them in: 42 F is too cold for tomato plants")


def test_bringing_in_is_judged_when_asked() -> None:
    assert ask(O, "tomato", f=42, cues={"asks": "bring-in"}).verdict == "yes"
    assert ask(O, "tomato", f=58, cues={"asks": "bring-in"}).verdict == "no"


def test_onions_at_35_depend_on_how_hard_they_are() -> None:
    cues = {"asks": "bring-in"}
    assert ask(O, "onion", f=35, cues=cues).verdict == "tight"
    assert ask(O, "onion", f=35, cues={**cues, "stage": "hardened"}).verdict == "no"
    assert ask(O, "onion", f=35, cues={**cues, "stage": "seedling"}).verdict == "yes"
    assert ask(O, "onion", f=27, cues=cues).verdict == "yes"


def test_a_warm_first_day_in_full_sun_is_a_risk() -> None:
    reply = ask(O, "tomato", f=70)
    assert reply.verdict == "tight"
    assert reply.headline.startswith("70 F is warm enough, but the sun is the risk")
    assert ask(O, "tomato", f=70, cues={"wind": "windy"}).verdict == "no"


def test_how_low_a_night() -> None:
    reply = ask(O, "pepper", cues={"asks": "limit"})
    assert number(reply, "night_limit_f") == 60.0
    assert number(reply, "night_limit_hard_f") == 50.0
    assert reply.headline == (
        "Pepper plants can stay out at night from 50 F once hardened; in the first week only at 60 F or more."
    )


def test_a_list_of_lows_says_which_nights_they_come_in() -> None:
    reply = ask(O, "kale", temps=lows(38, 41, 33, 45), temp_f=38.0)
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["tonight", "tomorrow night", "Tuesday", "Wednesday"]
    assert [row[2].split()[0] for row in reply.table.rows] == ["out", "out", "out", "out"]
    assert reply.verdict == "tight"
    tender = ask(O, "tomato", temps=lows(38, 41, 33, 45), temp_f=38.0)
    assert tender.verdict == "no"
    assert number(tender, "nights_in") == 4
    mixed = ask(O, "tomato", temps=lows(48, 55, 53), temp_f=48.0)
    assert number(mixed, "first_night_out") == TODAY + timedelta(days=1)


def test_the_plan_counts_back_from_planting() -> None:
    reply = ask(O, "tomato", date=date(2027, 5, 20))
    assert reply.verdict == "no"
    assert number(reply, "harden_from") == date(2027, 5, 6)
    assert reply.table is not None
    assert reply.table.rows[0][0] == "10-11 May"
    assert reply.table.rows[-1][0].endswith("19 May")


@pytest.mark.parametrize(
    ("ahead", "verdict", "opening"),
    [(30, "no", "Not yet"), (10, "yes", "Yes, start now"), (3, "yes", "Yes, start today")],
)
def test_too_early_in_time_or_late(ahead: int, verdict: str, opening: str) -> None:
    reply = ask(O, "tomato", date=TODAY + timedelta(days=ahead))
    assert reply.verdict == verdict
    assert reply.headline.startswith(opening)


def test_the_place_dates_the_plan() -> None:
    world = bare_world(site=continental_site())
    reply = ask(O, "tomato", world=world)
    assert reply.verdict == "no"
    out = number(reply, "set_out")
    assert isinstance(out, date)
    assert date(2027, 5, 5) <= out <= date(2027, 6, 15)


def test_cole_crops_held_in_the_cold_button_and_cucumbers_stall() -> None:
    reply = ask(O, "broccoli", "cucumber", "cabbage", cues={"asks": "hold"})
    assert reply.verdict == "tight"
    for word in ("tiny heads", "bolt", "stops growing for good"):
        assert word in reply.headline


def test_how_without_a_crop() -> None:
    reply = ask(O)
    assert reply.table is not None
    assert [row[0] for row in reply.table.rows] == ["days 1-2", "days 3-4", "days 5-7", "day 8", "days 9-10"]


def test_several_crops_on_one_night() -> None:
    reply = ask(O, "tomato", "pepper", "cabbage", f=52, when="tonight")
    assert reply.verdict is None
    assert reply.headline == "At 52 F: leave out tomato and cabbage; borderline pepper."


def test_colder_never_moves_a_plant_out() -> None:
    order = {"in": 0, "either": 1, "out": 2}
    for crop_id in FACTS.crop_ids:
        crop = FACTS.crop(crop_id)
        kept = hardening_of(Named(crop, crop.base, crop.name), bare_world())
        for stage in (None, "seedling", "hardened"):
            seen = [order[place_for(f_to_c(f), kept, stage, None)] for f in range(15, 75)]
            assert seen == sorted(seen), crop_id


def test_no_plant_stands_frost_in_a_pot_by_this_rule() -> None:
    for crop_id in FACTS.crop_ids:
        crop = FACTS.crop_for(CropRef(FACTS.crop(crop_id).base, FACTS.crop(crop_id).kind))
        assert crop is not None
        kept = hardening_of(Named(crop, crop.base, crop.name), bare_world())
        assert kept.hard_night_c >= f_to_c(32) - 1e-9, crop_id
        assert kept.hard_night_c <= kept.night_c + 1e-9, crop_id


def test_white_leaves_are_sunburn() -> None:
    reply = ask(O, "tomato", days=5.0, cues={"asks": "sunburn"})
    assert reply.headline.startswith("Sunburn")
    assert reply.verdict == "tight"


def test_hardened_okra_stands_58() -> None:
    assert ask(O, "okra", f=58, when="tonight", cues={"stage": "hardened"}).verdict == "yes"


def test_no_low_and_no_place_asks_for_the_low() -> None:
    reply = ask(O, "pepper", cues={"asks": "tonight"})
    assert reply.verdict is None
    assert reply.headline.startswith("It hangs on the low: bring pepper plants in below 50 F")


def test_no_low_but_a_place_goes_by_its_usual_nights() -> None:
    world = bare_world(site=continental_site())
    assert ask(O, "pepper", world=world, cues={"asks": "tonight"}).verdict == "no"
    assert ask(O, "pepper", world=world, cues={"asks": "bring-in"}).verdict == "yes"
    summer = bare_world(site=continental_site(), today=date(2027, 7, 15))
    assert ask(O, "kale", world=summer, cues={"asks": "tonight"}).verdict == "yes"
    limit = ask(O, "pepper", world=world, cues={"asks": "limit"})
    assert any("are usually warm enough for peppers from about" in said for said in limit.details)


@pytest.mark.parametrize("crop", ["tomato", "leek", "cabbage"])
@pytest.mark.parametrize("cues", [{}, {"cover": "fleece"}])
def test_it_is_not_skipped_under_fleece_either(crop: str, cues: dict[str, str]) -> None:
    reply = ask("hardening-off", crop, cues={"hardening": "skip", **cues})
    assert reply.verdict == "no"
    assert reply.headline.startswith("No, do not skip it")


@pytest.mark.parametrize("crop", ["cabbage", "tomato", "leek"])
def test_a_day_named_as_the_beginning_begins_the_plan(crop: str) -> None:
    day = TODAY + timedelta(days=6)
    plan = ask(O, crop, text=f"harden my {crop} from saturday, plan", cues={"asks": "plan"}, date=day)
    assert number(plan, "harden_from") == day
    assert number(plan, "set_out") > day
    planted = ask(O, crop, text=f"harden my {crop}, out on saturday, plan", cues={"asks": "plan"}, date=day)
    assert number(planted, "harden_from") >= TODAY


def test_cold_nights_weeks_before_planting_say_that_it_is_too_early() -> None:
    duluth = bare_world(site=continental_site())
    cold = ask(O, "tomato", world=duluth, temps=lows(36, 42, 31, 47, 39), temp_f=36.0)
    assert "too early to harden" in cold.headline


def test_at_the_limit_itself_it_is_said_to_be_the_limit() -> None:
    reply = ask("hardening-off", "tomato", f=50, role="low", when="tonight")
    assert "no trouble" not in reply.headline
    assert "limit" in reply.headline
    assert "no trouble" in ask("hardening-off", "tomato", f=56, role="low", when="tonight").headline


@pytest.mark.parametrize("said", [{"days": 3.0}, {"weeks": 1.0}])
def test_days_out_are_not_asked_for_again(said: dict[str, float]) -> None:
    reply = ask("hardening-off", "cabbage", f=35, role="low", when="tonight", **said)
    assert not any("how many days" in change for change in reply.changes)
    unsaid = ask("hardening-off", "cabbage", f=35, role="low", when="tonight")
    assert any("how many days" in change for change in unsaid.changes)


def test_planting_out_too_early_stays_a_question_of_the_season() -> None:
    from gardenmate.topics.seedlings.planting_heat import asks_for_the_hour

    slots = Slots(temp_f=86, temps=(Temperature(86, "F"),))
    question = spoken(
        "86 today, too hot at noon to plant out tomatoes?", "early-start", refs("tomato"), slots
    )
    spring = bare_world(site=continental_site(), today=date(2027, 4, 10))
    summer = bare_world(site=continental_site(), today=date(2027, 6, 10))
    assert not asks_for_the_hour(question, spring)
    assert asks_for_the_hour(question, summer)


@pytest.mark.parametrize("crop", ["tomato", "cabbage"])
@pytest.mark.parametrize("done", [1, 3, 5])
def test_a_few_days_of_hardening_are_not_enough_to_plant_out(crop: str, done: int) -> None:
    summer = bare_world(site=continental_site(), today=date(2027, 6, 5))
    text = f"{crop} have been hardening for {done} days, can i set them out"
    for topic in (O, "early-start", "when-start"):
        reply = ask(topic, crop, text=text, days=float(done), world=summer)
        assert reply.verdict == "no"
        assert number(reply, "days_left") == 7 - done
        assert number(reply, "set_out") == date(2027, 6, 5) + timedelta(days=7 - done)


def test_hardened_long_enough_waits_only_for_the_season() -> None:
    text = "my pepper plants have been hardening for 10 days, can i plant them out"
    summer = bare_world(site=continental_site(), today=date(2027, 6, 5))
    assert ask(O, "pepper", text=text, days=10.0, world=summer).verdict == "yes"
    late = bare_world(site=continental_site(), today=date(2027, 8, 20))
    assert ask(O, "pepper", text=text, days=10.0, world=late).verdict == "tight"
    april = bare_world(site=continental_site(), today=date(2027, 4, 18))
    assert ask(O, "pepper", text=text, days=10.0, world=april).verdict == "no"


def test_the_plan_ends_the_day_before_the_plants_go_out() -> None:
    for today in (date(2027, 5, 20), date(2027, 6, 1), date(2027, 6, 10)):
        reply = ask(
            O, "tomato", world=bare_world(site=continental_site(), today=today), cues={"asks": "plan"}
        )
        out = number(reply, "set_out")
        assert isinstance(out, date)
        assert reply.table is not None
        last = reply.table.rows[-1]
        assert (out - timedelta(days=1)).strftime("%-d %b") in str(last[0])
        assert str(last[3]).startswith("out")


@pytest.mark.parametrize("crop", ["rosemary", "pepper", "tomato"])
def test_when_to_bring_pots_in_is_a_day_before_the_cold_nights(crop: str) -> None:
    site = continental_site()
    world = bare_world(site=site, today=date(2027, 7, 20))
    reply = ask(O, crop, world=world, cues={"asks": "bring-in", "asks_when": "yes"})
    day = number(reply, "bring_in_by")
    assert isinstance(day, date)
    assert date(2027, 7, 20) < day < date(2027, 11, 15)
    limit = number(reply, "night_limit_hard_c")
    assert isinstance(limit, float)
    assert site.min_c(day - timedelta(days=1)) >= limit - 0.1
    assert reply.headline.startswith("Bring")
    spring = ask(O, crop, cues={"asks": "bring-in", "asks_when": "yes"})
    assert spring.headline  # no place: the limits are told


@pytest.mark.parametrize(("days", "verdict"), [(3, "no"), (5, "tight"), (8, "yes")])
def test_days_told_are_judged_against_the_crops_least(days: int, verdict: str) -> None:
    """Kale hardens in 7 to 10 days (the figures of its file); two thirds of that is a risk (own rule)."""
    talk = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"), remembers=False)
    a = talk.ask(f"is {days} days enough hardening off for kale?")
    assert a.verdict == verdict
    assert not a.unused


def test_a_day_of_the_plan_is_told() -> None:
    talk = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"), remembers=False)
    early, late = (talk.ask(f"hardening off peppers, how many hours on day {d}?").headline for d in (2, 6))
    assert early.startswith("Day 2 of")
    assert late.startswith("Day 6 of")
    assert early.split(":")[1] != late.split(":")[1]
