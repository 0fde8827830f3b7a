"""Values a question holds beside its main one are answered to: months to choose from, heights, snow, humidity."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

TODAY = date(2027, 4, 18)


@pytest.fixture(scope="module")
def ask() -> Callable[[str], Answer]:
    talk = Conversation(Facts(), lambda: TODAY, PlaceOptions(place="Duluth"), remembers=False)
    return talk.ask


def said(answer: Answer) -> str:
    return " ".join((answer.headline, *answer.details, *answer.steps))


@pytest.mark.parametrize(
    ("text", "lead"),
    [
        ("is garlic an October or a November thing?", "October rather than November."),
        ("do I set out leeks in May or June?", "May rather than June."),
        ("for planting out brussels sprouts is it May or June", "Both May and June are right."),
        ("celery seed: January or December?", "Neither January nor December."),
    ],
)
def test_months_put_to_choose_from_are_judged(ask: Callable[[str], Answer], text: str, lead: str) -> None:
    assert ask(text).headline.startswith(lead)


def test_a_month_of_the_story_is_not_judged(ask: Callable[[str], Answer]) -> None:
    found = ask("lost the lot to a June frost last year, so when do tomatoes go outside")
    assert "June is" not in found.headline
    assert found.unused == ()


def test_a_month_asked_of_frost_has_its_odds(ask: Callable[[str], Answer]) -> None:
    may, june, july = (ask(f"any risk of frost in {m} here?").chance or 0.0 for m in ("May", "June", "July"))
    assert may > june > july


@pytest.mark.parametrize(
    "text", ["peas at 26, up {} inches", "beans {} inches tall and 33 tonight, cover them?"]
)
def test_a_cover_stands_clear_of_the_height_typed(ask: Callable[[str], Answer], text: str) -> None:
    assert "about 8 in high" in said(ask(text.format(4)))
    assert "about 12 in high" in said(ask(text.format(8)))


def test_mulch_is_laid_by_the_height_of_the_shoots(ask: Callable[[str], Answer]) -> None:
    assert "lay it between them" in said(ask("garlic is 10 inches tall, do I put the straw mulch back on?"))
    assert "find their way through" in said(ask("garlic is 2 inches tall, do I put the straw mulch back on?"))


@pytest.mark.parametrize(("inches", "words"), [(4, "room enough"), (14, "touch cold glass")])
def test_plants_in_a_frame_have_room_or_not(ask: Callable[[str], Answer], inches: int, words: str) -> None:
    assert words in said(ask(f"lettuce {inches} inches tall in the cold frame and 25 tonight, will it live?"))


def test_the_depth_of_snow_is_no_height_of_plants(ask: Callable[[str], Answer]) -> None:
    found = ask("snow on top of my frame, about five inches, do I leave it? beet greens in there")
    assert "5 in of snow" in found.headline
    assert "tall" not in said(found)


@pytest.mark.parametrize(("percent", "words"), [(100, "open it a crack"), (60, "no reason to open")])
def test_humidity_in_a_house_is_answered(ask: Callable[[str], Answer], percent: int, words: str) -> None:
    assert words in said(ask(f"Is {percent} percent humidity in the tunnel a reason to vent at 2C out?"))


def test_a_lid_on_a_sunny_day_is_not_a_lid_that_is_on(ask: Callable[[str], Answer]) -> None:
    assert "with 55 F outside" in ask("How far do I prop the lid on a 55 degree sunny day?").headline
    assert ask("50 and sunny, leave the lid on?").verdict == "no"
