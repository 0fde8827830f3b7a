"""What a second half of a question asks is answered with the first."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def ask(text: str, place: str, day: date) -> Answer:
    found = Conversation(FACTS, lambda: day, PlaceOptions(place=place), remembers=False).ask(text)
    assert isinstance(found, Answer)
    return found


def test_start_and_setting_out_asked_in_one_breath() -> None:
    found = ask("when do I start cabbage indoors and when set it out?", "Anchorage", date(2027, 4, 5))
    assert "sow indoors" in found.headline
    assert "set out" in found.headline


def test_plants_the_frost_hit_are_judged_as_hit() -> None:
    """Corn under six leaves grows back from below ground; look before you sow again (Michigan State University
    Extension 2014, Farm Progress 2013)."""
    corn = ask("frost hit my corn, 3 inches tall; replant?", "Syracuse", date(2027, 5, 20))
    assert corn.headline.startswith("Not dead yet")
    assert corn.polar is False  # no yes before a question that asks whether to plant again
    assert not any("cover" in step for step in corn.steps)


def test_frosted_vines_have_their_second_crop() -> None:
    """Secondary buds bear 0 to 60% of a crop (University of Maryland Extension 2023)."""
    vine = ask("frost killed grape shoots last night, now what?", "Burlington, VT", date(2027, 5, 18))
    assert "0 to 60%" in vine.headline


def test_wine_grapes_are_not_called_safe_near_what_kills_half() -> None:
    """Half of Pinot noir's shoots die near 28.9 F at the second leaf (Ohio State University Extension, May 2023)."""
    near = ask("grape shoots 3 inches long, 30F tonight, damage?", "Napa", date(2027, 4, 5))
    assert near.verdict == "tight"
    assert "29 F" in near.headline
    assert ask("grape shoots 3 inches long, 34F tonight, damage?", "Napa", date(2027, 4, 5)).verdict == "yes"


def test_shoots_in_the_mulch_are_judged_by_the_low() -> None:
    cold = ask("garlic shoots coming through the mulch, -6C tonight, hurt?", "Winnipeg", date(2027, 4, 28))
    assert "-6 C" in cold.headline
    assert not cold.unused
    deep = ask("garlic shoots coming through the mulch, -35C tonight, hurt?", "Winnipeg", date(2027, 4, 28))
    assert deep.verdict == "no"


def test_trays_under_one_light() -> None:
    """A twin-tube light of four feet covers two flats end to end (knowledge/raising.toml, light.fixture)."""
    found = ask("how many trays fit under one 4-foot shop light?", "Duluth", date(2027, 3, 25))
    assert next(n.value for n in found.numbers if n.name == "trays") == 2


def test_a_blanket_that_saves_is_told_beside_the_loss() -> None:
    found = ask("15F tonight, lettuce in cold frame, shut it and cover?", "Denver", date(2027, 3, 25))
    assert found.verdict == "no"
    assert "blanket" in found.headline


def test_what_is_sold_near_may_still_go_in() -> None:
    found = ask("is it too late to order seed potatoes?", "Bozeman", date(2027, 6, 1))
    assert "near you" in found.headline


def test_no_variety_quicker_than_is_grown_would_still_fit() -> None:
    found = ask("is it too late to plant leeks?", "Victoria, BC", date(2027, 8, 5))
    assert not any("would still fit" in line for line in found.changes)
