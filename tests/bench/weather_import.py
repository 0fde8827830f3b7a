"""Times the import of a century of daily weather, its loading, and what a question needs of it.

Run: python tests/bench/weather_import.py

Targets: import under 2 s, load under 30 ms, the spans of a hundred replayed seasons under 50 ms.
"""

from __future__ import annotations

import calendar
import math
import random
import sys
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from time import perf_counter
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).parents[2]))

from gardenmate.climate.history import history_site
from gardenmate.climate.history_store import load
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.places import resolve_site
from gardenmate.knowledge.facts import Facts

T = TypeVar("T")
YEARS = range(1921, 2021)


def century() -> str:
    """A made-up station: a cosine year, five elements, every day of a hundred years."""
    chance = random.Random(1)
    lines: list[str] = []
    for year in YEARS:
        for month in range(1, 13):
            days = calendar.monthrange(year, month)[1]
            for element, middle in (("TMAX", 110), ("TMIN", -10), ("PRCP", 20), ("SNOW", 0), ("SNWD", 0)):
                cells = []
                for day in range(1, 32):
                    season = -150 * math.cos((month * 30.4 + day - 50) / 365 * 2 * math.pi)
                    value = middle + season + chance.gauss(0, 15) if element.startswith("T") else middle
                    cells.append(f"{round(value):5d}  0" if day <= days else "-9999   ")
                lines.append(f"USW00000001{year}{month:02d}{element}{''.join(cells)}")
    return "\n".join(lines) + "\n"


def timed(what: str, work: Callable[[], T]) -> T:
    start = perf_counter()
    result = work()
    print(f"{what:42s} {1000 * (perf_counter() - start):8.1f} ms")
    return result


def main() -> None:
    base = resolve_site(place="Duluth", facts=Facts()).site
    assert base is not None
    with tempfile.TemporaryDirectory() as folder:
        path, store = Path(folder) / "century.dly", Path(folder) / "garden.weather"
        path.write_text(century(), "ascii")
        timed("import of 100 years", lambda: import_weather(path, store))
        timed("import again (merge)", lambda: import_weather(path, store))
        record = timed("load", lambda: load(store))
        assert record is not None
        site = timed("normals and freeze dates", lambda: history_site(record, base))
        timed("last frost and trend, all years", record.last_frost_trend)
        timed(
            "200 days in each of 100 years",
            lambda: [record.span_c(date(year, 4, 18), 200, site) for year in YEARS],
        )


if __name__ == "__main__":
    main()
