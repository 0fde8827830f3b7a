"""Where plants came from is not where they stand, and a hoop house is no low tunnel."""

from datetime import date

import pytest

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.turn import understand
from gardenmate.language.text.lexicon import Lexicon, load_lexicon

FACTS = Facts()


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load_lexicon(FACTS)


def read(text: str, lexicon: Lexicon) -> Request:
    return understand(text, today=date(2027, 5, 15), units="us", facts=FACTS, lexicon=lexicon)


@pytest.mark.parametrize(
    "text",
    [
        "Kale moved out of my greenhouse yesterday, 25 tonight",
        "27 tonight, lettuce fresh from the polytunnel and into the bed",
        "broccoli straight from the hoop house, planted out, 24 tonight",
        "peppers left the glasshouse on Monday, 38 tonight",
    ],
)
def test_a_house_they_came_from_is_no_cover(text: str, lexicon: Lexicon) -> None:
    found = read(text, lexicon)
    assert found.cue("origin") == "greenhouse"
    assert found.cue("cover") is None
    assert found.cue("place_kind") is None
    assert "greenhouse" not in (found.cue("gear") or "")


def test_what_lies_over_them_now_counts_whatever_house_they_came_from(lexicon: Lexicon) -> None:
    found = read("lettuce under fleece, out of the greenhouse since Friday, 27 tonight", lexicon)
    assert found.cue("cover") == "fleece"


@pytest.mark.parametrize("word", ["hoop house", "polytunnel", "high tunnel", "hoophouse", "greenhouse"])
def test_walk_in_houses_are_one_kind_of_cover(word: str, lexicon: Lexicon) -> None:
    assert read(f"tomatoes in my unheated {word}, 40 tonight", lexicon).cue("cover") == "greenhouse"


@pytest.mark.parametrize(
    "text", ["peppers under a low tunnel, 40 tonight", "hoops and plastic over the kale, 24 tonight"]
)
def test_low_hoops_are_not(text: str, lexicon: Lexicon) -> None:
    assert read(text, lexicon).cue("cover") in ("tunnel", "plastic")


@pytest.mark.parametrize(
    "text",
    [
        "25 coming, do I harvest the pumpkins or cover them?",
        "should I throw a sheet over the peppers or just pick them all, 29 tonight",
    ],
)
def test_pick_or_cover(text: str, lexicon: Lexicon) -> None:
    assert read(text, lexicon).cue("pick_or_cover") == "yes"
