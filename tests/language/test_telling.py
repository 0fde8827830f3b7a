"""What is told too plainly to be weighed: the crops somebody grows."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.language.lexicon import load_lexicon
from gardenmate.language.understand import understand

FACTS = Facts()


def topic(text: str) -> str:
    lexicon = load_lexicon(FACTS)
    return understand(text, today=date(2027, 4, 18), units="us", facts=FACTS, lexicon=lexicon).topic


@pytest.mark.parametrize(
    "text",
    [
        "I want leeks, peppers and tomatoes",
        "we grow peppers, tomatoes, leeks, broccoli, peas and kale",
        "I grow peppers, tomatoes and leeks",
        "We only want to grow kale and leeks in our garden",
    ],
)
def test_the_crops_somebody_grows_are_told_to_the_garden(text: str) -> None:
    assert topic(text) == "garden"


@pytest.mark.parametrize("text", ["we want 24 cabbages", "I want to sow peas now", "can we grow melons?"])
def test_what_asks_for_something_is_no_such_statement(text: str) -> None:
    assert topic(text) != "garden"
