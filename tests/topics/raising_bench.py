"""Questions built by hand, a world without a place, and a small journal, for the raising tests."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import cos, pi

from gardenmate.climate.freezes import (
    Freeze,
    FreezeDate,
)
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Slots, Temperature
from gardenmate.core.units import Units
from gardenmate.core.world import Decision, Rewind, World
from gardenmate.garden.profile import NO_GARDEN, Garden
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.registry import rule_for
from tests.topics.said import spoken

TODAY = date(2027, 4, 18)
FACTS = Facts()
OWN_CUE = {
    "germination": "germinating",
    "heat-and-light": "lighting",
    "potting-up": "potting",
    "hardening-off": "hardening",
}


class FakeJournal:
    """Decisions in memory, newest first."""

    def __init__(self, *decisions: Decision) -> None:
        self.kept = list(decisions)

    def latest(self, limit: int = 20) -> Sequence[Decision]:
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
        return [
            d
            for d in self.latest(len(self.kept))
            if (crop is None or crop in d.crops)
            and (action is None or d.action == action)
            and (since is None or d.on >= since)
            and (until is None or d.on <= until)
            and (text is None or text in d.text)
        ][:limit]

    def would_undo(self, steps: int = 1) -> Sequence[Rewind]:
        return ()[:steps]

    def would_redo(self) -> Decision | None:
        return None


def refs(*ids: str) -> tuple[CropRef, ...]:
    """Crop references from "lettuce" or "lettuce/head"."""
    made = []
    for each in ids:
        base, _, kind = each.partition("/")
        made.append(CropRef(base, kind or None, base))
    return tuple(made)


def ask(
    topic: str,
    *crops: str,
    world: World | None = None,
    text: str = "",
    f: float | None = None,
    c: float | None = None,
    role: str | None = None,
    cues: dict[str, str] | None = None,
    **slots: object,
) -> Answer:
    """The answer to a question built by hand; ``f`` / ``c`` is its temperature.

    The cue ``asks`` stands for the topic's own cue where it has one.
    """
    if f is not None or c is not None:
        value, unit = (f, "F") if f is not None else (c, "C")
        assert value is not None
        slots = {"temps": (Temperature(value, unit, role),), "temp_f": f, "temp_c": c, **slots}
    cues = {
        OWN_CUE.get(topic, "asks") if name == "asks" else name: value for name, value in (cues or {}).items()
    }
    question = spoken(text, topic, refs(*crops), Slots(**slots), cues=cues)  # type: ignore[arg-type]
    return rule_for(topic).answer(question, world or bare_world())


def bare_world(
    *,
    units: Units = "us",
    journal: FakeJournal | None = None,
    garden: Garden = NO_GARDEN,
    today: date = TODAY,
    site: Site | None = None,
) -> World:
    """A world without a place, unless one is given."""
    return World(today=today, facts=FACTS, garden=garden, units=units, journal=journal, site=site)


def continental_site() -> Site:
    """An invented place with cold winters and warm summers: means -10 C in January, 21 C in July."""
    mean = [5.5 - 15.5 * cos(2 * pi * (i - 15) / 366) for i in range(366)]
    freezes = {
        f: Freeze(FreezeDate(spring, 11, "published"), FreezeDate(autumn, 11, "published"))
        for f, spring, autumn in ((36, 132, 243), (32, 120, 255), (28, 108, 268))
    }
    return Site(
        name="Bracken Hollow",
        region="",
        country="Nowhere",
        lat=45.0,
        lon=-90.0,
        elev_m=300.0,
        normal_min_c=tuple(m - 6 for m in mean),
        normal_max_c=tuple(m + 6 for m in mean),
        monthly_min_c=tuple(mean[15 + 30 * k] - 6 for k in range(12)),
        monthly_max_c=tuple(mean[15 + 30 * k] + 6 for k in range(12)),
        regime="seasonal",
        freezes=freezes,
        basis="own",
    )


def number(answer: Answer, name: str) -> object:
    """The value of a named number of an answer."""
    return next(n.value for n in answer.numbers if n.name == name)
