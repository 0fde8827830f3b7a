"""Cautions are read, never dropped, and every one names sources that resolve."""

import pytest

from gardenmate.core.question import TOPICS
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.shared.cautions import cautions


def test_named_cautions_come_in_the_order_asked() -> None:
    said = cautions(Facts(), "heat-and-light", "mat", "electricity")
    assert [text.split()[0] for text in said.texts] == ["Use", "Plug"]
    assert said.sources == ("common-practice",)


def test_no_name_gives_all_of_the_topic() -> None:
    facts = Facts()
    assert len(cautions(facts, "hardening-off").texts) == len(facts.table("cautions")["hardening-off"])


def test_an_unknown_caution_is_an_error() -> None:
    with pytest.raises(KeyError):
        cautions(Facts(), "hardening-off", "nonsense")


def test_every_caution_is_a_sentence_with_sources_that_resolve() -> None:
    facts = Facts()
    for topic, entries in facts.table("cautions").items():
        assert topic in TOPICS
        for key, entry in entries.items():
            assert entry["text"].endswith("."), f"{topic}.{key}"
            assert entry["sources"], f"{topic}.{key} names no source"
            for source in entry["sources"]:
                facts.source(source)


def test_a_caution_is_short() -> None:
    """What is said with every answer is read in a glance, or not at all."""
    for topic, entries in Facts().table("cautions").items():
        for key, entry in entries.items():
            limit = 240 if (topic, key) == ("heat-and-light", "filament") else 190
            assert len(entry["text"]) <= limit, f"{topic}.{key}: {len(entry['text'])}"


def test_under_a_harvest_stands_what_belongs_to_picking_and_eating() -> None:
    facts = Facts()
    said = " ".join(c for crop in facts.crops() for c in crop.cautions).lower()
    for stray in ("tobacco", "canning", "tested recipe", "coloured seed"):
        assert stray not in said
