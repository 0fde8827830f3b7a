"""What a grower says beside the question changes the answer or is said in it (common practice where a figure is
compared: rhubarb is not split before its third year; plants harden 7 to 14 days, with the last nights out)."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def ask(text: str, today: date = date(2027, 4, 18), place: str = "Duluth") -> Answer:
    return Conversation(FACTS, lambda: today, PlaceOptions(place=place), remembers=False).ask(text)


def test_a_crown_too_young_is_not_split() -> None:
    assert ask("can I split my 1 year old rhubarb?").verdict == "no"
    assert ask("can I split my 5 year old rhubarb?").verdict == "yes"


@pytest.mark.parametrize("age", [2, 5, 12])
def test_the_age_of_the_plant_is_said(age: int) -> None:
    found = ask(f"can I move a {age} year old blueberry now?")
    assert f"At {age} years" in found.headline
    assert found.unused == ()


def test_days_of_hardening_are_weighed() -> None:
    assert ask("will two days of it do for lettuce to harden off?").verdict == "no"
    assert (
        "2 days alone is too short"
        in ask("hardening pumpkins, two days so far, hail came, start over?").headline
    )


def test_nights_are_those_of_the_month_named() -> None:
    april, june = (
        ask(f"geranium trays outside in {month}, bring in at night?") for month in ("April", "June")
    )
    assert april.headline != june.headline
    assert june.unused == ()
