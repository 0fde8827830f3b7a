"""Crops and plants named in a text."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("text", "crops"),
    [
        ("too late for peppers", ["pepper"]),
        ("courgettes outside yet?", ["summer-squash"]),
        ("aubergines and capsicums", ["eggplant", "pepper"]),
        ("swede, rocket and beetroot when?", ["rutabaga", "arugula", "beet"]),
        ("green beans", ["bush-bean"]),
        ("runner beans when", ["runner-bean"]),
        ("brussels sprouts late?", ["brussels-sprouts"]),
        ("kail in the cold", ["kale"]),
        ("is it too late to start pepers", ["pepper"]),
        ("bazil seedlings", ["basil"]),
        ("blakcurrent cuttings", ["blackcurrant"]),
        ("sweet potatoes and potatoes", ["sweet-potato", "potato"]),
        ("black currants or red currants", ["blackcurrant", "currant"]),
        ("cherry tomatoes too late?", ["tomato"]),
        ("plum tomatoes when", ["tomato"]),
        ("prune my cherry", ["cherry"]),
    ],
)
def test_names(reading: Read, text: str, crops: list[str]) -> None:
    assert [c.id for c in reading(text).question.crops] == crops


@pytest.mark.parametrize(
    "text",
    [
        "there is a bug in the frame",
        "a pearl of wisdom",
        "what date is it today",
        "the roof has a leak",
        "I have been busy",
        "the seed sprouts slowly",
        "temperatures rose overnight",
        "she gave me sage advice",
        "a leaky hose",
        "nothing sprouted",
    ],
)
def test_plain_words_are_no_crops(reading: Read, text: str) -> None:
    assert reading(text).question.crops == ()


def test_family_words_mean_their_members(reading: Read) -> None:
    ids = {c.id for c in reading("when do I start brassicas indoors").question.crops}
    assert {"broccoli", "cabbage", "kale"} <= ids
    ids = {c.id for c in reading("will my nightshades survive 40 tonight").question.crops}
    assert {"tomato", "pepper", "eggplant"} <= ids


def test_kind_and_variety(reading: Read) -> None:
    assert reading("when do I plant onion sets").question.slots.kind == "sets"
    assert reading("prune fall-bearing raspberries now?").question.slots.kind == "fall"
    assert reading("is it too late to sow a cherry tomato").question.slots.cultivar_class == "cherry"
    assert reading("can a 62-day tomato still make it").question.slots.days_to_maturity == 62


def test_what_was_respelled_is_said(reading: Read) -> None:
    assert reading("too late to start pepers?").question.reading == "reading 'pepers' as pepper"
    assert reading("too late to start peppers?").question.reading is None


@pytest.mark.parametrize(
    ("text", "crops"),
    [
        (
            "the garlic is up and the onions are in but I never sowed parsnips, is it too late for parsnips",
            ["parsnip"],
        ),
        (
            "my neighbour has his corn in and mine sits here, and the soil is cold. can the beans go in",
            ["bush-bean"],
        ),
        (
            "the grapes are the size of peas and dripping where I cut one, did I prune the vine too late",
            ["grape"],
        ),
        (
            "pumpkins did well last year so I want more of everything. when should I sow melons and squash",
            ["melon", "winter-squash"],
        ),
    ],
)
def test_the_crop_asked_about(reading: Read, text: str, crops: list[str]) -> None:
    assert [c.id for c in reading(text).question.crops] == crops


@pytest.mark.parametrize("text", ["can I sow sweet peas now", "when do I plant out dahlias"])
def test_a_flower_is_no_crop_and_is_named_as_unknown(reading: Read, text: str) -> None:
    question = reading(text).question
    assert question.crops == ()
    assert question.cue("unknown") in ("sweet peas", "dahlias")
