"""Which climate a question is answered with: one place, or every bundled place of a region.

Order of trust: the grower's own frost dates over an imported station history over the published or estimated
dates of the nearest bundled place. A place named in a question stands on its own: the garden's own dates,
history and low spot belong to the garden's place only.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from gardenmate.climate.adjust import (
    MonthDay,
    at_height,
    in_low_spot,
    stand_in,
    with_own_dates,
)
from gardenmate.climate.freezes import FreezeDate
from gardenmate.climate.nearby import distance_km
from gardenmate.climate.place_names import Gazetteer, PlaceRow, RowsFound, normalise
from gardenmate.climate.place_words import shown_km, units_there
from gardenmate.climate.rows import place_rows
from gardenmate.climate.site import Site
from gardenmate.climate.sites import build_site
from gardenmate.core.errors import (
    AmbiguousPlaceError,
    DamagedFileError,
    FarPlaceError,
    NeedPlaceError,
    UsageError,
)
from gardenmate.core.pattern import Pattern
from gardenmate.core.place import FrostSeen
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple, replace

if TYPE_CHECKING:
    from gardenmate.climate.history import History
    from gardenmate.climate.spellings import Spellings
    from gardenmate.garden.profile import Garden

REGION_LIMIT = 60  # places: a region with more is asked to be narrowed; design value
_COUNTY = Pattern(r"\s{0,3}\(([^()]+?) county\)|,\s{0,3}([^,()]+?) county\b", ignore_case=True)
_REGION_MIN = 3  # places: with fewer a region is its town; design value
_LARGE_TOWN = 25_000  # people; a namesake so large is named when the places on record are (design value)
_MILES_OFF = Pattern(r" \d+ [NSEW]{1,3}$")
_LEADING_THE = Pattern(r"^(?:the|in|near|around) ")
_OTHER_HEIGHT_M = 30.0  # so much above or below its record a garden has a climate of its own (design value)


class Place(NamedTuple):
    """Where a question is answered: one ``site``, or a ``region`` with its bundled ``sites``.

    ``reading`` says how a name was read when it was not typed exactly ("reading 'Deluth' as Duluth, MN").
    """

    site: Site | None
    region: str | None = None
    sites: tuple[Site, ...] = ()
    reading: str | None = None


def resolve_site(
    *,
    place: str | None = None,
    lat: float | None = None,
    lon: float | None = None,
    elevation_m: float | None = None,
    last_frost: MonthDay | None = None,
    first_frost: MonthDay | None = None,
    garden: Garden | None = None,
    facts: Facts,
    history: History | None = None,
    seen: Sequence[FrostSeen] = (),
    today: date | None = None,
) -> Place:
    """The place to answer for, from what was said now and, where nothing was, from the garden.

    ``history`` is the garden's imported station record, ``seen`` its own frosts as told up to ``today``; they hold
    only while the garden's own place does.
    Raises NeedPlaceError when no place and no frost dates are known, AmbiguousPlaceError when a name fits
    several places, UsageError when a name or a coordinate is none.
    """
    spoken = place is not None or lat is not None or lon is not None
    low_spot_c = 0.0
    if not spoken and garden is not None:
        place = garden.place
        lat, lon = garden.lat, garden.lon
        elevation_m = garden.elevation_m if elevation_m is None else elevation_m
        own_dates = last_frost is None and first_frost is None
        last_frost = garden.last_frost if own_dates else last_frost
        first_frost = garden.first_frost if own_dates else first_frost
        low_spot_c = 0.0 if last_frost or first_frost else garden.low_spot_c
    try:
        found = _located(place, lat, lon, elevation_m, facts)
    except FarPlaceError:
        if last_frost is None and first_frost is None:
            raise
        found = None  # too far from any record, but the grower's own dates tell the season
    if found is None and last_frost is None and first_frost is None:
        if history is not None and not spoken and history.lat is not None and history.lon is not None:
            from gardenmate.climate.spot import spot_site  # start-up seam: a bundled place needs none of it

            found = Place(spot_site(history.lat, history.lon, facts, elev_m=history.elev_m))
        else:
            raise NeedPlaceError(
                "I need to know where the garden is: name a place (--place Duluth) or give your average "
                "frost dates (--last-frost 05-20 --first-frost 09-25)."
            )
    if found is None:
        site = stand_in(place_rows(facts), last_frost, first_frost, facts)
        return Place(_as_own(_with_years(with_own_dates(site, last_frost, first_frost, facts), seen, today)))
    if found.site is None:
        if last_frost is None and first_frost is None:
            return found
        raise UsageError(
            f"Your own frost dates belong to one garden, not to the whole of {found.region}: name a town "
            "in it."
        )
    site = found.site
    if history is not None and not spoken:
        # start-up seam: a bundled place needs none of it
        from gardenmate.climate.history import history_site

        site = _near_enough(history_site(history, site), history, facts)
        if elevation_m is not None and history.elev_m is not None:
            site = at_height(replace(site, elev_m=history.elev_m), elevation_m, facts)
    site = _in_its_spot(site, low_spot_c, seen)
    site = with_own_dates(site, last_frost, first_frost, facts)
    return found._replace(site=_as_own(_with_years(site, seen, today)))


def _in_its_spot(site: Site, low_spot_c: float, seen: Sequence[FrostSeen]) -> Site:
    """The site colder by the low spot: as the grower's own mornings show it beside the record, else as told."""
    if not seen or site.history is None:
        return in_low_spot(site, low_spot_c)
    # start-up seam: a bundled place needs none of it
    from gardenmate.climate.own_years import with_offset

    return with_offset(site, seen) or in_low_spot(site, low_spot_c)


def _with_years(site: Site, seen: Sequence[FrostSeen], today: date | None) -> Site:
    """The site with the dates of the grower's own years."""
    if not seen or today is None:
        return site
    # start-up seam: a bundled place needs none of it
    from gardenmate.climate.own_years import with_own_years

    return with_own_years(site, seen, today)


def _as_own(site: Site) -> Site:
    """The site, its note saying so when both frost dates are the grower's own or from an imported record."""
    both = [d for d in site.freezes[32][:2] if isinstance(d, FreezeDate)]
    if site.place is None or not both or any(d.basis not in ("own", "history") for d in both):
        return site
    return replace(site, place=site.place._replace(own=True, spread_days=0.0))


def _near_enough(site: Site, history: History, facts: Facts) -> Site:
    """The site, with a word when the imported record is from far away."""
    if history.lat is None or history.lon is None:
        return site
    km = distance_km(site.lat, site.lon, history.lat, history.lon)
    if km <= float(facts.table("climate")["nearest"]["near_km"]):
        return site
    note = f"The imported record is of {history.label}, {shown_km(km, units_there(site))} from {site.label}."
    return replace(site, notes=(*site.notes, note))


def find_place(typed: str, facts: Facts, elev_m: float | None = None) -> Place:
    """A place, region or postal code, moved to the garden's own height (m) when that is given.

    Raises AmbiguousPlaceError, or UsageError for a name nobody knows."""
    if any(sign.isdigit() for sign in typed):
        # start-up seam: a bundled place needs none of it
        from gardenmate.climate.postcodes import code_place

        at_code = code_place(typed, elev_m, facts)
        if at_code is not None:
            return Place(*at_code)
    found = find_rows(typed, facts)
    if found is None:
        around = gazetteer(facts).table["around"].get(_LEADING_THE.sub("", normalise(typed)))
        return _around(typed, around, elev_m, facts) if around else _from_gazetteer(typed, elev_m, facts)
    if found.region is not None:
        if len(found.rows) > REGION_LIMIT:
            raise UsageError(
                f"{found.region} is too wide for one answer ({len(found.rows)} places on record): name a "
                "state, province or town."
            )
        sites = tuple(build_site(row, facts) for row in found.rows)
        if len(sites) == 1:
            reading = f"for {sites[0].label}, the only record I have for {found.region}"
            return Place(sites[0], reading=reading)
        return Place(None, found.region, sites, found.reading)
    beside = _beside_its_town(typed, found.rows[0])
    if beside is not None:
        return _from_gazetteer(beside, elev_m, facts)
    return Place(_bundled(found.rows, elev_m, facts), reading=found.reading)


def _beside_its_town(typed: str, row: PlaceRow) -> str | None:
    """The town a record lies miles from ("Asheville 8 SSW"), when its name is typed without saying so."""
    away = _MILES_OFF.search(row.name)
    if away is None or normalise(row.name) in normalise(typed):
        return None
    return f"{row.name[: away.start()]}, {row.region}"


def _around(typed: str, towns: Sequence[str], elev_m: float | None, facts: Facts) -> Place:
    """A district by the towns that stand for it."""
    sites = tuple(site for town in towns if (site := find_place(town, facts, elev_m).site) is not None)
    if len(sites) == 1:
        return Place(sites[0], reading=f"reading '{typed}' as {sites[0].label}")
    return Place(None, typed, sites)


def _bundled(rows: Sequence[PlaceRow], elev_m: float | None, facts: Facts) -> Site:
    """The site of a bundled place; at another height one blended from it and the stations round it."""
    row = rows[0]
    apart = 0.0 if elev_m is None or row.elev_m is None else abs(elev_m - row.elev_m)
    if apart >= _OTHER_HEIGHT_M:
        from gardenmate.climate.spot import spot_site  # start-up seam: a bundled place needs none of it

        return spot_site(
            row.lat, row.lon, facts, elev_m=elev_m, name=row.name, region=row.region, country=row.country
        )
    site = build_site(row, facts)
    if len(rows) > 1:
        others = " and ".join(other.label for other in rows[1:])
        site = replace(
            site, notes=(*site.notes, f"Using the record of {site.label}; {others} is kept as well.")
        )
    return site if elev_m is None else at_height(site, elev_m, facts)


def find_rows(typed: str, facts: Facts) -> RowsFound | None:
    """Bundled rows for an exactly spelled name; None when no bundled name is spelled so.

    Rows of one town come preferred record first. Raises AmbiguousPlaceError when several towns, or a town and
    a region, share the name.
    """
    plain = _plainly_one(typed, facts)
    if plain is not None:
        return RowsFound((plain,))
    name = normalise(typed)
    if not name:
        raise UsageError("The place is empty; name one, for example --place Duluth.")
    names = gazetteer(facts)
    label = names.table["also"].get(name)
    if label is not None:
        return RowsFound((names.by_label[label],))
    for town, areas in names.qualified(typed):
        rows = [row for row in names.towns.get(town, ()) if row in names.in_area(areas)]
        if rows:
            return _one_town(typed, rows)
    rows = list(names.towns.get(name, ()))
    region = names.region(name)
    if region is not None and rows and len(name) > 2 and not _same_spot(rows, region[1]):
        towns = {row.area: row.label for row in sorted(rows, key=_record_rank, reverse=True)}
        listed = (*towns.values(), names.whole(region[0], region[1]))
        raise AmbiguousPlaceError(typed, listed)
    if rows:
        elsewhere = names.table.get("elsewhere", {}).get(name)
        if elsewhere:
            raise AmbiguousPlaceError(typed, (*(row.label for row in rows), *elsewhere))
        return _one_town(typed, rows)
    return RowsFound(region[1], region[0]) if region is not None else None


def _plainly_one(typed: str, facts: Facts) -> PlaceRow | None:
    """The row whose name or label is typed letter for letter, when no other name can be meant.

    Saves an ordinary question the reading of every region and alias: a name that stands nowhere in
    regions.toml, and in no other row, has no second meaning.
    """
    wanted = typed.strip().lower()
    if not wanted:
        return None
    rows = place_rows(facts)
    for row in rows:
        if row.label.lower() == wanted:
            return row
    holding = [row for row in rows if wanted in row.name.lower() or row.region.lower() == wanted]
    if len(holding) != 1 or holding[0].name.lower() != wanted:
        return None
    return None if f'"{wanted}"' in _text(facts.root / "regions.toml") else holding[0]


@lru_cache(maxsize=2)
def gazetteer(facts: Facts) -> Gazetteer:
    """The bundled names, read once per knowledge folder."""
    return Gazetteer(place_rows(facts), facts.table("regions"))


@lru_cache(maxsize=2)
def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8").lower()
    except (OSError, UnicodeDecodeError) as error:
        raise DamagedFileError(f"Cannot read {path}: {error}.") from error


def _located(
    place: str | None, lat: float | None, lon: float | None, elev_m: float | None, facts: Facts
) -> Place | None:
    if lat is not None and lon is not None:
        if not (-90.0 <= lat <= 90.0 and -180.0 <= lon <= 180.0):
            raise UsageError(
                f"Latitude {lat:g}, longitude {lon:g} is not a place on Earth: latitude runs from -90 to 90, "
                "longitude from -180 to 180 (west is negative)."
            )
        town, _, region = (place or "").partition(",")
        from gardenmate.climate.spot import spot_site  # start-up seam: a bundled place needs none of it

        return Place(spot_site(lat, lon, facts, elev_m=elev_m, name=town.strip(), region=region.strip()))
    if lat is not None or lon is not None:
        raise UsageError(
            "Latitude and longitude go together, for example --lat 46.8 --lon -92.1.", "place.lat"
        )
    return find_place(place, facts, elev_m) if place else None


def _one_town(typed: str, rows: Sequence[PlaceRow]) -> RowsFound:
    """Rows of one town, preferred record first; AmbiguousPlaceError when they are of several towns."""
    areas = dict.fromkeys(row.area for row in rows)
    if len(areas) > 1:
        # start-up seam: a bundled place needs none of it
        from gardenmate.climate.town_table import in_table

        large = [t for t in in_table(normalise(typed)) if t.population >= _LARGE_TOWN]
        others = [t.label for t in large if (t.country, t.region) not in areas]
        raise AmbiguousPlaceError(typed, tuple(dict.fromkeys([*(row.label for row in rows), *others])))
    return RowsFound(tuple(sorted(rows, key=_record_rank)))


def _same_spot(town: Sequence[PlaceRow], region: Sequence[PlaceRow]) -> bool:
    """True when a region is little more than the town of its name (Dublin, Vienna, Wellington)."""
    areas = {row.area for row in (*town, *region)}
    return len(areas) == 1 and len(region) < _REGION_MIN


def _record_rank(row: PlaceRow) -> tuple[bool, bool]:
    """Records with freeze dates first, then those of a town before those of an airport."""
    cells = row.rest.split(",")
    airport = any(word in row.name for word in ("AP", "Airport", "Int'l", "JFK", "LaGuardia"))
    return (not cells[26], airport)


def _from_gazetteer(typed: str, elev_m: float | None, facts: Facts) -> Place:
    """A name no bundled place has: a town of the open gazetteer, or a near spelling of a bundled one.

    Towns first; a spelling that can hardly mean anything else comes before the villages.
    """
    # start-up seam: a bundled place needs none of it
    from gardenmate.climate.spellings import CLEAR_SCORE, SURE_SCORE, Spellings
    from gardenmate.climate.town_table import near_town
    from gardenmate.climate.towns import TOWNS, VILLAGES, find_town

    names = gazetteer(facts)
    name, county = _county(typed)
    readings = names.qualified(name)
    near = Spellings(name, names)
    table = facts.root / "towns.csv"
    town = find_town(name, readings, TOWNS, county, table) or find_town(
        name, readings, VILLAGES, county, table
    )
    if town is None:
        meant = near.meant(SURE_SCORE) or near.meant(CLEAR_SCORE)
        town = None if meant else next((t for n, a in readings if (t := near_town(n, a, table))), None)
        if town is None:
            return _read_as(meant, near, elev_m, facts)
    from gardenmate.climate.spot import spot_site  # start-up seam: a bundled place needs none of it

    site = spot_site(
        town.lat,
        town.lon,
        facts,
        elev_m=elev_m,
        map_m=town.elev_m,
        name=town.name,
        region=town.region or town.country,
        country=town.country,
    )
    return Place(replace(site, source_ids=(*site.source_ids, "geonames")), reading=town.reading)


def _town_or_county(typed: str, elev_m: float | None, facts: Facts) -> Place | None:
    """The town of "Leeds, West Yorkshire", whose county has no town list here, or the town beside which "Halswell,
    Christchurch" lies; None where neither is known by itself, or what is told beside it is another part of the world:
    "Duluth, Texas"."""
    head, _, tail = (part.strip() for part in typed.partition(","))
    around = gazetteer(facts).region(normalise(tail))
    if not head or not tail:
        return None
    for name in (head, tail) if around is None else (head,):
        try:
            place = find_place(name, facts, elev_m)
        except AmbiguousPlaceError:
            raise
        except UsageError:
            continue
        site = place.site
        if around is not None and (
            site is None or any(row.area != (site.country, site.region) for row in around[1])
        ):
            return None
        label = site.label if site is not None else str(place.region)
        return place._replace(reading=f"reading '{typed}' as {label}")
    return None


def _county(typed: str) -> tuple[str, str]:
    """A name and the county given with it: "Gunnison, CO (Gunnison County)", "Gunnison, Gunnison County, CO"."""
    told = _COUNTY.search(typed)
    if told is None:
        return typed, ""
    name = f"{typed[: told.start()]}{typed[told.end() :]}".strip(" ,")
    return (name, told[1] or told[2]) if name else (typed, "")


def _read_as(meant: str | None, near: Spellings, elev_m: float | None, facts: Facts) -> Place:
    """The place a misspelled name was read as, saying so. UsageError when there is none."""
    if meant is None:
        beside = _town_or_county(near.typed, elev_m, facts)
        if beside is not None:
            return beside
        raise UsageError(
            f"I don't know a place called '{near.typed}'.{near.hint} Name a larger town nearby, or give --lat "
            "and --lon."
        )
    try:
        place = find_place(meant, facts, elev_m)
    except AmbiguousPlaceError as error:
        raise AmbiguousPlaceError(near.typed, error.candidates) from error
    label = place.site.label if place.site is not None else str(place.region)
    return place._replace(reading=f"reading '{near.typed}' as {label}")
