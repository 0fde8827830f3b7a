"""The decision on fruit buds and blossom: how many this night kills, and whether the year's crop is in danger."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import Quantity, temperature
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import F_DEGREE
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple, dataclass
from gardenmate.topics.frost.buds import BudStage, fruits_of, killed_share, phase_of, stage_at, stages
from gardenmate.topics.frost.night import Night
from gardenmate.topics.shared.grammar import unique

CLEAR_C = 1.0 * F_DEGREE  # design value: this far above the first losses there is nothing to fear
_TENDER_C = 2.0 * F_DEGREE  # design value: this near half the shoots of tender kinds dead nothing is safe
_TOLERANCE_C = 2.0 * F_DEGREE  # design value: this far below a published tolerance the losses are heavy
_RANK: dict[Verdict, int] = {"no": 0, "tight": 1, "yes": 2}


class Buds(NamedTuple):
    """One fruit at its stage (None: no stage known). ``share`` is what is killed, 0-1, where that is published;
    ``verdict`` yes = safe, tight = some loss, no = the year's crop is in danger. Both are None without a low."""

    fruit: Mapping[str, Any]
    stage: BudStage | None
    share: float | None
    verdict: Verdict | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bloom(Finding):
    """Fruits on a night, or without one. ``phase`` is the stage named, ``missing`` the plants without a table,
    ``rabbiteye`` that this kind of blueberry was named."""

    buds: tuple[Buds, ...]
    phase: str | None
    night: Night | None
    missing: tuple[CropRef, ...]
    rabbiteye: bool

    @property
    def known(self) -> tuple[Buds, ...]:
        """Those whose stage is known."""
        return tuple(b for b in self.buds if b.stage is not None)


def decide_bloom(question: Request, world: World, refs: Sequence[CropRef], tonight: Night | None) -> Bloom:
    """What this night does to the buds of the fruits named; without a low, only their figures."""
    facts, phase = world.facts, phase_of(question)
    shoots = question.first("size", "shoots")
    low_c = tonight.low_c if tonight is not None else None
    buds = tuple(
        _buds(fruit, stage_at(fruit, phase, None if shoots is None else shoots.number), low_c, facts)
        for ref in refs
        for fruit in fruits_of(ref, facts)
    )
    judged: list[Verdict] = [b.verdict for b in buds if b.verdict is not None]
    notes = facts.table("bud_kill")["notes"]
    return Bloom(
        verdict=_worst(judged),
        figures=tuple(_figures([b for b in buds if b.stage is not None], low_c)),
        key=("killed_pct", "kill_10", "kill_90"),
        sources=unique(*(b.fruit["sources"] for b in buds), notes["sources"], ("common-practice",)),
        buds=buds,
        phase=phase,
        night=tonight,
        missing=tuple(r for r in refs if not fruits_of(r, facts)),
        rabbiteye=any(r.kind == "rabbiteye" for r in refs),
    )


def _worst(judged: Sequence[Verdict]) -> Verdict | None:
    ranked = sorted(judged, key=lambda verdict: _RANK[verdict])
    return ranked[0] if ranked else None


def _buds(fruit: Mapping[str, Any], stage: BudStage | None, low_c: float | None, facts: Facts) -> Buds:
    if stage is None or low_c is None:
        return Buds(fruit, stage, None, None)
    share = killed_share(stage, low_c)
    return Buds(fruit, stage, share, _verdict(stage, low_c, share, _spare(fruit, facts)))


def _spare(fruit: Mapping[str, Any], facts: Facts) -> float:
    """Share of buds that may die before the year's crop is in real danger."""
    usual = facts.table("protection")["blossom"]["crop_lost_from_share"]
    return float(fruit.get("crop_lost_from_share", usual))


def _verdict(stage: BudStage, low_c: float, share: float | None, spare: float) -> Verdict:
    assert stage.hurt_c is not None
    near_tender = stage.tender_half_c is not None and low_c < stage.tender_half_c + _TENDER_C
    if low_c >= stage.hurt_c + CLEAR_C:
        return "tight" if near_tender else "yes"
    if share is not None:
        return "no" if share >= spare else "tight"
    return "no" if heavy(stage, low_c) else "tight"


def heavy(stage: BudStage, low_c: float) -> bool:
    """True well below what is published as tolerated, where no kill figures are."""
    return stage.lost_c is not None and low_c < stage.lost_c - _TOLERANCE_C


def safe_stages(fruit: Mapping[str, Any], low_c: float) -> tuple[BudStage, ...]:
    """The stages of a fruit that come through a low."""
    return tuple(s for s in stages(fruit) if s.hurt_c is not None and low_c >= s.hurt_c + CLEAR_C)


def _figures(known: Sequence[Buds], low_c: float | None) -> list[Figure]:
    found = [Figure("low", temperature(low_c))] if low_c is not None else []
    for fruit, stage, share, _ in known:
        assert stage is not None
        crop = None if len(known) == 1 else str(fruit["id"])
        kill = stage.figures == "kill"
        if stage.hurt_c is not None:
            found.append(Figure("kill_10" if kill else "losses_begin", temperature(stage.hurt_c), crop))
        if stage.lost_c is not None and kill:
            found.append(Figure("kill_90", temperature(stage.lost_c), crop))
        if share is not None:
            found.append(Figure("killed_pct", Quantity(round(100 * share), "percent"), crop))
    return found
