"""A start replayed in every year of an imported station record, by the same thermal time as the plan."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from gardenmate.core.answer import Table
from gardenmate.records import NamedTuple
from gardenmate.science.thermal_time import degree_days_sine
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.site_year import SiteYear

if TYPE_CHECKING:
    from gardenmate.climate.history import History

MOST_FILLED_DAYS = 15
"""A year with more days missing than this between start and frost is left out."""
LOOK_PAST_DAYS = 90  # days looked at past the usual end; design value
WORKED, FAILED, MISSING = "+", "-", "."


class YearRun(NamedTuple):
    """One year: ``ready`` and ``end`` in days from the set-out (or sowing) day; ``end`` None when no
    killing freeze came within the time looked at; ``margin`` days between the last wanted picking and it."""

    year: int
    ready: int | None
    end: int | None
    margin: int | None

    @property
    def worked(self) -> bool:
        """Picked, with the picking wanted, before the freeze."""
        return self.ready is not None and (self.margin is None or self.margin >= 0)


class Replay(NamedTuple):
    """Every usable year of the record, oldest first."""

    runs: tuple[YearRun, ...]

    @property
    def years(self) -> int:
        """Years replayed."""
        return len(self.runs)

    @property
    def worked(self) -> int:
        """Years in which it was picked in time."""
        return sum(r.worked for r in self.runs)

    def extreme(self, *, best: bool) -> YearRun | None:
        """The year with the largest or the smallest margin, among years that have one."""
        known = [r for r in self.runs if r.margin is not None or r.ready is None]
        if not known:
            return None
        rank = lambda r: -999 if r.margin is None else r.margin  # noqa: E731
        return max(known, key=rank) if best else min(known, key=rank)


def replay(plan: Plan, year: SiteYear, history: History) -> Replay:
    """Run the plan's days in the ground through each year of the record.

    The plants go out on the same day of every year; the freeze that counts is the first one at the crop's
    damage temperature after the year's warmest time.
    """
    goes = plan.set_out or plan.opens or plan.start
    _, number = year.day_number(goes)
    spring_over = max(0, year.hottest - number)
    usual_end = 0 if plan.end is None else (plan.end - goes).days
    length = max(
        60, usual_end + LOOK_PAST_DAYS, 0 if plan.first_pick is None else (plan.first_pick - goes).days + 60
    )
    runs: list[YearRun] = []
    for y in range(history.first_year, history.last_year + 1):
        start = _in_year(goes, y)
        low, high, filled = history.span_c(start, length, year.site)
        if filled > MOST_FILLED_DAYS:
            # The days after the picking may be missing; those before it may not.
            ready = _ready(plan, low, high)
            needed = length if ready is None else min(length, ready + round(plan.terms.wanted_days) + 1)
            low, high, filled = history.span_c(start, needed, year.site)
            if filled > MOST_FILLED_DAYS:
                continue
        runs.append(_run(plan, y, low, high, spring_over))
    return Replay(tuple(runs))


def _in_year(day: date, year: int) -> date:
    """The same day of another year; 29 February becomes the 28th."""
    try:
        return day.replace(year=year)
    except ValueError:
        return day.replace(year=year, day=28)


def _ready(plan: Plan, low: list[float], high: list[float]) -> int | None:
    """Days from going out to the first picking on this record; None when it does not come."""
    t = plan.terms
    most = t.most_per_day()
    left, warmer = plan.degree_days, 2.0 * plan.cover.day_c
    for i, (a, b) in enumerate(zip(low, high, strict=True)):
        left -= min(most, degree_days_sine(a, b + warmer, t.base_c, t.upper_c))
        if left <= 0:
            return i + 1
    return None


def _run(plan: Plan, y: int, low: list[float], high: list[float], spring_over: int) -> YearRun:
    t = plan.terms
    ready = _ready(plan, low, high)
    limit = t.damage_c - plan.cover.frost_c
    end = next((i for i in range(spring_over, len(low)) if low[i] <= limit), None)
    margin = None
    if ready is not None and end is not None:
        margin = end - ready - round(t.wanted_days)
    return YearRun(y, ready, end, margin)


def replay_words(found: Replay, label: str) -> str | None:
    """The replay in one sentence; None when the record holds no usable year."""
    if not found.runs:
        return None
    text = (
        f"In {found.worked} of the {found.years} years on record at {label} this start would have been "
        "picked before the killing freeze"
    )
    worst, best = found.extreme(best=False), found.extreme(best=True)
    if worst is None or best is None or worst.year == best.year:
        return text + "."
    return f"{text}: worst {_year_words(worst)}, best {_year_words(best)}."


def strip(found: Replay) -> Table | None:
    """The years as a small strip, a row for ten: + picked in time, - not, a dot where days are missing.

    Signs and no colour, and narrow enough for 50 columns. None without a usable year.
    """
    if not found.runs:
        return None
    signs = {run.year: WORKED if run.worked else FAILED for run in found.runs}
    first, last = found.runs[0].year, found.runs[-1].year
    rows = []
    for decade in range(first // 10 * 10, last + 1, 10):
        years = [y for y in range(decade, decade + 10) if first <= y <= last]
        rows.append((f"{years[0]}-{years[-1]}", " ".join(signs.get(y, MISSING) for y in years)))
    return Table(("years", f"{WORKED} picked in time, {FAILED} not"), tuple(rows), "This start in past years")


def _year_words(run: YearRun) -> str:
    if run.margin is None:
        return f"{run.year} (never ripe)" if run.ready is None else f"{run.year}"
    if run.margin < 0:
        return f"{run.year} ({-run.margin} days short)"
    return f"{run.year} ({run.margin} days to spare)"
