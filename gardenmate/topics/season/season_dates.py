"""The season engine's windows as the money and agenda rules ask for them: this season's and the next."""

from __future__ import annotations

from datetime import date
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.answer import Activity, Window
from gardenmate.core.question import Slots
from gardenmate.core.world import World
from gardenmate.garden.profile import Variety
from gardenmate.knowledge.crops import Crop
from gardenmate.records import dataclass
from gardenmate.topics.season.season import Season, season_for
from gardenmate.topics.shared.regions import in_sentence

State = Literal["before", "early", "best", "late", "after"]
SOWING: tuple[Activity, ...] = ("sow-indoors", "sow-outdoors", "fall-sow")
PLANTING: tuple[Activity, ...] = ("set-out", "fall-set-out")


@dataclass(frozen=True, slots=True)
class InWindow:
    """Where a day stands in a window: its state, and the days until it opens or closes (negative: since)."""

    window: Window
    state: State
    days_left: int


def garden_season(crop: Crop, site: Site, world: World) -> Season:
    """The season of a crop as this garden grows it: of the variety told, with its accepted frost risk."""
    grown = own_variety(crop, world)
    ask = None if grown is None or grown.days is None else Slots(days_to_maturity=grown.days)
    return season_for(crop, site, world.facts, ask, risk=world.garden.frost_risk)


def own_variety(crop: Crop, world: World) -> Variety | None:
    """The variety of the crop the grower told of, None where none was, or the question is about another place."""
    grown = world.garden.variety_for(crop.base) if world.home is None else None
    return grown if grown is not None and grown.kind in (None, crop.kind) else None


def windows_of(crop: Crop, site: Site, world: World, day: date) -> tuple[Window, ...]:
    """Windows of the crop in the season of ``day`` and the one after, in the order of their opening."""
    season = garden_season(crop, site, world)
    origin = season.year.origin(day)
    found = [w for start in (origin, season.next_origin(origin)) for w in season.of_season(start)]
    return tuple(sorted(found, key=lambda w: (w.earliest, w.activity)))


def standing(window: Window, day: date) -> InWindow:
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
    return InWindow(window, state, left)


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
        f"Dates are for {middle.label}, about the middle of {in_sentence(world.region, world.facts)}. The last frost "
        f"comes about {spread} days later in its coldest places than in its mildest. Name your town for your own dates."
    )
