"""What is read of a statement about the garden: values and garden keys; examples from common practice."""

from __future__ import annotations

import pytest

from tests.topics.said import spoken


def facts(text: str) -> dict[str, object]:
    """Garden key -> value of everything told."""
    return {str(t.role): t.value for t in spoken(text, "garden").all("fact")}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("we have a heat mat and two lamps", {"gear.mat": 1.0, "gear.lamp": 2.0}),
        ("the old tunnel blew away", {"gear.tunnel": 0}),
        ("the frame is 120 by 60 cm with a glass lid", {"frame.width_m": 0.6, "frame.glazing": "glass"}),
        ("we sit in a frost hollow", {"place.low_spot": True}),
        ("it is not a frost pocket", {"place.low_spot": False}),
        ("not fahrenheit, please", {"preferences.units": "metric"}),
        ("I take a 20 percent frost risk", {"frost.risk": 20}),
        ("three raised beds of 4 by 8 feet", {"beds.count": 3.0, "beds.width_m": 1.219}),
        ("we don't grow okra any more", {"crops.wanted": False}),
        ("we're up at 1,000 ft", {"place.elevation_m": 304.8}),  # 1 ft is 0.3048 m by definition
    ],
)
def test_facts_stand_under_their_garden_keys(text: str, told: dict[str, object]) -> None:
    found = facts(text)
    assert {key: found.get(key) for key in told} == told


def test_one_more_is_no_new_count() -> None:
    more = spoken("I got another heat mat", "garden").first("fact", "gear.mat")
    assert more is not None
    assert (more.value, more.unit) == (1.0, "more")


def test_a_bare_size_is_marked_as_read() -> None:
    for text, unit in (("my frame is 4 by 6", ""), ("my frame is 4 by 6 ft", "m")):
        width = spoken(text, "garden").first("fact", "frame.width_m")
        assert width is not None
        assert width.unit == unit


@pytest.mark.parametrize(
    ("text", "days", "role"),
    [
        ("my last frost is May 12", [("05-12", "last")], "last"),
        ("last frost May 12, first frost Sept 20", [("05-12", "last"), ("09-20", "first")], "last"),
        ("frost comes on the 3rd of October", [("10-03", None)], None),
        ("frost on February 31", [], None),
    ],
)
def test_own_frosts_are_days_with_roles(
    text: str, days: list[tuple[str, str | None]], role: str | None
) -> None:
    request = spoken(text, "garden")
    assert [(t.value, t.role) for t in request.all("frost-day")] == days
    assert request.has("own-frosts")
    told = request.first("frost-role")
    assert (told.value if told is not None else None) == role


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("forget my first frost", "frost.first"),
        ("clear everything", "everything"),
        ("forget Glacier", True),
        ("before I forget, we are four", None),
    ],
)
def test_what_is_forgotten_is_a_garden_key(text: str, value: object) -> None:
    typed = spoken(text, "garden").first("forget")
    assert (typed.value if typed is not None else None) == value


@pytest.mark.parametrize("topic", ["garden", "frost"])
def test_a_comparison_has_a_way_and_a_second_place(topic: str) -> None:
    request = spoken("Is Boise warmer than Duluth?", topic)
    assert request.has("compare", "places")
    assert request.has("compare", "whether")
    assert request.has("compare-by", "warmth")
    assert request.has("direction", "warmer")
    assert [t.value for t in request.all("other-place")] == ["Duluth"]
    assert not spoken("frost dates for Duluth", topic).has("compare", "places")
