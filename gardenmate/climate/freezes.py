"""Freeze dates of a place: published ones read, missing ones estimated, any threshold in between.

Freeze dates are normal distributions on the season's own day count (see gardenmate.climate.site). Where a
place publishes none, the 50% date is the day on which the smooth daily minimum crosses a level that depends
on latitude, daily range and coast; the spread follows how steeply the minimum rises or falls there. The
coefficients are in knowledge/climate.toml, their error is measured by tests/bench/freeze_fit.py.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import lru_cache
from math import ceil, log, sqrt
from typing import Any, Literal

from gardenmate.core.units import f_to_c
from gardenmate.records import NamedTuple
from gardenmate.science.frost_risk import normal_cdf, standard_quantile

THRESHOLDS_F = (36, 32, 28)  # degrees F: those of the US freeze tables (NOAA NCEI)
COMMON_SHARE = 0.5  # a freeze seen in fewer winters than this gets no dates
SPAN_10_90 = 2.563  # standard deviations of a normal distribution from its 10 to its 90 % point
SPAN_50_90 = 1.2816  # and from its middle to its 90 % point
_FEB_29 = 59  # index of the leap day in 366 daily values
_ANCHOR_NORTH, _ANCHOR_SOUTH = 14, 195  # indices of 15 January and 15 July in 365 daily values
YEAR_DAYS = 365  # days; the leap day is left out
_STEEPNESS_DAYS = 10  # either side of a day, over which its steepness is taken; design value
_STEP_C = 1.2  # no step along the curve is longer, so that it may bend; design value
_PLAIN_FLOOR = 0.1  # C a day: the least the minimum counts as changing by without a fit; design value


Basis = Literal["own", "history", "published", "estimated"]


class FreezeDate(NamedTuple):
    """A freeze date as a normal distribution.

    ``offset_days`` counts from the season's anchor day to the 50% date (may be negative, or over 365, in
    mild places); ``sd_days`` is its spread, ``basis`` where it comes from.
    """

    offset_days: float
    sd_days: float
    basis: Basis

    def day(self, anchor: date) -> date:
        """The 50% date in the season that starts on ``anchor``."""
        return anchor + timedelta(days=round(self.offset_days))

    def day_at(self, probability: float, anchor: date) -> date:
        """The date by which the event has happened with this probability (0 < p < 1)."""
        offset = self.offset_days + standard_quantile(probability) * self.sd_days
        return anchor + timedelta(days=round(offset))

    def happened_by(self, day: date, anchor: date) -> float:
        """Chance that the event is on or before ``day``."""
        return normal_cdf(((day - anchor).days + 0.5 - self.offset_days) / self.sd_days)


class Freeze(NamedTuple):
    """Last spring and first autumn day with a minimum at or below one threshold. None: too rare to date.

    ``share``: share of winters (0-1) that have such a night at all; below about a half there are no dates.
    """

    last_spring: FreezeDate | None
    first_autumn: FreezeDate | None
    share: float = 1.0


Terms = tuple[float, float, float, float]


class Side(NamedTuple):
    """One side of the cold season in the fit: level of the minimum on the 50% date, its error, and spread.

    ``per_term_c`` are the coefficients of `predictors`, in their order.
    """

    at_40_c: float
    per_term_c: Terms
    error_c: float
    sd_at_1: float
    sd_per_log: float

    def level_c(self, terms: Terms) -> float:
        """Normal minimum (C) on the 50% date of a 32 F freeze, where the `predictors` are ``terms``."""
        return self.at_40_c + sum(c * t for c, t in zip(self.per_term_c, terms, strict=True))


def predictors(
    lat: float, lon: float, country: str, monthly_min_c: Sequence[float], monthly_max_c: Sequence[float]
) -> Terms:
    """What the fit looks at: latitude beyond 40 and mean daily range (both in tens), and two coasts (0 or 1).

    Beyond 45 degrees latitude no longer counts. The Pacific side of North America (west of 115 W) and its far
    north-west (north of 58 N, west of 110 W) have steadier nights than their latitude suggests.
    """
    daily_range = sum(high - low for low, high in zip(monthly_min_c, monthly_max_c, strict=True)) / 12.0
    america = country in ("US", "CA")
    far_northwest = america and lat > 58.0 and lon < -110.0
    alaska = far_northwest or (america and lon < -130.0)
    pacific = america and lon < -115.0 and not alaska
    return min((abs(lat) - 40.0) / 10.0, 0.5), daily_range / 10.0, float(pacific), float(alaska)


class FreezeFit(NamedTuple):
    """The coefficients of knowledge/climate.toml."""

    spring: Side
    autumn: Side
    sd_limits_days: tuple[float, float]
    error_limits_days: tuple[float, float]
    steepness_floor: float
    coldest_night_sd_c: float
    coldest_night_margin_c: float

    def share(self, margin_c: float) -> float:
        """Share of winters with a freeze where the 50% level lies this far (C) above the coldest night."""
        return normal_cdf((margin_c + self.coldest_night_margin_c) / self.coldest_night_sd_c)

    def spread_days(self, side: Side, steepness: float) -> float:
        """Year-to-year sd of a freeze date where the minimum changes this fast (C per day)."""
        low, high = self.sd_limits_days
        return min(high, max(low, side.sd_at_1 + side.sd_per_log * log(max(steepness, 0.01))))

    def error_days(self, side: Side, steepness: float) -> float:
        """Usual error of an estimated 50% date, days."""
        low, high = self.error_limits_days
        return min(high, max(low, side.error_c / max(steepness, 0.01)))


def freeze_fit(table: Mapping[str, Any], outbreaks: bool = True) -> FreezeFit:
    """The fit from the parsed knowledge/climate.toml.

    ``outbreaks``: whether arctic air reaches the place in some winters, see `arctic_outbreaks`.
    """
    fit = table["freeze_fit"]
    coldest = fit["coldest_night"]["outbreaks" if outbreaks else "elsewhere"]

    def side(name: str) -> Side:
        level, spread = fit[name], fit[f"{name}_sd"]
        return Side(
            level["at_40"],
            (level["per_10_lat"], level["per_10_range"], level["pacific"], level["far_northwest"]),
            level["error_c"],
            spread["at_1"],
            spread["per_log"],
        )

    return FreezeFit(
        side("spring"),
        side("autumn"),
        tuple(fit["sd_limits_days"]),
        tuple(fit["error_limits_days"]),
        fit["steepness_floor"],
        coldest["sd_c"],
        coldest["margin_c"],
    )


def arctic_outbreaks(country: str, lon: float) -> bool:
    """True in North America east of the Rockies (105 W), where arctic air now and then reaches the Gulf."""
    return country in ("US", "CA") and lon > -105.0


class MinimumCurve:
    """The normal daily minimum along one season: 365 values, index 0 = the anchor day.

    ``warmest`` and ``coldest`` are the days (offsets) of its top and bottom, coldest within half a year of
    the anchor.
    """

    def __init__(self, normal_min_c: Sequence[float], southern: bool) -> None:
        year = [*normal_min_c[:_FEB_29], *normal_min_c[_FEB_29 + 1 :]]
        start = _ANCHOR_SOUTH if southern else _ANCHOR_NORTH
        self.values = year[start:] + year[:start]
        self.warmest = self.values.index(max(self.values))
        bottom = self.values.index(min(self.values))
        self.coldest = bottom - YEAR_DAYS if bottom > YEAR_DAYS // 2 else bottom

    def at(self, offset: float) -> float:
        """The curve at any offset, in a straight line between days."""
        whole = int(offset // 1)
        share = offset - whole
        here, there = self.values[whole % YEAR_DAYS], self.values[(whole + 1) % YEAR_DAYS]
        return here + share * (there - here)

    @property
    def floor_c(self) -> float:
        """The normal minimum of the coldest day."""
        return self.values[self.coldest % YEAR_DAYS]

    def crossing(self, level_c: float, spring: bool, else_coldest: bool = False) -> float | None:
        """The last day before summer (or first after it) at or below a level.

        The warmest day when the level is never left behind; when it is never reached None, or with
        ``else_coldest`` the coldest day.
        """
        step = -1 if spring else 1
        day, warmer = self.warmest, self.values[self.warmest]
        if warmer <= level_c:
            return float(day)
        end = self.coldest if spring else self.coldest + YEAR_DAYS
        while day != end:
            day += step
            colder = self.values[day % YEAR_DAYS]
            if colder <= level_c:
                return day - step * (level_c - colder) / (warmer - colder)
            warmer = colder
        return float(end) if else_coldest else None

    def steepness(self, offset: float) -> float:
        """How fast the minimum changes around a day, C per day (never negative)."""
        change = self.at(offset + _STEEPNESS_DAYS) - self.at(offset - _STEEPNESS_DAYS)
        return abs(change) / (2 * _STEEPNESS_DAYS)


def season_offset(month_day: str, spring: bool, southern: bool) -> int:
    """ "05-17" as days from the season's anchor. A late-year spring date lies before it, and so on."""
    month, day = (int(part) for part in month_day.split("-"))
    return offset_of((month, day), spring, southern)


def offset_of(month_day: tuple[int, int], spring: bool, southern: bool) -> int:
    """A (month, day) as days from the season's anchor, by side of the season.

    Spring runs from half a year before the warm half to its end, so a spring date more than 200 days after
    the anchor belongs to the year before, and an autumn date less than 165 days after it to the year after.
    """
    anchor = date(2026, 7, 15) if southern else date(2027, 1, 15)
    month, day = month_day
    here = date(2026 if southern else 2027, month, 28 if (month, day) == (2, 29) else day)
    offset = (here - anchor).days
    offset %= YEAR_DAYS
    if spring and offset > 200:
        return offset - YEAR_DAYS
    if not spring and offset < 165:
        return offset + YEAR_DAYS
    return offset


def published_side(
    cells: tuple[str, str, str], spring: bool, southern: bool, fit: FreezeFit, curve: MinimumCurve
) -> FreezeDate | None:
    """A published distribution from its 10, 50 and 90 % cells; None without a 50 % date.

    The spread comes from p10 to p90, else from p50 to p90, else from the fit.
    """
    p10, p50, p90 = (season_offset(cell, spring, southern) if cell else None for cell in cells)
    if p50 is None:
        return None
    if p10 is not None and p90 is not None:
        sd = abs(p10 - p90) / SPAN_10_90
    elif p90 is not None:
        sd = abs(p50 - p90) / SPAN_50_90
    else:
        sd = fit.spread_days(fit.spring if spring else fit.autumn, curve.steepness(p50))
    return FreezeDate(float(p50), max(sd, 3.0), "published")


def estimate(curve: MinimumCurve, fit: FreezeFit, terms: Terms, threshold_c: float) -> Freeze:
    """Freeze dates at a threshold for a place that publishes none; ``terms`` are those of `predictors`.

    The spread holds both the years' own and the error of the fit.
    """
    sides: list[FreezeDate | None] = []
    both = (fit.spring, fit.autumn)
    levels = [side.level_c(terms) + threshold_c for side in both]
    share = fit.share(0.5 * sum(levels) - curve.floor_c)
    for side, level in zip(both, levels, strict=True):
        day = curve.crossing(level, side is fit.spring, else_coldest=True) if share >= COMMON_SHARE else None
        if day is None:
            sides.append(None)
            continue
        steep = curve.steepness(day)
        sd = fit.spread_days(side, steep)
        sides.append(FreezeDate(day, sqrt(sd * sd + fit.error_days(side, steep) ** 2), "estimated"))
    return Freeze(sides[0], sides[1], share)


def move_along(
    known: Freeze, known_c: float, threshold_c: float, curve: MinimumCurve, fit: FreezeFit | None
) -> Freeze:
    """Freeze dates at another threshold, reached from a known one in the steps the daily minimum takes.

    Near the coldest weeks the normal minimum hardly changes, but hard freezes still end before light ones:
    there it counts as changing by ``fit.steepness_floor``. The spread changes as the steepness does. Without
    ``fit`` the spread is kept.
    """
    share = known.share
    if fit is not None:
        share = min(share, fit.share(curve_margin(known, curve) + threshold_c - known_c))
    if share < COMMON_SHARE:
        return Freeze(None, None, share)
    sides: list[FreezeDate | None] = []
    for spring, date_ in ((True, known.last_spring), (False, known.first_autumn)):
        if date_ is None:
            sides.append(None)
            continue
        floor = _PLAIN_FLOOR if fit is None else fit.steepness_floor
        day = _walk(curve, date_.offset_days, threshold_c - known_c, spring, floor)
        sd = date_.sd_days
        if fit is not None:
            side = fit.spring if spring else fit.autumn
            before = fit.spread_days(side, curve.steepness(date_.offset_days))
            sd *= fit.spread_days(side, curve.steepness(day)) / before
        sides.append(FreezeDate(day, sd, date_.basis))
    return Freeze(sides[0], sides[1], share)


def _walk(curve: MinimumCurve, start: float, warmer_c: float, spring: bool, floor: float) -> float:
    """The date on which the minimum is ``warmer_c`` warmer than on ``start``, not beyond mid-summer or the
    coldest day."""
    steps = max(1, ceil(abs(warmer_c) / _STEP_C))
    way = (1.0 if spring else -1.0) * warmer_c / steps
    cold_end = min(start, curve.coldest) if spring else max(start, curve.coldest + YEAR_DAYS)
    low, high = (cold_end, curve.warmest) if spring else (curve.warmest, cold_end)
    day = start
    for _ in range(steps):
        day += way / max(curve.steepness(day), floor)
        day = min(max(day, low), high)
    return float(day)


def curve_margin(known: Freeze, curve: MinimumCurve) -> float:
    """How far (C) the coldest normal night lies below the normal minimum on a known freeze date."""
    dates = [d for d in (known.last_spring, known.first_autumn) if d is not None]
    if not dates:
        return -10.0
    return max(curve.at(d.offset_days) for d in dates) - curve.floor_c


def freeze_between(
    freezes: Mapping[int, Freeze], threshold_c: float, curve: MinimumCurve, fit: FreezeFit | None
) -> Freeze:
    """Freeze dates at any damage temperature (C), from those at the tabulated ones (by whole F).

    Between two tabulated thresholds in a straight line; beyond them along the daily minimum curve, with the
    spread of the nearest one.
    """
    table = sorted((f_to_c(f), freeze) for f, freeze in freezes.items())
    for known_c, freeze in table:
        if abs(known_c - threshold_c) < 1e-9:
            return freeze
    colder = [row for row in table if row[0] < threshold_c]
    warmer = [row for row in table if row[0] > threshold_c]
    if colder and warmer:
        (low_c, low), (high_c, high) = colder[-1], warmer[0]
        weight = (threshold_c - low_c) / (high_c - low_c)
        if None not in (low.last_spring, low.first_autumn, high.last_spring, high.first_autumn):
            return Freeze(
                _blend(low.last_spring, high.last_spring, weight),
                _blend(low.first_autumn, high.first_autumn, weight),
                low.share + weight * (high.share - low.share),
            )
        near_c, near = (high_c, high)  # one of them is too rare to date: come from the warmer side
    else:
        near_c, near = colder[-1] if colder else warmer[0]
    return move_along(near, near_c, threshold_c, curve, fit)


def _blend(low: FreezeDate | None, high: FreezeDate | None, weight: float) -> FreezeDate | None:
    if low is None or high is None:
        return None
    basis: Basis = high.basis if high.basis == low.basis else "estimated"
    return FreezeDate(
        low.offset_days + weight * (high.offset_days - low.offset_days),
        low.sd_days + weight * (high.sd_days - low.sd_days),
        basis,
    )


@lru_cache(maxsize=64)
def minimum_curve(normal_min_c: tuple[float, ...], southern: bool) -> MinimumCurve:
    """The curve of 366 daily normals, kept for the places asked about last."""
    return MinimumCurve(normal_min_c, southern)
