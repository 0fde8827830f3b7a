"""Every topic on the awkward days of the calendar, north and south."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.json_out import to_json_line
from gardenmate.present.layout import Look, layout

DAYS = (
    date(1900, 1, 1),
    date(1900, 2, 28),
    date(2000, 2, 29),
    date(2027, 3, 14),  # clocks go forward in North America
    date(2027, 12, 31),
    date(2028, 1, 1),
    date(2028, 2, 29),
    date(2200, 12, 31),
)
QUESTIONS = (
    "is it too late to start peppers?",
    "too early to sow peas?",
    "when do I start tomatoes?",
    "when will beans sown today be ready?",
    "how long do carrots take to come up?",
    "do I need a heat mat for peppers?",
    "when do I pot up tomatoes?",
    "how do I harden off broccoli?",
    "frost tonight at 28, tomatoes?",
    "40 outside and sunny, open the cold frame?",
    "when do I prune the apple?",
    "how do I take elderberry cuttings?",
    "buy or sow leeks?",
    "how many carrots for 4 people?",
    "what should I do this week?",
    "I sowed 20 peas yesterday",
    "can I sow kale on 29 february?",
    "sow garlic in two weeks?",
    "what can I still sow?",
)


@pytest.mark.parametrize("day", DAYS, ids=str)
@pytest.mark.parametrize("place", ["Duluth", "Hobart", "Singapore"])
def test_every_topic_has_an_answer(facts: Facts, place: str, day: date) -> None:
    talk = Conversation(facts, lambda: day, options=PlaceOptions(place=place), remembers=False)
    for question in QUESTIONS:
        answer = talk.ask(question)
        assert answer.headline.strip().endswith((".", "?", "!"))
        assert to_json_line(answer, facts)
        assert layout(answer, Look(width=60, units="us", today=day, linear=False))
        assert answer.chance is None or 0.0 <= answer.chance <= 1.0
        for window in answer.windows:
            days = [d for d in (window.earliest, window.best_from, window.best_to, window.latest) if d]
            assert days == sorted(days)
