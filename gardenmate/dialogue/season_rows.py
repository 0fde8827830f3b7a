"""What a drawn season is made of: the grower's own crops, their windows and pickings, and the odds of frost."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.climate.freezes import YEAR_DAYS
from gardenmate.climate.site import Site, frost_odds
from gardenmate.core.question import CropRef, Slots
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.plantings.batches import Batch
from gardenmate.plantings.current import batches_of
from gardenmate.present.season_bars import BarRow
from gardenmate.topics.agenda.item import wanted_crops
from gardenmate.topics.season.calendar import calendar_windows, season_of
from gardenmate.topics.season.plan import Plan, make_plan
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import OPEN_GROUND, terms_for, ways_to_help

LONGEST_TO_PICK_DAYS = 300
"""What is first picked later than this is not drawn: it is another year's picking."""


def season_start(site: Site, today: date) -> date:
    """The first day drawn: the month after the winter solstice that began the season of ``today``."""
    return (season_of(site, today) + timedelta(days=32)).replace(day=1)


def planted(world: World, since: date) -> tuple[tuple[Crop, Batch], ...]:
    """What was sown, bought or planted since a day and is not lost, oldest first, with its crop."""
    found = sorted(batches_of(world.journal), key=lambda batch: batch.begun)
    return tuple(
        (crop, batch)
        for batch in found
        if batch.begun >= since and batch.stage != "lost"
        if (crop := world.facts.crop_for(CropRef(batch.crop, batch.kind))) is not None
    )


def my_crops(world: World, since: date) -> tuple[Crop, ...]:
    """The grower's own crops: what is wanted, and what was sown or planted since a day; empty when neither is
    known."""
    wanted, said = wanted_crops(world)
    own = [*(wanted if said else ()), *(crop for crop, _ in planted(world, since))]
    return tuple({crop.id: crop for crop in own}.values())


def calendar_row(crop: Crop, site: Site, facts: Facts, today: date, days: int | None = None) -> BarRow:
    """One crop of the drawn calendar, with when it is picked from starts in the good part of its windows; ``days``
    to maturity are those of the grower's variety."""
    said = None if days is None else Slots(days_to_maturity=days)
    windows = calendar_windows(site, facts, today, (crop,), said)
    year, terms = site_year(site), terms_for(crop, facts, said)
    picks = []
    for window in windows:
        if window.activity == "sow-indoors":
            continue
        method = "setout" if window.activity.endswith("set-out") else "outdoors"
        for variety, cover in ((terms, OPEN_GROUND), *ways_to_help(terms, method)):
            plan = make_plan(variety, year, method, window.best_from, cover=cover)
            if plan.first_pick is None or plan.chance < terms.general.tight_from:
                continue  # as the window itself: an early variety or a cover where a middling one fails
            if (plan.first_pick - window.best_from).days <= LONGEST_TO_PICK_DAYS:
                last = make_plan(variety, year, method, window.best_to, cover=cover)
                picks.append(_picked(crop, plan, last))
            break
    return BarRow(crop.names[0] if crop.kind else crop.base.replace("-", " "), windows, tuple(picks))


def _picked(crop: Crop, plan: Plan, last: Plan) -> tuple[date, date]:
    """From the first picking of the first good start to the end of picking of the last, or of the season."""
    assert plan.first_pick is not None
    until = (last.first_pick or plan.first_pick) + timedelta(days=round(crop.maturity.picking_days or 14))
    return plan.first_pick, until if last.end is None else max(plan.first_pick, min(until, last.end))


def odds_of_the_year(site: Site, start: date) -> list[float | None]:
    """Chance of frost still to come (spring) or already come (autumn), for each day of the drawn year."""
    freeze = site.freeze_at(0.0)
    if freeze.last_spring is None and freeze.first_autumn is None:
        return [None] * YEAR_DAYS
    return [frost_odds(site, start + timedelta(days=n)) for n in range(YEAR_DAYS)]
