"""When a crop may be set out at the garden's place, as the season engine works it out."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Activity, Window
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop


def set_out_window(crop: Crop, world: World) -> Window | None:
    """The set-out window now open or next to open; None while the place is unknown or it is never set out."""
    return next_window(crop, world, "set-out")


def next_window(crop: Crop, world: World, activity: Activity) -> Window | None:
    """The window of an activity now open or next to open; None while the place is unknown or it has none."""
    if world.site is None:
        return None
    from gardenmate.topics.season.site_year import site_year
    from gardenmate.topics.season.terms import terms_for
    from gardenmate.topics.season.windows import dated, spans

    terms = terms_for(crop, world.facts, risk=world.garden.frost_risk)
    year = site_year(world.site)
    origin = year.origin(world.today)
    found = [s for s in spans(terms, year) if s.activity == activity]
    for start in (origin, _next_year(origin)):
        for span in found:
            window = dated(span, terms, start)
            if window.latest >= world.today:
                return window
    return None


def _next_year(day: date) -> date:
    return date(day.year + 1, day.month, day.day)
