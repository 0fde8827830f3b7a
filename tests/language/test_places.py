"""Places named in a text."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("I garden in Truro, Nova Scotia", "Truro"),
        ("Leeds, UK", "Leeds"),
        ("when do peas go in in North Dakota", "North Dakota"),
        ("spring is hot here in NC, sow lettuce when?", "NC"),
        ("brand new western Washington gardener, when do I sow beans", "western Washington"),
        ("i live in boyzee idaho", "Boise"),
        ("i live in boise", "Boise"),
        ("when to plant okra in Georgia", "Georgia"),
        ("when do peas go in in New England", "New England"),
        ("I live in Wibbleton, when do I sow peas", "Wibbleton"),
        ("moved from Kent to Inverness, when do I sow peas", "Inverness"),
        ("dunedin nz, when do I sow peas", "Dunedin"),
        ("too late for tomatoes in hobart?", "Hobart"),
        ("I live in Bath", "Bath"),
    ],
)
def test_place(reading: Read, text: str, place: str) -> None:
    assert reading(text).question.slots.place == place


@pytest.mark.parametrize(
    "text",
    [
        "zone 6b, when do I sow peas",
        "can I sow peas in March",
        "reading about peas, when to sow",
        "peas or beans now?",
        "how warm in Celsius should soil be for peas",
        "is it ok to sow peas in Spring",
        "the sale had peas, sow now?",
    ],
)
def test_no_place(reading: Read, text: str) -> None:
    assert reading(text).question.slots.place is None
