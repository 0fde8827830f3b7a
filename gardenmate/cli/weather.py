"""`gardenmate import-weather FILE`: reads a station's daily weather into the garden's record."""

from __future__ import annotations

import sys
from argparse import Namespace
from contextlib import nullcontext
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from gardenmate.climate.history_store import weather_path
from gardenmate.climate.import_weather import Report, import_weather
from gardenmate.core.text import harmless
from gardenmate.core.units import c_to_f, show_date
from gardenmate.dialogue.home import garden_named
from gardenmate.garden.exports import user_path

if TYPE_CHECKING:
    from gardenmate.climate.history import History, Trend


def run(options: Namespace) -> int:
    """Import the file named and print what was read. Raises UsageError, DamagedFileError."""
    garden_file = garden_named(options, new=True)
    path = user_path(options.file)
    store = weather_path(garden_file)
    report = _import(path, store)
    southern = bool(options.lat is not None and options.lat < 0) or (report.history.lat or 0.0) < 0
    for line in (*report.lines, *climate_lines(report.history, southern), f"Kept in {store}."):
        print(harmless(line))
    return 0


def climate_lines(history: History, southern: bool) -> list[str]:
    """What the record says about the garden's frosts, as sentences: dates, spread, trend."""
    freeze = history.freeze(0.0, southern)
    years = history.freeze_years(0.0, southern)
    if freeze is None:
        return ["It holds fewer than ten full seasons, too few for freeze dates of its own."]
    anchor = date(years[-1].year, 7 if southern else 1, 15)
    lines: list[str] = []
    for word, known in (("last frost", freeze.last_spring), ("first frost", freeze.first_autumn)):
        if known is None:
            lines.append(f"Fewer than half the years have a {word} at {c_to_f(0.0):.0f} F (0 C).")
        else:
            day = show_date(known.day(anchor), anchor)
            lines.append(f"Average {word}: {day}, give or take {known.sd_days:.0f} days.")
    trends = (
        ("last frost", history.last_frost_trend(0.0, southern)),
        ("first frost", history.first_frost_trend(0.0, southern)),
    )
    lines += [trend_line(word, trend) for word, trend in trends if trend is not None]
    return lines


def trend_line(word: str, trend: Trend) -> str:
    """ "Your last frost has come 3 days earlier per decade, +-2 (1950-2020, 68 years)."."""
    days = abs(trend.days_per_decade)
    way = "later" if trend.days_per_decade > 0 else "earlier"
    told = f"Your {word} has come {days:.1f} days {way} per decade, +-{trend.standard_error:.1f}"
    doubt = "" if trend.clear else "; that is within the scatter of the years"
    return f"{told} ({trend.years} years){doubt}."


def _import(path: Path, store: Path) -> Report:
    if not sys.stderr.isatty():
        return import_weather(path, store)
    from rich.console import Console
    from rich.progress import Progress

    bar = Progress(console=Console(stderr=True), transient=True)
    with bar if path.is_file() else nullcontext():
        task = bar.add_task(f"Reading {path.name}", total=None)
        return import_weather(path, store, lambda done, total: bar.update(task, completed=done, total=total))
