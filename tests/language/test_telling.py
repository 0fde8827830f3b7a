"""What is told too plainly to be weighed: the crops somebody grows."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.turn import understand
from gardenmate.language.text.lexicon import load_lexicon

FACTS = Facts()


def topic(text: str) -> str:
    lexicon = load_lexicon(FACTS)
    return understand(text, today=date(2027, 4, 18), units="us", facts=FACTS, lexicon=lexicon).topic


@pytest.mark.parametrize(
    "text",
    [
        "I want peppers and leeks this year",
        "we do not grow leeks",
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


@pytest.mark.parametrize(
    "text",
    [
        "pruned the blueberries today",
        "sowed 2 rows of beets yesterday",
        "We planted out 12 cabbages under fleece",
        "picked first strawberries",
        "potted up the aubergines this morning",
    ],
)
def test_a_job_done_is_kept_in_the_log(text: str) -> None:
    assert topic(text) == "log"


@pytest.mark.parametrize(
    "text",
    [
        "took 12 currant cuttings, how long until they root",
        "sowed beets three weeks ago and nothing is up",
        "potted up the aubergines, can they go out",
        "picked strawberries for jam, how long do they keep",
    ],
)
def test_a_job_done_that_leads_to_something_else_is_no_note(text: str) -> None:
    assert topic(text) != "log"
