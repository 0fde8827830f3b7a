"""What a grower says beside the question changes the answer or is said in it (common practice where a figure is
compared: rhubarb is not split before its third year; plants harden 7 to 14 days, with the last nights out)."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def ask(text: str, today: date = date(2027, 4, 18), place: str = "Duluth") -> Answer:
    return Conversation(FACTS, lambda: today, PlaceOptions(place=place), remembers=False).ask(text)


def test_a_crown_too_young_is_not_split() -> None:
    assert ask("can I split my 1 year old rhubarb?").verdict == "no"
    assert ask("can I split my 5 year old rhubarb?").verdict == "yes"


@pytest.mark.parametrize("age", [2, 5, 12])
def test_the_age_of_the_plant_is_said(age: int) -> None:
    found = ask(f"can I move a {age} year old blueberry now?")
    assert f"At {age} years" in found.headline
    assert found.unused == ()


def test_days_of_hardening_are_weighed() -> None:
    assert ask("will two days of it do for lettuce to harden off?").verdict == "no"
    found = ask("hardening pumpkins, two days so far, hail came, start over?").headline
    assert "2 days" in found
    assert "5 to 14 days" in found


def test_nights_are_those_of_the_month_named() -> None:
    april, june = (
        ask(f"geranium trays outside in {month}, bring in at night?") for month in ("April", "June")
    )
    assert april.headline != june.headline
    assert june.unused == ()


def test_the_lower_end_of_a_range_decides_one_night() -> None:
    """A killing night must not become a yes by the warmer end of what is forecast."""
    found = ask("28 to 32 overnight, cover the spuds?")
    assert "28 F" in found.headline
    assert "nights" not in found.headline
    assert found.unused == ()


def test_a_part_of_a_month_has_its_own_odds() -> None:
    early, late = (ask(f"what are the odds of a frost in {part} May?").headline for part in ("early", "late"))
    assert "5 May" in early or "6 May" in early
    assert early != late


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("sweetcorn is two inches and frost tonight, 30, is it dead?", "still below ground"),
        ("sweetcorn is 18 inches and frost tonight, 30, is it dead?", "above ground"),
        ("potatoes are up six inches and frost is coming, pop pots over?", "earthed over"),
        ("potatoes are up 14 inches and frost is coming, pop pots over?", "too tall"),
    ],
)
def test_how_tall_they_are_is_weighed(text: str, said: str) -> None:
    """Corn regrows until its growing point is above ground, at about a foot (common practice)."""
    assert said in ask(text).headline


def test_shoots_of_green_are_a_stage_of_the_vine() -> None:
    found = ask("the concord has about two inches of green on every bud and 26 tonight")
    assert found.verdict == "tight"
    assert found.unused == ()


def test_day_and_night_in_a_seed_tray_count_as_their_mean() -> None:
    """Seed trials are run at steady warmth; a tray that swings is taken at its mean (design value)."""
    assert "70 F" in ask("sixty by night eighty by day, will my pepper seeds pop?").headline


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("aubergines at 15C on the windowsill, enough light?", "15 C"),
        ("a 40 dollar led good enough for 2 trays", "40"),
        (
            "Is my conservatory bright enough in January for tomatoes with no lamp. It's 8C at night",
            "January",
        ),
    ],
)
def test_what_is_said_of_a_lamp_or_a_sill_is_weighed(text: str, said: str) -> None:
    found = ask(text)
    assert said in found.headline
    assert found.unused == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("ten slips for 12 pounds or make own", "£12.00"),
        ("two trays of french beans at 2.99 silly?", "$5.98"),
        ("40 asparagus crowns at 2.80, a packet of seed is 3 dollars, which?", "$6.00"),
    ],
)
def test_every_price_told_is_in_the_bill(text: str, said: str) -> None:
    assert said in ask(text).headline


def test_each_crop_has_its_own_number() -> None:
    worked = ask("is it cheaper to sow or buy 30 tomatoes and 20 peppers?").assumptions[0]
    assert "30 x tomato" in worked
    assert "20 x pepper" in worked


def test_half_inch_green_is_a_stage_with_its_own_figures() -> None:
    """Penn State and Michigan State tables: apples at half-inch green lose 10% of buds near 23 F, 90% near 15 F."""
    found = ask("my apple is at half-inch green and it will be 24, is it ok")
    assert found.question.topic == "frost"
    assert "half-inch green" in found.headline
    assert found.verdict == "yes"
    assert found.unused == ()
    assert ask("apple at half inch green, 16 tonight").verdict in ("tight", "no")


def test_a_zone_named_is_said_to_tell_no_frost_dates() -> None:
    found = ask("zone 5b, too late for beans?")
    assert found.unused == ()
    assert "Zone 5b" in (found.place_note or "")
    assert ask("too late for beans?").place_note is None


def test_tubers_that_are_chitted_are_planted() -> None:
    assert "chit" not in ask("chitted potatoes have sprouts like fingers, plant now?").headline
    assert "chit" in ask("when do I chit my potatoes?").headline


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("my lilac is twelve feet tall, when do I prune it?", "over three years"),
        ("my blueberries are four feet tall, prune now?", "needs no lowering"),
        ("my apple tree is 20 feet tall, prune now?", "a quarter"),
        ("the deer cut my apple whips at three feet high, tidy the cuts?", "young"),
    ],
)
def test_the_height_of_a_shrub_or_tree_is_weighed(text: str, said: str) -> None:
    """Overgrown shrubs take three years, no more than a quarter of a crown goes in one (common practice)."""
    found = ask(text)
    assert said in found.headline
    assert found.unused == ()


def test_weeks_of_salad_are_sowings() -> None:
    """Lettuce is sown every two to three weeks for a steady supply (common practice)."""
    found = ask("How many lettuces keep two people in salad for ten weeks?")
    assert "4 lots" in found.headline
    assert found.unused == ()
