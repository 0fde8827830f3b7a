"""Conversations: what a turn takes over, replaces and drops."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.reading import Reading
from gardenmate.language.intent.understand import Context, read
from gardenmate.language.text.lexicon import Lexicon

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("before", "text", "topic", "crops"),
    [
        ("is it too late to start peppers?", "what about cabbage?", "late-start", ["cabbage"]),
        ("when do I prune cherries?", "plums too?", "pruning", ["plum"]),
        ("how many zucchini plants for 4 people?", "cucumbers?", "how-many", ["cucumber"]),
        ("will kale survive 15F?", "same for leeks", "frost", ["leek"]),
        ("is it too late to start peppers?", "why", "explain", ["pepper"]),
        ("is it too late to start peppers?", "where does that number come from", "explain", ["pepper"]),
        ("when do I set out melons?", "what if frost is a week later", "explain", ["melon"]),
        ("how do I harden off tomatoes?", "what about tonight at 42", "hardening-off", ["tomato"]),
        ("should I buy pepper starts or sow seed?", "what if I want 20", "buy-or-sow", ["pepper"]),
        ("log that I planted 12 leeks", "no, make it 14", "log", ["leek"]),
        ("my last frost is April 30", "actually it's May 3", "garden", []),
        ("what's due today?", "anything else?", "agenda", []),
        ("is it too late to start peppers?", "when do I prune my apple tree", "pruning", ["apple"]),
        ("is it too late to start peppers?", "no, the hot ones", "late-start", ["hot-pepper"]),
        ("is it too late for tomatoes?", "in celsius", "late-start", ["tomato"]),
    ],
)
def test_follow(reading: Read, before: str, text: str, topic: str, crops: list[str]) -> None:
    question = reading(text, before).question
    assert question.topic == topic
    if topic != "garden":  # the place has no crop, whatever was spoken of before
        assert [c.id for c in question.crops] == crops


def test_slots_hold_only_this_turn_and_the_rest_is_carried(reading: Read) -> None:
    question = reading("and at 20", "will kale survive 15F in Duluth tonight?").question
    assert question.slots.temp_f == 20
    assert question.slots.place is None
    assert question.ask.place == "Duluth"
    assert [t.value for t in question.ask.temps] == [20]


def test_another_crop_drops_what_belonged_to_the_first(reading: Read) -> None:
    question = reading("what about beans?", "can a 62-day tomato still make it in Duluth?").question
    assert question.ask.days_to_maturity is None
    assert question.ask.place == "Duluth"


def test_a_new_subject_keeps_only_the_place(reading: Read) -> None:
    question = reading(
        "how do I take blackcurrant cuttings?", "is it too late to sow 30 beans in Duluth?"
    ).question
    assert question.topic == "propagation"
    assert question.ask.count is None
    assert question.ask.place == "Duluth"


def test_it_is_said_what_was_filled_in(reading: Read) -> None:
    assert "same question as before" in (
        reading("what about cabbage?", "too late for peppers?").question.reading or ""
    )


def test_a_shift_of_the_frost_is_a_cue(reading: Read) -> None:
    assert reading("what if frost is a week later", "too late for peppers?").question.cue("shift_days") == "7"
    assert (
        reading("what if frost comes two weeks earlier", "too late for peppers?").question.cue("shift_days")
        == "-14"
    )


def test_an_offered_reading_is_picked(reading: Read, lexicon: Lexicon) -> None:
    first = reading("is it too late to start peppers?").question
    second = reading("when do I start peppers?").question
    context = Context(previous=None, pending=(first, second), units="us")
    for text, picked in (("the first", first), ("2", second), ("when", second)):
        assert (
            read(text, today=context.today, units="us", lexicon=lexicon, context=context).question.topic
            == picked.topic
        )


@pytest.mark.parametrize("text", ["and tomorrow 28?", "what about 28 on Saturday", "and 28 tomorrow night"])
def test_a_bare_number_for_another_day_is_a_temperature_too(text: str) -> None:
    conversation = Conversation(Facts(), lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"))
    conversation.ask("tonight 33, are my peppers ok?")
    question = conversation.understand(text)
    assert question.topic == "frost"
    assert question.slots.temp_f == 28
    assert question.slots.date is not None


@pytest.mark.parametrize("text", ["and 28?", "what about 28", "28?", "how about 28"])
def test_a_bare_number_after_a_temperature_is_another_one(text: str) -> None:
    conversation = Conversation(Facts(), lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"))
    conversation.ask("35 tonight, are my peas ok?")
    question = conversation.understand(text)
    assert question.topic == "frost"
    assert question.slots.temp_f == 28


@pytest.mark.parametrize("text", ["do i need to hardn off kale", "is hardning off needed for leeks"])
def test_hardening_misspelt_is_not_hardiness(read_topic: Callable[[str], str], text: str) -> None:
    assert read_topic(text) == "hardening-off"


@pytest.fixture
def read_topic() -> Callable[[str], str]:
    conversation = Conversation(Facts(), lambda: date(2027, 4, 18), PlaceOptions())
    return lambda text: conversation.understand(text).topic
