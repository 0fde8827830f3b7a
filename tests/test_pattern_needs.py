"""What a pattern needs stands in everything it matches: a text without any is rightly not searched."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardenmate.core import pattern
from gardenmate.core.compiled import read_made
from gardenmate.core.pattern import NEEDS, Pattern
from gardenmate.language.text.needs import needs_of, write_needs


@cache
def needs() -> dict[str, list[str]]:
    """What every pattern of the language needs, by its expression."""
    with TemporaryDirectory() as folder:
        write_needs(Path(folder))
        return read_made(Path(folder) / NEEDS)


def test_most_patterns_need_something() -> None:
    assert len(needs()) > 200


@settings(max_examples=400, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_every_match_holds_what_is_needed(data: st.DataObject) -> None:
    expression = data.draw(st.sampled_from(sorted(needs())))
    alphabet = st.characters(max_codepoint=127)
    text = data.draw(st.from_regex(re.compile(expression, re.IGNORECASE), alphabet=alphabet))
    assert any(piece in text.lower() for piece in needs()[expression])


@pytest.mark.parametrize(
    ("expression", "needs"),
    [
        (r"\bgone (?:away|off)\b", ["gone away", "gone off"]),
        (r"\bsow\w*\b", ["sow"]),
        (r"\bfro(?:st|zen)s?\b|\bice\b", ["frost", "frozen", "ice"]),
        (r"(?:how )?(many|much)", ["many", "much"]),
        (r"\d+ (?:days|WEEKS)", [" days", " weeks"]),
        (r"\bor\b|\d", []),
        (r"(?:ice)?", []),
        (r"(?<!no )frost(?! tonight)", ["frost"]),
        (r"[ab]c", []),
    ],
)
def test_what_an_expression_needs(expression: str, needs: list[str]) -> None:
    assert needs_of(expression) == needs


def test_a_text_without_is_not_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pattern, "_needed", lambda: {r"\bsow\w*": ["sow"]})
    sowing = Pattern(r"\bsow\w*", ignore_case=True)
    assert sowing.search("set out") is None
    assert sowing.match("set out") is None
    assert list(sowing.finditer("set out")) == []
    assert sowing.sub("-", "set out") == "set out"
    assert "compiled" not in vars(sowing)
    assert sowing.sub("-", "to SOW now") == "to - now"
