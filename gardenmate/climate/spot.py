"""The site of a spot: blended from the stations round it, or the bundled place it lies at."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.climate.blend import Neighbour, Spot, Used, blended, choose, height_of
from gardenmate.climate.nearby import distance_km, must_be_near
from gardenmate.climate.place_names import PlaceRow, normalise
from gardenmate.climate.place_words import shown_height, shown_km, units_there
from gardenmate.climate.rows import place_rows
from gardenmate.climate.site import UNNAMED, Site
from gardenmate.climate.sites import build_site
from gardenmate.climate.stations import Kind, Station, StationLine, lines_near, read_station
from gardenmate.core.place import HeightFrom
from gardenmate.core.units import plural
from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple, replace

_AT_KM = 1.0  # a spot so near a bundled place is that place
_SAME_KM = 5.0  # a bundled place so near a station is that station
_ROWS_KM = 300.0  # bundled places further off than this are not looked at


class RowAt(NamedTuple):
    """A bundled place as a candidate for a blend."""

    lat: float
    lon: float
    elev_m: float | None
    town: str
    row: PlaceRow


def spot_site(
    lat: float,
    lon: float,
    facts: Facts,
    *,
    elev_m: float | None = None,
    map_m: float | None = None,
    name: str = "",
    region: str = "",
    country: str = "",
) -> Site:
    """The climate of a spot. ``elev_m``: its height as the grower tells it, ``map_m``: as a gazetteer has it (m).

    Raises FarPlaceError where nothing near enough is on record.
    """
    candidates = _candidates(lat, lon, facts)
    row = _row_there(candidates, lat, lon) if elev_m is None and not name else None
    if row is not None:
        return build_site(row, facts)
    climate = facts.table("climate")
    height, height_from = _height(elev_m, map_m)
    spot = Spot(lat, lon, height, normalise(name))
    chosen = choose(candidates, spot, climate["blend"])
    must_be_near(
        name or f"{lat:g}, {lon:g}",
        spot,
        [(_label(c), c.km, c.item.elev_m) for c in chosen],
        climate["nearest"],
    )
    used = [Used(_read(c.item, facts), c.km, c.share) for c in chosen]
    if height is None:
        spot = spot._replace(elev_m=height_of(used))
    nearest = min(used, key=lambda u: u.km).station
    place = (name or UNNAMED, region if name else f"near {nearest.label}", country or nearest.country)
    site = blended(used, spot, place, climate)
    assert site.place is not None
    return replace(site, place=site.place._replace(height_from=height_from), notes=_notes(site, used))


def _height(told_m: float | None, map_m: float | None) -> tuple[float | None, HeightFrom]:
    if told_m is not None:
        return told_m, "told"
    return (map_m, "map") if map_m is not None else (None, "guess")


def _candidates(lat: float, lon: float, facts: Facts) -> list[StationLine | RowAt]:
    """Stations of the table, and the bundled places that are none of them."""
    lines = lines_near(facts.root / "stations.csv", lat, lon)
    rows = [
        RowAt(row.lat, row.lon, row.elev_m, normalise(row.name), row)
        for row in place_rows(facts)
        if abs(row.lat - lat) < _ROWS_KM / 110.0 and _counts(row, lat, lon, lines)
    ]
    return [*lines, *rows]


def _counts(row: PlaceRow, lat: float, lon: float, lines: Sequence[StationLine]) -> bool:
    """True for a bundled place that is at the spot, or near it and no station of the table."""
    km = distance_km(lat, lon, row.lat, row.lon)
    if km < _AT_KM or row.country == "US" or km > _ROWS_KM:
        return km < _AT_KM
    return not any(distance_km(row.lat, row.lon, line.lat, line.lon) < _SAME_KM for line in lines)


def _row_there(candidates: Sequence[StationLine | RowAt], lat: float, lon: float) -> PlaceRow | None:
    there = [c for c in candidates if isinstance(c, RowAt) and distance_km(lat, lon, c.lat, c.lon) < _AT_KM]
    return there[0].row if there else None


def _label(chosen: Neighbour[StationLine | RowAt]) -> str:
    if isinstance(chosen.item, RowAt):
        return chosen.item.row.label
    cells = chosen.item.text.split(",", 7)
    return f"{cells[4]}, {cells[5] or cells[6]}"


def _read(item: StationLine | RowAt, facts: Facts) -> Station:
    if isinstance(item, StationLine):
        return read_station(item, facts.root / "stations.csv")
    site = build_site(item.row, facts)
    dates: list[float | None] = []
    at_32 = site.freezes[32]
    for day in (at_32.last_spring, at_32.first_autumn):
        dates += (None, None) if day is None else (day.offset_days, day.sd_days)
    for f in (28, 36):
        for day in (site.freezes[f].last_spring, site.freezes[f].first_autumn):
            dates.append(None if day is None else day.offset_days)
    kind: Kind
    if site.regime == "frost-free":
        dates, kind = [None] * 8, "r"
    else:
        kind = "x" if site.regime == "any-month" else "d" if site.basis == "published" else "e"
    return Station(
        site.name, site.region, site.country, item.town, site.lat, site.lon, site.elev_m, kind, tuple(dates),
        site.monthly_min_c, site.monthly_max_c,
    )  # fmt: skip


def _notes(site: Site, used: Sequence[Used]) -> tuple[str, ...]:
    """What an answer must state of a blended site: which stations, and what the dates rest on."""
    first, units = used[0], units_there(site)
    others = len(used) - 1
    with_others = f", and {plural(others, 'more station')}" if others else ""
    notes = [
        f"The climate of {site.label} is worked out from {first.station.label}, {shown_km(first.km, units)} "
        f"away{with_others}."
    ]
    if site.regime == "frost-free":
        notes.append(f"{site.label} is practically frost-free: too few years have a freeze to date one.")
    elif site.regime == "any-month":
        notes.append(
            f"A freeze is possible in any month {site.where}: no stretch of the year is safe for tender plants "
            "without cover."
        )
    if site.regime != "frost-free" and all(u.station.kind in ("e", "x") for u in used):
        notes.append(
            f"Freeze dates for {site.label} are estimated from monthly temperatures; your own would be better."
        )
    guessed = (
        site.place is not None and site.place.height_from == "guess" and site.place.heights_apart_m > 150.0
    )
    if guessed and site.elev_m is not None:
        notes.append(f"I used the height of those stations, about {shown_height(site.elev_m, units)}.")
    return tuple(notes)
