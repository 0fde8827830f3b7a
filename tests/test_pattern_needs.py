"""What a pattern says it needs stands in everything it matches: a text without any is rightly not searched."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from itertools import product
from re import _constants as sre  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import gardenmate
from gardenmate.core.pattern import Pattern

ANYTHING = "\0"
MOST = 20_000


def patterns() -> Iterator[Pattern]:
    """Every pattern of the package with needs that can be reached from a module's names."""
    for info in pkgutil.walk_packages(gardenmate.__path__, "gardenmate."):
        if not info.name.endswith("__main__") and "build_hook" not in info.name:
            for value in vars(importlib.import_module(info.name)).values():
                yield from (p for p in reached(value) if p.needs)


def reached(value: Any) -> Iterator[Pattern]:
    """The patterns in a value."""
    if isinstance(value, Pattern):
        yield value
    elif isinstance(value, tuple | list):
        for each in value:
            yield from reached(each)


def texts(items: Any) -> list[str]:
    """The texts a parsed expression matches, with ANYTHING for what is not certain to stand there."""
    return ["".join(parts) for parts in product(*(one(op, value) for op, value in items))]


def one(op: Any, value: Any) -> list[str]:
    """The texts of one item."""
    if op is sre.LITERAL:
        return [chr(value)]
    if op is sre.SUBPATTERN:
        return texts(value[-1])
    if op is sre.BRANCH:
        return [text for branch in value[1] for text in texts(branch)]
    if op in (sre.MAX_REPEAT, sre.MIN_REPEAT) and value[0] >= 1:
        return [f"{ANYTHING}{text}{ANYTHING}" for text in texts(value[2])]
    return [ANYTHING]


def held(items: Any, needs: tuple[str, ...]) -> bool:
    """True when every match of the items holds one of the needs."""
    for op, value in items:
        inner = (
            value[-1]
            if op is sre.SUBPATTERN
            else value[2]
            if op is sre.MAX_REPEAT and value[0] >= 1
            else None
        )
        if inner is not None and held(inner, needs):
            return True
        if op is sre.BRANCH and all(held(branch, needs) for branch in value[1]):
            return True
    choices = [len(one(op, value)) for op, value in items]
    size = 1
    for number in choices:
        size *= number
    return size <= MOST and all(any(need in text for need in needs) for text in texts(items))


def test_every_match_holds_what_is_needed() -> None:
    found = list(patterns())
    assert len(found) > 10
    assert [p.alternatives for p in found if not held(parser.parse("|".join(p.alternatives)), p.needs)] == []


def test_a_need_that_is_not_met_is_found() -> None:
    assert not held(parser.parse(r"\bfro(?:st|zen)\b|\bice\b"), ("frost", "ice"))
    assert held(parser.parse(r"\bfro(?:st|zen)\b|\bice\b"), ("frost", "frozen", "ice"))
