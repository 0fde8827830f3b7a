"""What a count counts, the time to spare, and the days meant, found in whole sentences."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

import pytest

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.turn import understand
from gardenmate.language.text.lexicon import Lexicon, load_lexicon

FACTS = Facts()


@lru_cache(maxsize=1)
def _lexicon() -> Lexicon:
    return load_lexicon(FACTS)


def read(text: str) -> Request:
    """The question of a text on Sunday 18 April 2027."""
    return understand(text, today=date(2027, 4, 18), units="us", facts=FACTS, lexicon=_lexicon())


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("how many potato plants for 200 lb", "lb"),
        ("how many onion sets for a 10 ft row", "ft"),
        ("how many tomatoes do I plant for 60 quarts of sauce", "quart"),
        ("I want 60 ears of sweet corn, how many plants", "ear"),
        ("how many cabbages for 4 people", None),
    ],
)
def test_what_the_count_counts(text: str, unit: str | None) -> None:
    assert read(text).cue("count_unit") == unit


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("I only have an hour, what should I do in the garden", "60"),
        ("what should I do, I have about two hours before lunch", "120"),
        ("are 14 hours of light enough for tomato seedlings", None),
    ],
)
def test_time_to_spare(text: str, minutes: str | None) -> None:
    assert read(text).cue("limit_minutes") == minutes


def test_a_weekend_is_two_days() -> None:
    assert read("what can I do in the garden next weekend?").cue("days") == "2027-04-24/2027-04-25"


def test_this_weekend_on_a_sunday_is_today() -> None:
    assert read("what can I do in the garden this weekend?").cue("days") == "2027-04-18/2027-04-18"


@pytest.mark.parametrize(
    ("text", "cue", "value"),
    [
        ("should I just buy celery plants?", "way", "buy"),
        ("should I buy pepper starts or sow seed?", "way", "sow"),
        ("kale at 3 dollars for a six pack, or grow my own from seed?", "pack", "6"),
        ("is anything in the garden overdue?", "jobs", "missed"),
        ("can't get out there until Saturday, what garden jobs will suffer?", "hold", "until"),
        ("what spacing for cauliflower?", "amount", "spacing"),
        ("how many bean seeds to a foot?", "amount", "per-row"),
    ],
)
def test_words_of_money_amounts_and_work(text: str, cue: str, value: str) -> None:
    assert read(text).cue(cue) == value
