"""A plant's pruning seasons as dates at a place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from gardenmate.knowledge.woody import CuttingSeason, Woody
from gardenmate.records import dataclass
from gardenmate.topics.shared.woody_phase import WINTER_PHASES, Spring, spans

JUST_OVER_DAYS = 30  # design value: a season ended no longer ago still names this year's time
CYCLE_DAYS = 200  # design value: a season ended longer ago belongs to the cycle before


@dataclass(frozen=True, slots=True)
class Cut:
    """A pruning season laid out in dates; ``lesser`` when it is a smaller job or may not suit the place."""

    season: CuttingSeason
    start: date
    end: date
    lesser: bool = False

    def holds(self, day: date) -> bool:
        """True when ``day`` lies inside."""
        return self.start <= day <= self.end


@dataclass(frozen=True, slots=True)
class Around:
    """The seasons about a day: the one it falls in, the next main one, and the last main one of this cycle."""

    now: Cut | None
    coming: Cut | None
    gone: Cut | None


def bare_barred(plant: Woody, spring: Spring) -> bool:
    """True where the leafless plant is not cut: wet winters carry disease into its wounds."""
    return bool(spring.wet_winter and plant.limits.bare_in_wet_winter)


def seasons_here(plant: Woody, spring: Spring) -> tuple[CuttingSeason, ...]:
    """The pruning seasons that suit the place: wet winters rule some out, dry ones others."""
    barred = {True: "dry-winter", False: "wet-winter", None: ""}[spring.wet_winter]
    fitting = tuple(s for s in plant.seasons if not s.where or s.where != barred)
    return tuple(s for s in fitting if not (bare_barred(plant, spring) and s.phase in WINTER_PHASES))


def cuts(plant: Woody, spring: Spring) -> tuple[Cut, ...]:
    """Every pruning season from the last cycle to the next, in order of its start."""
    found = [
        Cut(season, start, end, season.lesser or (spring.wet_winter is None and season.where == "dry-winter"))
        for frame in (spring.shifted(-1), spring, spring.shifted(1))
        for season in seasons_here(plant, spring)
        for start, end in spans(plant, season, frame)
    ]
    return tuple(sorted(found, key=lambda c: c.start))


def around(every: Sequence[Cut], day: date) -> Around:
    """The seasons about ``day``; of two it falls in the main one."""
    inside = sorted((c for c in every if c.holds(day)), key=lambda c: (c.lesser, c.start))
    main = [c for c in every if not c.lesser]
    return Around(
        now=inside[0] if inside else None,
        coming=next((c for c in main if c.start > day), None),
        gone=next((c for c in reversed(main) if c.end < day and (day - c.end).days < CYCLE_DAYS), None),
    )


def year(every: Sequence[Cut], seasons: Sequence[CuttingSeason], day: date) -> tuple[Cut, ...]:
    """Each main season once: the one that is on or has just ended, else the next."""
    main = [c for c in every if not c.lesser and (day - c.end).days < JUST_OVER_DAYS]
    first = {c.season: c for c in reversed(main)}
    return tuple(first[s] for s in seasons if s in first)
