"""Regular expressions that are compiled when first used: a one-shot question pays only for its own.

Of most expressions it is known what every match holds (`language/text/needs.py` works it out once): a text
without any of it is not searched, and the expression not compiled for it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache, cached_property

from gardenmate.core.compiled import folder, read_made

NEEDS = "needs.json"


class Pattern:
    """Like `re.compile`, of one or several alternatives, but compiled on first use."""

    def __init__(self, *alternatives: str, ignore_case: bool = False) -> None:
        self.alternatives = alternatives
        self._flags = re.IGNORECASE if ignore_case else 0

    @property
    def expression(self) -> str:
        """All alternatives as one."""
        return "|".join(self.alternatives)

    @cached_property
    def _needs(self) -> tuple[str, ...]:
        return tuple(_needed().get(self.expression, ()))

    def _may_hold(self, text: str) -> bool:
        if not self._needs:
            return True
        low = text.lower()
        return any(piece in low for piece in self._needs)

    @cached_property
    def compiled(self) -> re.Pattern[str]:
        """The compiled expression."""
        return re.compile(self.expression, self._flags)

    def search(self, text: str) -> re.Match[str] | None:
        """The first match anywhere in ``text``."""
        return self.compiled.search(text) if self._may_hold(text) else None

    def match(self, text: str) -> re.Match[str] | None:
        """The match at the start of ``text``."""
        return self.compiled.match(text) if self._may_hold(text) else None

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """Every match in ``text``."""
        return self.compiled.finditer(text) if self._may_hold(text) else iter(())

    def sub(self, new: str | Callable[[re.Match[str]], str], text: str, count: int = 0) -> str:
        """``text`` with matches replaced."""
        return self.compiled.sub(new, text, count=count) if self._may_hold(text) else text


@cache
def _needed() -> dict[str, list[str]]:
    """Expression -> lower-case pieces of text of which one stands in every match."""
    return read_made(folder() / NEEDS)
