"""What every match of a pattern holds, worked out from the expression when the package is made.

``gone (?:away|off)`` needs "gone away" or "gone off", ``sow\\w*`` needs "sow". A pattern of which nothing can be said
is searched in every text.
"""

from __future__ import annotations

import gc
import pkgutil
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from re import _constants as sre  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

import gardenmate.language
from gardenmate.core.compiled import write_made
from gardenmate.core.pattern import NEEDS, Pattern

_MOST = 64  # pieces of a pattern: more take longer to look for than the pattern itself
_SHORTEST = 2  # letters: a single one stands in every line
_Items = Sequence[tuple[Any, Any]]


def write_needs(target: Path) -> int:
    """Write what every pattern of the language needs into the folder ``target``; returns how many need something."""
    for module in pkgutil.walk_packages(gardenmate.language.__path__, "gardenmate.language."):
        if not module.name.endswith("__main__"):
            import_module(module.name)
    every = {one.expression for one in gc.get_objects() if isinstance(one, Pattern)}
    found = {expression: needs for expression in sorted(every) if (needs := needs_of(expression))}
    write_made(target / NEEDS, found)
    return len(found)


def needs_of(expression: str) -> list[str]:
    """Lower-case pieces of text of which one stands in every match; none where that cannot be told."""
    found = {piece.lower() for piece in _of_one(parser.parse(expression))}
    return sorted(one for one in found if not any(other != one and other in one for other in found))


def _of_one(items: _Items) -> list[str]:
    """The best pieces of what stands one after the other: the longest, and the fewest of these."""
    runs: list[list[str]] = [[""]]
    for op, value in items:
        exact = _exact([(op, value)])
        if exact is not None and len(runs[-1]) * len(exact) <= _MOST:
            runs[-1] = [before + piece for before in runs[-1] for piece in exact]
            continue
        inner: list[str] = []
        if op is sre.SUBPATTERN:
            inner = _of_one(value[-1])
        elif op is sre.BRANCH:
            inner = _of_branches(value[1])
        elif op in (sre.MAX_REPEAT, sre.MIN_REPEAT) and value[0]:
            inner = _of_one(value[2])
        runs += [inner, [""]]
    usable = [run for run in runs if run and min(map(len, run)) >= _SHORTEST and len(run) <= _MOST]
    return max(usable, key=lambda run: (min(map(len, run)), -len(run)), default=[])


def _of_branches(branches: Sequence[_Items]) -> list[str]:
    each = [_of_one(branch) for branch in branches]
    return [piece for pieces in each for piece in pieces] if all(each) else []


def _exact(items: _Items) -> list[str] | None:
    """Every text the items can match; None where that is more than a few, or not to be said."""
    found = [""]
    for op, value in items:
        several: list[list[str] | None]
        if op is sre.AT:
            continue
        if op is sre.LITERAL:
            several = [[chr(value)]]
        elif op is sre.SUBPATTERN:
            several = [_exact(value[-1])]
        elif op is sre.BRANCH:
            several = [_exact(branch) for branch in value[1]]
        elif op is sre.MAX_REPEAT and value[:2] == (0, 1):
            several = [[""], _exact(value[2])]
        else:
            return None
        texts = [text for some in several for text in some or ()]
        if None in several or len(found) * len(texts) > _MOST:
            return None
        found = [before + text for before in found for text in texts]
    return found
