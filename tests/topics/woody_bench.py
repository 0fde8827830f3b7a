"""Questions about woody plants built by hand, and worlds at bundled places."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import Any

from gardenmate.climate.places import Place, resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.units import Units
from gardenmate.core.world import World
from gardenmate.garden.profile import Garden, Plant
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.registry import rule_for
from tests.topics.said import spoken

FACTS = Facts()


@cache
def place(name: str) -> Place:
    """A bundled place by name."""
    return resolve_site(place=name, facts=FACTS)


def world(today: str, where: str | None = None, units: Units = "us", plants: tuple[Plant, ...] = ()) -> World:
    """The world on a day, at a bundled place or nowhere."""
    found = place(where) if where else None
    return World(
        today=date.fromisoformat(today),
        facts=FACTS,
        garden=Garden(plants=plants),
        units=units,
        site=found.site if found else None,
        sites=found.sites if found else (),
        region=found.region if found else None,
    )


def question(topic: str, *crops: str, cues: Mapping[str, str] | None = None, **slots: Any) -> Request:
    """A question on "apple" or "raspberry/fall"."""
    refs = tuple(CropRef(base, kind or None) for base, _, kind in (c.partition("/") for c in crops))
    return spoken("", topic, refs, Slots(**slots), cues=cues or {})


def ask(
    topic: str,
    *crops: str,
    today: str,
    where: str | None = None,
    units: Units = "us",
    plants: tuple[Plant, ...] = (),
    cues: Mapping[str, str] | None = None,
    **slots: Any,
) -> Answer:
    """The answer of the topic's rule."""
    asked = question(topic, *crops, cues=cues, **slots)
    return rule_for(topic).answer(asked, world(today, where, units, plants))


def number(answer: Answer, name: str) -> Any:
    """The value of the first number of a name."""
    return next(n.value for n in answer.numbers if n.name == name)


def said(answer: Answer) -> str:
    """Everything the answer says, as one text."""
    rows = tuple(cell for row in answer.table.rows for cell in row) if answer.table else ()
    parts = (answer.headline, *answer.details, *answer.steps, *answer.changes, *answer.cautions)
    return " ".join((*parts, *answer.assumptions, *rows))
