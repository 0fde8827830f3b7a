"""Classes of danger by weights: caught, and false alarms, on lines held out of every fit."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent import dangers
from gardenmate.language.intent.topics import hear, look
from gardenmate.language.intent.understand import board_of
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.topics.safety.answer import card_of

HERE = Path(__file__).parent
TODAY = date(2027, 4, 18)


def heard(text: str, lexicon: Lexicon) -> bool:
    board = board_of(text, TODAY, "us", lexicon, None)
    found = look(board, lexicon)
    return bool(dangers.cues_of(board, found, lexicon, None, hear(found, lexicon).ranked()[0]))


def share_heard(name: str, lexicon: Lexicon) -> float:
    lines = [row.rsplit("\t", 1)[1] for row in (HERE / f"{name}.tsv").read_text("utf-8").splitlines()]
    return sum(heard(text, lexicon) for text in lines) / len(lines)


# Written blind, half of them implied in an ordinary line (the second pair by other hands than the first). The harmless
# lines of the second pair are look-alikes on purpose, each near a danger in the same words: what they raise
# is one sentence beside the answer, seldom a card.
@pytest.mark.parametrize(("name", "least"), [("dangers_held_out", 0.94), ("dangers_held_out_2", 0.94)])
def test_dangers_held_out_are_caught(name: str, least: float, lexicon: Lexicon) -> None:
    assert share_heard(name, lexicon) >= least


@pytest.mark.parametrize(("name", "most"), [("harmless_held_out", 0.08), ("harmless_held_out_2", 0.55)])
def test_harmless_lines_held_out_raise_few_alarms(name: str, most: float, lexicon: Lexicon) -> None:
    assert share_heard(name, lexicon) <= most


@pytest.mark.parametrize("kind", sorted(Facts().table("danger_classes")))
def test_every_class_has_a_card(kind: str, facts: Facts, lexicon: Lexicon) -> None:
    assert kind in lexicon.danger_weights.labels
    card = card_of(dangers.CLASS + kind, facts)
    assert card["text"]
    assert facts.table("danger_classes")[kind]["beside"].endswith(".")
    assert card["instead"]
    assert card["defer"]
    assert all(facts.source(source).title for source in card["sources"])


def test_a_danger_in_a_garden_question_is_said_with_its_answer(facts: Facts) -> None:
    from gardenmate.dialogue.conversation import Conversation, PlaceOptions

    talk = Conversation(facts, lambda: TODAY, PlaceOptions(place="Duluth"), remembers=False)
    answer = talk.ask(
        "two heavy half barrels of compost to lift for the tomatoes by myself, when can they go out?"
    )
    told = (answer.headline, *answer.cautions, *(line for also in answer.also for line in also.cautions))
    assert any("lift" in line for line in told)
