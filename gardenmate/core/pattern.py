"""Regular expressions that are compiled when first used: a one-shot question pays only for its own."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cached_property


class Pattern:
    """Like `re.compile`, of one or several alternatives, but compiled on first use.

    ``needs``: lower-case pieces of text of which one stands in every match; a text without any is not searched,
    and the expression not compiled for it.
    """

    def __init__(self, *alternatives: str, ignore_case: bool = False, needs: tuple[str, ...] = ()) -> None:
        self.alternatives = alternatives
        self._flags = re.IGNORECASE if ignore_case else 0
        self.needs = needs

    def _may_hold(self, text: str) -> bool:
        if not self.needs:
            return True
        low = text.lower()
        return any(piece in low for piece in self.needs)

    @cached_property
    def compiled(self) -> re.Pattern[str]:
        """The compiled expression."""
        return re.compile("|".join(self.alternatives), self._flags)

    def search(self, text: str) -> re.Match[str] | None:
        """The first match anywhere in ``text``."""
        return self.compiled.search(text) if self._may_hold(text) else None

    def match(self, text: str) -> re.Match[str] | None:
        """The match at the start of ``text``."""
        return self.compiled.match(text)

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """Every match in ``text``."""
        return self.compiled.finditer(text)

    def sub(self, new: str | Callable[[re.Match[str]], str], text: str, count: int = 0) -> str:
        """``text`` with matches replaced."""
        return self.compiled.sub(new, text, count=count)
