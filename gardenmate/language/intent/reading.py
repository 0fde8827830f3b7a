"""The types language works with: what one text alone says (Draft), and how it is read at last (Reading)."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from gardenmate.core.question import CropRef, Deed, Part, Request, Slots
from gardenmate.core.units import Units
from gardenmate.language.intent.topics import NOTHING_SAID, Before, Found, Heard, Ranked
from gardenmate.language.text.spans import Board
from gardenmate.records import NamedTuple, replace


class Weather(NamedTuple):
    """Air temperatures (C) possible at a place about a day, and the unit a bare figure there is in when they leave it
    open; ``settled``: the grower has chosen that unit for good."""

    coldest_c: float
    warmest_c: float
    warmest_night_c: float
    units: Units
    settled: bool = False

    def holds(self, celsius: float, night: bool) -> bool:
        """True when the air may be as cold or warm as that, by night or at any hour."""
        return self.coldest_c <= celsius <= (self.warmest_night_c if night else self.warmest_c)


class Context(NamedTuple):
    """What a turn may lean on: the question before, the readings a clarifying question offered, what was told.

    ``varieties`` are the names told, with the crop of each; ``gardens`` the names of the gardens, in small letters;
    ``deeds`` what the turn before reported or planned. ``asked`` is what a question leans on behind an entry or a
    fact told, which are no question themselves.
    """

    previous: Request | None = None
    pending: tuple[Request, ...] = ()
    units: Units = "us"
    units_known: bool = False  # the garden, its place or the run settles them
    weather: Weather | None = None  # what is possible weather at the place about this day
    today: date = date.min
    varieties: Mapping[str, str] = MappingProxyType({})
    gardens: frozenset[str] = frozenset()
    deeds: tuple[Deed, ...] = ()
    asked: Request | None = None
    told: bool = False  # the turn before was no question
    lately: tuple[tuple[CropRef, ...], ...] = ()  # the plants turns before were about, the latest last
    listed: bool = False  # jobs were listed with their numbers
    before: Before = NOTHING_SAID  # what the words of the next turn are weighed with

    @property
    def said(self) -> Before:
        """What was said before; of a question before alone, its topic and plants."""
        last, both = ({ref.id for ref in self.plants(which)} for which in ("last", "both"))
        before = self.before
        if not before.pair and self.previous is not None:
            before = NOTHING_SAID.then(f"ask/{self.previous.topic}")
        return before._replace(crops=frozenset(last), earlier=frozenset(both - last))

    def plants(self, which: str) -> tuple[CropRef, ...]:
        """The plants a turn that names none is about: of the "last" turn that had any, of "both" that one and the one
        before it; none else."""
        if which == "none":
            return ()
        lately = self.lately or ((self.previous.crops,) if self.previous is not None else ())
        latest = {ref.id: ref for refs in lately[-2 if which == "both" else -1 :] for ref in refs}
        return tuple(latest.values())

    def behind(self, part: Part) -> Context:
        """The context of what is said next in the same line: it may lean on the plants of a deed told just before it,
        but not on its being an entry."""
        asks = part.act == "ask"
        return self._replace(
            previous=part.request if asks else replace(part.request, topic="unclear"),
            pending=(),
            lately=turned_to(self.lately, part.request.crops),
            before=self.said.then(
                f"{part.act}/{part.request.topic}",
                part.deed.action if part.deed is not None else None,
                (ref.id for ref in part.request.crops),
            ),
        )


def turned_to(
    lately: tuple[tuple[CropRef, ...], ...], crops: tuple[CropRef, ...]
) -> tuple[tuple[CropRef, ...], ...]:
    """The plants of the turns before and of one more: what is said of the same plants again adds nothing."""
    if not crops:
        return lately
    same = bool(lately) and {ref.id for ref in lately[-1]} == {ref.id for ref in crops}
    return (*(lately[:-1] if same else lately[-1:]), crops)


class Draft(NamedTuple):
    """What the words of one text say, conversation aside."""

    text: str
    board: Board
    found: Found
    heard: Heard
    ranked: list[Ranked]
    crops: tuple[CropRef, ...]
    slots: Slots
    cues: Mapping[str, str]
    reading: str | None


class Reading(NamedTuple):
    """How a text is read.

    ``question`` is the reading taken (topic "unclear" when two are too close or none holds); ``runner_up``
    the second; ``readings`` the two to choose from when they are ``close``; ``near`` three things that can be
    asked, close to what was typed, when nothing holds.
    """

    question: Request
    runner_up: Request | None
    ranked: tuple[Ranked, ...]
    readings: tuple[Request, ...] = ()
    near: tuple[str, ...] = ()

    @property
    def close(self) -> bool:
        """True when two readings are too close to choose between."""
        return bool(self.readings)
