"""The types language works with: what one text alone says (Draft), and how it is read at last (Reading)."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from gardenmate.core.question import CropRef, Deed, Request, Slots
from gardenmate.core.units import Units
from gardenmate.language.intent.topics import Found, Heard, Ranked
from gardenmate.language.text.spans import Board
from gardenmate.records import NamedTuple


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
    spoken: tuple[CropRef, ...] = ()  # the plants of the turns before, the latest last


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
