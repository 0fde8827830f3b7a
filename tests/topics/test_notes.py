"""Notes: each example asks for its note, under its topic, and the answer is the note with its sources."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
NOTES = FACTS.table("notes")


def talk() -> Conversation:
    return Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), "us", remembers=False)


@pytest.mark.parametrize(
    ("name", "text"), [(name, text) for name, note in NOTES.items() for text in note["examples"]]
)
def test_an_example_asks_for_its_note(name: str, text: str) -> None:
    answer = talk().ask(text)
    assert (answer.question.topic, answer.verdict) == (NOTES[name]["topic"], NOTES[name].get("verdict"))
    assert answer.question.first("note").value == name  # type: ignore[union-attr]
    assert all(FACTS.source(source).title for source in answer.sources)


@pytest.mark.parametrize(
    "text",
    [
        "how much do I water pepper seedlings before hardening off",
        "will purple basil come up at 60",
        "too late for purple sprouting broccoli?",
        "should I water in the leeks when I plant them out",
        "is the plastic tunnel too hot at 90",
    ],
)
def test_a_question_that_only_shares_words_asks_for_none(text: str) -> None:
    assert talk().understand(text).first("note") is None
