"""Everything about a crop stands in its own file: no table and no rule names a crop or woody plant by its id."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import gardenmate
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
IDS = frozenset({*FACTS.crop_ids, *FACTS.ids("woody")})
BASES = frozenset(
    FACTS.table(f"{folder}/{i}")["base"] for folder in ("crops", "woody") for i in FACTS.ids(folder)
)
TABLES = sorted(
    p
    for p in FACTS.root.glob("*.toml")
    if p.stem not in ("glossary", "help", "help_screen", "sources", "vocabulary")
)
PACKAGE = Path(gardenmate.__file__).parent
WORDS = {"language"}  # readers of text: words a grower types are no ids


def _names(node: Any, path: str = "") -> Iterator[str]:
    """Where a table has an id for a key, or in a list of words."""
    if isinstance(node, dict):
        for key, value in node.items():
            if key in IDS | BASES:
                yield f"{path}.{key}"
            yield from _names(value, f"{path}.{key}")
    elif isinstance(node, list | tuple):
        for item in node:
            if isinstance(item, str) and item in IDS | BASES:
                yield f"{path}: {item}"
            yield from _names(item, path)


@pytest.mark.parametrize("path", TABLES, ids=lambda p: p.stem)
def test_no_table_has_rows_by_crop(path: Path) -> None:
    assert list(_names(FACTS.table(path.stem))) == []


def test_no_rule_names_a_crop() -> None:
    found = []
    for path in sorted(PACKAGE.rglob("*.py")):
        if path.relative_to(PACKAGE).parts[0] in WORDS:
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in IDS | BASES:
                found.append(f"{path.relative_to(PACKAGE)}:{node.lineno} {node.value}")
    assert found == []


def test_every_group_a_crop_names_is_there() -> None:
    for crop in FACTS.crops():
        for sort in ("start", "frost", "aftermath", "price"):
            assert FACTS.group_of(crop, sort) is not None, (crop.id, sort)
        for sort in ("night", "potting", "pick", "way"):
            FACTS.group_of(crop, sort)  # raises when the table has no such group


def test_sections_stand_in_one_order_in_every_file() -> None:
    """A reader finds the same thing in the same place: no two files disagree on which section comes first."""
    for folder in ("crops", "woody"):
        before: dict[str, set[str]] = {}
        for plant in FACTS.ids(folder):
            tables = [k for k, value in FACTS.table(f"{folder}/{plant}").items() if _is_section(value)]
            for i, name in enumerate(tables):
                before.setdefault(name, set()).update(tables[:i])
        for name, earlier in before.items():
            assert not [e for e in earlier if name in before[e]], (folder, name)


def _is_section(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))
