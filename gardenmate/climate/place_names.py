"""Place names as growers type them: towns, states, countries and wider regions, spelled in a hurry.

Knows names only; which climate a name gets is settled in gardenmate.climate.places.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from typing import Any

from gardenmate.core.pattern import Pattern
from gardenmate.records import NamedTuple

Area = tuple[str, str | None]  # country, region (None: the whole country)

_STATION_WORDS = Pattern(r"( (ap|airport|intl|\d{1,7} [nsew]{1,3})){1,4}$")
_LEADING = Pattern(r"^(in|near|around|from|at|the) ")
_TRAILING = Pattern(r" (state|province|area|region)$")
_DIRECTIONS = Pattern(
    r"^(northern|southern|eastern|western|central|north|south|east|west|northwestern|northeastern|"
    r"southwestern|southeastern|northwest|northeast|southwest|southeast|upper|lower)(?: of)?(?: the)? (.+)$"
)
_FIRST_WORDS = {"st": "saint", "ste": "sainte", "mt": "mount", "ft": "fort"}


class PlaceRow(NamedTuple):
    """One row of places.csv: where it is, and the rest of the line unread."""

    name: str
    region: str
    country: str
    lat: float
    lon: float
    elev_m: float | None
    rest: str

    @property
    def label(self) -> str:
        """ "Duluth, MN"."""
        return f"{self.name}, {self.region}"

    @property
    def area(self) -> Area:
        """Its country and region."""
        return (self.country, self.region)


class RowsFound(NamedTuple):
    """What a typed name stands for among the bundled places: rows of one town, or of a region.

    ``reading`` is set when the name was not typed exactly so.
    """

    rows: tuple[PlaceRow, ...]
    region: str | None = None
    reading: str | None = None


def normalise(text: str) -> str:
    """Lower case, no accents or punctuation, "St." "Mt." "Ft." spelled out in front of a name."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    plain = re.sub(r"[.'`]", "", plain)
    words = re.sub(r"[^a-z0-9]+", " ", plain).split()
    return " ".join([*(_FIRST_WORDS.get(w, w) for w in words[:-1]), *words[-1:]])


def skeleton(name: str) -> str:
    """The sounds of a name: first letter and consonants, like-sounding ones alike ("boyzee" -> "bs")."""
    sounds = name.replace("ph", "f").replace("ck", "k")
    sounds = sounds.translate(str.maketrans("cqzv", "kksf"))
    kept = sounds[:1] + re.sub(r"[aeiouyhw ]", "", sounds[1:])
    return re.sub(r"(.)\1+", r"\1", kept)


class Gazetteer:
    """The names of the bundled places and regions, from places.csv rows and knowledge/regions.toml."""

    def __init__(self, rows: Sequence[PlaceRow], table: Mapping[str, Any]) -> None:
        self.rows = rows
        self.table = table

    @cached_property
    def by_label(self) -> dict[str, PlaceRow]:
        """ "Duluth, MN" -> its row."""
        return {row.label: row for row in self.rows}

    @cached_property
    def towns(self) -> dict[str, list[PlaceRow]]:
        """Normalised town name -> rows that stand for it."""
        found: dict[str, list[PlaceRow]] = {}
        extra = self.table["towns"]
        for row in self.rows:
            for name in dict.fromkeys((*_names_of(row.name), *map(normalise, extra.get(row.label, ())))):
                found.setdefault(name, []).append(row)
        return found

    @cached_property
    def areas(self) -> dict[str, tuple[Area, ...]]:
        """Normalised name of a state, province, region or country -> the area(s) it may mean."""
        found: dict[str, list[Area]] = {}

        def add(name: str, area: Area) -> None:
            known = found.setdefault(normalise(name), [])
            if area not in known:
                known.append(area)

        for country in ("us", "ca"):
            for code, names in self.table[country].items():
                for name in (code, *names):
                    add(name, (country.upper(), code))
        for code, names in self.table["countries"].items():
            for name in names:
                add(name, (code, None))
        for row in self.rows:
            if row.country not in ("US", "CA"):
                add(row.region, row.area)
        for short, region in self.table["abbreviations"].items():
            for row in self.rows:
                if row.region == region:
                    add(short, row.area)
        for short, code in (
            ("de", "DE"),
            ("ca", "CA"),
            ("nl", "NL"),
            ("fr", "FR"),
            ("ie", "IE"),
            ("au", "AU"),
        ):
            add(short, (code, None))
        return {name: tuple(areas) for name, areas in found.items()}

    @cached_property
    def groups(self) -> dict[str, str]:
        """Normalised name of a wider region -> its key in [groups]."""
        found = {normalise(key): key for key in (*self.table["groups"], *self.table["districts"])}
        for key, names in self.table["group_names"].items():
            for name in names:
                found[normalise(name)] = key
        return found

    def in_area(self, areas: Iterable[Area]) -> tuple[PlaceRow, ...]:
        """Rows of any of the areas, summits included."""
        wanted = tuple(areas)
        return tuple(
            row for row in self.rows if any(row.country == c and r in (None, row.region) for c, r in wanted)
        )

    def gardened(self, areas: Iterable[Area]) -> tuple[PlaceRow, ...]:
        """Rows of any of the areas that can stand for gardens there: no summits."""
        summits = self.table["summits"]
        return tuple(row for row in self.in_area(areas) if row.label not in summits)

    def region(self, name: str) -> tuple[str, tuple[PlaceRow, ...]] | None:
        """A region by normalised name: its printed name and rows. "western washington" takes the half."""
        name = _LEADING.sub("", name)
        key = self.groups.get(name)
        if key is not None:
            parts = self.table["groups"].get(key) or self.table["districts"][key]
            rows = tuple(r for part in parts for r in self._part(part))
            return _printed(key), rows
        areas = self.areas.get(name) or self.areas.get(_TRAILING.sub("", name))
        if areas:
            rows = self.gardened(areas[:1])
            return (self.area_name(areas[0]), rows) if rows else None
        turned = _DIRECTIONS.match(name)
        if turned is None:
            return None
        whole = self.region(turned[2])
        if whole is None:
            return None
        rows = _half(whole[1], turned[1])
        return (f"{turned[1]} {whole[0]}", rows) if rows else None

    def _part(self, part: str) -> tuple[PlaceRow, ...]:
        row = self.by_label.get(part)
        if row is not None:
            return (row,)
        return self.gardened((("US" if part in self.table["us"] else "CA", part),))

    def area_name(self, area: Area) -> str:
        """An area's full name, for print."""
        country, region = area
        if region is None:
            return _printed(self.table["countries"][country][0])
        names = self.table.get(country.lower(), {}).get(region)
        return _printed(names[0]) if names else region

    def whole(self, name: str, rows: Sequence[PlaceRow]) -> str:
        """A region's name as one may type it to mean all of it: "New York state", "Quebec province"."""
        kind = {"US": "state", "AU": "state", "CA": "province"}.get(rows[0].country, "region")
        return f"{name} {kind}"

    def qualified(self, typed: str) -> list[tuple[str, tuple[Area, ...]]]:
        """Every way to read a name as town + area: ("portland", (("US", "ME"),))."""
        parts = [normalise(part) for part in typed.split(",")]
        readings: list[tuple[str, tuple[Area, ...]]] = []
        if len(parts) > 1 and parts[0]:
            areas: tuple[Area, ...] = ()
            for part in parts[1:]:  # the last part that narrows: "Leeds, England, UK"
                known = self.areas.get(part) or self.areas.get(_TRAILING.sub("", part)) or ()
                narrower = tuple(a for a in known if a[1] is not None)
                areas = narrower or areas or known
            if areas:
                readings.append((parts[0], areas))
            return readings
        words = parts[0].split()
        for cut in range(1, len(words)):
            areas = self.areas.get(" ".join(words[cut:]), ())
            if areas:
                readings.append((" ".join(words[:cut]), areas))
        return readings

    @cached_property
    def sounds(self) -> dict[str, str]:
        """How every bundled town sounds, for names misspelled."""
        return {town: skeleton(town) for town in self.towns}

    def near_spellings(self, name: str, rows: Iterable[PlaceRow] | None = None) -> list[tuple[float, str]]:
        """(score 0-100, town name) of the bundled towns spelled or sounding like a name, best first."""
        from rapidfuzz import fuzz, process

        if rows is None:
            choices = list(self.towns)
        else:
            allowed = {id(row) for row in rows}
            choices = [town for town, known in self.towns.items() if any(id(row) in allowed for row in known)]
        scored = {
            town: score for town, score, _ in process.extract(name, choices, scorer=fuzz.ratio, limit=12)
        }
        sound = skeleton(name)
        if len(sound) >= (2 if rows is not None else 3):
            for town in choices:
                if self.sounds[town] == sound:
                    scored[town] = max(scored.get(town, 0.0), 86.0)
        return sorted(((score, town) for town, score in scored.items()), reverse=True)


def _names_of(name: str) -> list[str]:
    """The town names a row's own name holds: "Hurn (Bournemouth)" is hurn and bournemouth."""
    found = [normalise(name)]
    inside = re.search(r"\(([^)]+)\)", name)
    if inside:
        found += [normalise(name[: inside.start()]), normalise(inside[1])]
    return [_STATION_WORDS.sub("", each) for each in found] + found


def _half(rows: Sequence[PlaceRow], direction: str) -> tuple[PlaceRow, ...]:
    """The rows on one side of the middle of a region."""
    lats, lons = [row.lat for row in rows], [row.lon for row in rows]
    lat_low, lat_high = min(lats), max(lats)
    lon_low, lon_high = min(lons), max(lons)
    lat_mid, lon_mid = (lat_low + lat_high) / 2, (lon_low + lon_high) / 2
    kept = rows
    if direction.startswith("central"):
        kept = [
            row
            for row in rows
            if abs(row.lat - lat_mid) <= (lat_high - lat_low) / 4
            or abs(row.lon - lon_mid) <= (lon_high - lon_low) / 4
        ]
    if direction.startswith(("north", "upper")):
        kept = [row for row in kept if row.lat >= lat_mid]
    if direction.startswith(("south", "lower")):
        kept = [row for row in kept if row.lat <= lat_mid]
    if "west" in direction:
        kept = [row for row in kept if row.lon <= lon_mid]
    if "east" in direction:
        kept = [row for row in kept if row.lon >= lon_mid]
    return tuple(kept)


def _printed(name: str) -> str:
    small = {"of", "and", "the"}
    return " ".join(w if w in small else "-".join(p.capitalize() for p in w.split("-")) for w in name.split())
