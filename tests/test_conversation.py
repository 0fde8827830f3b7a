"""A conversation: whose frost dates hold, what waits for a place, what is not known, what is not kept."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.question import Request
from gardenmate.dialogue.conversation import (
    EXIT_NEEDS_PLACE,
    EXIT_NOT_UNDERSTOOD,
    Conversation,
    PlaceOptions,
)
from gardenmate.garden.store import GardenFile, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
TODAY = date(2027, 4, 18)


@pytest.fixture
def talk(tmp_path: Path) -> Callable[[], Conversation]:
    def make() -> Conversation:
        return Conversation(
            FACTS,
            lambda: TODAY,
            garden_file=GardenFile(garden_path(tmp_path)),
            journal=Journal(journal_path(tmp_path)),
        )

    return make


def test_own_frost_dates_hold_at_once_and_when_the_town_is_named(talk: Callable[[], Conversation]) -> None:
    conversation = talk()
    conversation.ask("I garden in Duluth")
    conversation.ask("my last frost is May 24")
    assert "24 May" in conversation.ask("when is the last frost usually?").headline
    assert "24 May" in conversation.ask("when is the last frost in Duluth?").headline
    assert "24 May" not in conversation.ask("when is the last frost in Boston?").headline


def test_a_question_waits_for_the_place_and_is_answered_once(talk: Callable[[], Conversation]) -> None:
    conversation = talk()
    conversation.ask("is it too late to start peppers?")
    assert conversation.exit_code == EXIT_NEEDS_PLACE
    assert conversation.resumed() is None
    conversation.ask("I garden in Duluth")
    answer = conversation.resumed()
    assert answer is not None
    assert answer.question.topic == "late-start"
    assert answer.verdict is not None
    assert conversation.resumed() is None
    assert conversation.ask("and tomatoes?").question.topic == "late-start"


def test_a_place_that_was_not_found_is_not_carried(talk: Callable[[], Conversation]) -> None:
    conversation = talk()
    assert "Qwxyzville" in conversation.ask("I garden in Qwxyzville").headline
    assert conversation.ask("28 tonight, are my peas all right?").verdict == "tight"


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("too late for flumox?", "flumox"),
        ("when do I sow zinnias?", "zinnias"),
        ("too late for dahlias?", "dahlias"),
        ("can I still prune the Feijoa?", "Feijoa"),
        ("how many seeds for 20 flumox?", "flumox"),
    ],
)
def test_a_plant_nobody_knows_is_declined_by_the_word(text: str, word: str) -> None:
    conversation = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"))
    answer = conversation.ask(text)
    assert f"'{word}'" in answer.headline
    assert answer.verdict is None
    assert conversation.exit_code == EXIT_NOT_UNDERSTOOD


@pytest.mark.parametrize(
    "text",
    ["what can I sow now?", "wat can i still sow naow", "too late for tomatos?", "too late for jalapenos?"],
)
def test_a_slip_of_the_pen_is_no_unknown_plant(text: str) -> None:
    conversation = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"))
    assert "do not know" not in conversation.ask(text).headline


def test_too_late_for_nothing_said_is_asked_back() -> None:
    conversation = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"))
    answer = conversation.answer(Request("too late?", "out-of-scope", cues={"too_late": "yes"}))
    assert answer.headline == "Too late for what? Name the crop or the job."
    assert answer.asks


def test_without_garden_and_log_nothing_is_said_to_be_kept() -> None:
    for text in ("I garden in Duluth", "note that I sowed 4 peppers today"):
        answer = Conversation(FACTS, lambda: TODAY).ask(text)
        assert answer.effects == ()
        assert "it won't be saved" in answer.headline


def test_a_statement_is_taken_as_one_when_told(talk: Callable[[], Conversation]) -> None:
    conversation = talk()
    conversation.tell("I have a heat mat and two lamps")
    assert conversation.garden.gear["lamp"] == 2
    assert conversation.previous is None


@pytest.mark.parametrize(
    ("supposed", "opening"),
    [
        ("what if frost is a week later?", "frosts come 7 days later"),
        ("what if the last frost is two weeks early?", "frosts come 14 days earlier"),
        ("what if it is a cold spring?", "3 degrees f colder throughout"),
        ("what if it is a warm year?", "3 degrees f warmer throughout"),
    ],
)
def test_what_if_works_the_question_again_even_after_a_follow_up(supposed: str, opening: str) -> None:
    conversation = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"))
    conversation.ask("is it too late to start peppers from seed?")
    conversation.ask("and tomatoes?")
    answer = conversation.ask(supposed)
    assert answer.question.topic == "explain"
    assert opening in answer.headline.split(": ")[0].lower()


def test_what_is_wanted_counts_in_the_same_conversation_though_nothing_is_kept() -> None:
    plain = Conversation(facts=FACTS, clock=lambda: TODAY, options=PlaceOptions(place="Burlington, Vermont"))
    assert "won't be saved" in plain.ask("I want tomatoes, leeks and kale").headline
    told = plain.ask("what should I do this week")
    assert told.table is not None
    jobs = " ".join(str(row[0]) for row in told.table.rows).lower()
    assert not any(crop in jobs for crop in ("pepper", "carrot", "potato", "cabbage"))
    assert not any("have not said what you grow" in line for line in told.assumptions)


def test_after_a_place_in_doubt_the_next_answer_says_which_it_is_for(
    talk: Callable[[], Conversation],
) -> None:
    conversation = talk()
    conversation.ask("I garden in Burlington, Vermont")
    doubt = conversation.ask("I garden in Springfield")
    assert doubt.asks
    told = conversation.ask("when can I set out tomatoes")
    assert any("Springfield" in line and "Burlington" in line for line in told.assumptions)
    conversation.ask("I garden in Springfield, Illinois")
    settled = conversation.ask("when can I set out peppers")
    assert not any("still open" in line for line in settled.assumptions)
