"""The frosts and mornings' readings the journal tells of, for the garden they were told at."""

from __future__ import annotations

from typing import cast

from gardenmate.core.place import Called, FrostSeen
from gardenmate.core.world import Decision, JournalView
from gardenmate.knowledge.deeds import FROST

MOST = 5000  # entries looked through; design value


def frosts_told(journal: JournalView | None, town: str | None) -> tuple[FrostSeen, ...]:
    """Every frost and reading told of the main garden, oldest first. Those noted while the garden stood in another
    town than ``town`` (its label or name; None: not known) are left out."""
    if journal is None:
        return ()
    found = [
        _seen(entry)
        for entry in journal.search(action=FROST, limit=MOST)
        if not entry.detail.get("garden") and _there(entry.place, town)
    ]
    return tuple(sorted(found, key=lambda seen: (seen.on, seen.entry)))


def _there(noted_at: str, town: str | None) -> bool:
    if not noted_at or town is None:
        return True
    return noted_at.partition(",")[0].casefold() == town.partition(",")[0].casefold()


def _seen(entry: Decision) -> FrostSeen:
    called = entry.detail.get("called")
    return FrostSeen(
        entry.on, entry.temp_c, cast(Called, called) if called in ("last", "first") else None, entry.id
    )
