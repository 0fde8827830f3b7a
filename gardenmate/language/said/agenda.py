"""What is asked of the agenda: whether a line is short enough for its plants to be all that is asked about."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_SHORT_WORDS = 12  # design value


def read(said: Said) -> Iterator[Typed]:
    """brief: the plants named are what is asked about; a longer line tells of plants that are seen to already."""
    if len(said.text.split()) <= _SHORT_WORDS:
        yield Typed("brief", True)
