"""What was typed and not used is said; what changes the answer is never called unused."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request, Slots, Temperature, Typed
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.dialogue.unused import asked_with, unused_in, without
from gardenmate.knowledge.facts import Facts
from tests.bench.unused import TODAY, asked, counted

MOST_UNUSED = 0.02
"""Share of the values typed in the questions that may change nothing, over every fifth variant (own count): may only
fall."""


@pytest.fixture(scope="module")
def ask() -> Callable[[str], Answer]:
    talk = Conversation(Facts(), lambda: TODAY, PlaceOptions(place="Duluth"), remembers=False)
    return talk.ask


def request(*typed: Typed, topic: str = "frost", **slots: object) -> Request:
    return Request("", topic, slots=Slots(**slots), typed=typed)  # type: ignore[arg-type]


def test_a_value_that_changes_a_figure_is_used() -> None:
    asked_at = request(Typed("temperature", 28.0, "F"), temp_f=28.0, temps=(Temperature(28.0, "F"),))

    def rule(question: Request) -> Answer:
        low = question.ask.temperature_c
        return Answer(question, None, "At night", numbers=() if low is None else (Number("low_c", low, "C"),))

    assert unused_in(asked_at, rule(asked_at), rule, TODAY) == ()


def test_a_value_no_rule_reads_is_unused() -> None:
    percent = Typed("percent", 70.0, "%", "germination", "70%", 3, 6)
    asked_at = request(percent)

    def rule(question: Request) -> Answer:
        return Answer(question, "yes", "Yes.")

    assert unused_in(asked_at, rule(asked_at), rule, TODAY) == (percent,)


def test_without_takes_the_value_out_of_slots_and_cues() -> None:
    weeks = Typed("span", 3.0, "weeks")
    asked_at = Request(
        "", "late-start", slots=Slots(weeks=3.0), cues={"shift_days": "-21", "sky": "clear"}, typed=(weeks,)
    )
    bare = without(asked_at, (weeks,), TODAY)
    assert bare.slots == Slots()
    assert dict(bare.cues) == {"sky": "clear"}
    assert bare.typed == ()


def test_two_readers_of_one_figure_are_one_value() -> None:
    board = Typed("count", 24.0, "", None, "24", 10, 12)
    own = Typed("count", 24.0, "plants", "pepper", "24 peppers")
    assert asked_with(request(board, own, topic="how-many"), TODAY) == [(board, own)]


def test_the_story_and_the_present_are_no_figures_of_the_question() -> None:
    told = Typed("price", 7.0, "", None, "7 bucks", 4, 11, told=True)
    now = Typed("date", date(TODAY.year, TODAY.month, 1), "", "stretch", "april", 20, 25)
    assert asked_with(request(told, now), TODAY) == []


def test_the_answer_says_what_it_did_not_use(ask: Callable[[str], Answer]) -> None:
    found = ask("can I prune my blueberry now for 7 dollars?")
    assert [t.kind for t in found.unused] == ["price"]
    assert ask("will 28 tonight kill my peas?").unused == ()


def test_little_of_what_is_typed_is_dropped() -> None:
    assert sum(1 for _ in asked("variants")) > 1000
    typed, unused, where = counted("variants", Facts(), every=5)
    assert typed > 60
    assert unused / typed <= MOST_UNUSED, where.most_common(10)
