"""Time told with a season question is weighed. Count two weeks more for what ripens towards autumn: common practice;
days to maturity are those of the crop files, which name their sources."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def ask(text: str) -> Answer:
    talk = Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), remembers=False)
    return talk.ask(text)


def test_more_time_left_never_makes_it_later() -> None:
    order = {"no": 0, "tight": 1, "yes": 2}
    verdicts = [
        order[ask(f"only {n} weeks til frost, would turnips manage").verdict or "no"] for n in range(2, 14)
    ]
    assert verdicts == sorted(verdicts)
    assert verdicts[0] == 0
    assert verdicts[-1] == 2


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("ten weeks of season left, beans from seed?", "yes"),
        ("we've about 75 days left before it freezes. corn is out I take it", "tight"),
        ("is 10 weeks enough for a late go at broccoli", "tight"),
        ("is 6 weeks enough for a late go at broccoli", "no"),
    ],
)
def test_the_time_left_decides(text: str, verdict: str) -> None:
    found = ask(text)
    assert found.verdict == verdict
    assert found.unused == ()


def test_ahead_of_everyone_is_a_day() -> None:
    early = ask("could I jump the gun on zucchini by a fortnight?")
    usual = ask("is it too early to sow zucchini?")
    assert early.headline != usual.headline
    assert early.verdict == "tight"


def test_the_age_wanted_sets_the_sowing() -> None:
    assert "6 weeks old" in ask("want six week old broccoli plants, when do I sow").headline


@pytest.mark.parametrize(
    ("text", "began"),
    [
        ("carrots put in 10 weeks ago still thin, ready when", "7 Feb"),
        ("how long does kale take, it's been five weeks", "14 Mar"),
    ],
)
def test_how_long_ago_is_a_day(text: str, began: str) -> None:
    assert began in ask(text).headline
