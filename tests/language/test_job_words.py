"""The job as the grower put it, the day a harvest is wanted for, and the frost that is supposed to move."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.turn import understand
from gardenmate.language.text.lexicon import Lexicon


def read(text: str, facts: Facts, lexicon: Lexicon) -> Request:
    return understand(text, today=date(2027, 4, 18), units="us", facts=facts, lexicon=lexicon)


@pytest.mark.parametrize(
    ("text", "verb"),
    [
        ("Is it too late to plant tomatoes?", "plant"),
        ("can I sow leeks now", "sow"),
        ("too late to start peppers?", "start"),
        ("is it too early to put out melons?", "setout"),
        ("is it too late to plant cauliflower seedlings?", "setout"),
        ("is it too late for kale?", None),
    ],
)
def test_the_verb_of_the_job(text: str, verb: str | None, facts: Facts, lexicon: Lexicon) -> None:
    assert read(text, facts, lexicon).cue("start_verb") == verb


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("is it too late for pumpkins for Halloween?", "2027-10-31"),
        ("too late to plant squash for Thanksgiving?", "2027-11-25"),
        ("can I sow beans on May 4?", None),
        ("is it too late to sow carrots on 1 August?", None),
    ],
)
def test_a_day_the_harvest_is_wanted_for(
    text: str, wanted: str | None, facts: Facts, lexicon: Lexicon
) -> None:
    assert read(text, facts, lexicon).cue("wanted_on") == wanted


@pytest.mark.parametrize(
    ("text", "which"),
    [
        ("what if fall comes two weeks early?", "autumn"),
        ("what if my first frost is September 10?", "autumn"),
        ("what if the last frost is a week late?", "spring"),
        ("what if frost is two weeks early?", None),
    ],
)
def test_the_frost_that_moves(text: str, which: str | None, facts: Facts, lexicon: Lexicon) -> None:
    assert read(text, facts, lexicon).cue("frost_moved") == which
