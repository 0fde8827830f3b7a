"""Time is linear in the length typed: every pattern of the package, against near misses of 10,000 characters.

The patterns are found, not listed: every module is imported, and every compiled expression that can be reached
from its names is taken. Near misses are made from the expression itself: a text that fits up to one of its
repetitions, that repetition over and over, and then a sign that fits nothing, so that all of it is tried again
from every place. A pattern that tries each place afresh takes sixteen times as long for four times the text.
"""

from __future__ import annotations

import importlib
import pkgutil
import re
import time
from collections.abc import Iterator
from re import _constants as sre  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import pytest

import gardenmate
from gardenmate.core.pattern import Pattern

LONG = 10_000
BOUND_S = 0.05  # the stated bound, for 10,000 characters
SLACK = 6.0  # a loaded machine is that much slower; a quadratic pattern takes seconds
MOST_RATIO = 3.0  # twice the text: 2 when linear, 4 when quadratic
_COMMON = ("a ", "1 ", "and ", " ", "x", "12", "the ", "1-", "a, ", "in ", ".")


def _modules() -> Iterator[Any]:
    for info in pkgutil.walk_packages(gardenmate.__path__, "gardenmate."):
        if not info.name.endswith("__main__") and "build_hook" not in info.name:
            yield importlib.import_module(info.name)


def _reached(value: Any, depth: int = 4) -> Iterator[re.Pattern[str]]:
    if isinstance(value, Pattern):
        yield value.compiled
    elif isinstance(value, re.Pattern) and isinstance(value.pattern, str):
        yield value
    elif depth and isinstance(value, dict):
        for each in (*value.keys(), *value.values()):
            yield from _reached(each, depth - 1)
    elif depth and isinstance(value, list | tuple | set | frozenset):
        for each in value:
            yield from _reached(each, depth - 1)


def _patterns() -> dict[tuple[str, int], tuple[str, re.Pattern[str]]]:
    found: dict[tuple[str, int], tuple[str, re.Pattern[str]]] = {}
    for module in _modules():
        for name, value in vars(module).items():
            if not isinstance(value, type):
                for pattern in _reached(value):
                    found.setdefault((pattern.pattern, pattern.flags), (f"{module.__name__}.{name}", pattern))
    return found


# -- near misses --------------------------------------------------------------------------------------
def _sample(items: Any, groups: dict[int, str]) -> str:
    """A text that fits a parsed expression, shortest repetitions, first alternatives."""
    return "".join(_one(op, value, groups) for op, value in items)


def _one(op: Any, value: Any, groups: dict[int, str]) -> str:
    if op is sre.LITERAL:
        return chr(value)
    if op is sre.NOT_LITERAL:
        return "b" if value != ord("b") else "c"
    if op is sre.ANY:
        return "b"
    if op is sre.IN:
        return _member(value)
    if op in (sre.MAX_REPEAT, sre.MIN_REPEAT, sre.POSSESSIVE_REPEAT):
        least, _, inner = value
        return _sample(inner, groups) * max(least, 1)
    if op is sre.SUBPATTERN:
        text = _sample(value[-1], groups)
        groups[value[0]] = text
        return text
    if op is sre.ATOMIC_GROUP:
        return _sample(value, groups)
    if op is sre.BRANCH:
        return _sample(value[1][0], groups)
    if op is sre.GROUPREF:
        return groups.get(value, "")
    return ""  # anchors and looks around take up nothing


def _member(options: Any) -> str:
    negated = options and options[0][0] is sre.NEGATE
    tried = "b1 ,-.'a_Z%"
    for sign in tried:
        if _fits(sign, options) != bool(negated):
            return sign
    for op, value in options:
        if op is sre.LITERAL:
            return chr(value)
        if op is sre.RANGE:
            return chr(value[0])
    return "b"


def _fits(sign: str, options: Any) -> bool:
    classes = {
        sre.CATEGORY_DIGIT: str.isdigit,
        sre.CATEGORY_SPACE: str.isspace,
        sre.CATEGORY_WORD: lambda s: s.isalnum() or s == "_",
        sre.CATEGORY_NOT_DIGIT: lambda s: not s.isdigit(),
        sre.CATEGORY_NOT_SPACE: lambda s: not s.isspace(),
        sre.CATEGORY_NOT_WORD: lambda s: not (s.isalnum() or s == "_"),
    }
    for op, value in options:
        if (
            (op is sre.LITERAL and value == ord(sign))
            or (op is sre.RANGE and value[0] <= ord(sign) <= value[1])
            or (op is sre.CATEGORY and classes[value](sign))
        ):
            return True
    return False


def _pumps(items: Any, before: str = "") -> Iterator[tuple[str, str]]:
    """(what fits up to a repetition, what it repeats) for every repetition in a parsed expression."""
    for op, value in items:
        if op in (sre.MAX_REPEAT, sre.MIN_REPEAT, sre.POSSESSIVE_REPEAT):
            _, most, inner = value
            body = _sample(inner, {})
            if most > 8 and body:
                yield before, body
            yield from _pumps(inner, before)
        elif op is sre.SUBPATTERN:
            yield from _pumps(value[-1], before)
        elif op is sre.ATOMIC_GROUP:
            yield from _pumps(value, before)
        elif op is sre.BRANCH:
            for branch in value[1]:
                yield from _pumps(branch, before)
        elif op in (sre.ASSERT, sre.ASSERT_NOT):
            yield from _pumps(value[1], before)
        before += _one(op, value, {})


def _misses(pattern: re.Pattern[str]) -> set[tuple[str, str]]:
    """(start, what is repeated) of texts that nearly fit."""
    parsed = parser.parse(pattern.pattern, pattern.flags)
    found = set(_pumps(parsed))
    whole = _sample(parsed, {})
    starts = {before for before, _ in found}
    found |= {("", body) for _, body in found}
    found |= {("", f"{before}{body}") for before, body in found if before}
    found |= {("", each) for each in (whole, whole[:-1], whole[: len(whole) // 2 + 1]) if each}
    found |= {(start, common) for start in (starts | {""}) for common in _COMMON}
    return found


def _seconds(pattern: re.Pattern[str], text: str, enough: float) -> float:
    """The shorter of two runs; one where it is short enough."""
    best = float("inf")
    for _ in range(2):
        start = time.perf_counter()
        pattern.search(text)
        best = min(best, time.perf_counter() - start)
        if best < enough:
            break
    return best


def _text(start: str, body: str, length: int) -> str:
    return start + (body * (length // len(body) + 1))[: max(length - len(start), 0)] + "\0"


def _grows(pattern: re.Pattern[str], start: str, body: str) -> float | None:
    """Seconds for LONG characters when they are too many; None when they are not.

    The length is doubled from one sixteenth; a time that grows with the square is told before it takes long.
    """
    before = 0.0
    for part in (16, 8, 4, 2, 1):
        allowed = BOUND_S / part**2  # quadratic from here, it would just keep the bound
        took = _seconds(pattern, _text(start, body, LONG // part), allowed)
        if took > BOUND_S * SLACK or (took > BOUND_S and took > MOST_RATIO * before > 0):
            return took * part
        if part > 1 and took > 4 * allowed and took > MOST_RATIO * before > 0:
            return took * part**2
        before = took
    return None


def slow(pattern: re.Pattern[str]) -> str | None:
    """A near miss on which a pattern takes too long for its length; None when there is none."""
    for start, body in sorted(_misses(pattern)):
        took = _grows(pattern, start, body)
        if took is not None:
            return f"{start!r} + {body!r} repeated: {took * 1000:.0f} ms"
    return None


def test_every_pattern_is_linear() -> None:
    found = _patterns()
    assert len(found) > 150  # they were found
    bad = {name: told for name, pattern in found.values() if (told := slow(pattern)) is not None}
    assert bad == {}


@pytest.mark.parametrize("quadratic", [r"[a-z]+\d", r"(?:\w+ )*x", r"\s+$"])
def test_a_quadratic_pattern_would_be_found(quadratic: str) -> None:
    assert slow(re.compile(quadratic)) is not None
