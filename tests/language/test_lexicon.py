"""The lexicon files: readable, current, and free of slips."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from gardenmate.core.question import TOPICS
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.acts import TOPICS_OF
from gardenmate.language.text import phrases
from gardenmate.language.text.lexicon import Lexicon, digest, load_lexicon, write_compact


def test_the_compact_copy_equals_the_files(facts: Facts, tmp_path: Path) -> None:
    assert write_compact(facts, tmp_path).stat().st_size > 100_000
    stored, made = load_lexicon(facts, tmp_path), load_lexicon(facts, tmp_path / "none")
    assert vars(stored) == vars(made)
    assert stored.places["duluth"] == "Duluth"


def test_a_stale_copy_is_passed_over(facts: Facts, tmp_path: Path) -> None:
    for folder in ("language", "crops", "woody"):
        shutil.copytree(facts.root / folder, tmp_path / folder)
    for name in ("places.csv", "notes.toml"):
        shutil.copy(facts.root / name, tmp_path / name)
    copy = Facts(tmp_path)
    assert digest(tmp_path) == digest(facts.root)
    near = tmp_path / "language" / "near.toml"
    near.write_text(
        near.read_text("utf-8").replace("Is it too late to start {crop}?", "Is {crop} late?"), "utf-8"
    )
    assert load_lexicon(copy).near_topics["late-start"][0] == "Is {crop} late?"


def test_a_damaged_copy_is_passed_over(facts: Facts, tmp_path: Path) -> None:
    for folder in ("language", "crops", "woody"):
        shutil.copytree(facts.root / folder, tmp_path / folder)
    path = write_compact(facts, tmp_path)
    changed = path.read_bytes().replace(b"pepper\\t", b"potato\\t")
    for damaged in (b"{", b"", changed):
        path.write_bytes(damaged)
        assert load_lexicon(Facts(tmp_path), tmp_path).names["pepper"][0] == "pepper"


def test_every_topic_has_weights_and_an_example(facts: Facts, lexicon: Lexicon) -> None:
    asked = set(TOPICS) - {"unclear"}
    pairs = {f"{act}/{topic}" for act, topics in TOPICS_OF.items() for topic in topics}
    assert set(lexicon.turn_weights.labels) == pairs
    assert set(lexicon.near_topics) == asked - {"out-of-scope"}
    assert set(facts.table("language/examples")) == asked


def test_every_phrase_reads_and_has_an_anchor(lexicon: Lexicon) -> None:
    for number in range(len(lexicon.table)):
        text = lexicon.phrase(number).text
        elements = phrases.parse(text, lexicon.groups)
        assert phrases.anchor(elements), text
        assert any(str(number) in numbers.split() for numbers in lexicon.index.values()), text


@pytest.mark.parametrize("name", ["families", "ambiguous"])
def test_family_and_ambiguous_words_are_lower_case(lexicon: Lexicon, name: str) -> None:
    assert all(word == word.lower() for word in getattr(lexicon, name))


def test_family_members_are_crops(facts: Facts, lexicon: Lexicon) -> None:
    bases = {entry[0] for entry in lexicon.names.values()}
    for word, members in lexicon.families.items():
        assert {m.partition("/")[0] for m in members} <= bases, word


def test_every_crop_answers_to_its_own_names(facts: Facts, lexicon: Lexicon) -> None:
    for crop in facts.crops():
        known = [
            n
            for n in crop.names
            if n.lower().replace("-", " ").replace("'s", "").replace("'", "") in lexicon.names
        ]
        assert len(known) >= len(crop.names) - 1, crop.id
