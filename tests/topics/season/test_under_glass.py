"""Tender seed in an unheated house: it is raised there, and planted out on the day of the open ground."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def ask(text: str, day: date, place: str = "Leeds, UK") -> Answer:
    found = Conversation(FACTS, lambda: day, PlaceOptions(place=place), remembers=False).ask(text)
    assert isinstance(found, Answer)
    return found


@pytest.mark.parametrize("house", ["greenhouse", "polytunnel"])
@pytest.mark.parametrize("crop", ["runner beans", "courgettes", "tomatoes"])
def test_glass_does_not_bring_the_setting_out_forward(crop: str, house: str) -> None:
    """Runner beans and courgettes are sown under glass from mid April to May in the north of England, and none of
    them goes out before mid May (common practice)."""
    early = ask(f"is it too early to sow {crop} in the {house}? unheated", date(2026, 3, 1))
    assert early.verdict == "no"
    assert "outdoors" not in early.headline
    out = next(n.value for n in early.numbers if n.name == "set_out")
    sown = next(n.value for n in early.numbers if n.name == "start_from")
    assert isinstance(out, date)
    assert isinstance(sown, date)
    assert out >= date(2026, 5, 10)
    assert sown < out
    assert ask(f"is it too early to sow {crop} in the {house}?", sown).verdict == "yes"


def test_soil_too_cold_for_the_seed_is_a_no() -> None:
    found = ask("is it too early to sow runner beans in the greenhouse? unheated", date(2026, 3, 20))
    assert found.verdict == "no"
    assert "the seed needs" in found.headline


def test_hardy_seed_under_glass_is_not_called_outdoors() -> None:
    assert "outdoors" not in ask("can I sow lettuce in the greenhouse now", date(2026, 3, 20)).headline
