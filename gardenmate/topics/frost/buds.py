"""The published kill tables of fruit buds: their stages, and the share killed at a temperature."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import INCH_CM, f_to_c
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import bud_kills
from gardenmate.records import dataclass
from gardenmate.topics.shared.protection import stage_of

_STAGE_CUES = {"bloom": "bloom", "fruit": "fruit"}
# A stage a grower names, and the phases of the table that stand for it, nearest first.
_NEAREST = {
    "bud_swell": ("bud_swell",),
    "green_tip": ("green_tip", "bud_swell"),
    "tight_cluster": ("tight_cluster", "leafed_out", "green_tip"),
    "pink": ("pink", "tight_cluster"),
    "bloom": ("bloom", "leafed_out"),
    "petal_fall": ("petal_fall", "leafed_out"),
    "leafed_out": ("leafed_out", "petal_fall"),
    "fruit": ("fruit", "petal_fall", "leafed_out"),
}
_HALF = 0.5


@dataclass(frozen=True, slots=True)
class BudStage:
    """One row of a kill table, degrees C. ``hurt_c`` is where losses begin (10% of buds), ``lost_c`` where
    most are gone (90%); either may be unpublished. ``figures`` tells which kind of figure it is,
    ``shoots_cm`` how long green shoots are at that stage, where a grower goes by them; ``tender_half_c`` kills half
    of the shoots of its tenderest kinds."""

    id: str
    name: str
    phase: str
    hurt_c: float | None
    lost_c: float | None
    old_standard_c: float | None
    figures: str
    shoots_cm: tuple[float, float] | None = None
    tender_half_c: float | None = None


def has_table(ref: CropRef, facts: Facts) -> bool:
    """True when kill temperatures are published for this plant's buds."""
    return bool(fruits_of(ref, facts))


def phase_of(question: Request) -> str | None:
    """The bud stage the question names, as a phase of the kill tables; None when none was said."""
    said = question.cue("bud_stage") or _STAGE_CUES.get(stage_of(question) or "")
    return said or ("leafed_out" if question.first("size", "shoots") is not None else None)


def killed_share(stage: BudStage, temp_c: float) -> float | None:
    """Share of buds killed (0-1) by about half an hour at this temperature; None where none is published.

    A straight line between 10% and 90%, as the published tables are usually read; 0 and 1 beyond them stand
    for "less than 10%" and "more than 90%".
    """
    if stage.hurt_c is None or stage.lost_c is None or stage.figures != "kill":
        return None
    if temp_c > stage.hurt_c:
        return 0.0
    if temp_c < stage.lost_c:
        return 1.0
    if stage.hurt_c == stage.lost_c:
        return _HALF
    return 0.1 + 0.8 * (stage.hurt_c - temp_c) / (stage.hurt_c - stage.lost_c)


def fruits_of(ref: CropRef, facts: Facts) -> list[Mapping[str, Any]]:
    """The tables that fit a plant: both kinds when the kind was not said."""
    rows = list(bud_kills(facts, ref.id))
    exact = [f for f in rows if ref.kind and f.get("kind") == ref.kind]
    return exact or rows


def second_crop(fruit: Mapping[str, Any]) -> str:
    """What shoots from secondary buds still bear, as a sentence behind others."""
    least, most = fruit["second_crop"]
    usual = fruit["second_crop_usual"]
    return (
        f" Shoots from secondary buds can still bear {least} to {most}% of a crop (about {usual}% in hardy American "
        "kinds)."
    )


def stages(fruit: Mapping[str, Any]) -> list[BudStage]:
    """The rows of one fruit's table, in the order of the season."""
    return [_stage(row) for row in fruit["stage"]]


def _stage(row: Mapping[str, Any]) -> BudStage:
    def c(key: str) -> float | None:
        return f_to_c(row[key]) if key in row else None

    hurt_c, lost_c, figures = c("kill10_f"), c("kill90_f"), "kill"
    if hurt_c is None:
        figures = "tolerance"
        if "tolerates_f" in row:
            lost_c, hurt_c = (f_to_c(f) for f in row["tolerates_f"])
        else:
            hurt_c, lost_c = c("damage_begins_f"), c("economic_loss_below_f")
    shoots = row.get("shoots_in")
    long = (shoots[0] * INCH_CM, shoots[1] * INCH_CM) if shoots else None
    return BudStage(
        row["id"], row["names"][0], row["phase"], hurt_c, lost_c, c("old_standard_f"), figures, long,
        c("tender_kill50_f"),
    )  # fmt: skip


def stage_at(fruit: Mapping[str, Any], phase: str | None, shoots_cm: float | None = None) -> BudStage | None:
    """The row for the length of the shoots, else for a phase: the most tender of those that fit."""
    if phase is None:
        return None
    rows = stages(fruit)
    if shoots_cm is not None:
        by_length = [s for s in rows if s.shoots_cm and s.shoots_cm[0] < shoots_cm <= s.shoots_cm[1]]
        if by_length:
            return by_length[-1]
    for near in _NEAREST.get(phase, (phase,)):
        fitting = [s for s in rows if s.phase == near and s.hurt_c is not None]
        if fitting:
            return fitting[-1]
    return None
