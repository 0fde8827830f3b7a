"""Place words inside the names of varieties, varieties by the crop they are, and other people's places."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.language.intent.reading import Reading

Read = Callable[..., Reading]


@pytest.mark.parametrize(
    ("text", "crop"),
    [
        ("too early to sow California Wonder peppers?", "pepper"),
        ("is there time for Kentucky Wonder beans", "pole-bean"),
        ("how far apart are Georgia collards set", "collards"),
        ("can I still start Charleston Gray watermelon", "watermelon"),
        ("is it too late for Victoria plums to be pruned", "plum"),
        ("when do I set out Boston lettuce", "lettuce"),
        ("when are Texas sweet onions planted", "onion"),
        ("too late to sow Swiss chard?", "chard"),
        ("when do Brussels sprouts go out", "brussels-sprouts"),
        ("Savoy cabbage, sow when?", "cabbage"),
        ("Arkansas Traveler tomatoes: still in time?", "tomato"),
        ("are Minnesota Midget melons worth it now", "melon"),
        ("Detroit Dark Red beets when to sow", "beet"),
        ("Walla Walla onions from seed, when", "onion"),
        ("Long Island Cheese pumpkin, when do I start it", "pumpkin"),
    ],
)
def test_a_place_word_in_a_variety_is_no_place(reading: Read, text: str, crop: str) -> None:
    question = reading(text).question
    assert question.slots.place is None
    assert [ref.id for ref in question.crops] == [crop]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("when do I start peppers in California", "California"),
        ("California: when do peppers go in?", "California"),
        ("I'm in Georgia, when do collards go in", "Georgia"),
        ("here in Texas onions go in when?", "Texas"),
        ("when are Brussels sprouts sown in Brussels", "Brussels"),
        ("I live in Boston. Lettuce now?", "Boston"),
    ],
)
def test_a_place_led_to_as_one_stays_a_place(reading: Read, text: str, place: str) -> None:
    assert reading(text).question.slots.place == place


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("My aunt gardens in Miami, when should she sow tomatoes?", "Miami"),
        ("My brother in Denver asks when to plant peppers", "Denver"),
        ("My mum lives in Leeds. When should she plant her potatoes?", "Leeds"),
        ("My friend in Boise wants to know how deep he plants garlic", "Boise"),
        ("My sister in Seattle has peas up, can I sow mine?", None),
        ("My uncle in Tucson has tomatoes already. Is it too late for me to start?", None),
        ("My cousin in Miami says she has tomatoes. I'm in Duluth, can I sow?", "Duluth"),
    ],
)
def test_somebody_elses_place_is_the_questions_when_their_garden_is_asked_about(
    reading: Read, text: str, place: str | None
) -> None:
    question = reading(text).question
    assert question.slots.place == place
    assert (question.cue("supposed") == "place") == (place is not None and place != "Duluth")


@pytest.mark.parametrize(
    ("name", "crop", "cultivar"),
    [
        ("Brandywine", "tomato", "beefsteak"),
        ("Early Girl", "tomato", "early"),
        ("San Marzano", "tomato", "paste"),
        ("Sungold", "tomato", "cherry"),
        ("Golden Bantam", "sweet-corn", None),
        ("Clemson Spineless", "okra", None),
        ("Marketmore", "cucumber", None),
        ("Aquadulce", "broad-bean", None),
        ("Scarlet Runner", "runner-bean", None),
    ],
)
def test_a_well_known_variety_means_its_crop(
    reading: Read, name: str, crop: str, cultivar: str | None
) -> None:
    question = reading(f"I set out {name} on June 1, when do I pick?").question
    assert [ref.id for ref in question.crops] == [crop]
    assert question.slots.cultivar_class == cultivar


def test_a_variety_that_says_the_kind_goes_before_the_look(reading: Read) -> None:
    question = reading("Can I prune the hydrangea now? A white mophead called Annabelle").question
    assert [(ref.id, ref.kind) for ref in question.crops] == [("hydrangea", "new-wood")]
    assert question.slots.kind == "new-wood"
    assert reading("can I prune my mophead now").question.crops[0].kind == "old-wood"


def test_the_tuber_is_no_globe_artichoke(reading: Read) -> None:
    question = reading("when do I plant Jerusalem artichokes").question
    assert not question.crops
    assert question.slots.place is None
    assert question.cue("unknown") == "Jerusalem artichokes"


def test_a_mountain_is_not_the_state_of_its_name(reading: Read) -> None:
    assert reading("last frost on Mount Washington").question.slots.place == "Mount Washington"
