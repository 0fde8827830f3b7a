"""What was asked: the one type that travels from language to rules.

Language fills a `Question`; rules read it. Nothing here knows agronomy or drawing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from datetime import date
from types import MappingProxyType
from typing import Any, NamedTuple

TOPICS: tuple[str, ...] = (
    "late-start",
    "early-start",
    "when-start",
    "harvest-date",
    "germination",
    "heat-and-light",
    "potting-up",
    "hardening-off",
    "frost",
    "cold-frame",
    "pruning",
    "propagation",
    "buy-or-sow",
    "how-many",
    "agenda",
    "garden",
    "log",
    "explain",
    "out-of-scope",
    "unclear",
)
SEASON_TOPICS = ("late-start", "early-start", "when-start", "harvest-date")

NO_CUES: Mapping[str, str] = MappingProxyType({})


class CropRef(NamedTuple):
    """A crop or plant as named: base id of the machine contract, and the kind when one was said.

    ``id`` is the contract's base name ("lettuce", "onion", "cherry"); ``kind`` narrows it ("leaf",
    "sets", "sweet"); ``typed`` is what stood in the text.
    """

    id: str
    kind: str | None = None
    typed: str = ""


class Temperature(NamedTuple):
    """One temperature as typed. ``unit`` is "F" or "C" (assumed from the garden's units if not typed).

    ``role``: outside | inside | low | high | soil | air | setting | None.
    """

    value: float
    unit: str
    role: str | None = None

    @property
    def celsius(self) -> float:
        """The value in degrees C."""
        return self.value if self.unit == "C" else (self.value - 32.0) / 1.8


@dataclass(frozen=True, slots=True)
class Slots:
    """Values found in the text, named as in the machine contract. Absent means not said.

    ``count`` is the quantity typed, whatever its unit. ``weeks`` and ``days`` are durations.
    ``temp_f`` / ``temp_c`` is the one temperature that governs; ``temps`` holds every one in order.
    """

    method: str | None = None  # indoors | outdoors | setout | starts
    date: date | None = None
    temp_f: float | None = None
    temp_c: float | None = None
    count: float | None = None
    people: int | None = None
    price: float | None = None
    weeks: float | None = None
    days: float | None = None
    days_to_maturity: int | None = None
    cultivar_class: str | None = None
    kind: str | None = None
    place: str | None = None
    plant_age_years: float | None = None
    when: str | None = None  # today | tonight | this week, only as typed
    temps: tuple[Temperature, ...] = ()

    def merged_over(self, older: Slots) -> Slots:
        """These slots, with what is missing filled from ``older``.

        A temperature said now replaces every older one: F and C, governing and listed, go together.
        """
        if older == NO_SLOTS:
            return self
        changes: dict[str, Any] = {}
        said_temperature = self.temp_f is not None or self.temp_c is not None
        for f in fields(self):
            if f.name in ("temp_f", "temp_c", "temps") and said_temperature:
                continue
            mine = getattr(self, f.name)
            theirs = getattr(older, f.name)
            if (mine is None or mine == ()) and theirs not in (None, ()):
                changes[f.name] = theirs
        return replace(self, **changes)

    @property
    def temperature_c(self) -> float | None:
        """The governing temperature in degrees C, however it was typed."""
        if self.temp_c is not None:
            return self.temp_c
        return None if self.temp_f is None else (self.temp_f - 32.0) / 1.8


NO_SLOTS = Slots()


class Sense(NamedTuple):
    """How a question wants to be answered: ``polar`` by yes or no; ``turned`` when the person's yes is the
    machine verdict's no ("will 15 F kill my garlic?", "is it too late?")."""

    polar: bool = False
    turned: bool = False


NO_SENSE = Sense()


@dataclass(frozen=True, slots=True)
class Question:
    """One question, understood.

    ``slots`` holds what this turn said; ``carried`` what earlier turns said and still applies; rules read
    ``ask`` (the two merged). ``cues`` are the other things the words said, as name -> value: the names and
    values are those of knowledge/language (cover=fleece, sky=clear, bud_stage=pink, asks=spacing ...).
    ``reading`` tells what was fuzzy-matched or filled in from context; ``assumptions`` what was assumed in
    reading it (a unit, a year). ``sense`` is how the words want to be answered.
    """

    text: str
    topic: str
    crops: tuple[CropRef, ...] = ()
    slots: Slots = field(default_factory=Slots)
    carried: Slots = field(default_factory=Slots)
    cues: Mapping[str, str] = field(default_factory=lambda: NO_CUES)
    reading: str | None = None
    assumptions: tuple[str, ...] = ()
    sense: Sense = NO_SENSE

    @property
    def ask(self) -> Slots:
        """Everything that applies: this turn's slots over the carried ones."""
        return self.slots.merged_over(self.carried)

    def cue(self, name: str) -> str | None:
        """The value of a cue, or None when it was not said."""
        return self.cues.get(name)
