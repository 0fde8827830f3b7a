"""When a plant that stays for years is picked: at its own time of year, once it has rooted."""

from __future__ import annotations

from datetime import date

from gardenmate.topics.season.case import Case, later
from gardenmate.topics.season.ripening import ripe_after
from gardenmate.topics.season.site_year import YEAR

ROOTED_DAYS = 100
"""A crown is let root for a season, or a winter, before it is picked."""


def in_picking_time(case: Case, days: tuple[date, date, date]) -> tuple[date, date, date]:
    """Each day moved to the nearest time of year at which the plant comes to be picked."""
    first, soon, late_ = (_nearest_picking(case, day) for day in days)
    return first, soon, late_


def _nearest_picking(case: Case, day: date) -> date:
    """The picking time nearest to ``day``, no sooner than a season or a winter after planting."""
    terms, year = case.terms, case.year
    least = terms.picked_from_mean_c
    opens = ripe_after(terms, terms.total(year), 0)
    if least is not None:
        opens = year.first_day(0, lambda t: t >= least, year.hottest)
    if opens is None:
        return day
    near = [later(year.origin(later(day, shift)), opens) for shift in (-YEAR, 0, YEAR)]
    return min((d for d in near if (d - case.day).days >= ROOTED_DAYS), key=lambda d: abs((d - day).days))
