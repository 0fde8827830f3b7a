"""Temperatures with their units and roles."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.core.units import Units
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("text", "slot", "value"),
    [
        ("will kale survive 15F?", "temp_f", 15),
        ("frost tonight, peppers at 7 C", "temp_c", 7),
        ("is -15C too much for a fig", "temp_c", -15),
        ("minus 2 tonight, cover the peas?", "temp_c", -2),
        ("peas in bloom, 31 and clear", "temp_f", 31),
        ("potatoes just up, 33 and windy", "temp_f", 33),
        ("strawberries in flower. 29 and calm", "temp_f", 29),
        ("should I cover tomatoes at 35 tonight", "temp_f", 35),
        ("peas 24?", "temp_f", 24),
        ("lows of 28 to 32 overnight, lettuce ok?", "temp_f", 28),
        ("frame 101 help", "temp_f", 101),
        ("39 is predicted tonight, garden in danger?", "temp_f", 39),
        ("will onions sprout in 5°C soil", "temp_c", 5),
        ("down to thirty tonight, cover the potatoes?", "temp_f", 30),
        ("lettuce at 25?", "temp_f", 25),
        ("between 5 and 8 C at night, are peppers ok", "temp_c", 5),
        ("2 degrees below zero C, are leeks ok", "temp_c", -2),
    ],
)
def test_the_one_that_governs(reading: Read, text: str, slot: str, value: float) -> None:
    assert getattr(reading(text).question.slots, slot) == value


@pytest.mark.parametrize(
    "text", ["pot up 45 tomatoes", "sow 72 cells of leeks", "4 inch pots for peppers?", "zone 5 peas when"]
)
def test_other_numbers_are_none(reading: Read, text: str) -> None:
    assert reading(text).question.slots.temps == ()


def test_two_temperatures_with_their_roles(reading: Read) -> None:
    slots = reading("45 out and 82 in the frame, vent?").question.slots
    assert [(t.value, t.role) for t in slots.temps] == [(45, "outside"), (82, "inside")]
    assert slots.temp_f is None
    assert slots.temp_c is None


def test_the_unit_follows_the_garden(reading: Read) -> None:
    assert reading("is 18 tonight ok for tomatoes", units="metric").question.slots.temp_c == 18
    assert reading("is 38 tonight ok for tomatoes", units="us").question.slots.temp_f == 38


def test_the_unit_follows_the_turn_before(reading: Read) -> None:
    assert reading("and at 12", "will peas come up at 8C soil?").question.slots.temp_c == 12


def test_an_assumed_unit_is_said(reading: Read) -> None:
    assert reading("should I cover tomatoes at 35 tonight").question.assumptions == ("Read 35 as F degrees.",)
    assert reading("should I cover tomatoes at 35F tonight").question.assumptions == ()


@pytest.mark.parametrize(
    ("text", "role"),
    [
        ("vent the cold frame, 62 and bright?", "outside"),
        ("do I lift the frame lid, 50, cloudy", "outside"),
        ("the frame reads 62 and it is bright out", "inside"),
    ],
)
def test_a_figure_with_the_sky_behind_it_is_the_weather(reading: Read, text: str, role: str) -> None:
    (found,) = reading(text).question.slots.temps
    assert found.role == role


@pytest.mark.parametrize(
    ("place", "day", "text", "unit"),
    [
        ("Albany, NY", date(2026, 12, 12), "8 tonight, spinach in the frame", "F"),
        ("Albany, NY", date(2027, 7, 12), "8 tonight, beans ok?", "C"),
        ("Duluth", date(2027, 1, 12), "-4 tonight, kale?", "F"),
        ("Boston", date(2027, 5, 18), "-4 tonight, kale?", "C"),
        ("Leeds, England", date(2027, 4, 12), "28 tonight, peas ok?", "F"),
        ("Leeds, England", date(2027, 4, 12), "3 tonight, tomatoes out?", "C"),
    ],
)
def test_a_bare_figure_of_the_air_is_in_the_unit_of_the_place_where_that_is_possible(
    place: str, day: date, text: str, unit: str
) -> None:
    talk = Conversation(Facts(), lambda: day, PlaceOptions(place=place), remembers=False)
    (read,) = talk.understand(text).slots.temps
    assert read.unit == unit


@pytest.mark.parametrize("units", ["us", "metric"])
def test_units_chosen_settle_a_bare_figure(units: Units) -> None:
    talk = Conversation(
        Facts(), lambda: date(2027, 7, 12), PlaceOptions(place="Boston"), units, remembers=False
    )
    (read,) = talk.understand("8 tonight, beans ok?").slots.temps
    assert read.unit == ("F" if units == "us" else "C")


@pytest.mark.parametrize(
    ("text", "roles"),
    [
        ("lows of 40 and highs of 65, safe for cabbage plants yet?", ["low", "high"]),
        ("44 at night 70 by day, tomatoes out?", ["low", "high"]),
        ("28 at dawn 60 by noon and I'm at work", ["low", "high"]),
        ("sunny and 45F high, 24F low tonight, lettuce in my frame", ["high", "low"]),
        ("soil probe said 54 at breakfast, is it time for corn?", ["soil"]),
    ],
)
def test_each_figure_has_the_role_of_its_own_words(reading: Read, text: str, roles: list[str]) -> None:
    assert [t.role for t in reading(text).question.slots.temps] == roles
