"""Are these crops warm enough at this temperature inside: growing, alive but idle, or being hurt."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import temperature
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE, f_to_c
from gardenmate.core.world import World
from gardenmate.records import NamedTuple, dataclass, replace
from gardenmate.topics.frame.box import Readings
from gardenmate.topics.frame.facts import night_row
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import (
    Limits,
    limits,
    stage_of,
)
from gardenmate.topics.shared.raising import Named

_MARGIN_C = 0.9 * F_DEGREE  # design value: less above the hurt figure is no margin
_NEARLY_C = 0.3  # design value: this little under the published growing night still counts as it
_EDGE_C = 0.01  # C degrees of rounding
State = Literal["grows", "slow", "idle", "hurt"]
_VERDICT: dict[State, Verdict] = {"grows": "yes", "slow": "tight", "idle": "tight", "hurt": "no"}


class Comfort(NamedTuple):
    """One crop: nights it grows on from ``grows_c``, where it stops (``stops_c``), its limits, and how it fares."""

    named: Named
    grows_c: float
    stops_c: float
    limits: Limits
    state: State
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ComfortFinding(Finding):
    """How all of them fare inside; ``times_heat`` is how many times the present heat the most demanding takes."""

    inside_c: float | None
    outside_c: float | None
    each: tuple[Comfort, ...]
    times_heat: float | None = None

    @property
    def worst(self) -> Verdict:
        """The verdict on the one that fares worst."""
        found = {_VERDICT[one.state] for one in self.each}
        return "no" if "no" in found else ("tight" if "tight" in found else "yes")

    @property
    def held_c(self) -> float | None:
        """How much warmer than outside it is, C degrees; None when it is not, or one of them is not known."""
        if self.inside_c is None or self.outside_c is None or self.inside_c <= self.outside_c:
            return None
        return self.inside_c - self.outside_c


def decide_comfort(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> ComfortFinding:
    """How the crops fare at the temperature inside; without one, what each of them wants (the floor)."""
    inside = read.inside_c
    each = tuple(_one(named, question, world, inside) for named in crops)
    verdicts = {_VERDICT[one.state] for one in each}
    figures = [Figure("inside", temperature(inside))] if inside is not None else []
    for one in each:
        crop = None if len(each) == 1 else one.named.id
        figures.append(Figure("comfort_low", temperature(one.grows_c), crop))
        figures.append(Figure("stall_below", temperature(one.stops_c), crop))
        if inside is None:
            figures.append(Figure("hurt_below", temperature(one.limits.hurt_c), crop))
    found = ComfortFinding(
        verdict=verdicts.pop() if len(verdicts) == 1 and inside is not None else None,
        figures=tuple(figures),
        key=("comfort_low", "stall_below", "hurt_below"),
        sources=unique(*(one.sources for one in each), *(one.limits.sources for one in each)),
        inside_c=inside,
        outside_c=read.outside_c,
        each=each,
    )
    return _with_heat(found)


def _one(named: Named, question: Request, world: World, inside_c: float | None) -> Comfort:
    row, bound = night_row(world, named), limits(world.facts, named.crop, stage_of(question), world.units)
    grows_c, stall_c = f_to_c(row["comfort_f"][0]), f_to_c(row["stall_f"])
    state = "idle" if inside_c is None else _state(grows_c, stall_c, bound, inside_c)
    stops_c = max(stall_c, bound.hurt_c) if inside_c is None else stall_c
    return Comfort(named, grows_c, stops_c, bound, state, tuple(row["sources"]))


def _state(grows_c: float, stall_c: float, bound: Limits, inside_c: float) -> State:
    if inside_c >= grows_c - _NEARLY_C:
        return "grows"
    floor = max(bound.killed_c, min(bound.hurt_c, stall_c))
    if inside_c < floor + _EDGE_C and inside_c < bound.hurt_c + _MARGIN_C:
        return "hurt"
    return "slow" if inside_c >= stall_c - _EDGE_C else "idle"


def _with_heat(found: ComfortFinding) -> ComfortFinding:
    """The finding with what it would take for all of them to grow, where it is too cool and the heat is known."""
    held = found.held_c
    if held is None or found.worst == "yes" or found.outside_c is None:
        return found
    figures = (*found.figures, Figure("outside", temperature(found.outside_c)))
    goal = max(one.grows_c for one in found.each)
    return replace(found, figures=figures, times_heat=(goal - found.outside_c) / held)
