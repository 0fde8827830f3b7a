"""Towns of knowledge/towns.csv, with state, county and height: found by bisection, the table is never read whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from gardenmate.climate.place_names import Area
from gardenmate.climate.sorted_lines import lines_between
from gardenmate.core.errors import DamagedFileError
from gardenmate.knowledge.reader import data_root
from gardenmate.records import NamedTuple

IN_TABLE = frozenset({"US", "CA", "AU", "NZ", "UK", "IE"})  # countries of the table
_SHORTEST_MEANT = 5  # letters; a shorter name is like too many others


class Town(NamedTuple):
    """A town of the gazetteer: its name, state or region as in places.csv where that is known, country.

    ``elev_m`` and ``county`` where the gazetteer has them; ``people`` 0: a place known for its climate station.
    """

    name: str
    region: str | None
    country: str
    lat: float
    lon: float
    population: int
    reading: str | None = None
    elev_m: float | None = None
    county: str = ""

    @property
    def label(self) -> str:
        """ "Davis, CA"."""
        return f"{self.name}, {self.region or self.country}"


def in_table(name: str, areas: Iterable[Area] = (), table: Path | None = None) -> list[Town]:
    """Towns of this normalised name in towns.csv, in any of the areas when there are some, largest first.

    Raises DamagedFileError when the table does not read.
    """
    path = table if table is not None else data_root() / "knowledge" / "towns.csv"
    wanted = tuple(areas)
    towns = [_read(line, path) for line in lines_between(path, f"{name}|", f"{name}}}")]
    return sorted((t for t in towns if within(t, wanted)), key=lambda t: -t.population)


def starting(beginning: str, table: Path) -> list[Town]:
    """Towns whose normalised name starts so, largest first."""
    towns = [_read(line, table) for line in lines_between(table, beginning, f"{beginning}~")]
    return sorted(towns, key=lambda t: -t.population)


def near_town(name: str, areas: Iterable[Area], table: Path | None = None) -> Town | None:
    """The town of these states or provinces whose name is spelled most like a normalised one, said so; None when none
    is near enough. The first letter must be right: only its part of the table is read."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    path = table if table is not None else data_root() / "knowledge" / "towns.csv"
    wanted = tuple(area for area in areas if area[0] in IN_TABLE and area[1] is not None)
    if len(name) < _SHORTEST_MEANT or not wanted:
        return None
    lines = lines_between(path, name[0], f"{name[0]}~")
    towns = {line.partition("|")[0]: line for line in lines if _line_within(line, wanted)}
    allowed = 1 + (len(name) > 2 * _SHORTEST_MEANT)
    best = process.extract(name, list(towns), scorer=OSA.distance, score_cutoff=allowed, limit=2)
    if not best or (len(best) > 1 and best[1][1] == best[0][1]):
        return None
    town = _read(towns[best[0][0]], path)
    return town._replace(reading=f"reading '{name}' as {town.label}")


def _line_within(line: str, areas: Sequence[Area]) -> bool:
    _, _, region, country, _ = line.split("|", 4)
    return (country, region) in areas


def within(town: Town, areas: Sequence[Area]) -> bool:
    return not areas or any(town.country == c and r in (None, town.region) for c, r in areas)


def _read(line: str, path: Path) -> Town:
    try:
        _, name, region, country, county, lat, lon, height, people = line.split("|")
        elev_m = float(height) if height else None
        return Town(name, region or None, country, float(lat), float(lon), int(people), None, elev_m, county)
    except ValueError as error:
        raise DamagedFileError(f"{path}: not a town ({error}): {line[:60]}") from error
