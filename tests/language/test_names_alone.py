"""Plants named by a variety, a nickname or a name nothing is known of, and words that are only sometimes such names."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.names_told import crops_named, varieties_named
from gardenmate.language.intent.understand import board_of
from gardenmate.language.text.lexicon import Lexicon, load_lexicon

FACTS = Facts()
TABLE = tomllib.loads((FACTS.root / "language" / "varieties.toml").read_text("utf-8"))
BASES = {FACTS.table(f"{folder}/{i}")["base"] for folder in ("crops", "woody") for i in FACTS.ids(folder)}


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon(FACTS)


def named(text: str, lexicon: Lexicon) -> list[tuple[str, str]]:
    """(crop, variety) of every plant named in the text, as an entry would keep them."""
    board = board_of(text, date(2027, 5, 1), "us", lexicon, None)
    beside = [str(m.value) for m in varieties_named(board, {})]
    return [(m.value.id, m.unit or next(iter(beside), "")) for m in crops_named(board)]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("text", "crop", "variety"),
    [
        ("24 winterbor in cells", "kale", "Winterbor"),
        ("patterson, 150", "onion", "Patterson"),
        ("60 bandit", "leek", "Bandit"),
        ("cant cover the lapins", "cherry", "Lapins"),
        ("30 jersey bennes in egg cartons", "potato", "Jersey Benne"),
        ("24 peaches and cream sown", "sweet-corn", "Peaches and Cream"),
        ("planted 12 cobra beans", "pole-bean", "Cobra"),
        ("lincoln peas up", "pea", "Lincoln"),
        ("six kentucky wonder beans", "pole-bean", "Kentucky Wonder"),
        ("16 tom", "tomato", ""),
        ("cab 24", "cabbage", ""),
        ("pratties in", "potato", ""),
        ("3 oca in bed 2", "oca", ""),
        ("2 magnolias", "magnolia", ""),
    ],
)
def test_a_plant_is_known_by_its_name_alone(text: str, crop: str, variety: str, lexicon: Lexicon) -> None:
    assert named(text, lexicon) == [(crop, variety)]


@pytest.mark.parametrize(
    "text",
    [
        "tom said hello",
        "caps off the jugs",
        "12 eggs from the hens",
        "by the fourth of july",
        "creeping buttercup in the lawn",
        "bandits in the night",
        "i am in lincoln now",
        "patterson called",
    ],
)
def test_a_plain_word_or_a_place_is_no_plant(text: str, lexicon: Lexicon) -> None:
    assert named(text, lexicon) == []


def test_a_place_led_to_as_one_is_no_variety(lexicon: Lexicon) -> None:
    board = board_of("here in Lincoln peas go in when", date(2027, 5, 1), "us", lexicon, None)
    assert not board.of("variety")


def test_the_table_names_crops_that_are_there_in_order(lexicon: Lexicon) -> None:
    assert {plant.split("/")[0] for plant in TABLE} <= BASES
    assert list(TABLE) == sorted(TABLE)
    for plant, lists in TABLE.items():
        for stands, names in lists.items():
            assert stands in ("alone", "counted", "beside"), plant
            assert names == sorted(names, key=str.lower), (plant, stands)


def test_no_place_month_or_plain_word_stands_alone(lexicon: Lexicon) -> None:
    """A name of one word that is much else is taken beside its crop or a number only."""
    held = {
        "musselburgh",
        "vidalia",
        "concord",
        "bartlett",
        "roma",
        "buttercup",
        "walla walla",
    }  # held by own rules
    found = [
        name
        for lists in TABLE.values()
        for name in lists.get("alone", ())
        if (low := name.lower()) in lexicon.ordinary or low in lexicon.places
        if low not in held
    ]
    assert found == []
