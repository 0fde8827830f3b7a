"""One place's year as arrays, shared by every crop: temperatures, soil, degree-day totals, freeze dates.

Days are whole numbers counted from the origin: the winter solstice before the season (21 December north of
the equator, 20 June south of it), so that a season never wraps inside one list.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from datetime import date, timedelta
from functools import lru_cache
from typing import Any, TypeVar, cast

from gardenmate.climate.freezes import FreezeDate
from gardenmate.climate.site import Site
from gardenmate.science.soil import soil_means_c
from gardenmate.science.sun import day_length_hours
from gardenmate.science.thermal_time import DAY_SD_C, cumulative, usual_degree_days

USUAL_SWING_C = 11.0
"""The daily swing under which published highest monthly means hold: the humid East (common practice)."""
WIDE_SWING_SHARE = 0.5
"""Of what a wider swing adds to the afternoon, this share counts as heat for the crop (design value)."""
MOST_FELT_C = 1.5
"""However wide the swing, it counts no more than this: nights as cold mend what afternoons did (design value)."""
T = TypeVar("T")
YEAR = 365  # days
MOST_KEPT = 1500  # results kept, the oldest given up first; design value
CYCLES = 3  # years in a row, for what overwinters
BEFORE_ANCHOR_DAYS = 25  # days the season begins before its anchor; design value
ANY_MONTH_TENTH = 161.0
"""Days from the anchor (15 January) to 25 June."""


class SiteYear:
    """The arrays of one site, each of 365 daily normals in degrees C; totals are made when first asked for and
    then kept. ``felt_c`` is the daily mean as heat is felt: raised where afternoons are hot for their mean."""

    def __init__(self, site: Site) -> None:
        self.site = site
        first = 196 - BEFORE_ANCHOR_DAYS if site.southern else 15 - 1 - BEFORE_ANCHOR_DAYS
        order = [(first + i) % YEAR for i in range(YEAR)]
        leap = [i if i < 59 else i + 1 for i in order]
        self.min_c = [site.normal_min_c[i] for i in leap]
        self.max_c = [site.normal_max_c[i] for i in leap]
        self.mean_c = [0.5 * (a + b) for a, b in zip(self.min_c, self.max_c, strict=True)]
        self.soil_c = soil_means_c(self.mean_c)
        self.felt_c = [
            mean + min(MOST_FELT_C, WIDE_SWING_SHARE * max(0.0, 0.5 * (high - low - USUAL_SWING_C)))
            for mean, low, high in zip(self.mean_c, self.min_c, self.max_c, strict=True)
        ]
        self.hottest = max(range(YEAR), key=self.mean_c.__getitem__)
        self.coldest = min(range(YEAR), key=self.mean_c.__getitem__)
        self._totals: dict[tuple[float, float, float, float], list[float]] = {}
        self._kept: dict[Hashable, Any] = {}
        self._freezes: dict[float, tuple[FreezeDate | None, FreezeDate | None]] = {}

    def origin(self, day: date) -> date:
        """Day 0 of the season ``day`` falls in."""
        return self.site.anchor(day + timedelta(days=BEFORE_ANCHOR_DAYS)) - timedelta(days=BEFORE_ANCHOR_DAYS)

    def day_number(self, day: date) -> tuple[date, int]:
        """(origin of its season, day number in it)."""
        origin = self.origin(day)
        return origin, (day - origin).days

    def total(self, base_c: float, upper_c: float, most: float, warmer_c: float = 0.0) -> list[float]:
        """Running degree-day total over three years from the origin; ``warmer_c`` is what a cover adds and
        ``most`` the degree-days a day may count at most (more heat does not hasten the crop)."""
        key = (base_c, upper_c, most, warmer_c)
        found = self._totals.get(key)
        if found is None:
            year = [
                usual_degree_days(low, high + 2.0 * warmer_c, base_c, upper_c, most, DAY_SD_C)
                for low, high in zip(self.min_c, self.max_c, strict=True)
            ]
            found = self._totals[key] = cumulative(year * CYCLES)
        return found

    def kept(self, key: Hashable, make: Callable[[], T]) -> T:
        """What ``make`` gives, made once for this place: the parts of an answer ask for the same things."""
        found = self._kept.pop(key) if key in self._kept else make()
        self._kept[key] = found  # the last asked for stands last
        if len(self._kept) > MOST_KEPT:
            del self._kept[next(iter(self._kept))]
        return cast(T, found)

    def last_spring(self, threshold_c: float) -> FreezeDate | None:
        """Last freeze at or below a temperature, counted from the origin. None: practically never."""
        return self._freeze(threshold_c)[0]

    def first_autumn(self, threshold_c: float) -> FreezeDate | None:
        """First autumn freeze at or below a temperature, counted from the origin. None: practically never."""
        return self._freeze(threshold_c)[1]

    def _freeze(self, threshold_c: float) -> tuple[FreezeDate | None, FreezeDate | None]:
        found = self._freezes.get(threshold_c)
        if found is None:
            freeze = self.site.freeze_at(threshold_c)
            spring = freeze.last_spring
            if self.site.regime == "any-month" and spring is not None:
                freeze = freeze._replace(last_spring=self._late_enough(spring))
            found = self._freezes[threshold_c] = (_moved(freeze.last_spring), _moved(freeze.first_autumn))
        return found

    def _late_enough(self, estimated: FreezeDate) -> FreezeDate:
        """A place where frost may come in any month: one year in ten it freezes past late June.

        So the average lies no further back than the spread allows; the shift at 32 F is used for all.
        """
        at_32 = self.site.freeze_at(0.0).last_spring
        if at_32 is None or self.site.basis not in ("estimated", "published"):
            return estimated
        least = ANY_MONTH_TENTH - 1.2816 * at_32.sd_days
        return estimated._replace(offset_days=estimated.offset_days + max(0.0, least - at_32.offset_days))

    def first_day(self, start: int, wanted: Callable[[float], bool], until: int) -> int | None:
        """First day from ``start`` whose daily mean is as wanted, looking no further than ``until``."""
        for d in range(start, until):
            if wanted(self.mean_c[d % YEAR]):
                return d
        return None

    def light_from(self, hours: float) -> int:
        """First day of the growing half on which the sun is up this long; 0 where it never is up less."""
        first = self.origin(date(2027, 7, 1))
        lat = self.site.lat
        for d in range(YEAR // 2):
            if day_length_hours(lat, first + timedelta(days=d)) >= hours:
                return d
        return YEAR // 2

    @property
    def warm_winter(self) -> bool:
        """Winters warm enough to grow warm crops in: coldest daily mean 18 C or more."""
        return self.mean_c[self.coldest] >= 18.0

    @property
    def mild(self) -> bool:
        """Winters in which hardy crops stand outdoors: coldest daily mean 3 C or more."""
        return self.mean_c[self.coldest] >= 3.0


def _moved(freeze: FreezeDate | None) -> FreezeDate | None:
    if freeze is None:
        return None
    return FreezeDate(freeze.offset_days + BEFORE_ANCHOR_DAYS, max(freeze.sd_days, 1.0), freeze.basis)


class _Same:
    """A key that is equal for the same site, found once or twice."""

    __slots__ = ("site",)

    def __init__(self, site: Site) -> None:
        self.site = site

    def __hash__(self) -> int:
        return hash((self.site.name, self.site.lat, self.site.lon, self.site.elev_m))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, _Same):
            return False
        mine, theirs = self.site, other.site
        same = mine is theirs or mine == theirs
        return same and mine.history is theirs.history and mine.fit == theirs.fit


@lru_cache(maxsize=64)
def _year_of(key: _Same) -> SiteYear:
    return SiteYear(key.site)


def site_year(site: Site) -> SiteYear:
    """The arrays of a site, kept for the places asked about last."""
    return _year_of(_Same(site))
