"""Shared by the language tests: the lexicon, and a reader of one text on a fixed day."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date
from importlib import util
from pathlib import Path
from types import ModuleType

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.understand import Context, Reading, read
from gardenmate.language.text.lexicon import Lexicon, load_lexicon

TODAY = date(2027, 4, 18)
Read = Callable[..., Reading]


@pytest.fixture(scope="session")
def facts() -> Facts:
    return Facts()


@pytest.fixture(scope="session")
def lexicon(facts: Facts) -> Lexicon:
    return load_lexicon(facts)


@pytest.fixture(scope="session")
def reading(lexicon: Lexicon) -> Read:
    """reading("and kale?", "is it too late for leeks?") reads the first text after the others."""

    def of(text: str, *before: str, units: str = "us") -> Reading:
        context = None
        for turn in before:
            previous = read(turn, today=TODAY, units=units, lexicon=lexicon, context=context).question  # type: ignore[arg-type]
            context = Context(previous=previous, units=units, today=TODAY)  # type: ignore[arg-type]
        return read(text, today=TODAY, units=units, lexicon=lexicon, context=context)  # type: ignore[arg-type]

    return of


@pytest.fixture(scope="session")
def questions() -> ModuleType:
    """The scoring script tests/bench/questions.py as a module."""
    path = Path(__file__).resolve().parents[1] / "bench" / "questions.py"
    spec = util.spec_from_file_location("bench_questions", path)
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    sys.modules["bench_questions"] = module
    spec.loader.exec_module(module)
    return module
