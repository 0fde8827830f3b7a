"""A small world for the money, amount and agenda tests: places, an invented journal, questions by hand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from typing import Any

from gardenmate.climate.places import resolve_site
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.world import Decision, World
from gardenmate.garden.profile import NO_GARDEN, Garden
from gardenmate.knowledge.facts import Facts
from tests.topics.said import spoken

TODAY = date(2027, 4, 18)
FACTS = Facts()


@lru_cache(maxsize=8)
def _place(name: str) -> Any:
    return resolve_site(place=name, facts=FACTS)


def world_at(place: str | None = None, today: date = TODAY, garden: Garden = NO_GARDEN, **more: Any) -> World:
    """A world at a bundled place (or region), or nowhere."""
    found = _place(place) if place is not None else None
    return World(
        today=today,
        facts=FACTS,
        garden=garden,
        units=more.pop("units", "us"),
        site=found.site if found is not None else None,
        sites=found.sites if found is not None else (),
        region=found.region if found is not None else None,
        **more,
    )


def ask(topic: str, crops: Sequence[str] = (), cues: dict[str, str] | None = None, **slots: Any) -> Request:
    """A question by hand; a crop is "onion" or "onion:sets"."""
    refs = []
    for name in crops:
        base, _, kind = name.partition(":")
        refs.append(CropRef(base, kind or None))
    return spoken("asked", topic, tuple(refs), Slots(**slots), cues=cues or {})


class Book:
    """A journal in memory: (day, action, text, crops) and an optional count."""

    def __init__(self, *entries: tuple[Any, ...]) -> None:
        self.kept = [
            Decision(i, e[0], e[1], e[2], tuple(e[3]), e[4] if len(e) > 4 else None)
            for i, e in enumerate(entries, start=1)
        ]

    def latest(self, limit: int = 20) -> Sequence[Decision]:
        """The newest first."""
        return sorted(self.kept, key=lambda d: (d.on, d.id), reverse=True)[:limit]

    def search(
        self,
        *,
        crop: str | None = None,
        action: str | None = None,
        since: date | None = None,
        until: date | None = None,
        text: str | None = None,
        limit: int = 200,
    ) -> Sequence[Decision]:
        """Entries that fit every filter, newest first."""
        found = [
            d
            for d in self.kept
            if (crop is None or crop in d.crops)
            and (action is None or d.action == action)
            and (since is None or d.on >= since)
            and (until is None or d.on <= until)
            and (text is None or text in d.text)
        ]
        return sorted(found, key=lambda d: (d.on, d.id), reverse=True)[:limit]

    def would_undo(self, steps: int = 1) -> Sequence[Any]:
        """Nothing: this book is only read."""
        return ()[:steps]

    def would_redo(self) -> Decision | None:
        """Nothing: this book is only read."""
        return None
