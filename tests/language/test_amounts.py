"""Money, ages, durations, people, counts and cell sizes."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.core.question import Vessel
from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("text", "price"),
    [
        ("buy pepper plants at $4.50 each or sow", 4.5),
        ("18 broccoli plants at 75 cents each, or a packet?", 0.75),
        ("plants are 4 quid each, or grow from seed", 4),
        ("£3.20 a plant or seed for leeks", 3.2),
        ("tomato starts cost six dollars each, cheaper from seed?", 6),
        ("garden centre wants 4.50 for one celery, or seed?", 4.5),
    ],
)
def test_price(reading: Read, text: str, price: float) -> None:
    assert reading(text).question.slots.price == price


@pytest.mark.parametrize(
    ("text", "years"),
    [
        ("how hard can I prune a six year old quince", 6),
        ("prune a 5 yr old apple", 5),
        ("elderberry in its third year, prune it?", 3),
        ("apple planted in 2023, when do I prune it", 4),
        ("pear planted 3 years ago, prune now?", 3),
    ],
)
def test_age(reading: Read, text: str, years: float) -> None:
    assert reading(text).question.slots.plant_age_years == years


@pytest.mark.parametrize(
    ("text", "slot", "value"),
    [
        ("pepper seed sown 4 weeks ago and nothing came up", "weeks", 4),
        ("peas in for 12 days and no sprouts", "days", 12),
        ("how long can tomatoes stay in cells, been in three weeks", "weeks", 3),
        ("52-day cucumber sown May 25, first pick?", "days_to_maturity", 52),
        ("a 70 day variety of tomato, when is it ready", "days_to_maturity", 70),
        ("is it too late to start sweet corn from seed, 75 days", "days_to_maturity", 75),
        ("sowed radishes today, 28 days. When ready?", "days_to_maturity", 28),
        ("too late for carrots? 90 days", "days_to_maturity", 90),
        ("sowed carrots, 21 days, nothing up. too late?", "days_to_maturity", None),
        ("how many onions for a family of 6", "people", 6),
        ("spinach for 4", "people", 4),
        ("there are five of us", "people", 5),
        ("2 adults and 3 kids, how many potatoes", "people", 5),
        ("log that I planted 12 leeks", "count", 12),
        ("log two dozen kale plants set out today", "count", 24),
        ("how many trays for 48 cabbages", "count", 48),
        ("tomato starts are 4.50 each, buy or sow 12?", "count", 12),
        ("is it worth buying 12 tomato starts at 4.50 or should i use seed", "count", 12),
        ("is it worth buying 12 tomato starts at 4.50 or should i use seed", "price", 4.5),
        ("how many plants for 200 lb of potatoes", "count", 200),
    ],
)
def test_numbers(reading: Read, text: str, slot: str, value: float) -> None:
    assert getattr(reading(text).question.slots, slot) == value


def test_cells_are_no_count(reading: Read) -> None:
    question = reading("How many 72-cell trays do I need for 48 cabbages?").question
    assert question.slots.container == Vessel(72, "cells")
    assert question.slots.count == 48


def test_inches_and_hours_are_no_count(reading: Read) -> None:
    assert reading("tomato seedlings are 6 inches tall, pot them up?").question.slots.count is None
    assert reading("my windowsill gets 5 hours of sun, enough for basil?").question.slots.count is None
