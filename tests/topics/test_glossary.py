"""Words of the trade: which questions are about the word, and what is said of it."""

from __future__ import annotations

from datetime import date

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.core.world import World
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.terms import terms_asked
from gardenmate.topics.registry import rule_for
from tests.topics.said import spoken

FACTS = Facts()
TODAY = date(2027, 4, 18)


@pytest.mark.parametrize(
    ("text", "terms"),
    [
        ("What does indeterminate mean?", ("indeterminate",)),
        ("what's meant by half-hardy", ("tender",)),
        ("Explain chill hours please", ("chill-hours",)),
        ("why do people harden off seedlings?", ("harden-off",)),
        ("what is the point of chitting potatoes", ("chitting",)),
        ("How are first earlies different from maincrop?", ("earlies",)),
        ("what is the difference between old wood and primocanes", ("old-wood", "primocane")),
        ("what does GDD stand for?", ("degree-days",)),
        ("define bolting", ("bolting",)),
    ],
)
def test_a_question_about_a_word(text: str, terms: tuple[str, ...]) -> None:
    assert terms_asked(text, FACTS) == terms


@pytest.mark.parametrize(
    "text",
    [
        "what is the last frost in Duluth?",
        "why did my lettuce bolt?",
        "what should I do about leggy tomatoes",
        "when do I harden off my peppers?",
        "why?",
        "what hardiness zone am I in",
        "what is the best way to thin carrots",
        "is there a difference between 32 and 28 for peas",
        "explain that",
        "what can I set out now",
    ],
)
def test_a_question_about_ones_own_plants_is_none(text: str) -> None:
    assert terms_asked(text, FACTS) == ()


def test_a_word_is_explained_whatever_was_said_before() -> None:
    conversation = Conversation(FACTS, lambda: TODAY, PlaceOptions(place="Duluth"))
    first = conversation.ask("too late to start peppers?")
    answer = conversation.ask("what does bolting mean?")
    assert answer.question.topic == "explain"
    assert answer.headline.startswith("Bolting is")
    assert answer.verdict is None
    assert conversation.ask("why?").headline.startswith(f"How '{first.question.text}'")


def test_every_term_has_a_sentence_and_known_sources_and_no_name_means_two() -> None:
    entries = FACTS.table("glossary")["term"]
    names = [name for entry in entries.values() for name in entry["names"]]
    assert len(names) == len(set(names))
    for term, entry in entries.items():
        assert entry["text"].endswith("."), term
        assert terms_asked(f"what does {entry['names'][0]} mean?", FACTS) == (term,)
        for source in entry["sources"]:
            assert FACTS.source(source).title


@pytest.mark.parametrize("text", ["What hardiness zone am I in?", "zone?", "which zone is this garden"])
def test_no_zone_is_made_up(text: str) -> None:
    site = resolve_site(place="Duluth", facts=FACTS).site
    answer = rule_for("garden").answer(
        spoken(text, "garden"), World(TODAY, FACTS, NO_GARDEN, "us", site=site)
    )
    assert answer.headline == "I go by frost dates, not by hardiness zones."
    assert any("Duluth" in line and "last frost about" in line for line in answer.details)
    assert not answer.effects
