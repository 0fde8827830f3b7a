"""What one line says: the types that travel from language to the topics.

A `Turn` is one line, read once. It has one `Part` for each thing said; a part is one act: a question (its
`Request`), a fact told, a `Deed` reported or planned, a `Command`. Everything typed is a `Typed`. Nothing here
knows agronomy or drawing, and nothing behind language looks at the text.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Any, Literal

from gardenmate.records import NamedTuple, dataclass, field, fields, replace

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
Act = Literal["ask", "tell", "report", "plan", "correct", "manage", "talk"]
"""What the words do. ask: a question. tell: a fact of the garden. report: a deed done or seen, with its day.
plan: decide, postpone, remind, drop, bring back. correct: undo, amend. manage: show, list, export, help, leave.
talk: hello, thanks, gibberish."""

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


class Vessel(NamedTuple):
    """What plants stand in, by its size as typed. ``unit``: cells (of the tray), in, cm, l or gal."""

    size: float
    unit: str


class Typed(NamedTuple):
    """One thing typed: its value, and where it stands.

    ``kind`` names what it is (temperature, count, percent, price, size, span, date, stage, gear, variety, place,
    asks, ...), ``value`` the number, date, truth or word (an id, never a phrase of the text), ``unit`` "F", "C",
    "in", "cm", "days", "weeks", "%", ... or "" (of a stretch of days, "in May": its last day), ``role`` what it is
    of (low, inside, spacing, shoots, had, lacking, ...). ``text`` is the wording, ``start`` and ``end`` its
    characters in the line. ``told`` is True for
    what stands in the story around a question, not in the question itself.
    """

    kind: str
    value: float | int | str | date | bool
    unit: str = ""
    role: str | None = None
    text: str = ""
    start: int = 0
    end: int = 0
    told: bool = False

    @property
    def number(self) -> float:
        """The value of a kind that holds numbers. Raises TypeError for one that holds none."""
        if isinstance(self.value, int | float):
            return float(self.value)
        raise TypeError(f"{self.kind} holds no number: {self.value!r}")

    @property
    def days(self) -> tuple[date, date] | None:
        """First and last day of a date, one and the same of a single day; None of another kind."""
        if not isinstance(self.value, date):
            return None
        return self.value, date.fromisoformat(
            self.unit
        ) if self.role == "stretch" and self.unit else self.value


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
    percent: float | None = None
    cultivar_class: str | None = None
    kind: str | None = None
    place: str | None = None
    place_within: str | None = None  # the region typed beside the place; not in the JSON
    height_m: float | None = None  # how high the garden lies, told with the question; not in the JSON
    container: Vessel | None = None  # the cells or pots spoken of; not in the JSON
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
            if f.name in ("place_within", "height_m") and self.place is not None:
                continue  # those of another place
            mine = getattr(self, f.name)
            theirs = getattr(older, f.name)
            if (mine is None or mine == ()) and theirs not in (None, ()):
                changes[f.name] = theirs
        return replace(self, **changes)

    @property
    def full_place(self) -> str | None:
        """The place with the region typed beside it: "Gunnison, CO"."""
        if self.place is None or self.place_within is None:
            return self.place
        return f"{self.place}, {self.place_within}"

    @property
    def temperature_c(self) -> float | None:
        """The governing temperature in degrees C, however it was typed."""
        if self.temp_c is not None:
            return self.temp_c
        return None if self.temp_f is None else (self.temp_f - 32.0) / 1.8


NO_SLOTS = Slots()


class Sense(NamedTuple):
    """How a question wants to be answered: ``polar`` by yes or no; ``turned`` when the person's yes is the
    machine verdict's no ("will 15 F kill my garlic?", "is it too late?"); ``figure``: it opens by asking for a time or
    a measure ("how deep", "when")."""

    polar: bool = False
    turned: bool = False
    figure: bool = False


NO_SENSE = Sense()


@dataclass(frozen=True, slots=True)
class Request:
    """One question, understood.

    ``slots`` holds what this turn said and bears on the answer, ``stated`` everything its words state (see
    `as_stated`); ``carried`` what earlier turns said and still applies; rules read
    ``ask`` (the two merged). ``cues`` are the other things the words said, as name -> value: the names and
    values are those of knowledge/language (cover=fleece, sky=clear, bud_stage=pink, asks=spacing ...).
    ``reading`` tells what was fuzzy-matched or filled in from context; ``assumptions`` what was assumed in
    reading it (a unit, a year). ``sense`` is how the words want to be answered, ``aspect`` what is wanted inside
    the topic (spacing, gain of a cover ...), ``typed`` everything typed, in order.
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
    aspect: str | None = None
    typed: tuple[Typed, ...] = ()
    stated: Slots | None = None

    @property
    def as_stated(self) -> Slots:
        """The slots of the machine contract: every value the words state, wherever they state it."""
        return self.slots if self.stated is None else self.stated

    @property
    def ask(self) -> Slots:
        """Everything that applies: this turn's slots over the carried ones."""
        return self.slots.merged_over(self.carried)

    @property
    def quoted(self) -> str:
        """The question between quotes, to say which one is meant: rules quote it, and never read it."""
        return f"'{self.text.strip()}'"

    def cue(self, name: str) -> str | None:
        """The value of a cue, or None when it was not said."""
        return self.cues.get(name)

    def in_story(self, value: Typed) -> bool:
        """True for what only belongs to the story around the question: told so, or the stretch its day lies in ("lost
        the lot to a June frost")."""
        story, days = self.cue("told_on"), value.days
        return value.told or (
            story is not None and days is not None and days[0] <= date.fromisoformat(story) <= days[1]
        )

    def has(self, kind: str, value: object = None) -> bool:
        """True when something of this kind (and, if given, of this value) was typed."""
        return any(t.kind == kind and (value is None or t.value == value) for t in self.typed)

    def first(self, kind: str, role: str | None = None) -> Typed | None:
        """The first thing of this kind (and role, if given) typed, None when there is none."""
        return next((t for t in self.typed if t.kind == kind and role in (None, t.role)), None)

    def all(self, kind: str, role: str | None = None) -> tuple[Typed, ...]:
        """Everything of this kind (and role, if given) typed, in order."""
        return tuple(t for t in self.typed if t.kind == kind and role in (None, t.role))


class Target(NamedTuple):
    """What a correction or a command points at: numbers of the list shown, crops, a day, the newest, or words."""

    numbers: tuple[int, ...] = ()
    crops: tuple[CropRef, ...] = ()
    on: date | None = None
    newest: bool = False
    words: str = ""


NO_TARGET = Target()


@dataclass(frozen=True, slots=True)
class Deed:
    """Something done, seen or planned.

    ``action`` is an id of knowledge/deeds.toml (sow, up, pot-up, set-out, harden, prune, harvest, buy, lost,
    decide, postpone, remind, drop, return, note ...); ``count`` is in ``unit`` (plants, cells, rows, ...; "" when
    bare); ``where`` a bed, tray or part of the garden in the grower's words; ``on`` its day (of a plan: the day
    it is for, None when open); ``text`` the entry in the grower's own words. ``job`` numbers the job of the
    list it settles. Of a plan ``of`` is the deed planned ("sow"), None when it is not said. ``days`` are the days
    to maturity told of the variety, ``which`` the lot meant of several (1: the first sown); ``later`` the days a job is
    put off by, where no day is told: "leave it a week". ``supposed``: its words name no deed, but speak for it.
    """

    action: str
    text: str
    crops: tuple[CropRef, ...] = ()
    variety: str | None = None
    count: float | None = None
    unit: str = ""
    where: str | None = None
    on: date | None = None
    job: int | None = None
    of: str | None = None
    days: int | None = None
    which: int | None = None
    later: int | None = None
    supposed: bool = False


class Command(NamedTuple):
    """A correction or a command: ``verb`` (undo, redo, amend, delete, show, list, export, print, backup, help,
    more, why, sources, leave ...), what it points at, and ``noun`` what is to be shown (plantings, beds, jobs,
    varieties, garden, log, seeds, place, reading ...)."""

    verb: str
    noun: str = ""
    target: Target = NO_TARGET


@dataclass(frozen=True, slots=True)
class Part:
    """One thing said. ``request`` holds topic, crops and values of every act; ``deed`` is there for report and
    plan (``further``: what else was done, told in the same breath), ``command`` for correct and manage. ``text`` is
    the part of the line it stands in. ``otherwise`` is what else a turn that leans on the one before may ask: it is
    taken where the first reading would only give the answer before again. ``readings`` are two it may be, put to the
    grower to choose from."""

    act: Act
    request: Request
    deed: Deed | None = None
    command: Command | None = None
    text: str = ""
    further: tuple[Deed, ...] = ()
    otherwise: Request | None = None
    readings: tuple[Request, ...] = ()

    @property
    def deeds(self) -> tuple[Deed, ...]:
        """Everything reported or planned in this part, in the order told."""
        return () if self.deed is None else (self.deed, *self.further)


class Turn(NamedTuple):
    """One line, read once: its parts in the order typed, and why each was read so, a line per decision."""

    text: str
    parts: tuple[Part, ...]
    trace: tuple[str, ...] = ()
