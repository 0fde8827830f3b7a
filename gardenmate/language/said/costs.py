"""Buy or sow: whether it is the money that is asked about."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_MONEY = Pattern(
    r"\b(?:cheap(?:er|est)?|cheeper|cost(?:s|ing)?|less money|more expensive|expensive|dear(?:er)?|price[ds]?|"
    r"sav(?:e|es|ing)(?: me| us)?(?: any| much| some)?(?: money)?|break[- ]even)\b"
)
_LONGEST = 2000  # characters read of a question (design value)


def read(said: Said) -> Iterator[Typed]:
    """weighs (money): which way is cheaper is asked, or what it would save."""
    found = _MONEY.search(said.plain[:_LONGEST])
    if found is not None:
        yield Typed("weighs", "money", text=found.group().strip())
