"""A crop eaten or rotted and begun again asks for the time that is left, whatever took it."""

from datetime import date

import pytest

from gardenmate.core.question import Request
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def _read(text: str) -> Request:
    talk = Conversation(FACTS, lambda: date(2027, 5, 25), PlaceOptions(place="Duluth"), "us")
    return talk.understand(text)


@pytest.mark.parametrize(
    ("text", "crop"),
    [
        ("slugs ate all the lettuce, can I sow again?", "lettuce"),
        ("Damping off killed my tomatoes. Start over?", "tomato"),
        ("my kids ate all the peas, can I sow more", "pea"),
        ("Squirrels dug up my corn, replant now?", "sweet-corn"),
        ("my dog dug up the peas, can I sow again", "pea"),
        ("cutworms got the cabbages, should I put in another lot and plant again?", "cabbage"),
        ("Pigeons stripped the kale. Can we plant more?", "kale"),
    ],
)
def test_a_lost_crop_begun_again_is_a_question_of_time(text: str, crop: str) -> None:
    question = _read(text)
    assert question.topic == "late-start"
    assert [c.id for c in question.crops] == [crop]


@pytest.mark.parametrize(
    "text",
    [
        "slugs ate my lettuce, how do I kill them?",
        "what is eating my beans?",
        "log: rabbits ate the peas, sowed again",
        "rabbits ate the peas and I sowed again",
        "can I grow more tomatoes than my neighbor?",
    ],
)
def test_without_a_loss_or_a_new_start_asked_about_nothing_is_turned(text: str) -> None:
    assert _read(text).topic != "late-start"
