"""Nights, days and soil told with a season question are weighed. Limits: 50 F nights for tomatoes and basil are common
practice, as the crop files say; a night that hurts is the crop's own frost figure."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def ask(text: str, today: date = date(2027, 4, 18), place: str = "Duluth") -> Answer:
    return Conversation(FACTS, lambda: today, PlaceOptions(place=place), remembers=False).ask(text)


def test_a_killing_night_told_turns_a_yes_into_a_no() -> None:
    assert ask("can I set out cabbage plants on 20 May?").verdict == "yes"
    assert ask("can I set out cabbage plants on 20 May, lows of 20?").verdict == "no"


def test_a_cool_night_told_is_a_risk_for_what_wants_warm_ones() -> None:
    june = date(2027, 5, 30)
    assert ask("can I set out tomatoes now?", june, "Minneapolis").verdict == "yes"
    assert ask("can I set out tomatoes now, nights of 45?", june, "Minneapolis").verdict == "tight"
    warm = ask("can I set out tomatoes now, nights of 55?", june, "Minneapolis")
    assert warm.verdict == "yes"
    assert "55 F" in warm.headline


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("44 at night 70 by day, tomatoes out?", ("44 F", "50 F", "70 F")),
        ("it's forty eight at night, basil out?", ("48 F", "50 F")),
        ("too soon for corn at 52", ("If 52 F is your soil", "55 F")),
        ("soil thermometer says 45 at four inches, plant potatoes?", ("soil at 45 F",)),
    ],
)
def test_what_does_not_turn_the_verdict_is_said(text: str, said: tuple[str, ...]) -> None:
    found = ask(text)
    assert found.unused == ()
    assert all(piece in found.headline for piece in said)


def test_colder_nights_never_help() -> None:
    order = {"no": 0, "tight": 1, "yes": 2}
    for crop in ("tomatoes", "cabbage plants", "lettuce plants"):
        verdicts = [
            order[ask(f"can I set out {crop} now, nights of {low}?", date(2027, 6, 8)).verdict or "no"]
            for low in (20, 28, 33, 40, 46, 52, 58)
        ]
        assert verdicts == sorted(verdicts)
