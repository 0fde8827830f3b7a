"""Slots as the machine contract words them, over own lines written from its conventions (`stated_slots.tsv`)."""

from __future__ import annotations

from pathlib import Path

from gardenmate.knowledge.facts import Facts
from gardenmate.language.text.lexicon import load_lexicon
from tests.bench.questions import ask, slots_of

LINES = (Path(__file__).parent / "stated_slots.tsv").read_text("utf-8").splitlines()
LEAST_EXACT = 0.98
"""Share of the lines whose slots must be exactly those written (own count): may only rise."""


def wanted(line: str) -> tuple[str, dict[str, object]]:
    text, labels = line.split("\t")
    pairs = (pair.partition("=") for pair in labels.replace("this week", "this_week").split())
    return text, {name: value.replace("_", " ") for name, _, value in pairs}


def plain(value: object) -> str:
    return f"{value:g}" if isinstance(value, int | float) else str(value)


def test_slots_are_as_the_contract_words_them() -> None:
    lexicon = load_lexicon(Facts())
    missed = []
    for line in LINES:
        text, labels = wanted(line)
        read = {name: plain(value) for name, value in slots_of(ask({"q": text}, lexicon)).items()}
        if read != labels:
            missed.append((text, read, labels))
    assert len(missed) <= (1.0 - LEAST_EXACT) * len(LINES), missed
