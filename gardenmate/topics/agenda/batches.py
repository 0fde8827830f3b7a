"""What a logged sowing turns into: up, off the mat, potted up, hardened, set out, picked.

A step counts as done when the log says so, or when a later step of the batch is logged. Steps whose time is
over without a word are told once as what that means and then dropped.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from gardenmate.climate.site import Site
from gardenmate.core.question import CropRef
from gardenmate.core.units import f_to_c
from gardenmate.core.world import Decision, World
from gardenmate.knowledge.crops import Crop
from gardenmate.topics.agenda.items import Item, crop_words, make_item
from gardenmate.topics.germination.emergence_facts import mat_setting_c, soil_today_c, trial_of
from gardenmate.topics.season.season_dates import one_site

_LONGEST_DAYS = 300
_STEPS = ("sow", "up", "mat-off", "prick-out", "pot-up", "harden", "set-out", "harvest")
_DONE_WITH = frozenset({"lost", "harvest"})


@dataclass(frozen=True, slots=True)
class Batch:
    """One logged sowing and what was logged of the crop since. ``reached`` is the furthest step done."""

    crop: Crop
    sown: Decision
    since: tuple[Decision, ...]
    outdoors: bool
    on_mat: bool

    @property
    def reached(self) -> int:
        """Index into the steps of the furthest one logged."""
        return max((_STEPS.index(d.action) for d in self.since if d.action in _STEPS), default=0)

    def last(self, action: str) -> Decision | None:
        """The latest decision of an action since the sowing."""
        return next((d for d in reversed(self.since) if d.action == action), None)

    @property
    def over(self) -> bool:
        """True when nothing is left to follow."""
        return any(d.action in _DONE_WITH for d in self.since)


@dataclass(frozen=True, slots=True)
class Days:
    """The calendar of one batch; None where a step does not apply or cannot be told."""

    up: date
    up_late: date
    pot_up: tuple[date, date] | None
    set_out: date | None
    set_out_last: date | None
    harden: date | None
    first_pick: date | None


def batch_items(world: World, until: date) -> list[Item]:
    """Jobs of every logged batch that is not over."""
    site, _ = one_site(world)
    found: list[Item] = []
    for batch in batches(world):
        found += _items(batch, days_of(batch, site, world), world, until)
    return found


def batches(world: World) -> tuple[Batch, ...]:
    """The logged sowings of the last ten months that are still going, oldest first."""
    if world.journal is None:
        return ()
    since = world.today - timedelta(days=_LONGEST_DAYS)
    logged = sorted(world.journal.search(since=since, limit=1000), key=lambda d: (d.on, d.id))
    found = []
    for decision in logged:
        if decision.action != "sow" or decision.on > world.today:
            continue
        for crop_id in decision.crops:
            crop = world.facts.crop_for(CropRef(crop_id))
            if crop is None:
                continue
            after = tuple(
                d
                for d in logged
                if crop_id in d.crops and (d.on, d.id) > (decision.on, decision.id) and d.action != "sow"
            )
            batch = Batch(crop, decision, after, _outdoors(crop, decision, world), _on_mat(decision, world))
            if not batch.over:
                found.append(batch)
    return tuple(found)


def _outdoors(crop: Crop, decision: Decision, world: World) -> bool:
    """Whether it was sown where it grows: by what the entry says, else by the usual way of the crop."""
    words = world.facts.table("work")["sown"]
    text = f" {decision.text.lower()} "
    if any(w in text for w in words["outdoors"]):
        return True
    if any(w in text for w in words["indoors"]):
        return False
    return crop.methods[0] == "direct" or "indoors" not in crop.methods


def _on_mat(decision: Decision, world: World) -> bool:
    return world.garden.has("mat") or " mat" in f" {decision.text.lower()}"


def days_of(batch: Batch, site: Site | None, world: World) -> Days:
    """When each step of a batch falls."""
    sown = batch.sown.on
    up_days = _up_days(batch, site, world)
    spread = world.facts.table("raising")["germination"]["overdue_spread"]
    up = sown + timedelta(days=round(up_days))
    set_out, last, pick = _outside(batch, site, world)
    hardening = batch.crop.raising.hardening_days or (7.0, 14.0)
    return Days(
        up=up,
        up_late=sown + timedelta(days=round(up_days * spread) + 1),
        pot_up=None if batch.outdoors else _pot_up(batch, world),
        set_out=set_out,
        set_out_last=last,
        harden=None if set_out is None else set_out - timedelta(days=round(hardening[1])),
        first_pick=pick,
    )


def _up_days(batch: Batch, site: Site | None, world: World) -> float:
    trial = trial_of(batch.crop, world.facts)
    if batch.sown.temp_c is not None:
        soil = batch.sown.temp_c
    elif batch.outdoors:
        soil = soil_today_c(site, batch.sown.on) if site is not None else f_to_c(55)
    elif batch.on_mat:
        soil = mat_setting_c(batch.crop, world.facts)
    else:
        soil = f_to_c(world.facts.table("raising")["germination"]["room_f"])
    days = trial.days_at(soil)
    if days is not None:
        return min(days, 45.0)
    return sum(trial.room_days) / 2.0 if trial.room_days is not None else 14.0


def _pot_up(batch: Batch, world: World) -> tuple[date, date] | None:
    """(best from, latest) day for potting up; None for crops that stay in their first cell or pot."""
    row = world.facts.group_of(batch.crop, "potting")
    if row is None or len(row["steps"]) < 2:
        return None
    from gardenmate.topics.seedlings.containers import containers, weeks_in

    low, high = weeks_in(containers(world.facts)[row["steps"][0]], row)
    return batch.sown.on + timedelta(days=round(7 * low)), batch.sown.on + timedelta(days=round(7 * high))


def _outside(batch: Batch, site: Site | None, world: World) -> tuple[date | None, date | None, date | None]:
    """(set-out day, last day for it, first picking) from the season engine, else from weeks alone."""
    crop, sown = batch.crop, batch.sown.on
    out = batch.last("set-out")
    weeks = crop.timing.weeks_indoors or (4.0, 6.0)
    if site is None:
        goes = out.on if out is not None else sown + timedelta(days=round(3.5 * (weeks[0] + weeks[1])))
        ripe = (sown if batch.outdoors else goes) + timedelta(days=round(crop.maturity.days.mid))
        oldest = sown + timedelta(days=round(7 * weeks[1]) + 14)
        return (None, None, ripe) if batch.outdoors else (goes, oldest, ripe)
    from gardenmate.topics.season.plan import make_plan
    from gardenmate.topics.season.season_dates import windows_of
    from gardenmate.topics.season.site_year import site_year
    from gardenmate.topics.season.terms import terms_for

    terms, year = terms_for(crop, world.facts, risk=world.garden.frost_risk), site_year(site)
    if out is not None:
        plan = make_plan(terms, year, "setout", out.on, wait=False)
    else:
        plan = make_plan(terms, year, "outdoors" if batch.outdoors else "indoors", sown)
    if batch.outdoors:
        return None, None, plan.first_pick
    windows = windows_of(crop, site, world.facts, sown)
    closing = [
        w.latest
        for w in windows
        if w.activity in ("set-out", "fall-set-out") and plan.set_out is not None and w.latest >= plan.set_out
    ]
    return plan.set_out, min(closing, default=None), plan.first_pick


def _items(batch: Batch, days: Days, world: World, until: date) -> list[Item]:
    reached = batch.reached
    steps: list[Item | None] = []

    def add(job: str, opens: date, best_by: date, closes: date | None, way_out: str = "") -> None:
        steps.append(
            make_item(
                world,
                job,
                batch.crop.base,
                crop_words(batch.crop),
                opens=opens,
                best_by=best_by,
                closes=closes,
                until=until,
                count=batch.sown.count,
                way_out=way_out,
                decision_id=batch.sown.id,
                urgent=True,
            )
        )

    week = timedelta(days=7)
    if reached < _STEPS.index("up"):
        job = "mat-off" if batch.on_mat and not batch.outdoors else "emergence"
        add(
            job,
            days.up,
            days.up_late,
            days.up_late + week,
            "if nothing is up by now, sow again while there is time",
        )
    elif batch.on_mat and not batch.outdoors and reached == _STEPS.index("up"):
        came = batch.last("up")
        start = came.on if came is not None else days.up
        add(
            "mat-off",
            start,
            start + timedelta(days=2),
            start + week,
            "raise the light and lower the warmth now",
        )
    if days.pot_up is not None and reached < _STEPS.index("pot-up"):
        best, last = days.pot_up
        out = "pot it up even now, and plant out as soon as the weather allows"
        add("pot-up", best - timedelta(days=10), best, max(last, best + week), out)
    if batch.outdoors and "thinned" in batch.crop.traits and not batch.last("thin"):
        add(
            "thin",
            days.up + timedelta(days=10),
            days.up + timedelta(days=21),
            days.up + timedelta(days=35),
            "thin now all the same",
        )
    last_out = days.set_out_last
    if days.set_out is not None and last_out is None:
        last_out = days.set_out + timedelta(days=42)
    if days.set_out is not None and reached < _STEPS.index("harden"):
        start = days.harden or days.set_out
        add(
            "harden",
            start,
            start + timedelta(days=4),
            last_out,
            "harden for a week all the same, with cover at hand",
        )
    if days.set_out is not None and reached < _STEPS.index("set-out"):
        closes = last_out if last_out is not None else days.set_out
        best = min(days.set_out + timedelta(days=10), closes)
        add("set-out", days.set_out, best, closes, "plant in a pot, or under cover, and expect less")
    planted = batch.outdoors or reached >= _STEPS.index("set-out")
    if days.first_pick is not None and planted:
        add(
            "first-pick",
            days.first_pick - timedelta(days=3),
            days.first_pick + week,
            days.first_pick + 4 * week,
            "pick over what is ripe",
        )
    return [s for s in steps if s is not None]
