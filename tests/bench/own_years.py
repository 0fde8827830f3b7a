"""Own frost years over the stations' dates: the error of the frost date on years not used, by how many are known.

    python tests/bench/own_years.py

Each daily record of tests/published/data with thirty years and a frost in nearly every one stands for a garden. The
station alone is what the program knows of the place without the record: the blend of the stations round it. Then 3, 5
and 10 years in a row of the record are told as the grower's own, and the mean frost date is scored on all years of the
record outside them, for every start year.
"""

from __future__ import annotations

import sys
import tempfile
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from statistics import mean

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.climate.history import History
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.own_years import with_own_years
from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.place import FrostSeen
from gardenmate.knowledge.facts import Facts

DATA = ROOT / "tests" / "published" / "data"
# The record and the nearest place by name: the data's own README says the places are approximate.
GARDENS = {
    "champion": "North Platte",
    "clemson": "Clemson, SC",
    "brussels": "Brussels",
    "cambridge": "Cambridge, England",
    "lincolnshire": "Lincoln, England",
}
YEARS = (0, 3, 5, 10)
TODAY = date(2030, 1, 1)


@dataclass(frozen=True)
class Score:
    """Mean error (days) of the mean date, and of single years, by side, with so many own years."""

    mean_date: float
    one_year: float


def records() -> dict[str, History]:
    with tempfile.TemporaryDirectory() as folder:
        return {
            name: import_weather(DATA / f"{name}.csv.gz", Path(folder) / name).history for name in GARDENS
        }


def frosts(history: History, spring: bool) -> dict[int, int]:
    """The last (first) frost of every year known, in days from the anchor."""
    found = {}
    for year in history.freeze_years(0.0, False):
        known, day = (
            (year.spring_known, year.last_spring) if spring else (year.autumn_known, year.first_autumn)
        )
        if known and day is not None:
            found[year.year] = day
    return found


def dated(site: Site, told: dict[int, int], spring: bool) -> float:
    """The mean date with the years told, in days from the anchor."""
    called = "last" if spring else "first"
    seen = [
        FrostSeen(date(year, 1, 15) + timedelta(days=day), -1.0, called, n)  # type: ignore[arg-type]
        for n, (year, day) in enumerate(told.items())
    ]
    freeze = with_own_years(site, seen, TODAY).freezes[32]
    known = freeze.last_spring if spring else freeze.first_autumn
    assert known is not None
    return known.offset_days


def score(site: Site, years: dict[int, int], spring: bool, count: int) -> Score:
    """The error with ``count`` own years in a row, over every start year, on the years outside them."""
    numbers = sorted(years)
    whole, single = [], []
    for start in range(len(numbers) - count + 1):
        used = numbers[start : start + count]
        rest = [years[y] for y in numbers if y not in used]
        day = dated(site, {y: years[y] for y in used}, spring)
        whole.append(abs(day - mean(rest)))
        single.append(mean(abs(day - r) for r in rest))
        if count == 0:
            break
    return Score(mean(whole), mean(single))


def table() -> dict[tuple[str, str], list[Score]]:
    """Garden and side -> the score with 0, 3, 5 and 10 own years."""
    facts, found = Facts(), {}
    for name, history in records().items():
        site = resolve_site(place=GARDENS[name], facts=facts).site
        assert site is not None
        for side in ("last", "first"):
            years = frosts(history, side == "last")
            found[name, side] = [score(site, years, side == "last", n) for n in YEARS]
    return found


def main() -> None:
    found = table()
    print("| days off, mean date (single year) |", " | ".join(f"{n} own years" for n in YEARS), "|")
    for (name, side), scores in found.items():
        print(f"| {name}, {side} |", " | ".join(f"{s.mean_date:.1f} ({s.one_year:.1f})" for s in scores), "|")
    means = [
        (mean(s[i].mean_date for s in found.values()), mean(s[i].one_year for s in found.values()))
        for i in range(len(YEARS))
    ]
    print("| all |", " | ".join(f"{a:.1f} ({b:.1f})" for a, b in means), "|")


if __name__ == "__main__":
    main()
