"""The words of an entry put right: only whole words and whole figures are exchanged."""

from __future__ import annotations

import pytest

from gardenmate.journal.wording import everywhere, exchanged, put_before


@pytest.mark.parametrize(
    ("text", "old", "new", "becomes"),
    [
        ("sowed 48 peppers", "48", "36", "sowed 36 peppers"),
        ("sowed 12.5 g of kale", "12", "9", None),
        ("12 in the 120 tray", "12", "9", "9 in the 120 tray"),
        ("Peppers, then peppers", "peppers", "leeks", "leeks, then peppers"),
        ("sowed sweet peppers", "pepper", "leek", None),
        ("sowed kale", "kale", r"a\1 kale", r"sowed a\1 kale"),
    ],
)
def test_whole_words_only(text: str, old: str, new: str, becomes: str | None) -> None:
    assert exchanged(text, old, new) == becomes


def test_a_count_goes_before_the_name() -> None:
    assert put_before("sowed leeks in bed 2", "leeks", "30") == "sowed 30 leeks in bed 2"
    assert put_before("sowed kale", "leeks", "30") is None


def test_a_place_is_exchanged_wherever_it_stands() -> None:
    assert everywhere("Bed 2: kale in bed 2", "bed 2", "bed 5") == "bed 5: kale in bed 5"
