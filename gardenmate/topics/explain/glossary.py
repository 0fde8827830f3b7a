"""Words of the trade, explained: what they mean, and what they are for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World


def explained(question: Request, world: World) -> Answer:
    """The meaning of the terms asked about, and what they are for where that is known."""
    table: Mapping[str, Any] = world.facts.table("glossary")["term"]
    entries = [table[str(t.value)] for t in question.all("term")]
    if len(entries) == 1 and question.has("asks", "reason"):
        first, rest = entries[0]["why"], (entries[0]["text"],)
    else:
        first = entries[0]["text"]
        rest = (*(e["text"] for e in entries[1:]), *(e["why"] for e in entries if "why" in e))
    return Answer(
        question=question,
        verdict=None,
        headline=first,
        details=tuple(rest),
        sources=tuple(dict.fromkeys(s for e in entries for s in e["sources"])),
    )
