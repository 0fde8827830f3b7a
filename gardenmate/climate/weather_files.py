"""Reads daily weather files of one station: GHCN-Daily and the CSVs made of it.

Three layouts are known (NOAA NCEI, GHCN-Daily readme):
- ``.dly``: one line per station, month and element, tenths of degrees C, a quality flag behind every value;
- by-year CSV: no header; station, YYYYMMDD, element, value, three flags, time;
- by-station CSV: a header with DATE, TMIN and TMAX; order forms give tenths of degrees C, whole degrees F or
  degrees C, so the unit is told from the values.
A value that failed a quality check is dropped, a bad line is reported and skipped, a day read twice keeps the
first reading. A file without end, one packed to burst, or one that is mostly not of its layout is refused."""

from __future__ import annotations

import csv
import gzip
import io
import re
import zlib
from array import array
from collections.abc import Callable, Iterable, Iterator
from datetime import date
from itertools import chain
from math import isfinite
from pathlib import Path
from typing import Literal

from gardenmate.climate.history import MISSING, YEAR_CELLS, leap_index
from gardenmate.climate.history_store import FIRST_YEAR, HEIGHTS_M, LAST_YEAR, LATITUDES, LONGITUDES
from gardenmate.core.errors import UsageError
from gardenmate.core.files import open_plain
from gardenmate.records import dataclass, field

Progress = Callable[[int, int], None]
Unit = Literal["tenths of a degree C", "degrees C", "degrees F"]

MIN, MAX = 0, 1  # places in a day of the record
_ELEMENTS = {"TMIN": MIN, "TMAX": MAX}
_LOW_TENTHS, _HIGH_TENTHS = -900, 600  # tenths of C: colder or warmer than ever measured is a fault
_REPORT_EVERY = 500  # lines between two reports of progress
# A century of one station is 37,000 days; all its elements by day come to half a million lines, 30 MB.
MOST_LINES, MOST_BYTES, LONGEST_LINE, MOST_BAD = 2_000_000, 256_000_000, 20_000, 50_000
_LONGEST_NAME = 80
_WILDEST = 100_000.0  # a reading beyond this is no reading in any unit
_DAYS_IN_MONTH = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_MONTH_START = tuple(sum(_DAYS_IN_MONTH[:m]) for m in range(12))
_DLY = re.compile(r"^[A-Z0-9_-]{11}\d{6}[A-Z0-9]{4}")
_BY_YEAR = re.compile(r"^[A-Z0-9_-]{11},\d{8},[A-Z0-9]{4},")


@dataclass
class DailyReadings:
    """What one file gave: values by year, and what was left out on the way.

    ``years`` maps a year to its 366 minima and 366 maxima (tenths of degrees C).
    """

    station: str = ""
    name: str = ""
    lat: float | None = None
    lon: float | None = None
    elev_m: float | None = None
    unit: Unit = "tenths of a degree C"
    values: int = 0
    flagged: int = 0
    duplicates: list[int] = field(default_factory=list)
    bad: list[tuple[int, str]] = field(default_factory=list)
    years: dict[int, tuple[array[int], array[int]]] = field(default_factory=dict)

    def skip(self, line: int, why: str) -> None:
        """Note a line that cannot be used. Raises UsageError when there are too many of them."""
        self.bad.append((line, why))
        if len(self.bad) >= MOST_BAD:
            raise UsageError(f"Too many lines cannot be read (line {line}: {why}). Nothing was imported.")

    def put(self, year: int, index: int, element: int, tenths: int, line: int) -> None:
        """Keep one value; a second one for the same day is a duplicate."""
        cells = self.years.get(year)
        if cells is None:
            cells = self.years[year] = (empty_year(), empty_year())
        if cells[element][index] != MISSING:
            if not self.duplicates or self.duplicates[-1] != line:
                self.duplicates.append(line)
            return
        cells[element][index] = tenths
        self.values += 1


def read_weather(path: Path, progress: Progress | None = None, station: str | None = None) -> DailyReadings:
    """The readings of one file, whichever known layout it has. See `import_weather` for errors."""
    try:
        with open_plain(path) as file:
            total = path.stat().st_size
            packed = file.read(2) == b"\x1f\x8b"
            file.seek(0)
            text = _as_text(gzip.GzipFile(fileobj=file) if packed else file)
            bounded = _bounded(text, path)
            first = next(bounded, "")
            lines = _counted(chain([first], bounded), file.tell, total, progress)
            if _BY_YEAR.match(first):
                return _read_by_year(lines, path, station)
            if _DLY.match(first):
                return _read_dly(lines, path, station)
            if "DATE" in first.upper():
                return _read_by_station(lines, path, station)
    except (OSError, EOFError, ValueError, zlib.error) as error:
        raise UsageError(f"Cannot read {path}: {getattr(error, 'strerror', None) or error}.") from error
    raise UsageError(
        f"{path.name} is not a weather file I can read. I read GHCN-Daily .dly files and NOAA's daily .csv files "
        "with DATE, TMIN and TMAX."
    )


def _as_text(content: gzip.GzipFile | io.BufferedReader) -> io.TextIOWrapper:
    return io.TextIOWrapper(content, "utf-8-sig", errors="replace", newline="")


def _bounded(text: io.TextIOWrapper, path: Path) -> Iterator[str]:
    """The lines, as long as they are lines, and not without end."""
    size = 0
    for number in range(1, MOST_LINES + 2):
        line = text.readline(LONGEST_LINE)
        if not line:
            return
        size += len(line)
        if len(line) >= LONGEST_LINE:
            raise UsageError(f"Line {number} of {path.name} is too long for a weather file.")
        if size > MOST_BYTES or number > MOST_LINES:
            raise UsageError(f"{path.name} is too large to be one station's weather.")
        yield line


def _counted(
    lines: Iterable[str], position: Callable[[], int], total: int, progress: Progress | None
) -> Iterator[str]:
    """The lines, telling ``progress`` now and then how far the file is read."""
    if progress is None:
        yield from lines
        return
    for number, line in enumerate(lines):
        yield line
        if number % _REPORT_EVERY == 0:
            progress(min(position(), total), total)
    progress(total, total)


def _read_dly(lines: Iterable[str], path: Path, station: str | None) -> DailyReadings:
    found = DailyReadings()
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        element = _ELEMENTS.get(line[17:21])
        if element is None:
            if not _DLY.match(line):
                found.skip(number, "not a GHCN-Daily line")
            continue
        if not _same_station(found, line[:11], station, path):
            continue
        try:
            year, month = int(line[11:15]), int(line[15:17])
            days = month_days(year, month)
            start = _MONTH_START[month - 1]
            if len(line.rstrip("\r\n")) < 21 + 8 * (days - 1) + 5:
                raise ValueError
            for d in range(days):
                at = 21 + 8 * d
                tenths = int(line[at : at + 5])
                if tenths == -9999:
                    continue
                if line[at + 6 : at + 7] not in (" ", ""):
                    found.flagged += 1
                elif _LOW_TENTHS <= tenths <= _HIGH_TENTHS:
                    found.put(year, start + d, element, tenths, number)
                else:
                    found.skip(number, f"{tenths / 10:g} C on day {d + 1} cannot be")
        except (ValueError, IndexError):
            found.skip(number, "not a GHCN-Daily line")
    return found


def _read_by_year(lines: Iterable[str], path: Path, station: str | None) -> DailyReadings:
    found = DailyReadings()
    for number, line in enumerate(lines, start=1):
        fields = line.rstrip("\r\n").split(",")
        if len(fields) < 6:
            if line.strip():
                found.skip(number, "too few columns")
            continue
        element = _ELEMENTS.get(fields[2])
        if element is None or not _same_station(found, fields[0], station, path):
            continue
        try:
            day = _day(f"{fields[1][:4]}-{fields[1][4:6]}-{fields[1][6:8]}")
            tenths = int(fields[3])
        except ValueError:
            found.skip(number, "no date or no value")
            continue
        if tenths == -9999:
            continue
        if fields[5].strip():
            found.flagged += 1
        elif _LOW_TENTHS <= tenths <= _HIGH_TENTHS:
            found.put(day.year, leap_index(day), element, tenths, number)
        else:
            found.skip(number, f"{tenths / 10:g} C cannot be")
    return found


def _read_by_station(lines: Iterable[str], path: Path, station: str | None) -> DailyReadings:
    found = DailyReadings()
    rows = _cells(lines)
    header = [name.strip().upper() for name in next(rows)]
    columns = {name: i for i, name in enumerate(header)}
    if "DATE" not in columns or not ("TMIN" in columns or "TMAX" in columns):
        raise UsageError(
            f"{path.name} needs the columns DATE, TMIN and TMAX; it has {', '.join(header[:12])}."
        )
    at_date, at_station = columns["DATE"], columns.get("STATION")
    wanted = [
        (e, columns[name], columns.get(f"{name}_ATTRIBUTES"))
        for name, e in _ELEMENTS.items()
        if name in columns
    ]
    kept: list[tuple[int, int, int, float, int]] = []
    placed = False
    for number, row in enumerate(rows, start=2):
        if not row:
            continue
        if len(row) <= max(at_date, *(c for _, c, _ in wanted)):
            found.skip(number, "too few columns")
            continue
        if at_station is not None and not _same_station(found, row[at_station].strip(), station, path):
            continue
        try:
            day = _day(row[at_date].strip()[:10])
        except ValueError:
            found.skip(number, f"'{row[at_date][:20]}' is no date")
            continue
        if not placed:
            _place_of(found, row, columns, number)
            placed = True
        for element, column, at_flags in wanted:
            text = row[column].strip()
            if not text or text in ("-9999", "9999", "-9999.0", "NA", "NaN"):
                continue
            flags = row[at_flags].split(",") if at_flags is not None and at_flags < len(row) else []
            if len(flags) > 1 and flags[1].strip():
                found.flagged += 1
                continue
            try:
                kept.append((day.year, leap_index(day), element, _reading(text), number))
            except ValueError:
                found.skip(number, f"'{text[:20]}' is no temperature")
    found.unit = sniff_unit([value for _, _, _, value, _ in kept])
    for year, index, element, value, number in kept:
        tenths = _as_tenths(value, found.unit)
        if _LOW_TENTHS <= tenths <= _HIGH_TENTHS:
            found.put(year, index, element, tenths, number)
        else:
            found.skip(number, f"{value:g} {found.unit} cannot be")
    return found


def _cells(lines: Iterable[str]) -> Iterator[list[str]]:
    """The cells of each line by itself: a quote that is never closed spoils its own line only."""
    for line in lines:
        try:
            yield next(csv.reader([line]), [])
        except csv.Error:
            yield ["", ""]


def _day(text: str) -> date:
    """A day on which weather was measured. Raises ValueError."""
    day = date.fromisoformat(text)
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ValueError
    return day


def _reading(text: str) -> float:
    value = float(text)
    if not isfinite(value) or abs(value) > _WILDEST:
        raise ValueError
    return value


def sniff_unit(values: Iterable[float]) -> Unit:
    """The unit of daily extremes, told from their spread: single wild values do not decide it.

    Tenths of degrees C reach hundreds; degrees F pass 60 every summer, degrees C never do.
    """
    ordered = sorted(values)
    if not ordered:
        return "tenths of a degree C"
    low, high = ordered[len(ordered) // 100], ordered[-1 - len(ordered) // 100]
    if high > 130.0 or low < -70.0:
        return "tenths of a degree C"
    return "degrees F" if high > 52.0 else "degrees C"


def _as_tenths(value: float, unit: Unit) -> int:
    if unit == "tenths of a degree C":
        return round(value)
    celsius = (value - 32.0) / 1.8 if unit == "degrees F" else value
    return round(max(-3000.0, min(3000.0, celsius * 10.0)))


def _same_station(found: DailyReadings, here: str, wanted: str | None, path: Path) -> bool:
    """True for lines of the one station that is read; UsageError when the file mixes several."""
    if wanted is not None and here != wanted:
        return False
    if not found.station:
        found.station = _printable(here)
    elif _printable(here) != found.station:
        raise UsageError(
            f"{path.name} holds more than one station ({found.station}, {_printable(here)} ...). Keep the lines of one "
            f"station and import again, for example: grep ^{found.station} {path.name} > one.csv"
        )
    return True


def _place_of(found: DailyReadings, row: list[str], columns: dict[str, int], line: int) -> None:
    """Keep where the station stands, as far as it can stand there."""

    def number(name: str, within: tuple[float, float]) -> float | None:
        at = columns.get(name)
        if at is None or at >= len(row) or not row[at].strip():
            return None
        try:
            value = float(row[at])
        except ValueError:
            value = float("nan")
        if not within[0] <= value <= within[1]:
            found.skip(line, f"{name.lower()} '{row[at][:20]}' cannot be and is left out")
            return None
        return value

    found.lat, found.lon = number("LATITUDE", LATITUDES), number("LONGITUDE", LONGITUDES)
    found.elev_m = number("ELEVATION", HEIGHTS_M)
    if found.lat is None or found.lon is None:
        found.lat = found.lon = None
    at = columns.get("NAME")
    if at is not None and at < len(row):
        found.name = _printable(row[at])


def _printable(text: str) -> str:
    """A name from a file, short, and with nothing in it that steers a terminal."""
    return "".join(sign for sign in text if sign.isprintable()).strip()[:_LONGEST_NAME]


def month_days(year: int, month: int) -> int:
    """Days of a month. Raises ValueError when there is no such month."""
    if not 1 <= month <= 12 or not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError
    if month == 2 and not (year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)):
        return 28
    return _DAYS_IN_MONTH[month - 1]


def empty_year() -> array[int]:
    """366 cells without a reading."""
    return array("h", [MISSING]) * YEAR_CELLS
