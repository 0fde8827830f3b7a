"""The years of an imported record, each run as a season of its own: how often a start would have beaten the frost.

Warmth and frost of one year go together on a record, where two spreads added up take them for strangers. The share of
its years counts n/(n + 10) beside the chance worked from the averages.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from datetime import date, timedelta
from typing import TYPE_CHECKING

from gardenmate.records import NamedTuple
from gardenmate.science.frost_risk import normal_cdf
from gardenmate.science.thermal_time import degree_days_sine
from gardenmate.topics.season.site_year import BEFORE_ANCHOR_DAYS, SiteYear
from gardenmate.topics.season.terms import Shelter, Terms

if TYPE_CHECKING:
    from gardenmate.climate.history import History

LAST_YEARS = 30  # as many as the record's normals and freeze dates are worked from
LEAST_YEARS = 10  # with fewer the record has no freeze dates of its own either
K_YEARS = 10.0
"""Ten years count as much as the chance from the averages, thirty three times as much. Design value."""
SEASON_DAYS = 420  # from midwinter on: to the frosts of the next winter
_MOST_FILLED = 15  # days filled in a year that still counts; design value
_CHECKED_FROM, _CHECKED_DAYS = 60, 300  # the part of the year in which days must not be missing
_NEVER = 10**6  # a day that never comes
_AS_F_C = 0.05  # readings in whole F come back as 28.04 F, and still count as 28 F


class RecordChance(NamedTuple):
    """The share of years (0-1), each with the spread of days to maturity, and of how many."""

    chance: float
    years: int

    def beside(self, averages: float) -> float:
        """Both together: the chance worked from averages, and that of the years."""
        return (self.years * self.chance + K_YEARS * averages) / (self.years + K_YEARS)


def chance_on_record(
    terms: Terms, year: SiteYear, goes: int, need: float, cover: Shelter, spread_days: float
) -> RecordChance | None:
    """How often plants in the ground from day ``goes`` (from the origin) that need so many degree-days were picked
    before the freeze that ends them; None without a record of at least ten usable years."""
    history = year.site.history
    if history is None or not 0 <= goes < SEASON_DAYS:
        return None
    origins = year.kept("record origins", lambda: _origins(history, year))
    if len(origins) < LEAST_YEARS:
        return None
    most, limit = terms.most_per_day(), terms.ends_c - cover.frost_c
    key = (terms.base_c, terms.upper_c, most, cover.day_c)
    totals = year.kept(("record totals", *key), lambda: _totals(history, year, origins, *key))
    frosts = year.kept(("record frosts", limit), lambda: _frosts(history, year, origins, limit))
    share = 0.0
    for total, frost in zip(totals, frosts, strict=True):
        ready = bisect_left(total, total[goes] + need)
        if ready < len(total):
            share += normal_cdf((frost - ready - terms.wanted_days) / spread_days)
    return RecordChance(share / len(origins), len(origins))


def _origins(history: History, year: SiteYear) -> list[date]:
    """Day 0 of the latest usable seasons."""
    found = []
    for y in range(history.last_year, history.first_year - 1, -1):
        origin = year.site.anchor(date(y, 12, 31)) - timedelta(days=BEFORE_ANCHOR_DAYS)
        _, _, filled = history.span_c(origin + timedelta(days=_CHECKED_FROM), _CHECKED_DAYS, year.site)
        if filled <= _MOST_FILLED:
            found.append(origin)
        if len(found) == LAST_YEARS:
            break
    return found


def _totals(
    history: History,
    year: SiteYear,
    origins: list[date],
    base_c: float,
    upper_c: float,
    most: float,
    day_c: float,
) -> list[array[float]]:
    """Running degree-days of each season: entry d is the sum before day d."""
    found = []
    for origin in origins:
        low, high, _ = history.span_c(origin, SEASON_DAYS, year.site)
        total, running = array("d", [0.0]), 0.0
        for a, b in zip(low, high, strict=True):
            running += min(most, degree_days_sine(a, b + 2.0 * day_c, base_c, upper_c))
            total.append(running)
        found.append(total)
    return found


def _frosts(history: History, year: SiteYear, origins: list[date], limit_c: float) -> list[int]:
    """The first day after the warmest time with a minimum at or below a limit, in each season."""
    found = []
    for origin in origins:
        low, _, _ = history.span_c(origin, SEASON_DAYS, year.site)
        after = range(year.hottest, len(low))
        found.append(next((d for d in after if low[d] <= limit_c + _AS_F_C), _NEVER))
    return found
