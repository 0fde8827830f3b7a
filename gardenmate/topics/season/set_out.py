"""When a crop may be set out at the garden's place, as the season engine works it out."""

from __future__ import annotations

from gardenmate.core.answer import Activity, Window
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.topics.season.season_dates import garden_season


def set_out_window(crop: Crop, world: World) -> Window | None:
    """The set-out window now open or next to open; None while the place is unknown or it is never set out."""
    return next_window(crop, world, "set-out")


def next_window(crop: Crop, world: World, activity: Activity) -> Window | None:
    """The window of an activity now open or next to open; None while the place is unknown or it has none."""
    if world.site is None:
        return None
    season = garden_season(crop, world.site, world)
    origin = season.year.origin(world.today)
    starts = (origin, season.next_origin(origin))
    found = (w for start in starts for w in season.of_season(start) if w.activity == activity)
    return next((w for w in found if w.latest >= world.today), None)
