"""What a logged sowing turns into: up, off the mat, potted up, hardened, set out, picked.

A step counts as done when the log says so, or when a later step of the batch is logged. Steps whose time is
over without a word are told once as what that means and then dropped.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Protocol

from gardenmate.climate.site import Site
from gardenmate.core.question import CropRef
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.plantings.batches import INDOORS, Batch
from gardenmate.plantings.current import batches_of
from gardenmate.records import dataclass
from gardenmate.topics.agenda.item import Item, crop_words, decisions_on, make_item
from gardenmate.topics.germination.emergence_facts import mat_setting_c, soil_today_c, trial_of
from gardenmate.topics.germination.own_emergence import own_up_days
from gardenmate.topics.season.plan import make_plan
from gardenmate.topics.season.season_dates import one_site, windows_of
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import terms_for
from gardenmate.topics.seedlings.own_potting import own_pot_up
from gardenmate.topics.shared.containers import containers, weeks_in

_LONGEST_DAYS = 300  # days a batch is followed; design value
_ON_MAT_DAYS = 10  # up longer than this without a word, it is off the mat by now (design value)


@dataclass(frozen=True, slots=True)
class StepDays:
    """The calendar of one batch; None where a step does not apply or cannot be told."""

    up: date
    up_late: date
    pot_up: tuple[date, date] | None
    set_out: date | None
    set_out_last: date | None
    harden: date | None
    first_pick: date | None


def batch_items(world: World, until: date) -> list[Item]:
    """Jobs of every living batch begun in the last ten months."""
    site, _ = one_site(world)
    since = world.today - timedelta(days=_LONGEST_DAYS)
    found: list[Item] = []
    for batch in batches_of(world.journal):
        crop = world.facts.crop_for(CropRef(batch.crop, batch.kind))
        if crop is not None and batch.alive and since <= batch.begun <= world.today:
            found += _items(batch, crop, days_of(batch, crop, site, world), world, until)
    return found


def is_outdoors(batch: Batch, crop: Crop, world: World) -> bool:
    """Whether it grows in the open: set out, or sown there by what was told, else by the usual way of the crop."""
    if batch.stage in ("out", "picking"):
        return True
    if batch.bought:
        return False
    words = world.facts.table("work")["sown"]
    text = f" {batch.text.lower()} {(batch.where or '').lower()} "
    if any(w in text for w in words["indoors"]):
        return False
    if any(w in text for w in words["outdoors"]):
        return True
    return crop.methods[0] == "direct" or "indoors" not in crop.methods


def _on_mat(batch: Batch, world: World) -> bool:
    return world.garden.has("mat") or " mat" in f" {batch.text.lower()} {(batch.where or '').lower()}"


def days_of(batch: Batch, crop: Crop, site: Site | None, world: World) -> StepDays:
    """When each step of a batch falls."""
    sown = batch.begun
    up_days = _up_days(batch, crop, site, world)
    spread = world.facts.table("raising")["germination"]["overdue_spread"]
    up = sown + timedelta(days=round(up_days))
    set_out, last, pick = _outside(batch, crop, site, world)
    hardening = crop.raising.hardening_days or (7.0, 14.0)
    return StepDays(
        up=up,
        up_late=sown + timedelta(days=round(up_days * spread) + 1),
        pot_up=None if is_outdoors(batch, crop, world) else _pot_up(batch, crop, world),
        set_out=set_out,
        set_out_last=last,
        harden=None if set_out is None else set_out - timedelta(days=round(hardening[1])),
        first_pick=pick,
    )


def _up_days(batch: Batch, crop: Crop, site: Site | None, world: World) -> float:
    trial = trial_of(crop, world.facts)
    if batch.temp_c is not None:
        soil = batch.temp_c
    elif is_outdoors(batch, crop, world):
        soil = soil_today_c(site, batch.begun) if site is not None else f_to_c(55)
    elif _on_mat(batch, world):
        soil = mat_setting_c(crop, world.facts)
    else:
        soil = f_to_c(world.facts.table("raising")["germination"]["room_f"])
    days = trial.days_at(soil)
    if days is not None:
        own = own_up_days(days, crop, world)
        return min(days if own is None else own.value, 45.0)
    return sum(trial.room_days) / 2.0 if trial.room_days is not None else 14.0


def _pot_up(batch: Batch, crop: Crop, world: World) -> tuple[date, date] | None:
    """(best from, latest) day for potting up; None for crops that stay in their first cell or pot."""
    row = world.facts.group_of(crop, "potting")
    if row is None or len(row["steps"]) < 2:
        return None
    low, high = weeks_in(containers(world.facts)[row["steps"][0]], row)
    own = own_pot_up(low, high, crop, world)
    if own is not None:
        shift = (own.value - own.table) / 7.0
        low, high = low + shift, high + shift
    return batch.begun + timedelta(days=round(7 * low)), batch.begun + timedelta(days=round(7 * high))


def _outside(
    batch: Batch, crop: Crop, site: Site | None, world: World
) -> tuple[date | None, date | None, date | None]:
    """(set-out day, last day for it, first picking) from the season engine, else from weeks alone."""
    sown = batch.begun
    outdoors = is_outdoors(batch, crop, world)
    out = (
        batch.since
        if batch.stage in ("out", "picking") and (batch.bought or batch.up or not outdoors)
        else None
    )
    weeks = crop.timing.weeks_indoors or (4.0, 6.0)
    if site is None:
        goes = out if out is not None else sown + timedelta(days=round(3.5 * (weeks[0] + weeks[1])))
        ripe = (sown if outdoors else goes) + timedelta(days=round(crop.maturity.days.mid))
        oldest = sown + timedelta(days=round(7 * weeks[1]) + 14)
        return (None, None, ripe) if outdoors else (goes, oldest, ripe)
    terms, year = terms_for(crop, world.facts, risk=world.garden.frost_risk), site_year(site)
    if out is not None:
        plan = make_plan(terms, year, "setout", out, wait=False)
    else:
        plan = make_plan(terms, year, "outdoors" if outdoors else "indoors", sown)
    if outdoors:
        return None, None, plan.first_pick
    windows = windows_of(crop, site, world, sown)
    closing = [
        w.latest
        for w in windows
        if w.activity in ("set-out", "fall-set-out") and plan.set_out is not None and w.latest >= plan.set_out
    ]
    return plan.set_out, min(closing, default=None), plan.first_pick


def _items(batch: Batch, crop: Crop, days: StepDays, world: World, until: date) -> list[Item]:
    outdoors = is_outdoors(batch, crop, world)
    week = timedelta(days=7)
    found: list[Item | None] = []

    def add(job: str, opens: date, best_by: date, closes: date | None, way_out: str = "") -> None:
        found.append(
            make_item(
                world,
                job,
                crop.base,
                crop_words(crop),
                opens=opens,
                best_by=best_by,
                closes=closes,
                until=until,
                count=batch.count,
                way_out=way_out,
                decision_id=batch.id,
                urgent=True,
                variety=batch.variety,
            )
        )

    if batch.stage == "sown":
        job = "mat-off" if _on_mat(batch, world) and not outdoors else "emergence"
        add(
            job,
            days.up,
            days.up_late,
            days.up_late + week,
            "if nothing is up by now, sow again while there is time",
        )
    elif batch.stage == "up" and not batch.bought and not outdoors and _on_mat(batch, world):
        start = batch.up or batch.since
        if (world.today - start).days <= _ON_MAT_DAYS:
            add(
                "mat-off",
                start,
                start + timedelta(days=2),
                start + week,
                "raise the light and lower the warmth now",
            )
    if days.pot_up is not None and batch.stage in ("sown", "up") and not batch.bought:
        best, last = days.pot_up
        out = "pot it up even now, and plant out as soon as the weather allows"
        add("pot-up", best - timedelta(days=10), best, max(last, best + week), out)
    if outdoors and batch.stage in ("sown", "up") and "thinned" in crop.traits:
        thinned = {d.action for d in decisions_on(world, batch.crop, batch.begun)}
        if "thin" not in thinned:
            add(
                "thin",
                days.up + timedelta(days=10),
                days.up + timedelta(days=21),
                days.up + timedelta(days=35),
                "thin now all the same",
            )
    _going_out(batch, days, add)
    if days.first_pick is not None and (outdoors or batch.stage == "out") and batch.stage != "picking":
        add(
            "first-pick",
            days.first_pick - timedelta(days=3),
            days.first_pick + week,
            days.first_pick + 4 * week,
            "pick over what is ripe",
        )
    return [s for s in found if s is not None]


class _Add(Protocol):
    def __call__(
        self, job: str, opens: date, best_by: date, closes: date | None, way_out: str = ""
    ) -> None: ...


def _going_out(batch: Batch, days: StepDays, add: _Add) -> None:
    """Hardening off and setting out of what still stands indoors."""
    if days.set_out is None or batch.stage not in INDOORS:
        return
    last_out = days.set_out_last if days.set_out_last is not None else days.set_out + timedelta(days=42)
    if batch.stage != "hardening":
        start = days.harden or days.set_out
        add(
            "harden",
            start,
            start + timedelta(days=4),
            last_out,
            "harden for a week all the same, with cover at hand",
        )
    best = min(days.set_out + timedelta(days=10), last_out)
    add("set-out", days.set_out, best, last_out, "plant in a pot, or under cover, and expect less")
