"""Phrases: how they are written and where they are found."""

from __future__ import annotations

import pytest

from gardenmate.language.text.phrases import Unit, anchor, find, parse

GROUPS = {"sow": ["sow", "plant"]}


def units(text: str) -> list[Unit]:
    out = []
    for word in text.split():
        if word.startswith("<"):
            out.append(Unit("", "", word))
        else:
            out.append(Unit(word, {"planted": "plant"}.get(word, word), "<n>" if word.isdigit() else ""))
    return out


def found(phrase: str, text: str) -> bool:
    elements = parse(phrase, GROUPS)
    index = dict.fromkeys(anchor(elements), "0")
    return any(True for _ in find(units(text), index, lambda _: elements))


@pytest.mark.parametrize(
    ("phrase", "text", "expected"),
    [
        ("too late to @sow", "is it too late to plant leeks", True),
        ("too late to @sow", "is it too late to file taxes", False),
        ("bring ?it in", "bring it in", True),
        ("bring ?it in", "bring in", True),
        ("bring .. in", "bring all the pots in", True),
        ("bring .. in", "bring all of the very heavy pots in", False),
        ("@crop .. when", "<crop> indoors when", True),
        ("^ still time $", "still time", True),
        ("^ still time $", "still time now", False),
        ("# week|weeks", "in 3 weeks", True),
        ("plant", "planted", True),
        ("planted", "plant", False),
        ("sow|seed <crop>", "seed <crop>", True),
    ],
)
def test_found(phrase: str, text: str, expected: bool) -> None:
    assert found(phrase, text) is expected


def test_a_gap_stays_in_its_sentence() -> None:
    elements = parse("carry .. in", {})
    two = [Unit("carry", "carry", "", 0), Unit("on", "on", "", 0), Unit("in", "in", "", 1)]
    assert not list(find(two, dict.fromkeys(anchor(elements), "0"), lambda _: elements))


def test_an_unknown_group_is_named() -> None:
    with pytest.raises(ValueError, match="@nonsense"):
        parse("too @nonsense", GROUPS)
