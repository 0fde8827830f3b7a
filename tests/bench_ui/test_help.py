"""Help by example: every example is understood as its topic, every word of help finds one, lines fit."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.bench.help import LEAVING, help_lines, how_to_leave
from gardenmate.core.question import TOPICS
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.screen import PROMPT_LINES

FACTS = Facts()
HELP = FACTS.table("help")
EXAMPLES = [(topic, text) for topic, entry in HELP.items() for text in entry["ask"]]


@pytest.fixture(scope="module")
def conversation() -> Conversation:
    return Conversation(FACTS, lambda: date(2027, 4, 18), PlaceOptions(place="Duluth"), remembers=False)


@pytest.mark.parametrize(("topic", "text"), EXAMPLES, ids=[text for _, text in EXAMPLES])
def test_every_example_is_understood_as_its_topic(conversation: Conversation, topic: str, text: str) -> None:
    answer = conversation.ask(text)
    assert answer.question.topic == topic
    assert answer.headline
    assert "could not tell" not in answer.headline


def test_every_topic_that_can_be_asked_has_examples() -> None:
    assert set(HELP) == set(TOPICS) - {"out-of-scope", "unclear"}
    assert all(entry["ask"] and entry["says"].endswith((".", "?")) for entry in HELP.values())


def test_no_two_topics_go_by_the_same_word() -> None:
    words = [word for topic, entry in HELP.items() for word in (topic, *entry.get("also", ()))]
    assert len(words) == len(set(words))


@pytest.mark.parametrize(
    "asked", ["help", "/help", "?", "what can you do", "What can I ask you?", "HELP!", "examples"]
)
@pytest.mark.parametrize(("width", "screen"), [(50, 30), (80, 24)])
def test_help_is_one_screen(asked: str, width: int, screen: int) -> None:
    lines = help_lines(asked, FACTS, width)
    assert lines is not None
    assert len(lines) <= screen - PROMPT_LINES
    said = " ".join(" ".join(lines).split())
    for word in ("I garden in Duluth", "undo", "more", "why", "quit", "demo", "print my calendar"):
        assert word in said


def test_help_speaks_of_what_is_remembered_in_five_lines() -> None:
    told = next(g for g in FACTS.table("help_screen")["group"] if "remember" in g["head"])
    assert len(told["lines"]) == 5


@pytest.mark.parametrize(
    "text", ["how do i quit", "How do I leave this?", "how can I exit?", "i want to quit"]
)
def test_how_to_leave_is_told(text: str) -> None:
    assert how_to_leave(text) == [LEAVING]


@pytest.mark.parametrize("text", ["how do I stop slugs", "quit", "when do I leave them out?", ""])
def test_another_question_is_not_about_leaving(text: str) -> None:
    assert how_to_leave(text) is None


@pytest.mark.parametrize(
    ("asked", "topic"),
    [
        ("help frost", "frost"),
        ("help with pruning", "pruning"),
        ("help about the frame".replace("the ", ""), "cold-frame"),
        ("help undo", "log"),
        ("what can you do about frost?", "frost"),
        ("help harden", "hardening-off"),
        ("help buy or sow", "buy-or-sow"),
    ],
)
def test_help_on_one_topic_gives_all_its_examples(asked: str, topic: str) -> None:
    lines = help_lines(asked, FACTS, 80)
    assert lines is not None
    assert lines[0].startswith(f"{topic}: ")
    assert len(lines) == 1 + len(HELP[topic]["ask"])


@pytest.mark.parametrize(
    "text", ["help my peppers froze", "help me prune the elder", "what can I sow now?", "kale?", ""]
)
def test_a_question_is_not_a_call_for_help(text: str) -> None:
    assert help_lines(text, FACTS, 80) is None


@pytest.mark.parametrize("width", [40, 50, 80])
def test_help_fits_the_screen(width: int) -> None:
    for asked in ("help", *(f"help {topic}" for topic in HELP)):
        lines = help_lines(asked, FACTS, width)
        assert lines is not None
        assert max(map(len, lines)) <= width
