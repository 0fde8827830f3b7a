"""Where the garden is: its place and height, the stations its climate comes from, and how to do better."""

from __future__ import annotations

from datetime import timedelta

from gardenmate.climate.place_words import shown_height, shown_km
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.place import StationUse
from gardenmate.core.question import Request
from gardenmate.core.units import Units, plural, show_date
from gardenmate.core.world import World
from gardenmate.garden.profile import Garden

_HEIGHT_FROM = {
    "told": "as you told me",
    "map": "from the map",
    "guess": "guessed from the stations round it",
    "station": "its weather station's height",
}
_NAMED = 5  # stations told one by one, heaviest first (design value)
_NINE_IN_TEN, _ONE_IN_TEN = 0.9, 0.1  # shares of years


def where(question: Request, world: World, site: Site) -> Answer:
    """The place answers are worked for, with stations, distances, heights, weights and the spread of its dates."""
    return Answer(
        question=question,
        verdict=None,
        headline=f"Your garden is {site.where}{_height(site, world.units)}{_frosts(site, world)}.",
        numbers=_dates(site, world),
        details=(*_spread(site, world), *_own_years(site, world)),
        table=_stations(site, world.units),
        changes=_better(site, world.garden, world.units),
        sources=site.source_ids,
    )


def _height(site: Site, units: Units) -> str:
    if site.elev_m is None or site.place is None:
        return ""
    return f", {shown_height(site.elev_m, units)} up ({_HEIGHT_FROM[site.place.height_from]})"


def _frosts(site: Site, world: World) -> str:
    """Its average frost dates, for the first line."""
    freeze, anchor = site.freezes[32], site.anchor(world.today)
    if freeze.last_spring is None or freeze.first_autumn is None:
        return ""
    last, first = freeze.last_spring.day(anchor), freeze.first_autumn.day(anchor)
    own = site.own_years
    years = (
        {y.year for side in (own.last, own.first) if side is not None for y in side.years} if own else set()
    )
    told = f", with {plural(len(years), 'year')} of your own" if years else ""
    return f": last frost about {show_date(last)}, first about {show_date(first)}{told}"


def _dates(site: Site, world: World) -> tuple[Number, ...]:
    freeze, anchor = site.freezes[32], site.anchor(world.today)
    numbers = []
    if freeze.last_spring is not None:
        numbers.append(Number("last_frost", freeze.last_spring.day(anchor), "date", "Last frost, average"))
    if freeze.first_autumn is not None:
        numbers.append(Number("first_frost", freeze.first_autumn.day(anchor), "date", "First frost, average"))
    return tuple(numbers)


def _spread(site: Site, world: World) -> tuple[str, ...]:
    freeze, anchor = site.freezes[32], site.anchor(world.today)
    base = site if site.own_years is None or site.own_years.base is None else site.own_years.base
    if freeze.last_spring is None or freeze.first_autumn is None:
        return base.notes
    late = show_date(freeze.last_spring.day_at(_NINE_IN_TEN, anchor))
    early = show_date(freeze.first_autumn.day_at(_ONE_IN_TEN, anchor))
    said = f"Nine years in ten the last frost is over by {late}; one year in ten the first comes by {early}."
    return (said, *base.notes[1:])


def _own_years(site: Site, world: World) -> tuple[str, ...]:
    """What the dates were before the grower's own frosts, those frosts, and both together; the low spot learned."""
    own = site.own_years
    if own is None:
        return ()
    lines = []
    for name, side in (("Last", own.last), ("First", own.first)):
        if side is None:
            continue
        anchor = site.anchor(world.today)
        days = [anchor.replace(year=y.year) + timedelta(days=y.offset) for y in side.years]
        years = ", ".join(f"{show_date(day)} {day.year}" for day in days)
        before = "Your own average" if side.prior.basis == "own" else "Stations"
        lines.append(
            f"{name} frost. {before}: {show_date(side.prior.day(anchor))}, give or take "
            f"{plural(round(side.prior_error_days), 'day')}. Your {plural(len(side.years), 'year')}: {years}. "
            f"Together: {show_date(side.result.day(anchor))}, give or take "
            f"{plural(round(side.error_days), 'day')}."
        )
    return tuple(lines)


def _stations(site: Site, units: Units) -> Table | None:
    place = site.place
    if place is None:
        return None
    used = place.stations or (StationUse(place.station, place.km, place.height_difference_m, 1.0),)
    rows = [(u.label, shown_km(u.km, units), _climb(u, units), f"{u.share:.0%}") for u in used[:_NAMED]]
    others = used[_NAMED:]
    if others:
        furthest = max(u.km for u in others)
        rows.append(
            (
                plural(len(others), "other"),
                f"up to {shown_km(furthest, units)}",
                "",
                f"{sum(u.share for u in others):.0%}",
            )
        )
    return Table(("Station", "Away", "Height", "Weight"), tuple(rows), "Its climate comes from")


def _climb(used: StationUse, units: Units) -> str:
    """The height of a station against the garden's."""
    if used.climb_m is None:
        return "not known"
    if abs(used.climb_m) < 5.0:
        return "the same"
    return f"{shown_height(abs(used.climb_m), units)} {'lower' if used.climb_m > 0 else 'higher'}"


def _better(site: Site, garden: Garden, units: Units) -> tuple[str, ...]:
    """What the grower could tell to make the dates closer; nothing that is told already."""
    better = []
    if garden.last_frost is None or garden.first_frost is None:
        better.append("Your own frost dates go before all of these: 'my last frost is May 20'.")
    if garden.elevation_m is None:
        height = "6,800 feet" if units == "us" else "450 m"
        better.append(f"Your elevation, if you garden higher or lower: 'my garden is at {height}'.")
    if site.history is None:
        better.append("A nearby station's daily weather: gardenmate import-weather FILE.")
    return tuple(better)
