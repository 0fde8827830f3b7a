"""When to order: counted back from the planting. Lead times from memory of seed and bulb catalogues (common practice):
seed about four weeks before sowing, tubers, bulbs and crowns about two months before planting."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def _asked(question: str, today: date) -> Answer:
    return Conversation(FACTS, lambda: today, PlaceOptions(place="Columbus, OH"), remembers=False).ask(
        question
    )


@pytest.mark.parametrize(
    ("question", "today", "weeks"),
    [
        ("when should I order seed potatoes", date(2027, 1, 5), 8),
        ("when should I order garlic", date(2027, 7, 15), 8),
        ("when should I order pepper seed", date(2027, 1, 5), 4),
    ],
)
def test_ordering_is_counted_back_from_the_planting(question: str, today: date, weeks: int) -> None:
    answer = _asked(question, today)
    told = {n.name: n.value for n in answer.numbers}
    assert told["order_by"] == max(today, told["start_from"] - timedelta(weeks=weeks))  # type: ignore[operator]
    assert answer.headline.startswith("Order ")
    assert answer.verdict is None


def test_seed_potatoes_are_too_late_to_order_in_midsummer() -> None:
    # Ohio plants potatoes from late March into May, a late crop until early July at most (common practice)
    answer = _asked("is it too late to order seed potatoes", date(2027, 7, 25))
    assert answer.verdict == "no"
    assert _asked("is it too late to order seed potatoes", date(2027, 4, 10)).verdict in ("yes", "tight")


def test_without_a_crop_the_next_ones_to_start_are_named() -> None:
    answer = _asked("when should I order seed?", date(2027, 1, 5))
    assert answer.headline.startswith("Order seed")
    assert len({w.crop for w in answer.windows}) >= 2
