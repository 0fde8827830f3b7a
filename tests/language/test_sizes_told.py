"""How big a plant or its growth is told to be, and what is no size at all (own sentences)."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.said import Said, plain, said_of

FACTS, TODAY = Facts(), date(2027, 4, 18)


def sizes(text: str, topic: str) -> list[tuple[float, str, str | None]]:
    said = Said(text, plain(text), Request(text, topic), TODAY, FACTS)
    return [(round(t.number, 2), t.unit, t.role) for t in said_of(topic, said) if t.kind == "size"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("My lilac is 12 ft tall", (12.0, "ft", "plant")),
        ("the forsythia is a couple of metres high", (2.0, "m", "plant")),
        ('grape with 3" shoots', (3.0, "in", "shoots")),
        ("8 in tall raspberries", (8.0, "in", "plant")),
        ("roses with six inches of new growth", (6.0, "in", "shoots")),
        ("half an inch of green on the apple", (0.5, "in", "shoots")),
    ],
)
def test_a_plants_size_is_read(text: str, expected: tuple[float, str, str]) -> None:
    assert sizes(text, "pruning") == [expected]


@pytest.mark.parametrize(
    "text",
    [
        "what am I doing wrong with my figs",
        "enough runners for thirty in class",
        "still green and one's got a bud",
        "I have a few three inch pots for the thyme",
        "some suckers are three feet off in the lawn",
        "take the pair of them down a couple of metres",
    ],
)
def test_what_is_no_size_is_not_read_as_one(text: str) -> None:
    assert sizes(text, "pruning") == []


def test_an_hour_is_no_height() -> None:
    assert sizes("how warm is the frame at five in the morning", "cold-frame") == []
    assert sizes("the lettuce is four inches, 26 tonight", "cold-frame") == [(10.16, "cm", "plants")]
