"""Cutting text into tokens."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.language.text.tokens import cut

SPOKEN = {"dont": "do not", "wen": "when", "its": "it is"}
JOINED = {"coldframe": ("cold", "frame")}


def words(text: str) -> list[str]:
    return [t.word for t in cut(text, SPOKEN, JOINED).tokens]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Don't cover IT", ["do", "not", "cover", "it"]),
        ("dont", ["do", "not"]),
        ("can't, won't, isn't", ["can", "not", "will", "not", "is", "not"]),
        ("it's lamb's lettuce", ["it", "is", "lamb", "lettuce"]),
        ("we've you're I'd", ["we", "have", "you", "are", "i", "would"]),
        ("shut the coldframe", ["shut", "the", "cold", "frame"]),
        ("Jalapeño naïve", ["jalapeno", "naive"]),
        ("52-day", ["52", "day"]),
        ("45F", ["45", "f"]),
        ("$4.50", ["$", "4.50"]),
        ("2,100 feet", ["2,100", "feet"]),
    ],
)
def test_words(text: str, expected: list[str]) -> None:
    assert words(text) == expected


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("four", 4),
        ("twenty five", 25),
        ("twenty-five", 25),
        ("two dozen", 24),
        ("half a dozen", 6),
        ("a dozen", 12),
        ("a hundred", 100),
        ("three hundred", 300),
        ("1,200", 1200),
        ("0.75", 0.75),
        (".5", 0.5),
    ],
)
def test_numbers_in_words(text: str, value: float) -> None:
    assert [t.number for t in cut(text, {}, {}).tokens if t.number is not None] == [value]


def test_sentences_and_questions() -> None:
    text = cut("Frame at 90. Open it? yes!", {}, {})
    assert [t.sentence for t in text.tokens] == [0, 0, 0, 1, 1, 2]
    assert text.questions == {1}


@given(st.text(max_size=400))
def test_tokens_stand_where_they_were_typed(text: str) -> None:
    last = 0
    for token in cut(text, SPOKEN, JOINED).tokens:
        assert 0 <= token.start < token.end <= len(text)
        assert token.start >= last or token.gap == ""
        last = token.start
