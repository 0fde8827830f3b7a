"""When to stop cutting asparagus and rhubarb, and when the straw comes off strawberries."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.core.answer import Answer
from gardenmate.records import replace
from gardenmate.topics.registry import rule_for
from tests.topics.said import heard
from tests.topics.woody_bench import question, world


def say(text: str, *crops: str, topic: str = "pruning", today: str, where: str, when: bool = True) -> Answer:
    cues = {"asks_when": "yes"} if when else {}
    asked = heard(replace(question(topic, *crops, cues=cues), text=text))
    return rule_for(topic).answer(asked, world(today, where))


def day(answer: Answer, name: str, crop: str) -> date:
    found = next(n.value for n in answer.numbers if n.name == name and n.crop == crop)
    assert isinstance(found, date)
    return found


@pytest.mark.parametrize("topic", ["pruning", "propagation"])
def test_the_last_spear_and_stalk(topic: str) -> None:
    text = "until when may I go on cutting asparagus and rhubarb?"
    answer = say(text, "asparagus", "rhubarb", topic=topic, today="2027-04-18", where="Burlington, VT")
    assert date(2027, 6, 10) <= day(answer, "stop_from", "asparagus") <= date(2027, 6, 30)
    assert day(answer, "stop_by", "asparagus") <= date(2027, 7, 10)  # about the start of July in the north
    assert date(2027, 6, 1) <= day(answer, "stop_by", "rhubarb") <= date(2027, 7, 20)
    assert answer.verdict is None
    south = say(text, "asparagus", topic=topic, today="2027-10-01", where="Hobart")
    assert date(2027, 10, 20) <= day(south, "stop_by", "asparagus") <= date(2028, 1, 5)


def test_straw_comes_off_when_new_leaves_show() -> None:
    text = "is it time to rake the straw off the strawberries?"
    early = say(text, "strawberry", today="2027-03-05", where="Burlington, VT", when=False)
    assert early.verdict == "no"
    assert early.headline.startswith("Not yet")
    on = day(early, "uncover_on", "strawberry")
    assert date(2027, 4, 1) <= on <= date(2027, 5, 5)
    late = say(text, "strawberry", today="2027-05-02", where="Burlington, VT", when=False)
    assert late.verdict == "yes"


def test_renovation_and_division_stay_what_they_are() -> None:
    renovating = say("when do I renovate them?", "strawberry", today="2027-06-20", where="Leeds")
    dividing = say(
        "can I divide rhubarb now?", "rhubarb", topic="propagation", today="2027-04-01", where="Leeds"
    )
    names = {n.name for n in (*renovating.numbers, *dividing.numbers)}
    assert not names & {"uncover_on", "stop_by"}
