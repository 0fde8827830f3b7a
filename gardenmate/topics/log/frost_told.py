"""A frost or a reading told of the garden: what is kept with it, what it does to the dates, and whether it can be."""

from __future__ import annotations

from datetime import date
from typing import cast

from gardenmate.climate.freezes import FreezeDate
from gardenmate.climate.own_years import is_frost, own_sentence, season_of, side_of, with_own_years
from gardenmate.climate.site import Site
from gardenmate.core.place import Called, FrostSeen
from gardenmate.core.question import Deed, Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import World
from gardenmate.plantings.own_frosts import frosts_told
from gardenmate.topics.log.said import detail_of

_STRANGE = 3.5  # spreads from the mean beyond which a last or first frost is asked about (design value)
_WARMEST_C = 15.0  # a "minimum" warmer than this is no cold morning (design value)
_NEW = 2**62  # numbered behind every entry there is


def frost_detail(request: Request, world: World) -> dict[str, str]:
    """What is kept with a frost: the temperature read, whether it was called the last or the first, and the garden
    where it was another of the grower's."""
    kept = {k: v for k, v in detail_of(request).items() if k in ("temperature", "temp_c")}
    elsewhere = _elsewhere(request, world)
    if elsewhere:
        kept["garden"] = elsewhere
    called = _called(request)
    return kept if called is None else {**kept, "called": called}


def frost_words(request: Request) -> str:
    """A frost as it stands in the log: "last frost", "frost", "a reading of 41 F"."""
    called, temps = _called(request), request.slots.temps
    read = f"{temps[0].value:g} {temps[0].unit}" if temps else ""
    if called is None and read and (request.slots.temperature_c or 0.0) > 0.05:
        return f"{read} on the thermometer"
    return (
        f"{called} frost" + (f", {read}" if read else "") if called else f"frost, {read}" if read else "frost"
    )


def frost_doubt(deed: Deed, request: Request, world: World) -> str:
    """What is asked back where the frost told can hardly be; "" where it can."""
    seen = _seen(deed, request, world)
    if seen.temp_c is not None and seen.called is not None and not is_frost(seen):
        return "That is above freezing, so I did not note it as a frost. What did the thermometer say?"
    if seen.temp_c is not None and seen.temp_c > _WARMEST_C:
        return "That is a warm night, not a frosty one, so I have noted nothing. Which temperature was it?"
    if seen.called is None or world.site is None or _elsewhere(request, world):
        return ""
    site = _base(world.site)
    known = _known(site, seen.called)
    if known is None:
        return ""
    anchor = season_of(site, seen.on, seen.called)
    off = ((seen.on - anchor).days - known.offset_days + 182.5) % 365.0 - 182.5
    if abs(off) <= _STRANGE * known.sd_days:
        return ""
    way = "later" if off > 0 else "earlier"
    return (
        f"A {seen.called} frost on {show_date(seen.on, world.today)} is {plural(round(abs(off)), 'day')} {way} than "
        f"usual {site.where}. Which day was it? I have noted nothing."
    )


def frost_effect(deed: Deed, request: Request, world: World) -> tuple[str, ...]:
    """What the frost does to the garden's dates, in a sentence; () where it moves none."""
    if world.site is None or _elsewhere(request, world):
        return ()
    seen = _seen(deed, request, world)
    base = _base(world.site)
    side: Called = seen.called or side_of(base, seen.on)[1]
    told = (*frosts_told(world.journal, world.garden.place), seen)
    own = with_own_years(base, told, world.today).own_years
    moved = None if own is None else own.last if side == "last" else own.first
    if moved is None or not any(y.year == season_of(base, seen.on, side).year for y in moved.years):
        if seen.temp_c is not None and not is_frost(seen):
            return ("Above freezing: it is kept as a reading and moves no frost date.",)
        return (
            ("It moves no date: the real one of that season may still have come.",) if is_frost(seen) else ()
        )
    return (own_sentence(moved, side, base.anchor(world.today)),)


def _elsewhere(request: Request, world: World) -> str:
    """The other garden of the grower's the frost was in; "" for the main one."""
    typed = request.first("garden")
    names = {name.casefold() for name in world.garden.gardens}
    return str(typed.value).casefold() if typed is not None and str(typed.value).casefold() in names else ""


def in_year(day: date, year: int) -> date:
    """The same day of another year; 29 February becomes the 28th."""
    try:
        return day.replace(year=year)
    except ValueError:
        return day.replace(year=year, day=28)


def _seen(deed: Deed, request: Request, world: World) -> FrostSeen:
    return FrostSeen(deed.on or world.today, request.slots.temperature_c, _called(request), _NEW)


def _called(request: Request) -> Called | None:
    typed = request.first("frost")
    return cast(Called, typed.value) if typed is not None and typed.value in ("last", "first") else None


def _known(site: Site, called: Called) -> FreezeDate | None:
    freeze = site.freezes[32]
    return freeze.last_spring if called == "last" else freeze.first_autumn


def _base(site: Site) -> Site:
    """The site before the grower's own years."""
    return site if site.own_years is None or site.own_years.base is None else site.own_years.base
