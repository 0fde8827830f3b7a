"""Climate stations round a spot, from knowledge/stations.csv: read by one-degree cell, never as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Literal

from gardenmate.climate.sorted_lines import lines_between
from gardenmate.core.errors import DamagedFileError
from gardenmate.records import NamedTuple

Kind = Literal["d", "a", "x", "r", "e"]
KINDS: Mapping[str, Kind] = {"d": "d", "a": "a", "x": "x", "r": "r", "e": "e"}
"""How a station's 32 F dates came about: d published, e estimated from its monthly means, r too rare to date;
a and x: a freeze is possible in any month, and the dates are estimated from harder freezes (a) or means (x)."""
ANY_MONTH = ("a", "x")
_CELLS = 19  # columns of a line
_REACHES_DEG = (1, 2, 4)  # cells looked at each way, until enough stations are found
_ENOUGH = 20  # stations to choose from; design value


class Station(NamedTuple):
    """One station: where it is, whose town's name it bears, its freeze dates and monthly means.

    ``dates``: 50% days and spreads at 32 F (spring, sd, fall, sd), 50% days at 28 F and at 36 F (spring, fall
    each), in days from the season's anchor; None where there is none. Temperatures in C.
    """

    name: str
    region: str
    country: str
    town: str
    lat: float
    lon: float
    elev_m: float | None
    kind: Kind
    dates: tuple[float | None, ...]
    monthly_min_c: tuple[float, ...]
    monthly_max_c: tuple[float, ...]

    @property
    def label(self) -> str:
        """ "Telluride 4 WNW, CO"."""
        return f"{self.name}, {self.region or self.country}"


class StationLine(NamedTuple):
    """A line of the table of which only position, height and the town's name are read."""

    lat: float
    lon: float
    elev_m: float | None
    town: str
    text: str


def lines_near(path: Path, lat: float, lon: float) -> list[StationLine]:
    """Lines of the stations within a degree or more of a spot: about twenty where there are as many within four
    degrees. Raises DamagedFileError for a line that does not read."""
    found: list[StationLine] = []
    for reach in _REACHES_DEG:
        found = [_placed(text, path) for text in _texts(path, lat, lon, reach)]
        if len(found) >= _ENOUGH:
            break
    return found


def _texts(path: Path, lat: float, lon: float, reach: int) -> list[str]:
    row, column = int(lat // 1) + 90, int(lon // 1) + 180
    wide = reach + (reach if abs(lat) > 50.0 else 0) + 1  # degrees of longitude are narrow up there
    texts: list[str] = []
    for band in range(max(row - reach, 0), min(row + reach, 179) + 1):
        west, east = max(column - wide, 0), min(column + wide, 359)
        texts += lines_between(path, f"{band:03d}{west:03d}", f"{band:03d}{east + 1:03d}")
    return texts


def _placed(text: str, path: Path) -> StationLine:
    try:
        _, lat, lon, elev, _, _, _, town, _ = text.split(",", 8)
        return StationLine(float(lat), float(lon), float(elev), town, text)
    except ValueError as error:
        raise DamagedFileError(f"{path}: not a station ({error}): {text[:60]}") from error


def read_station(line: StationLine, path: Path) -> Station:
    """The whole station of a line. Raises DamagedFileError when it does not read."""
    cells = line.text.split(",")
    try:
        if len(cells) != _CELLS:
            raise ValueError(f"{len(cells)} cells")
        kind = KINDS.get(cells[8])
        if kind is None:
            raise ValueError(f"kind '{cells[8]}'")
        dates = tuple(float(c) if c else None for c in cells[9:17])
        low, high = (tuple(int(t) / 10.0 for t in c.split(" ")) for c in cells[17:19])
        if len(low) != 12 or len(high) != 12:
            raise ValueError("not twelve months")
    except ValueError as error:
        raise DamagedFileError(f"{path}: not a station ({error}): {line.text[:60]}") from error
    return Station(
        cells[4], cells[5], cells[6], cells[7], line.lat, line.lon, line.elev_m, kind, dates, low, high
    )
