"""Numbers no gardener means, in every place a question may hold one: a sentence comes back."""

from __future__ import annotations

import pytest

from gardenmate.dialogue.conversation import Conversation
from gardenmate.present.json_out import to_json_line

NUMBERS = (
    "0",
    "-1",
    "1e9",
    "999999999999",
    "9" * 20,
    "1" * 400,
    "0.0000001",
    "9999",
    "1/0",
    "½",
    "inf",
    "nan",
    "3,000,000",
)
ASKED = (
    "will peppers be ripe in {n} weeks",
    "can I sow peas {n} days ago",
    "sow carrots {n} months from now",
    "frost at {n}F tonight tomatoes",
    "{n} tomato plants how many seeds",
    "{n} people how many carrots",
    "is ${n} too much for a tomato plant",
    "peppers {n} days to maturity too late?",
    "frame at {n} degrees, vent?",
    "soil is {n}, will beans come up",
    "elder {n} years old, prune?",
    "last frost {n} days later",
    "how many bulbs for {n} feet of garlic",
    "{n} lux on the sill enough?",
    "72 cell for {n} weeks tomatoes",
    "{n} watt lamp {n} hours cost",
    "in {n} minutes what can I do",
    "my bed is {n} by {n} feet how many carrots",
    "elevation {n} m",
    "sow 5/{n}",
    "{n}-05-01 peppers",
    "prune on may {n}",
)


@pytest.mark.parametrize("asked", ASKED)
def test_any_number_has_an_answer(talk: Conversation, asked: str) -> None:
    for number in NUMBERS:
        answer = talk.ask(asked.replace("{n}", number))
        assert answer.headline
        line = to_json_line(answer, talk.facts)
        assert "Infinity" not in line
        assert "NaN" not in line
