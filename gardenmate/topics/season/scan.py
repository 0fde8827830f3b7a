"""Every day of a place's year tried as a starting day for one crop: may it begin, will it come ready in time?

Two strictnesses run side by side: *allowed* (it can be done) and *good* (most growers would). Days are
numbers from the origin of `SiteYear`.
"""

from __future__ import annotations

from bisect import bisect_left
from typing import NamedTuple

from gardenmate.science.frost_risk import standard_quantile
from gardenmate.topics.season.site_year import YEAR, SiteYear
from gardenmate.topics.season.terms import OPEN_GROUND, Cover, Terms

NEVER = 10**6
SLOWEST, BRISK = 1.5, 1.2
"""How many times its printed days an autumn start may take, at most and for a good one."""
HEAT_OVER_C = 1.5
HEAT_UNDER_C = 0.5
"""The printed highest monthly mean is a soft limit: allowed this much over it, good only this much under."""
LEAST_LIGHT_HOURS = 10.0
"""Hours of sun below which little grows, however mild the winter (common practice)."""
GOOD_LIGHT_HOURS = 10.7
"""Hours of sun from which most growers begin: where winters are mild light, not warmth, holds them back."""
HOT_SOIL_UNDER_C = 3.0
"""Seed comes up poorly from this much under the highest soil temperature it stands."""
WINTER_MARGIN_C = 4.0
"""So far above the killing temperature the coldest normal night must stay for a crop to stand the winter."""


class Limits(NamedTuple):
    """What bounds a start in one place, for one crop, method and strictness (day numbers, degrees C)."""

    opens_after: float
    opens_mean_c: float
    ready_by: float
    heat_c: float


class Scan(NamedTuple):
    """The year tried out, one item per starting day.

    ``ready`` is the first-picking day. ``opens`` / ``opens_well``: may be started by then, at the loose and
    at the strict limit; ``fits`` / ``fits_well``: comes ready in time and not in heat; ``too_hot``:
    would come ready in heat.
    """

    ready: list[int]
    opens: list[bool]
    opens_well: list[bool]
    fits: list[bool]
    fits_well: list[bool]
    too_hot: list[bool]


def emergence_lag(terms: Terms) -> float:
    """Days between sowing and leaves that frost can hurt, in soil as cold as the season opens with."""
    if "seed-potatoes" in terms.crop.methods:
        return 24.0
    days = terms.emergence_days(max(terms.start.best_mean_c, terms.emergence[0][0]))
    return min(days if days is not None else 14.0, 18.0)


def opening_day(terms: Terms, year: SiteYear, method: str, risk: float, cover: Cover = OPEN_GROUND) -> float:
    """Earliest start at which a damaging spring freeze still to come is no likelier than ``risk``."""
    light = -float(NEVER)
    if terms.crop.warm and not year.warm_winter:
        # Where winters are mild the mean alone would let warm crops in at the darkest time of the year.
        light = year.kept(("light", terms.general.warm_light_hours), lambda: _light(terms, year))
    last = year.last_spring(terms.damage_c - cover.frost_c)
    if last is None:
        return light
    lag = emergence_lag(terms) if method == "outdoors" else 0.0
    return max(light, last.offset_days + standard_quantile(1.0 - risk) * last.sd_days - lag)


def _light(terms: Terms, year: SiteYear) -> float:
    return float(year.light_from(terms.general.warm_light_hours))


def season_end(terms: Terms, year: SiteYear, cover: Cover = OPEN_GROUND) -> tuple[float, float]:
    """(mean, sd) of the day the season ends: the autumn freeze that kills, or, for warm crops, the day the
    mean falls to where growth stops, whichever is first. NEVER in places without either."""
    ends_c = terms.ends_c
    first = year.first_autumn(ends_c - cover.frost_c)
    end, sd = (first.offset_days, first.sd_days) if first is not None else (float(NEVER), 0.0)
    if terms.crop.warm:
        floor = terms.base_c + 1.0 - cover.day_c
        cold = year.first_day(year.hottest, lambda t: t < floor, year.hottest + 300)
        if cold is not None and cold < end:
            end, sd = float(cold), 8.0
    elif year.mild and terms.crop.frost.killed_below_c < terms.damage_c and stands_winter(terms, year, cover):
        # A cool crop that only the killing cold would end stands the winter where that cold hardly comes.
        end, sd = float(NEVER), 0.0
        dark = year.kept(("light", LEAST_LIGHT_HOURS), lambda: float(year.light_from(LEAST_LIGHT_HOURS)))
        if terms.grown_by_dark and dark > 0.0:
            # What is dug all winter has to be grown before the dark days, not picked out by then.
            end, sd = YEAR - dark + terms.wanted_days, 10.0
    return end, sd


def stands_winter(terms: Terms, year: SiteYear, cover: Cover = OPEN_GROUND) -> bool:
    """True where the cold that kills the crop hardly comes: the usual coldest night stays well above it."""
    killed = terms.crop.frost.killed_below_c - cover.frost_c
    return year.first_autumn(killed) is None or min(year.min_c) >= killed + WINTER_MARGIN_C


def limits(terms: Terms, year: SiteYear, method: str, *, good: bool, cover: Cover = OPEN_GROUND) -> Limits:
    """The bounds of a start, allowed or good."""
    start = terms.start
    risk = terms.own_risk
    if risk is None:
        risk = start.best_risk if good else start.earliest_risk
    end, sd = season_end(terms, year, cover)
    chance = terms.general.yes_from if good else terms.general.latest_from
    spread = (sd * sd + (terms.general.maturity_spread * terms.dtm) ** 2) ** 0.5
    heat = terms.heat_c if terms.heat_c is not None else 99.0
    opens = opening_day(terms, year, method, risk, cover)
    if good:
        light = year.kept(("light", GOOD_LIGHT_HOURS), lambda: float(year.light_from(GOOD_LIGHT_HOURS)))
        opens = max(opens, light)
    return Limits(
        opens_after=opens,
        opens_mean_c=(start.best_mean_c if good else start.earliest_mean_c) - cover.day_c,
        ready_by=end - standard_quantile(chance) * spread - terms.wanted_days,
        heat_c=heat - HEAT_UNDER_C if good else heat + HEAT_OVER_C,
    )


def ready_days(terms: Terms, year: SiteYear, method: str, cover: Cover = OPEN_GROUND) -> list[int]:
    """First-picking day of a start on each day of the year (NEVER when three years do not suffice)."""
    total = terms.total(year, cover)
    need = terms.need(method)
    found: list[int] = []
    add, last, i = found.append, len(total), 0
    for d in range(YEAR):
        i = bisect_left(total, total[d] + need - 1e-9, i)
        add(i if i < last else NEVER)
    return found


def scan(terms: Terms, year: SiteYear, method: str, cover: Cover = OPEN_GROUND) -> Scan:
    """Try every day of the year as a start."""
    return year.kept(("scan", terms.key, method, cover), lambda: _scan(terms, year, method, cover))


def _scan(terms: Terms, year: SiteYear, method: str, cover: Cover) -> Scan:
    loose = limits(terms, year, method, good=False, cover=cover)
    strict = limits(terms, year, method, good=True, cover=cover)
    ready = ready_days(terms, year, method, cover)
    mean, hottest = year.mean_c, year.hottest
    ends = terms.until_mean_c is not None
    until = terms.until_mean_c if terms.until_mean_c is not None else 99.0
    longest, brisk = slowest_days(terms, method, SLOWEST), slowest_days(terms, method, BRISK)
    at_ready = [mean[r % YEAR] if r != NEVER else -99.0 for r in ready]
    soil, hot_soil = year.soil_c, hottest_soil_c(terms, method)
    days = range(YEAR)
    still_falling = _last_too_cold(year, loose.opens_mean_c)
    opens = [
        ((d > hottest and not ends) or (d <= hottest and loose.opens_mean_c <= mean[d] <= until))
        and d >= loose.opens_after
        and d > still_falling
        for d in days
    ]
    opens_well = [d >= strict.opens_after and (d > hottest or mean[d] >= strict.opens_mean_c) for d in days]
    fits = [
        at_ready[d] <= loose.heat_c
        and ready[d] <= loose.ready_by
        and (d <= hottest or ready[d] - d <= longest)
        and soil[d] <= hot_soil
        for d in days
    ]
    fits_well = [
        at_ready[d] <= strict.heat_c
        and ready[d] <= strict.ready_by
        and mean[d] <= until - 1.0
        and (d <= hottest or ready[d] - d <= brisk)
        and soil[d] <= hot_soil - HOT_SOIL_UNDER_C
        for d in days
    ]
    return Scan(ready, opens, opens_well, fits, fits_well, [t > loose.heat_c for t in at_ready])


def _last_too_cold(year: SiteYear, opens_c: float) -> int:
    """The last day up to the coldest one that is too cold to open: warmer days before it are autumn's end."""
    return max((d for d in range(min(year.coldest, YEAR // 3) + 1) if year.mean_c[d] < opens_c), default=-1)


def hottest_soil_c(terms: Terms, method: str) -> float:
    """Soil temperature above which seed sown in place does not come up, degrees C; no limit for plants."""
    most = terms.crop.soil.max_soil_sow_c
    return most if method == "outdoors" and most is not None else 99.0


def slowest_days(terms: Terms, method: str, times: float) -> float:
    """Most days an autumn start may take: what creeps through the winter has a rule of its own."""
    return times * terms.days_needed(method) + 7.0


def runs(days: list[bool], shortest: int = 7) -> list[tuple[int, int]]:
    """Stretches of True, first and last day; gaps under ``shortest`` days are closed, short ones dropped."""
    found: list[list[int]] = []
    for d, ok in enumerate(days):
        if not ok:
            continue
        if found and d - found[-1][1] <= shortest:
            found[-1][1] = d
        else:
            found.append([d, d])
    return [(a, b) for a, b in found if b - a + 1 >= shortest]
