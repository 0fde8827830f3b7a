"""The labelled lines and what was made of them: nothing held out is learnt, and the weights are those of the lines."""

from __future__ import annotations

import hashlib
import json
import sys
import tomllib
from datetime import date
from importlib import util
from pathlib import Path
from types import ModuleType

import pytest

from gardenmate.core.question import TOPICS
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.acts import TOPICS_OF
from gardenmate.language.intent.topics import look
from gardenmate.language.intent.understand import board_of
from gardenmate.language.text.lexicon import Lexicon

HERE = Path(__file__).resolve().parent
WEIGHTS = Facts().root / "language" / "weights"
MODELS = ("turn", "scope", "stays", "doing", "about")

FEW = 4  # words


def bench(name: str) -> ModuleType:
    path = HERE.parent / "bench" / f"{name}.py"
    spec = util.spec_from_file_location(f"bench_{name}", path)
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def test_no_line_learnt_is_a_near_copy_of_one_held_out() -> None:
    copies = bench("near_copies")
    learnt = [
        row.rsplit("\t", 1)[-1]
        for path in copies.training_files()
        for row in path.read_text("utf-8").splitlines()
        if row.strip()
    ]
    for path in sorted((HERE / "conversations").glob("*.txt")):
        said = (turn["say"] for evening in bench("spoken").evenings(path) for turn in evening["turns"])
        learnt += [text for text in said if len(text.split()) > FEW]  # "and leeks?" is anybody's
    assert list(copies.near_copies(learnt, copies.held_out())) == []


def test_a_near_copy_is_seen() -> None:
    copies = bench("near_copies")
    held = ["is it too late to sow carrots in june", "peas 24?"]
    found = [
        line for line, _ in copies.near_copies(["is it too late to sow carrot in June?", "peas 25?"], held)
    ]
    assert found == ["is it too late to sow carrot in June?"]


@pytest.mark.parametrize("name", MODELS)
def test_the_weights_are_those_the_manifest_names(name: str) -> None:
    manifest = json.loads((WEIGHTS / "manifest.json").read_text("utf-8"))
    assert hashlib.sha256((WEIGHTS / f"{name}.txt").read_bytes()).hexdigest() == manifest[name]["sha256"]


def test_the_manifest_names_the_lines_and_the_library() -> None:
    pytest.importorskip("sklearn")
    manifest = json.loads((WEIGHTS / "manifest.json").read_text("utf-8"))
    fit = bench("fit_weights")
    lines = fit.labelled()
    assert manifest["lines"] == {"sha256": fit.lines_hash(lines), "count": len(lines)}
    assert set(manifest["library"]) == {"scikit-learn"}


def test_labels_are_acts_and_topics() -> None:
    for path in (*(HERE / "acts").glob("*.txt"), *HERE.glob("acts_held_out*.txt")):
        for row in path.read_text("utf-8").splitlines():
            act, topic, text = row.split("\t")
            assert act in TOPICS_OF, row
            assert topic in TOPICS, row
            assert text.strip(), row


def test_every_decisive_line_claims_its_examples(lexicon: Lexicon) -> None:
    table = tomllib.loads((Facts().root / "language" / "decisive.toml").read_text("utf-8"))
    for line in table["line"]:
        for text in line["examples"]:
            found = look(board_of(text, date(2027, 4, 18), "us", lexicon, None), lexicon)
            assert found.decisive is not None, text
            assert found.decisive[:2] == (line["act"], line["verb"]), text
