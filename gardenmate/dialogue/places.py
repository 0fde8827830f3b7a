"""Which place a turn is about: the one it names, the command line's, or that of the garden meant."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Protocol

from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Answer
from gardenmate.core.errors import AmbiguousPlaceError, DamagedFileError, NeedPlaceError, UsageError
from gardenmate.core.question import Request
from gardenmate.dialogue.rephrased import same_name
from gardenmate.garden.profile import Garden, OtherGarden
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.reader import line_of
from gardenmate.plantings.own_frosts import frosts_told
from gardenmate.records import NamedTuple, dataclass, field, replace

if TYPE_CHECKING:
    from gardenmate.climate.history import History
    from gardenmate.climate.places import Place
    from gardenmate.climate.site import Site
    from gardenmate.core.place import FrostSeen
    from gardenmate.garden.store import GardenFile
    from gardenmate.journal.store import Journal

MOST_PLACES = 100  # places kept for the next question
_OWN = "own garden|"  # how the garden's own place is kept, beside those named in questions
NEEDS_NO_PLACE = frozenset({"garden", "log", "explain", "out-of-scope", "unclear"})


class PlaceOptions(NamedTuple):
    """Where the answer is for, as given on the command line; everything may be missing."""

    place: str | None = None
    lat: float | None = None
    lon: float | None = None
    elevation_m: float | None = None
    last_frost: tuple[int, int] | None = None
    first_frost: tuple[int, int] | None = None

    @property
    def given(self) -> bool:
        """True when the command line says anything about the place."""
        return any(v is not None for v in (self.place, self.lat, self.last_frost, self.first_frost))


class PlaceSource(Protocol):
    """What places are looked up from: the facts, the command line's options, the garden and its file,
    the journal and the day."""

    facts: Facts
    options: PlaceOptions
    garden_file: GardenFile | None
    journal: Journal | None

    @property
    def clock(self) -> Callable[[], date]:
        """What tells the day."""
        ...

    @property
    def garden(self) -> Garden:
        """The garden as it stands now."""
        ...


@dataclass(slots=True, eq=False, repr=False)
class Places:
    """The places of one conversation, looked up once each."""

    source: PlaceSource
    _found: dict[str, Place] = field(default_factory=dict)

    def known(self, height_m: float | None = None) -> Place | None:
        """The garden's place; None while it is unknown or its name is in doubt, which the answer tells."""
        try:
            return self.place(None, height_m)
        except (AmbiguousPlaceError, UsageError):
            return None

    def place(
        self, named: str | None = None, height_m: float | None = None, own: Garden | None = None
    ) -> Place | None:
        """The place that holds, at another height (m) where one was told; ``own`` is another of the grower's gardens.
        None when none is known. Raises AmbiguousPlaceError, UsageError."""
        key = named or f"{_OWN}{own or self.source.garden}"
        if height_m is not None:
            key = f"{key}|{height_m:g} m"
        if key not in self._found:
            found = self._resolve(named, height_m, own)
            if found is None:
                return None
            if len(self._found) >= MOST_PLACES:
                self._found.clear()
            self._found[key] = found
        return self._found[key]

    def _resolve(self, named: str | None, height_m: float | None, own: Garden | None) -> Place | None:
        options = self.source.options
        try:
            if own is not None:
                return resolve_site(garden=own, facts=self.source.facts)
            if named:
                return resolve_site(place=named, elevation_m=height_m, facts=self.source.facts)
            return resolve_site(
                place=options.place,
                lat=options.lat,
                lon=options.lon,
                elevation_m=height_m if height_m is not None else options.elevation_m,
                last_frost=options.last_frost,
                first_frost=options.first_frost,
                garden=own or (None if options.given else self.source.garden),
                facts=self.source.facts,
                history=None if options.given else self._history(),
                seen=() if options.given else self._frosts_told(),
                today=self.source.clock(),
            )
        except NeedPlaceError:
            return None

    def _frosts_told(self) -> tuple[FrostSeen, ...]:
        """The garden's own frosts; none while the journal cannot be read, which whoever lists or writes it tells."""
        try:
            return frosts_told(self.source.journal, self.source.garden.place)
        except DamagedFileError:
            return ()

    def _history(self) -> History | None:
        """The garden's imported weather record, None when there is none."""
        if self.source.garden_file is None:
            return None
        # start-up seam: only for a record imported, or own dates
        from gardenmate.climate.history_store import load, weather_path

        return load(weather_path(self.source.garden_file.path))

    def forget_own(self) -> None:
        """The garden has changed: its place is looked up anew; those of other questions stay."""
        self._found = {key: place for key, place in self._found.items() if not key.startswith(_OWN)}

    def of(self, question: Request | None) -> Place | None:
        """The place a question is about. That the garden's own is in doubt never stops a turn: it is None then.
        Raises AmbiguousPlaceError, UsageError for a place the question names."""
        named, height_m = self.named(question), _height_told(question)
        if named is not None:
            return self.place(named, height_m)
        other = self.other(question)
        if other is None:
            return self.known(height_m)
        own = replace(
            self.source.garden,
            place=other.place or self.source.garden.place,
            lat=None,
            lon=None,
            elevation_m=other.elevation_m,
            last_frost=other.last_frost,
            first_frost=other.first_frost,
            low_spot_c=0.0,
        )
        return self.place(own=own)

    def named(self, question: Request | None) -> str | None:
        """The other place a question is about: None for the garden's own, whose own dates hold, and for a
        statement about the garden, which names a place to store instead."""
        if question is None:
            return None
        if question.topic == "garden" and (question.slots.place is None or question.has("act", "tell")):
            return None
        said = question.ask
        named = said.full_place
        if (
            named is None
            or said.place is None
            or self.source.options.given
            or not same_name(said.place, self.source.garden)
        ):
            return named
        if same_name(named, self.source.garden):
            return None
        both = (self.known(), self.place(named))  # "Gunnison, Colorado" where "Gunnison, CO" is kept
        labels = [p.site.label for p in both if p is not None and p.site is not None]
        return None if len(labels) == 2 and labels[0] == labels[1] else named

    def other(self, question: Request | None) -> OtherGarden | None:
        """The other garden a question names ("at camp"); None for the main one."""
        typed = question.first("garden") if question is not None and not question.has("act", "tell") else None
        names = {g.name.casefold(): g for g in self.source.garden.gardens.values()}
        return names.get(str(typed.value).casefold()) if typed is not None else None

    def home(self, question: Request | None) -> Site | None:
        """The garden's own place while a question is about another, to be compared with it."""
        away = self.named(question) is not None or self.other(question) is not None
        own = self.known() if away else None
        return own.site if own is not None else None

    def with_own_frost(self, place: Place | None, question: Request | None) -> Place | None:
        """The place with the grower's own frost dates a question tells ("my last frost is May 12, ...")."""
        told = {
            role: question.cue(f"own_{role}_frost") if question is not None else None
            for role in ("last", "first")
        }
        if question is None or question.topic in ("garden", "log") or not any(told.values()):
            return place
        last, first = (
            (int(day[:2]), int(day[3:])) if (day := told[role]) else None for role in ("last", "first")
        )
        if place is None:
            return resolve_site(last_frost=last, first_frost=first, facts=self.source.facts)
        if place.site is None:
            return place
        # start-up seam: only for a record imported, or own dates
        from gardenmate.climate.adjust import with_own_dates

        return place._replace(site=with_own_dates(place.site, last, first, self.source.facts))

    def country(self, question: Request) -> str | None:
        """The country of the place a question is about, None while that is not known."""
        try:
            place = self.place(self.named(question))
        except (AmbiguousPlaceError, UsageError):
            return None
        sites = () if place is None else (place.site,) if place.site is not None else place.sites
        return sites[0].country if sites else None

    def doubt(self, question: Request, error: UsageError) -> tuple[str, ...]:
        """Where the garden's own place or dates stand that are in doubt, and how to put them right."""
        file = self.source.garden_file
        if file is None or self.source.options.given or self.named(question) is not None:
            return ()
        line = line_of(file.path, error.key.rpartition(".")[2]) if error.key else 0
        where = f"{file.path}, line {line}" if line else str(file.path)
        return (f"That is what your garden file says ({where}). Tell me again, or say 'undo'.",)

    def problem(self) -> str | None:
        """Why the place kept for the garden cannot be used; None when it can, or none is kept."""
        try:
            self.place()
        except UsageError as error:
            return str(error)
        return None

    def with_reading(self, answer: Answer, question: Request) -> Answer:
        """The answer, saying how the place's name was read when it was not typed exactly."""
        named = self.named(question)
        if named is None and not self.source.options.given:
            return answer  # the garden's own place was told once, when it was kept
        place = self.place(named)
        if place is None or place.reading is None or place.reading == answer.reading:
            return answer
        return replace(answer, place_reading=place.reading)


def _height_told(question: Request | None) -> float | None:
    """How high the garden of one question lies (m); a statement about the garden is kept instead."""
    if question is None or (question.topic in NEEDS_NO_PLACE and question.topic != "garden"):
        return None
    return None if question.has("act", "tell") else question.ask.height_m
