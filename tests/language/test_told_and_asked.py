"""Crops, slots and cues in the words growers use: what is asked about, and what is only told."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from gardenmate.language.intent.reading import Draft, Reading
from gardenmate.language.intent.understand import draft_of
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spelling import known, nearest

TODAY = date(2027, 4, 18)  # a Sunday
Read = Callable[..., Reading]


@pytest.fixture
def said(lexicon: Lexicon) -> Callable[[str], Draft]:
    """What one text says, before a topic is chosen."""
    return lambda text: draft_of(text, TODAY, "us", lexicon, None)


@pytest.mark.parametrize(
    ("text", "crops"),
    [
        ("my brown turkey has taken over the wall, when do I cut it", ["fig"]),
        ("planted hardneck in october, when does it come up", ["garlic"]),
        ("are water mellons worth sowing now", ["watermelon"]),
        ("it was the beets not the carrots", ["beet"]),
        (
            "runners are winding round the blind on the windowsill, too soon to put them outside",
            ["runner-bean"],
        ),
        ("how do I pot up the runners from my strawberry bed", ["strawberry"]),
        ("will onions sprout in cold soil", ["onion"]),
        ("sets in yet?", ["onion"]),
        ("is it too soon for swete corn", ["sweet-corn"]),
        (
            "my neighbour gave me broad beans and I had always thought everything went in in spring here, "
            "so when do the beans go in",
            ["broad-bean"],
        ),
        (
            "two weeks now and my bell peppers have done nothing at all, the jalapenos from my friend came "
            "up in the same tray. normal?",
            ["pepper"],
        ),
        (
            "six watermelons and six cantaloupes in newspaper pots and it is already so bright here you have "
            "to squint. can they go out",
            ["watermelon", "melon"],
        ),
        (
            "sow beets in july once the garlic comes out, is there anything to eat before the snow gets "
            "here or not",
            ["beet"],
        ),
        ("pink buds, cherry at popcorn stage, 28 coming, how bad", ["cherry"]),
    ],
)
def test_crops_asked_about(said: Callable[[str], Draft], text: str, crops: list[str]) -> None:
    assert [c.id for c in said(text).crops] == crops


def test_an_agenda_names_no_crop_of_its_story(reading: Read) -> None:
    question = reading(
        "back from a month away, garlic standing up well, no tomatoes started, nothing done. what should "
        "I do this week"
    ).question
    assert question.topic == "agenda"
    assert question.crops == ()


@pytest.mark.parametrize(
    ("text", "slot", "value"),
    [
        ("is a bed sheet enough for tomatoes at 30", "temp_f", 30),
        ("58 in the mudroom, will peppers come up", "temp_f", 58),
        ("spare room stays at 62 and the eggplants just sit there", "temp_f", 62),
        ("Is 80 too hot for pepper seedlings?", "temp_f", 80),
        ("apple blossom 27?", "temp_f", 27),
        ("Does an artichoke crown make it through minus 6?", "temp_c", -6),
        ("will peas survive -1", "temp_c", -1),
        ("loofahs in pots at 20, ten days and no sprouts", "temp_c", 20),
        ("tonight 38, dew point is 25, cover tomatoes?", "temp_f", 38),
        ("45 at sunset and clear, cover the beans?", "temp_f", None),
        ("do I vent at 10 in the morning", "temp_f", None),
        ("I work 8 to 5 and the frame steams up in the sun", "temp_c", None),
        ("the frame is 4 by 6 with glass", "temp_f", None),
        ("my quince is nine, never pruned, petals going over", "plant_age_years", 9),
        ("my six year old wants a giant pumpkin, sow now?", "plant_age_years", None),
        ("thyme plants are 4.99. seed instead?", "price", 4.99),
        ("plug plants are a fiver each, peppers", "price", 5),
        ("pepper plants are five fifty at the nursery", "price", 5.5),
        ("three basil seedlings to a pot or one", "count", None),
        ("plant swap is saturday 24th, kale ready?", "date", date(2027, 4, 24)),
        ("it is june eighteenth, any point sowing beets", "date", date(2027, 6, 18)),
        ("got a heat mat for christmas and put everything on it, is it too warm for lettuce", "date", None),
        (
            "lettuces ticking over in the frame since february, polycarbonate job. forecasting "
            "minus 6 on thursday. fleece as well?",
            "date",
            date(2027, 4, 22),
        ),
        ("when to sow parsnips in onterio", "place", "Ontario"),
        ("when will my garlic be ready in canbera", "place", "Canberra"),
        ("Leadville, ten thousand feet, snow on the north side. can potatoes go in", "place", "Leadville"),
        ("we garden in the hills, Natchez Mississippi, okra when", "place", "Natchez"),
        ("my sister in georgia has peppers blooming. do I sow now", "place", None),
        ("in a week of july in Savannah, can beans be done", "place", "Savannah"),
        ("flat facing north in Cork, only a sill, basil sulks", "place", "Cork"),
        ("zone 6b, when do I sow leeks", "place", None),
    ],
)
def test_slots(said: Callable[[str], Draft], text: str, slot: str, value: Any) -> None:
    assert getattr(said(text).slots, slot) == value


def test_dew_point_and_sunset_are_cues(said: Callable[[str], Draft]) -> None:
    assert said("38 tonight, dew point 25, cover tomatoes").cues["dew_point_c"] == "-3.9"
    assert said("50 at sunset and clear, cover the beans?").cues["sunset_c"] == "10.0"


def test_a_shelter_gives_the_inside_role(said: Callable[[str], Draft]) -> None:
    assert [t.role for t in said("greenhouse got down to 5C").slots.temps] == ["inside"]


@pytest.mark.parametrize(
    "word",
    ["graze", "netting", "gutter", "kilo", "spade", "bragging", "momma", "alliums", "chitting", "stove"],
)
def test_plain_words_are_not_mended(lexicon: Lexicon, word: str) -> None:
    assert known(word, lexicon)


@pytest.mark.parametrize(("typed", "meant"), [("swete", "sweet"), ("sedes", "seeds"), ("forst", "frost")])
def test_letters_in_the_wrong_order(lexicon: Lexicon, typed: str, meant: str) -> None:
    assert nearest(typed, lexicon) == meant


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("why", "why"),
        ("how do you know", "why"),
        ("says who", "source"),
        ("where does that number come from", "source"),
        ("what if frost is a week later", "what-if"),
        ("what if May is warmer than usual", "what-if"),
    ],
)
def test_what_is_asked_about_the_answer_before(reading: Read, text: str, asks: str) -> None:
    question = reading(text, "when do I set out melons?").question
    assert question.topic == "explain"
    assert question.cues["asks"] == asks
    assert [c.id for c in question.crops] == ["melon"]


def test_only_six(reading: Read) -> None:
    question = reading("only six", "should I buy pepper starts or sow seed?").question
    assert (question.topic, question.slots.count) == ("buy-or-sow", 6)
