"""Which place an answer is for: said in its first lines, carried in the JSON, and asked about once."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.dialogue.where import chosen
from gardenmate.knowledge.facts import Facts
from gardenmate.present.json_out import to_dict
from gardenmate.present.layout import Look, plain

FACTS = Facts()
TODAY = date(2027, 4, 18)
Talk = Callable[..., Conversation]


@pytest.fixture
def talk() -> Talk:
    def make(place: str | None = None, elevation_m: float | None = None) -> Conversation:
        options = PlaceOptions(place=place, elevation_m=elevation_m)
        return Conversation(facts=FACTS, clock=lambda: TODAY, options=options)

    return make


def lines(answer: Answer) -> list[str]:
    return plain(answer, Look(80, "us", TODAY)).splitlines()


@pytest.mark.parametrize(
    "question",
    [
        "when do I start tomatoes?",
        "is it too late to start peppers?",
        "when is my last frost?",
        "should I buy or sow tomatoes?",
        "what should I do this week?",
    ],
)
def test_an_uncertain_place_is_said_under_the_first_line(talk: Talk, question: str) -> None:
    answer = talk("Jackson, WY").ask(question)
    assert answer.place_doubt is not None
    assert "Jackson, WY" in answer.place_doubt
    assert "14 days" in answer.place_doubt
    start = [n for n, line in enumerate(lines(answer)) if line.startswith("Frost dates in Jackson, WY")]
    assert start
    assert start[0] <= 3


def test_a_sure_place_says_nothing_of_the_kind(talk: Talk) -> None:
    answer = talk("Burlington, CO").ask("when do I start tomatoes?")
    assert answer.place_doubt is None
    assert answer.place is not None
    assert answer.place.station == "Burlington, CO"


def test_the_json_holds_the_place(talk: Talk) -> None:
    found = to_dict(talk("Gunnison, CO", 2700.0).ask("when do I start tomatoes?"), FACTS)["place"]
    assert found == {
        "name": "Gunnison, CO",
        "station": "Gunnison 3 SW, CO",
        "km": pytest.approx(4.3, abs=0.5),
        "height_difference_m": 377,
        "spread_days": pytest.approx(16, abs=3),
        "own": False,
    }


def test_own_dates_are_own(talk: Talk) -> None:
    conversation = talk()
    conversation.ask("I garden in Gunnison, CO")
    conversation.ask("my last frost is June 20 and my first frost is September 1")
    answer = conversation.ask("when do I start tomatoes?")
    assert answer.place is not None
    assert answer.place.own
    assert answer.place_doubt is None


def test_a_town_of_several_is_asked_about_once_and_the_question_is_answered(talk: Talk) -> None:
    conversation = talk()
    asked = conversation.ask("too late for peas in Gunnison?")
    assert "Gunnison, CO (Gunnison County)" in asked.asks
    answer = conversation.ask("the Colorado one")
    assert answer.question.topic == "late-start"
    assert answer.place is not None
    assert answer.place.name == "Gunnison, CO"
    after = conversation.ask("and for beans?")
    assert after.place is not None
    assert after.place.name == "Gunnison, CO"


@pytest.mark.parametrize(
    ("reply", "picked"),
    [
        ("Colorado", "Gunnison, CO (Gunnison County)"),
        ("CO", "Gunnison, CO (Gunnison County)"),
        ("the second one", "Gunnison, UT (Sanpete County)"),
        ("in Sanpete County", "Gunnison, UT (Sanpete County)"),
        ("2", "Gunnison, UT (Sanpete County)"),
        ("Utah or Colorado", None),
        ("how do I sow peas?", None),
        ("is it too late for beans, or should I rather sow kale this Colorado evening", None),
    ],
)
def test_which_of_several(reply: str, picked: str | None) -> None:
    towns = ("Gunnison, CO (Gunnison County)", "Gunnison, UT (Sanpete County)")
    assert chosen(reply, towns, FACTS.table("regions")) == picked


def test_a_question_for_another_town_keeps_its_region_in_the_next_turn(talk: Talk) -> None:
    conversation = talk()
    first = conversation.ask("too late for peppers in Burlington, CO?")
    second = conversation.ask("and for squash?")
    assert first.place is not None
    assert second.place is not None
    assert first.place.name == second.place.name == "Burlington, CO"


def test_a_height_told_with_a_question_holds_for_it_and_what_follows(talk: Talk) -> None:
    conversation = talk("Gunnison, CO")
    low = conversation.ask("when is my last frost?")
    high = conversation.ask("when is my last frost at 8,900 feet?")
    assert low.place is not None
    assert high.place is not None
    assert low.place.height_difference_m == pytest.approx(30, abs=10)
    assert high.place.height_difference_m == pytest.approx(390, abs=10)
    assert talk("Gunnison, CO").ask("too late for a row of beans 300 feet long?").place == low.place
