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
from tests.topics.raising_bench import FakeJournal
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


class Book(FakeJournal):
    """A journal in memory: (day, action, text, crops) and an optional count."""

    def __init__(self, *entries: tuple[Any, ...]) -> None:
        super().__init__(
            *(
                Decision(i, e[0], e[1], e[2], tuple(e[3]), e[4] if len(e) > 4 else None)
                for i, e in enumerate(entries, start=1)
            )
        )
