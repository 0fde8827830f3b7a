"""The ways a plant is propagated, and when each can be done at the place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from gardenmate.core.question import CropRef
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.marked import PLAIN, Manner
from gardenmate.knowledge.plants import section, ways_of
from gardenmate.records import dataclass
from gardenmate.topics.shared.woody_phase import Span, Spring, month_spans

_DORMANT_PHASES = ("dormant", "dormant-spring")
_ROOTED = ("suckers", "runners", "division", "offsets", "transplant", "tip-layering")
_ASKED = {
    "cuttings": ("hardwood", "softwood", "semi-ripe", "sideshoots", "slips", "root-cuttings"),
    "divide": ("division", "offsets", "transplant"),
    "move": ("transplant", "runners", "suckers", "division", "offsets"),
    "layer": ("layering", "tip-layering"),
    "suckers": ("suckers", "runners", "offsets"),
    "graft": ("grafting", "budding"),
}
GRAFTS = _ASKED["graft"]
_LIFTED = ("division", "transplant")
_ROOTING = timedelta(weeks=4)
_LATE_DAYS = 21  # days past its time a way is only late; design value
_BEFORE_GREEN_DAYS, _AFTER_GREEN_DAYS = 10, 28  # grafts take from bud swell of the stock on (common practice)
_LATE_WINTER = (2, 3)  # months of the north
_STRETCH_DAYS = 60  # days a late-winter way is stretched to green tip; design value
# Months of a way whose plant names none, northern; the phases not listed follow the plant's own year.
_MONTHS = {
    "late-summer": (7, 8, 9),
    "runners": (8, 9, 3, 4),
    "layering": (3, 4, 5, 6),
    "tip-layers": (8, 9, 3, 4),
    "autumn": (9, 10, 11),
    "growing": (5, 6, 7, 8, 9),
    "budding": (7, 8),
}


@dataclass(frozen=True, slots=True)
class Way:
    """One way of making new plants of one kind of plant; ``do`` is the job, before its name. Days and weeks are (low,
    high)."""

    method: str
    name: str
    do: str
    phase: str
    when: str
    steps: tuple[str, ...]
    roots_weeks: tuple[float, float]
    hold_days: tuple[float, float]
    hold: str
    mat: str
    mat_text: str
    note: str
    months: tuple[int, ...]
    sources: tuple[str, ...]

    @property
    def dormant(self) -> bool:
        """Done on the sleeping plant."""
        return self.phase in _DORMANT_PHASES

    @property
    def rooted(self) -> bool:
        """The piece has roots already, so that a week or two late is not lost."""
        return self.method in _ROOTED

    @classmethod
    def of(cls, method: str, table: Mapping[str, Any], way: Mapping[str, Any]) -> Way:
        """A way from its method's table and the plant's own entry."""
        roots, hold = table["roots_weeks"], table["hold_days"]
        return cls(
            method=method,
            name=table["name"],
            do=table["do"],
            phase=table["phase"],
            when=table["when"],
            steps=tuple(table["steps"]),
            roots_weeks=(float(roots[0]), float(roots[1])),
            hold_days=(float(hold[0]), float(hold[1])),
            hold=table["hold"],
            mat=table["mat"],
            mat_text=table["mat_text"],
            note=way["note"],
            months=tuple(way.get("months", ())),
            sources=tuple(dict.fromkeys((*way["sources"], *table["sources"]))),
        )


@dataclass(frozen=True, slots=True)
class Chance:
    """A span in which a way can be done; ``inside`` when the day asked about lies in it."""

    way: Way
    start: date
    end: date
    inside: bool

    def nearly(self, day: date, spread_days: int) -> bool:
        """The span opens no further off than its dates are known."""
        return timedelta(0) < self.start - day <= timedelta(days=spread_days)

    def just_over(self, day: date) -> bool:
        """The span before this one ended only a few weeks before ``day``."""
        before = self.end - timedelta(days=365)
        return timedelta(0) <= day - before <= timedelta(days=_LATE_DAYS)


def plant_ways(facts: Facts, base: str, kind: str | None = None, manner: Manner = PLAIN) -> tuple[Way, ...]:
    """The ways of a plant, best first; those of other kinds left out when the kind was said."""
    methods = facts.told("propagation", manner)["method"]
    ways = ways_of(facts, base, manner)
    fitting = [w for w in ways if not kind or not w.get("kinds") or kind in w["kinds"]]
    return tuple(Way.of(w["method"], methods[w["method"]], w) for w in fitting or ways)


def why_not(facts: Facts, base: str, manner: Manner = PLAIN) -> str:
    """Why a plant is not propagated at home; empty when it is, or when nothing is known."""
    entry = section(facts, base, "not_propagated", manner)
    return "" if entry is None else str(entry["why"])


def way_asked(asks: str | None, ways: Sequence[Way]) -> tuple[str, ...]:
    """Methods among ``ways`` that the word asked for means, nearest first; empty when it means none."""
    have = {w.method for w in ways}
    return tuple(method for method in _ASKED.get(asks or "", ()) if method in have)


def chances(ways: Sequence[Way], spring: Spring, green: date, today: date) -> tuple[Chance, ...]:
    """For each way the span today lies in, or the next; ``green`` is when the plant opens its buds."""
    found: list[Chance] = []
    for way in ways:
        spans = sorted(
            (s for years in (-1, 0, 1) for s in _spans(way, spring.shifted(years), _moved(green, years))),
        )
        start, end = next((s for s in spans if s[1] >= today), spans[-1])
        found.append(Chance(way, start, end, start <= today <= end))
    return tuple(found)


def _moved(day: date, years: int) -> date:
    return date(day.year + years, day.month, min(day.day, 28) if day.month == 2 else day.day)


def _spans(way: Way, spring: Spring, green: date) -> tuple[Span, ...]:
    """The dates of one way in one cycle."""
    leafless = spring.shifted(-1).leaf_fall + timedelta(days=21)
    if way.months:
        months = month_spans(way.months, way.phase, spring)
        return tuple(_awake_off(_rooting_off(s, way, spring), way, green) for s in months)
    if way.phase == "dormant":
        return ((leafless, green - timedelta(days=10)),)
    if way.phase == "dormant-spring":
        return ((leafless, green + timedelta(days=10)),)
    if way.phase == "softwood":
        return ((green + timedelta(days=42), green + timedelta(days=84)),)
    if way.phase == "grafting":
        return ((green - timedelta(days=_BEFORE_GREEN_DAYS), green + timedelta(days=_AFTER_GREEN_DAYS)),)
    if way.phase == "early-spring":
        return ((spring.green_tip - timedelta(days=28), spring.green_tip + timedelta(days=28)),)
    if way.phase == "slips":
        set_out = (spring.last_frost or spring.green_tip + timedelta(days=25)) + timedelta(days=14)
        return ((set_out - timedelta(weeks=8), set_out + timedelta(weeks=5)),)
    return month_spans(_MONTHS[way.phase], way.phase, spring)


def _rooting_off(span: Span, way: Way, spring: Spring) -> Span:
    """Clumps split or moved in autumn must root before the ground freezes: none later than four weeks after
    leaf fall."""
    if way.method not in _LIFTED:
        return span
    for years in (-1, 0):
        end = spring.shifted(years).leaf_fall + _ROOTING
        if span[0] < end < span[1]:
            return span[0], end
    return span


def _awake_off(span: Span, way: Way, green: date) -> Span:
    """Cuttings of the dormant plant end as its buds open, whatever the month: earlier, or, where the months
    run up to it, a little later."""
    if not way.dormant or way.rooted or green <= span[0]:
        return span
    if green < span[1] or (
        way.months[-1] in _LATE_WINTER and green - span[1] < timedelta(days=_STRETCH_DAYS)
    ):
        return span[0], green
    return span


@dataclass(frozen=True, slots=True)
class Subject:
    """One plant asked about: what to call it and several of it, its ways with their dates, why not at home."""

    ref: CropRef
    name: str
    many: str
    ways: tuple[Way, ...]
    chances: tuple[Chance, ...]
    no: str

    @property
    def best(self) -> Chance:
        """The best way that can be done now, else the one that comes first."""
        now = [c for c in self.chances if c.inside]
        return now[0] if now else min(self.chances, key=lambda c: c.start)


def chances_once(found: tuple[Chance, ...]) -> tuple[Chance, ...]:
    """One chance for each way: the one that is on, else the first to come."""
    first: dict[str, Chance] = {}
    for chance in sorted(found, key=lambda c: (not c.inside, c.start)):
        first.setdefault(chance.way.method, chance)
    return tuple(first.values())


def all_ways(facts: Facts, manner: Manner = PLAIN) -> tuple[Way, ...]:
    """Every way there is, without a plant."""
    return tuple(
        Way.of(name, table, {"note": "", "sources": table["sources"]})
        for name, table in facts.told("propagation", manner)["method"].items()
    )
