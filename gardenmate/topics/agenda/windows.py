"""Sowing and planting of the wanted crops, from the season engine's windows."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.climate.site import Site
from gardenmate.core.answer import Window
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.topics.agenda.item import Item, crop_words, decisions_on, make_item, wanted_crops
from gardenmate.topics.season.decide import late
from gardenmate.topics.season.season import Season, method_of
from gardenmate.topics.season.season_dates import garden_season, one_site, windows_of

_PIECES = frozenset({"seed-potatoes", "cloves", "sets", "crowns", "slips", "bare-root"})
_STARTED = frozenset({"sow", "plant", "set-out", "buy", "skip"})
_OUT = ("set-out", "fall-set-out")
_UNDER_COVER = ("sow-indoors", "fall-sow")
_BEFORE_DAYS = 45  # a sowing logged this long before the window opens still counts for it


def window_items(world: World, until: date) -> list[Item]:
    """Open, closing, coming and just missed windows of every wanted crop not yet started."""
    site, _ = one_site(world)
    if site is None:
        return []
    crops, _ = wanted_crops(world)
    found = (item for crop in crops for item in _of_crop(crop, site, world, until))
    return list(found)


def _of_crop(crop: Crop, site: Site, world: World, until: date) -> list[Item]:
    """The one job of the crop that matters most now, and what was missed lately."""
    season = garden_season(crop, site, world)
    windows = windows_of(crop, site, world, world.today)
    relevant = [
        w
        for w in _ways(crop, windows)
        if not _started(crop, w, world) and not _still_works(w, season, world) and not _second_best(w, season)
    ]
    found = [i for w in relevant if (i := _item(crop, w, windows, world, until)) is not None]
    live = [i for i in found if i.status != "missed"]
    open_now = [i for i in live if i.status != "coming"] or live
    best = [max(open_now, key=lambda i: i.weight)] if open_now else []
    return best + [i for i in found if i.status == "missed"][-1:]


def _second_best(window: Window, season: Season) -> bool:
    """True for the spring planting of what belongs to autumn: possible, and never what presses."""
    return season.terms.spring_days is not None and not window.activity.startswith("fall")


def _still_works(window: Window, season: Season, world: World) -> bool:
    """True for a window that closed, of work that the question "is it too late?" does not say no to."""
    return (
        window.latest < world.today and late(season, method_of(window.activity), world.today).verdict != "no"
    )


def _ways(crop: Crop, windows: tuple[Window, ...]) -> list[Window]:
    """The windows of the usual way to grow the crop: in trays or in place, not both.

    Setting out bought plants counts when sowing indoors is over; set-out of own plants follows from the log.
    """
    by_kind = {w.activity for w in windows}
    if crop.methods[0] == "direct" and "sow-outdoors" in by_kind:
        return [w for w in windows if w.activity in ("sow-outdoors", "fall-sow")]
    if _PIECES & set(crop.methods):
        return (
            list(windows)
            if "indoors" not in crop.methods
            else [w for w in windows if w.activity != "sow-indoors"]
        )
    return [w for w in windows if w.activity in ("sow-indoors", "fall-sow", "set-out", "fall-set-out")]


def _started(crop: Crop, window: Window, world: World) -> bool:
    """True when the log says the crop was sown, planted, bought or given up for this window."""
    since = window.earliest - timedelta(days=_BEFORE_DAYS)
    if window.activity in _OUT:
        since -= timedelta(days=round(7 * (crop.timing.weeks_indoors or (0.0, 6.0))[1]))
    return any(d.action in _STARTED for d in decisions_on(world, crop.base, since))


def _item(crop: Crop, window: Window, windows: tuple[Window, ...], world: World, until: date) -> Item | None:
    today = world.today
    raised = not _PIECES & set(crop.methods)
    if raised and window.activity in _OUT:
        begun = [w for w in windows if w.activity in _UNDER_COVER and w.earliest <= today]
        sowing = [w for w in begun if w.latest < window.latest]
        if not sowing or any(today <= w.best_to for w in sowing):
            return None  # sowing is still the way
    if raised and window.activity in _UNDER_COVER and today > window.best_to:
        plants = [w for w in windows if w.activity in _OUT and w.earliest <= today <= w.latest]
        if plants and today <= window.latest:
            return None  # late for seed, time for plants
    return make_item(
        world,
        job_of(crop, window),
        crop.base,
        crop_words(crop),
        opens=window.earliest,
        best_by=window.best_to,
        closes=window.latest,
        until=until,
        good_from=window.best_from,
        way_out=_way_out(window, _plants_until(windows, today), windows, today),
    )


def job_of(crop: Crop, window: Window) -> str:
    """The job (a key of knowledge/work.toml) that a window is open for."""
    autumn = window.activity in ("fall-sow", "fall-set-out")
    if window.activity == "fall-sow" and crop.calendar.after_winter_degree_days and "direct" in crop.methods:
        return "overwinter-sow"
    if _PIECES & set(crop.methods) and window.activity != "sow-indoors":
        return "fall-plant" if autumn else "plant"
    return "set-out-bought" if window.activity == "set-out" else window.activity


def _plants_until(windows: tuple[Window, ...], today: date) -> Window | None:
    return next((w for w in windows if w.activity in _OUT and w.latest >= today), None)


def _way_out(window: Window, plants: Window | None, windows: tuple[Window, ...], today: date) -> str:
    """What still works once a window has closed: bought plants, else the next window."""
    near = today + timedelta(days=200)
    if window.activity in ("sow-indoors", "fall-sow") and plants is not None and plants.latest <= near:
        return f"bought plants can go out until {show_date(plants.latest, today)}"
    later = [w for w in windows if w.earliest > window.latest and w.activity not in _OUT]
    if later:
        nxt = min(later, key=lambda w: w.earliest)
        return f"the next time to start is {show_date(nxt.earliest, today)}"
    return "nothing more to be done this season"
