"""Spelling is mended on a miss only, and never into something else."""

from __future__ import annotations

import pytest

from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.sound import sound
from gardenmate.language.text.spelling import (
    known,
    nearest,
)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("prunning", "pruning"),
        ("seperate", "separate"),
        ("eggplints", "eggplants"),
        ("hardning", "hardening"),
        ("tommatoes", "tomatoes"),
        ("germinat", "germinate"),
        ("cuttigns", "cuttings"),
        ("brocolli", "broccoli"),
    ],
)
def test_nearest(lexicon: Lexicon, typed: str, meant: str) -> None:
    if known(typed, lexicon):
        assert typed in lexicon.names or typed in lexicon.forms
    else:
        found = nearest(typed, lexicon)
        assert found is not None
        assert lexicon.lemma(found) == lexicon.lemma(meant)


@pytest.mark.parametrize(
    "word", ["bug", "pearl", "date", "leak", "been", "house", "thyme", "prepper", "leaky", "wonder", "berry"]
)
def test_ordinary_words_stay(lexicon: Lexicon, word: str) -> None:
    assert known(word, lexicon) or nearest(word, lexicon) is None


def test_sounds() -> None:
    assert sound("kail") == sound("kale")
    assert sound("boyzee") == sound("boise")
    assert sound("kale") != sound("leek")
