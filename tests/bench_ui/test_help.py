"""Help by example: every example is understood as its topic, every word of help finds one, lines fit."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.bench.help import help_lines
from gardenmate.core.question import TOPICS
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

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
    "asked", ["help", "?", "what can you do", "What can I ask you?", "HELP!", "examples"]
)
def test_help_lists_every_topic_with_one_example(asked: str) -> None:
    lines = help_lines(asked, FACTS, 80)
    assert lines is not None
    for topic, entry in HELP.items():
        assert any(line.startswith(f"{topic}: ") for line in lines)
        assert f"  > {entry['ask'][0]}" in lines


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
