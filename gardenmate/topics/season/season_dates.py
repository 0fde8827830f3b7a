"""The season engine's windows as the money and agenda rules ask for them: this season's and the next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.answer import Activity, Window
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.season.site_year import SiteYear, site_year
from gardenmate.topics.season.terms import Terms, terms_for
from gardenmate.topics.season.windows import Span, dated, spans

State = Literal["before", "early", "best", "late", "after"]
SOWING: tuple[Activity, ...] = ("sow-indoors", "sow-outdoors", "fall-sow")
PLANTING: tuple[Activity, ...] = ("set-out", "fall-set-out")


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a day stands in a window: its state, and the days until it opens or closes (negative: since)."""

    window: Window
    state: State
    days_left: int


@lru_cache(maxsize=512)
def _of_year(crop_id: str, year: SiteYear, facts: Facts) -> tuple[Terms, tuple[Span, ...]]:
    """The terms and windows of a crop in one place's year, worked out once."""
    terms = terms_for(facts.crop(crop_id), facts)
    return terms, tuple(spans(terms, year))


def windows_of(crop: Crop, site: Site, facts: Facts, day: date) -> tuple[Window, ...]:
    """Windows of the crop in the season of ``day`` and the one after, in the order of their opening."""
    year = site_year(site)
    terms, found = _of_year(crop.id, year, facts)
    origin = year.origin(day)
    after = year.origin(origin + timedelta(days=400))
    return tuple(
        sorted(
            (dated(s, terms, o) for o in (origin, after) for s in found),
            key=lambda w: (w.earliest, w.activity),
        )
    )


def standing(window: Window, day: date) -> Standing:
    """Where ``day`` stands in a window."""
    state: State
    if day < window.earliest:
        state = "before"
    elif day > window.latest:
        state = "after"
    elif day < window.best_from:
        state = "early"
    elif day <= window.best_to:
        state = "best"
    else:
        state = "late"
    left = (window.earliest - day).days if state == "before" else (window.latest - day).days
    return Standing(window, state, left)


def current(windows: tuple[Window, ...], activities: tuple[Activity, ...], day: date) -> Window | None:
    """The window of these activities that ``day`` is in, else the next to open; None when there is none."""
    chosen = [w for w in windows if w.activity in activities and day <= w.latest]
    return min(chosen, key=lambda w: (w.earliest > day, w.earliest), default=None)


def one_site(world: World) -> tuple[Site | None, str | None]:
    """The place to reckon with, and a sentence when it stands for a whole region: the one in the middle."""
    if world.site is not None:
        return world.site, None
    if not world.sites:
        return None, None

    def last_frost(site: Site) -> float:
        freeze = site.freezes.get(32)
        spring = freeze.last_spring if freeze is not None else None
        return spring.offset_days if spring is not None else -60.0

    ranked = sorted(world.sites, key=last_frost)
    middle = ranked[len(ranked) // 2]
    spread = round(last_frost(ranked[-1]) - last_frost(ranked[0]))
    return middle, (
        f"Dates are for {middle.label}, in the middle of {world.region or 'the region'}; from its mildest to "
        f"its coldest places the last frost moves by about {spread} days. Name your town for your own dates."
    )
