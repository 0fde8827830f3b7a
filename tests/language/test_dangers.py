"""The lines that name a danger: what may stand in them, and when they hold."""

import pytest

from gardenmate.language.intent.dangers import Lines, heard, index_of, parse
from gardenmate.language.text import tokens
from gardenmate.language.text.spans import Board

GROUPS = {"wet": "puddle|wet|got_soaked", "gear": "lamp|mat|@cord", "cord": "cord|power_strip"}


def _heard(text: str, *lines: tuple[str, str]) -> str | None:
    cut = tokens.cut(text, {}, {})
    return heard(Board(cut, cut.tokens), Lines(lines, GROUPS, index_of(lines, GROUPS)))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("the cord lies in a puddle", True),
        ("in a puddle lies the power strip", True),
        ("the mat got soaked", True),
        ("the mat soaked the seed", False),
        ("a puddle by the bed", False),
        ("the lamp is off and dry", False),
    ],
)
def test_all_words_of_a_line_must_stand_there_in_any_order(text: str, found: bool) -> None:
    assert (_heard(text, ("wet", "@gear @wet")) == "wet") is found


def test_a_word_may_be_forbidden_and_a_beginning_is_enough() -> None:
    line = ("poison", "poison* !ivy")
    assert _heard("is it poisonous", line) == "poison"
    assert _heard("is poison ivy poisonous", line) is None


def test_a_beginning_may_end_a_phrase() -> None:
    assert _heard("seed potatoes in the sun", ("x", "seed_potato*")) == "x"


def test_the_worst_stands_first() -> None:
    assert _heard("a lamp in a puddle", ("first", "puddle"), ("second", "lamp")) == "first"


def test_a_group_that_is_not_there_is_an_error() -> None:
    with pytest.raises(KeyError):
        parse("x", "@nonsense", GROUPS)


@pytest.mark.parametrize("text", ["", "?", "!!!", "42", "é", "\n\n"])
def test_nothing_said_is_no_danger(text: str) -> None:
    assert _heard(text, ("x", "@gear @wet"), ("y", "!lamp puddle")) is None
