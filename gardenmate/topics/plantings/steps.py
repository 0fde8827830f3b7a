"""The next step of a batch and its day, from the crop's figures and the season at the garden."""

from __future__ import annotations

from datetime import date

from gardenmate.core.question import CropRef
from gardenmate.core.world import World
from gardenmate.plantings.batches import Batch
from gardenmate.records import dataclass
from gardenmate.topics.agenda.batches import days_of, is_outdoors
from gardenmate.topics.season.season_dates import one_site


@dataclass(frozen=True, slots=True)
class Step:
    """What comes next for a batch, and when (None: not known)."""

    do: str
    on: date | None


def next_step(batch: Batch, world: World) -> Step | None:
    """The next step of a living batch; None when nothing is left to do or its crop has no figures."""
    crop = world.facts.crop_for(CropRef(batch.crop, batch.kind))
    if crop is None or not batch.alive:
        return None
    site, _ = one_site(world)
    days = days_of(batch, crop, site, world)
    outdoors = is_outdoors(batch, crop, world)
    if batch.stage == "picking":
        return Step("keep picking", None)
    if batch.stage == "sown":
        return Step("come up", days.up)
    if batch.stage == "out" or outdoors:
        return Step("first picking", days.first_pick)
    if days.pot_up is not None and batch.stage == "up":
        return Step("pot up", days.pot_up[0])
    if batch.stage == "hardening":
        return Step("set out", days.set_out)
    if days.harden is not None:
        return Step("harden off", max(days.harden, batch.since))
    return Step("set out", days.set_out) if days.set_out is not None else None
