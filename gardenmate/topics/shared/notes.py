"""Short answers of knowledge/notes.toml to what growers ask and no rule works out."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World


def note(question: Request, world: World) -> Answer | None:
    """The note asked for, None when none was."""
    asked = question.first("note")
    if asked is None:
        return None
    entry = world.facts.table("notes")[str(asked.value)]
    return Answer(
        question=question,
        verdict=entry.get("verdict"),
        headline=entry["headline"],
        details=tuple(entry["details"]),
        sources=tuple(entry["sources"]),
        working=(entry["headline"], *entry["details"]),
    )
