"""Everything an answer is computed from, passed in: day, place, garden, facts, journal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Protocol

from gardenmate.core.units import Units
from gardenmate.records import NamedTuple, dataclass, field

if TYPE_CHECKING:
    from gardenmate.climate.site import Site
    from gardenmate.core.answer import Answer, JobRef
    from gardenmate.garden.profile import Garden
    from gardenmate.knowledge.facts import Facts


@dataclass(frozen=True, slots=True)
class Decision:
    """One line of the journal as rules see it (see gardenmate.journal for how it is kept). ``detail`` holds what else
    was told: variety, unit of the count, where, garden, which, of (the deed planned), job, until ..."""

    id: int
    on: date
    action: str
    text: str
    crops: tuple[str, ...] = ()
    count: float | None = None
    place: str = ""
    temp_c: float | None = None
    question: str = ""
    verdict: str | None = None
    detail: Mapping[str, str] = field(default_factory=dict, hash=False)


class Rewind(NamedTuple):
    """One step an undo would take: the decision as it stands and as it would stand (None: not at all)."""

    before: Decision
    after: Decision | None


class JournalView(Protocol):
    """What rules may read of the journal."""

    def latest(self, limit: int = 20) -> Sequence[Decision]:
        """The newest standing decisions, newest first."""
        ...

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
        """Standing decisions that fit every given filter, newest first."""
        ...

    def entry(self, number: int) -> Decision | None:
        """The standing decision of that number, None when there is none."""
        ...

    def would_undo(self, steps: int = 1) -> Sequence[Rewind]:
        """What the next ``steps`` undos would take back, in order; shorter when there is less."""
        ...

    def would_redo(self) -> Decision | None:
        """The decision the next redo would put back, None when nothing was taken back."""
        ...


@dataclass(frozen=True, slots=True)
class World:
    """The world one question is answered in. ``site`` is None while the garden's place is unknown.

    ``sites`` holds the bundled places of a region when a whole region was asked about ("Minnesota").
    ``previous`` is the answer before this question, which `explain` speaks of; ``listed`` are the jobs of the list
    shown last. ``home`` is the garden's own place while the
    question is about another one, None otherwise. ``keeps`` is False where neither garden nor journal is stored.
    """

    today: date
    facts: Facts
    garden: Garden
    units: Units
    site: Site | None = None
    sites: tuple[Site, ...] = ()
    supposed: Answer | None = None  # the "what if" worked last about ``previous``: "why" then means it
    region: str | None = None
    journal: JournalView | None = None
    previous: Answer | None = None
    home: Site | None = None
    listed: tuple[JobRef, ...] = ()
    keeps: bool = True
