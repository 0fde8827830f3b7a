"""Days on which something happened are no days of the question; days of the job are (own sentences)."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.turn import read_turn
from gardenmate.language.text.lexicon import load_lexicon

FACTS, TODAY = Facts(), date(2027, 4, 18)
LEXICON = load_lexicon(FACTS)


def read(text: str) -> Request:
    turn = read_turn(text, today=TODAY, units="us", facts=FACTS, lexicon=LEXICON)
    return turn.parts[0].request


def stretches_told(text: str) -> list[bool]:
    return [t.told for t in read(text).typed if t.kind == "date" and t.role == "stretch"]


@pytest.mark.parametrize(
    "text",
    [
        "Mice ate my peas in March, is it too late to sow more?",
        "I lost all of March. Too late for carrots?",
        "grape sticks kept in the fridge since January, can I plant them",
        "I meant to prune the apple in February, can I still",
        "dad clipped the forsythia every October, when should I prune it",
    ],
)
def test_what_happened_is_a_story(text: str) -> None:
    assert stretches_told(text) == [True]


@pytest.mark.parametrize(
    "text",
    [
        "can I prune the apple in July?",
        "is May too late to sow carrots?",
        "are plums best pruned in July?",
        "I want to plant garlic in October, is that late?",
        "we had no spring, so can I sow peas in June?",
    ],
)
def test_the_day_of_the_job_is_none(text: str) -> None:
    assert stretches_told(text) == [False]


@pytest.mark.parametrize(
    ("text", "month"),
    [
        ("would a start of June sowing of corn be silly, straight in the soil", "2027-06"),
        ("forgot the leeks in their tray, it's past the middle of August. plant or compost", "2027-08"),
        ("my carrots never happened and now it's the end of June, is there still a crop in it", "2027-06"),
    ],
)
def test_the_month_of_the_job_is_read_in_longer_questions(text: str, month: str) -> None:
    assert (read(text).cue("job_in") or "").startswith(month)


def test_what_is_usual_is_no_day_of_the_job() -> None:
    assert read("onion sets normally go in at the end of March here, are they late?").cue("job_in") is None
    assert read("Would melons sown on June 15 still make it?").cue("begun_on") is None
