"""Imports a station's daily weather into the garden's own record, and tells what it read.

The file layouts are those of gardenmate.climate.weather_files. Importing again merges with what is stored; a
record of another station is set aside, never mixed in.
"""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterator
from pathlib import Path

from gardenmate.climate.history import MISSING, YEAR_CELLS, History
from gardenmate.climate.history_store import load, save
from gardenmate.climate.weather_files import (
    MAX,
    MIN,
    DailyReadings,
    Progress,
    empty_year,
    month_days,
    read_weather,
)
from gardenmate.core.errors import UsageError
from gardenmate.records import dataclass, replace

_SHOWN = 5  # line numbers told


@dataclass(frozen=True, slots=True)
class Report:
    """What an import did. ``lines`` are sentences for the grower."""

    history: History
    values: int
    new: int
    changed: int
    flagged: int
    duplicate_lines: tuple[int, ...]
    bad_lines: tuple[tuple[int, str], ...]
    missing_days: int
    longest_gap_days: int
    lines: tuple[str, ...]


def import_weather(
    path: Path, store_path: Path, progress: Progress | None = None, station: str | None = None
) -> Report:
    """Read a weather file and merge it into the record at ``store_path``.

    ``progress`` is called with (bytes read, bytes in all). ``station`` picks one station of a by-year file.
    Raises UsageError when the file is none of the known layouts, holds several stations, or no temperature;
    DamagedFileError when the stored record does not read (it is then left as it is).
    """
    stored = load(store_path)
    readings = read_weather(path, progress, station)
    if not readings.values:
        raise UsageError(
            f"{path.name} holds no daily minimum or maximum (TMIN, TMAX) that passed its quality checks."
        )
    fresh = _as_history(readings)
    other = (
        stored is not None
        and bool(stored.station)
        and bool(fresh.station)
        and stored.station != fresh.station
    )
    if stored is not None and other:
        set_aside = store_path.with_name(
            f"{store_path.name}.{re.sub(r'[^A-Za-z0-9_-]', '_', stored.station)}"
        )
        save(stored, set_aside)
    merged, new, changed = _merge(None if other else stored, fresh)
    save(merged, store_path)
    missing, longest = _gaps(merged)
    report = Report(
        history=merged,
        values=readings.values,
        new=new,
        changed=changed,
        flagged=readings.flagged,
        duplicate_lines=tuple(readings.duplicates),
        bad_lines=tuple(readings.bad),
        missing_days=missing,
        longest_gap_days=longest,
        lines=(),
    )
    return replace(report, lines=tuple(_sentences(report, readings, stored, other)))


def _as_history(readings: DailyReadings) -> History:
    first, last = min(readings.years), max(readings.years)
    low, high = array("h"), array("h")
    for year in range(first, last + 1):
        cells = readings.years.get(year) or (empty_year(), empty_year())
        for i in range(YEAR_CELLS):  # a minimum above the day's maximum: neither can be trusted
            if cells[MIN][i] != MISSING and cells[MAX][i] != MISSING and cells[MIN][i] > cells[MAX][i]:
                readings.bad.append((0, f"minimum above maximum on day {i + 1} of {year}"))
                cells[MIN][i] = cells[MAX][i] = MISSING
        low.extend(cells[MIN])
        high.extend(cells[MAX])
    return History(
        readings.station, first, low, high, readings.name, readings.lat, readings.lon, readings.elev_m
    )


def _merge(stored: History | None, fresh: History) -> tuple[History, int, int]:
    """Both records in one, the fresh values on top; how many values are new, and how many changed."""
    if stored is None:
        return fresh, sum(v != MISSING for cells in (fresh.min_tenths, fresh.max_tenths) for v in cells), 0
    first = min(stored.first_year, fresh.first_year)
    last = max(stored.last_year, fresh.last_year)
    count = (last - first + 1) * YEAR_CELLS
    new = changed = 0
    both: list[array[int]] = []
    for old, add in ((stored.min_tenths, fresh.min_tenths), (stored.max_tenths, fresh.max_tenths)):
        cells = array("h", [MISSING]) * count
        start = (stored.first_year - first) * YEAR_CELLS
        cells[start : start + len(old)] = old
        start = (fresh.first_year - first) * YEAR_CELLS
        for i, value in enumerate(add, start=start):
            if value != MISSING and value != cells[i]:
                if cells[i] == MISSING:
                    new += 1
                else:
                    changed += 1
                cells[i] = value
        both.append(cells)
    merged = replace(
        fresh,
        station=fresh.station or stored.station,
        name=fresh.name or stored.name,
        lat=stored.lat if fresh.lat is None else fresh.lat,
        lon=stored.lon if fresh.lon is None else fresh.lon,
        elev_m=stored.elev_m if fresh.elev_m is None else fresh.elev_m,
        first_year=first,
        min_tenths=both[MIN],
        max_tenths=both[MAX],
    )
    return merged, new, changed


def _gaps(history: History) -> tuple[int, int]:
    """Days without a minimum between the first and the last reading: how many, and the longest run."""
    cells = history.min_tenths
    present = [i for i, v in enumerate(cells) if v != MISSING]
    if not present:
        return 0, 0
    missing = longest = run = 0
    for i in range(present[0], present[-1] + 1):
        year = history.first_year + i // YEAR_CELLS
        if i % YEAR_CELLS == 59 and month_days(year, 2) == 28:
            continue
        if cells[i] == MISSING:
            missing += 1
            run += 1
            longest = max(longest, run)
        else:
            run = 0
    return missing, longest


def _sentences(
    report: Report, readings: DailyReadings, stored: History | None, set_aside: bool
) -> Iterator[str]:
    history = report.history
    where = f"{history.name} ({history.station})" if history.name and history.station else history.label
    yield (
        f"Read {report.values} temperatures of {where}; the record now runs from {history.first_year} to "
        f"{history.last_year}."
    )
    if readings.unit != "tenths of a degree C":
        yield f"The values were read as {readings.unit}."
    if stored is not None and set_aside:
        yield f"The record of {stored.label} was another station's: it is set aside, not mixed in."
    elif stored is not None and (report.new or report.changed):
        yield f"{report.new} values are new, {report.changed} replace an earlier reading."
    elif stored is not None:
        yield "Nothing in it was new."
    if report.flagged:
        yield f"{report.flagged} values failed the weather service's quality checks and were left out."
    if report.missing_days:
        longest = report.longest_gap_days
        yield f"{report.missing_days} days have no minimum; the longest gap is {longest} days."
    if report.duplicate_lines:
        listed = ", ".join(str(n) for n in report.duplicate_lines[:_SHOWN])
        more = len(report.duplicate_lines) - _SHOWN
        tail = f" and {more} more" if more > 0 else ""
        yield f"Days given twice keep the first reading (line {listed}{tail})."
    for number, problem in report.bad_lines[:_SHOWN]:
        yield f"Line {number}: {problem}; skipped." if number else f"Left out: {problem}."
    if len(report.bad_lines) > _SHOWN:
        yield f"{len(report.bad_lines) - _SHOWN} more lines were skipped."
