"""A station's own daily record, and what it gives a garden.

Temperatures are held as tenths of a degree C by year and leap-year day (366 to a year), the way GHCN-Daily
publishes them, so a century loads in a few milliseconds.
"""

from __future__ import annotations

from array import array
from datetime import date, timedelta

from gardenmate.climate.freezes import (
    SPAN_10_90,
    THRESHOLDS_F,
    Freeze,
    FreezeDate,
)
from gardenmate.climate.normals import LEAP_MONTH_DAYS, daily_normals
from gardenmate.climate.site import Site
from gardenmate.core.units import f_to_c
from gardenmate.records import dataclass, field, replace

MISSING = -32768  # tenths of C: no reading
YEAR_CELLS = 366  # days of a leap year
MIDSUMMER_DAYS = 190  # from the anchor: 24 July, 21 January in the south
MIN_YEARS = 10  # years: fewer date no frost; design value
NORMAL_YEARS = 30  # years of a climate normal (WMO)
_TOLERANCE = 0.5  # tenths: readings in whole F come back as 28.04 F, and still count as 28 F
_MAX_GAP_DAYS = 9  # days missing round a frost that leave its year out; design value
_FREAK = 2.2  # times the usual spread: a frost further out is a freak of the record; design value
_MIN_MONTH_DAYS = 20  # days with a reading that make a month; design value


@dataclass(frozen=True, slots=True)
class FreezeYear:
    """Freeze dates of one season at one threshold, as days from its anchor; None when there was none.

    A side is left out of account (``spring_known`` / ``autumn_known`` false) when days are missing there.
    """

    year: int
    last_spring: int | None
    first_autumn: int | None
    spring_known: bool
    autumn_known: bool


@dataclass(frozen=True, slots=True)
class Trend:
    """A straight line through the years: days per decade, its standard error, and how many years."""

    days_per_decade: float
    standard_error: float
    years: int

    @property
    def clear(self) -> bool:
        """True when the slope is more than two standard errors from none."""
        return abs(self.days_per_decade) > 2.0 * self.standard_error


@dataclass(frozen=True)
class History:
    """Daily minimum and maximum of one station.

    ``min_tenths`` and ``max_tenths`` hold 366 cells for every year from ``first_year`` (tenths of degrees C;
    MISSING where there is no reading). Place and name as far as the file told them.
    """

    station: str
    first_year: int
    min_tenths: array[int]
    max_tenths: array[int]
    name: str = ""
    lat: float | None = None
    lon: float | None = None
    elev_m: float | None = None
    source: str = "noaa-ghcn-daily"
    _cache: dict[tuple[float, bool, int | None], tuple[FreezeYear, ...]] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    @property
    def last_year(self) -> int:
        """The last calendar year with any reading."""
        return self.first_year + len(self.min_tenths) // YEAR_CELLS - 1

    @property
    def label(self) -> str:
        """The station's name, else its id."""
        return self.name or self.station or "your station"

    def min_c(self, day: date) -> float | None:
        """Measured minimum of a day, degrees C; None without a reading."""
        return self._reading(self.min_tenths, day)

    def max_c(self, day: date) -> float | None:
        """Measured maximum of a day, degrees C; None without a reading."""
        return self._reading(self.max_tenths, day)

    def span_c(self, start: date, days: int, site: Site) -> tuple[list[float], list[float], int]:
        """Minima and maxima of ``days`` days from ``start``, gaps filled from the site's normals.

        The third value counts the days filled. Days before or after the record are filled as well.
        """
        mins: list[float] = []
        maxs: list[float] = []
        filled = 0
        cells, count = _cells(self.first_year, start, days), len(self.min_tenths)
        low, high = self.min_tenths, self.max_tenths
        normal_min, normal_max = site.normal_min_c, site.normal_max_c
        for cell in cells:
            a = low[cell] if 0 <= cell < count else MISSING
            b = high[cell] if 0 <= cell < count else MISSING
            if a == MISSING or b == MISSING:
                filled += 1
                of_year = cell % YEAR_CELLS
                mins.append(normal_min[of_year] if a == MISSING else a / 10.0)
                maxs.append(normal_max[of_year] if b == MISSING else b / 10.0)
            else:
                mins.append(a / 10.0)
                maxs.append(b / 10.0)
        return mins, maxs, filled

    def freeze_years(
        self, threshold_c: float, southern: bool, last_years: int | None = None
    ) -> tuple[FreezeYear, ...]:
        """Last spring and first autumn day at or below a threshold by season, oldest first.

        A season's spring looks back from midsummer to the midsummer before, its autumn on to the next.
        ``last_years`` stops when that many springs and autumns are known, counting from the latest.
        """
        key = (round(threshold_c, 3), southern, last_years)
        if key not in self._cache:
            month = 7 if southern else 1
            limit = threshold_c * 10.0 + _TOLERANCE
            found: list[FreezeYear] = []
            springs = autumns = 0
            for year in range(self.last_year, self.first_year - 1, -1):
                season = self._freeze_year(date(year, month, 15), limit)
                if season.spring_known or season.autumn_known:
                    found.append(season)
                springs += season.spring_known
                autumns += season.autumn_known
                if last_years is not None and min(springs, autumns) >= last_years:
                    break
            self._cache[key] = tuple(reversed(found))
        return self._cache[key]

    def freeze(self, threshold_c: float, southern: bool, last_years: int = NORMAL_YEARS) -> Freeze | None:
        """The distributions over the latest years: None with fewer than ten years of either side.

        A side with a freeze in fewer than half the years has no date, as everywhere.
        """
        years = self.freeze_years(threshold_c, southern, last_years)
        springs = [y.last_spring for y in years if y.spring_known][-last_years:]
        autumns = [y.first_autumn for y in years if y.autumn_known][-last_years:]
        if len(springs) < MIN_YEARS or len(autumns) < MIN_YEARS:
            return None
        spring, share = _distribution(springs)
        autumn, autumn_share = _distribution(autumns)
        return Freeze(spring, autumn, min(share, autumn_share))

    def normals(self) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
        """Monthly mean minimum and maximum over the latest thirty years; None when a month has under ten."""
        both = [_monthly(cells, NORMAL_YEARS) for cells in (self.min_tenths, self.max_tenths)]
        low, high = both
        return None if low is None or high is None else (low, high)

    def last_frost_trend(self, threshold_c: float = 0.0, southern: bool = False) -> Trend | None:
        """How the last spring frost has moved over the whole record; None with fewer than 20 dated years."""
        points = [
            (float(y.year), float(y.last_spring))
            for y in self.freeze_years(threshold_c, southern)
            if y.spring_known and y.last_spring is not None
        ]
        return _slope(points)

    def first_frost_trend(self, threshold_c: float = 0.0, southern: bool = False) -> Trend | None:
        """How the first autumn frost has moved over the whole record; None with fewer than 20 dated years."""
        points = [
            (float(y.year), float(y.first_autumn))
            for y in self.freeze_years(threshold_c, southern)
            if y.autumn_known and y.first_autumn is not None
        ]
        return _slope(points)

    def _reading(self, cells: array[int], day: date) -> float | None:
        cell = (day.year - self.first_year) * YEAR_CELLS + leap_index(day)
        if not 0 <= cell < len(cells) or cells[cell] == MISSING:
            return None
        return cells[cell] / 10.0

    def _year(self, cells: array[int], year: int) -> list[float | None]:
        start = (year - self.first_year) * YEAR_CELLS
        if not 0 <= start < len(cells):
            return [None] * YEAR_CELLS
        return [None if v == MISSING else v / 10.0 for v in cells[start : start + YEAR_CELLS]]

    def _freeze_year(self, anchor: date, limit: float) -> FreezeYear:
        midsummer = anchor + timedelta(days=MIDSUMMER_DAYS)
        back = _cells(self.first_year, midsummer - timedelta(days=364), 365)
        on = _cells(self.first_year, midsummer + timedelta(days=1), 365)
        spring, spring_known = self._first_at_or_below(list(reversed(back)), limit)
        autumn, autumn_known = self._first_at_or_below(on, limit)
        return FreezeYear(
            anchor.year,
            None if spring is None else MIDSUMMER_DAYS - spring,
            None if autumn is None else MIDSUMMER_DAYS + 1 + autumn,
            spring_known,
            autumn_known,
        )

    def _first_at_or_below(self, cells: list[int], limit: float) -> tuple[int | None, bool]:
        """Steps to the first reading at or below a limit; and False when missing days leave it in doubt."""
        low, count, gaps = self.min_tenths, len(self.min_tenths), 0
        for step, cell in enumerate(cells):
            value = low[cell] if 0 <= cell < count else MISSING
            if value == MISSING:
                gaps += 1
                if gaps > _MAX_GAP_DAYS:
                    return None, False
            elif value <= limit:
                return step, True
        return None, True


def leap_index(day: date) -> int:
    """Day of the leap year from 0: 59 is 29 February, 60 is 1 March in every year."""
    index = day.timetuple().tm_yday - 1
    return index if _is_leap(day.year) or index < 59 else index + 1


def history_site(history: History, base: Site) -> Site:
    """The site with the station's own normals and freeze distributions, as far as its years reach.

    ``base`` gives position and whatever the record is too short for.
    """
    low_high = history.normals()
    freezes: dict[int, Freeze] = {}
    for f in THRESHOLDS_F:
        own = history.freeze(f_to_c(f), base.southern)
        if own is not None:
            freezes[f] = own
    notes: list[str] = []
    changes: dict[str, object] = {"history": history}
    if low_high is not None:
        low, high = low_high
        changes |= {
            "monthly_min_c": low,
            "monthly_max_c": high,
            "normal_min_c": daily_normals(low),
            "normal_max_c": daily_normals(high),
        }
    if len(freezes) == len(THRESHOLDS_F) and low_high is not None:
        seasons = history.freeze_years(0.0, base.southern, NORMAL_YEARS)
        years = [y.year for y in seasons if y.spring_known]
        notes.append(
            f"Freeze dates and normals are those of {history.label}, from {len(years)} years of its own "
            f"daily record ({years[0]}-{years[-1]})."
        )
        frozen = freezes[32].last_spring is not None
        changes |= {
            "freezes": freezes,
            "basis": "history",
            "regime": _regime(base, freezes[32], frozen),
            "source_ids": (history.source,),
        }
    else:
        notes += [
            *base.notes,
            f"The imported record of {history.label} is too short for freeze dates of its own "
            f"(ten years are needed); its years still serve to look back.",
        ]
    return replace(base, notes=tuple(notes), **changes)  # type: ignore[arg-type]


def _regime(base: Site, at_32: Freeze, frozen: bool) -> str:
    if not frozen and at_32.share < 0.1:
        return "frost-free"
    return "any-month" if base.regime == "any-month" else "seasonal"


def _is_leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def _cells(first_year: int, start: date, days: int) -> list[int]:
    """Cell numbers of consecutive days (negative before the record); 29 February skipped in common years."""
    cells: list[int] = []
    year, index = start.year, leap_index(start)
    leap = _is_leap(year)
    base = (year - first_year) * YEAR_CELLS
    while len(cells) < days:
        if index == YEAR_CELLS:
            year, index = year + 1, 0
            leap = _is_leap(year)
            base += YEAR_CELLS
        stop = YEAR_CELLS
        if not leap and index <= 59:
            if index == 59:
                index = 60
            else:
                stop = 59
        take = min(stop - index, days - len(cells))
        cells.extend(range(base + index, base + index + take))
        index += take
    return cells


def _distribution(days: list[int | None]) -> tuple[FreezeDate | None, float]:
    """Mean and spread of the dated years, and the share of years that have a date.

    A freak year is drawn in to 2.2 spreads (those of the 10 to 90 % dates) from the median first, so that one
    February does not widen the risk in April.
    """
    dated = sorted(d for d in days if d is not None)
    share = len(dated) / len(days)
    if share < 0.5 or len(dated) < 5:
        return None, share
    middle = _quantile(dated, 0.5)
    reach = _FREAK * (_quantile(dated, 0.9) - _quantile(dated, 0.1)) / SPAN_10_90
    kept = [min(max(d, middle - reach), middle + reach) for d in dated]
    mean = sum(kept) / len(kept)
    variance = sum((d - mean) ** 2 for d in kept) / (len(kept) - 1)
    return FreezeDate(mean, max(3.0, variance**0.5), "history"), share


def _quantile(ordered: list[int], probability: float) -> float:
    """In a straight line between the ordered values."""
    at = probability * (len(ordered) - 1)
    low = int(at)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (at - low) * (ordered[high] - ordered[low])


def _monthly(cells: array[int], last_years: int) -> tuple[float, ...] | None:
    """Means of the twelve months over the latest years that have at least 20 days of the month."""
    means: list[float] = []
    years = len(cells) // YEAR_CELLS
    start = 0
    for length in LEAP_MONTH_DAYS:
        of_years: list[float] = []
        for y in range(years - 1, -1, -1):
            days = [
                v for v in cells[y * YEAR_CELLS + start : y * YEAR_CELLS + start + length] if v != MISSING
            ]
            if len(days) >= _MIN_MONTH_DAYS:
                of_years.append(sum(days) / len(days))
            if len(of_years) == last_years:
                break
        if len(of_years) < MIN_YEARS:
            return None
        means.append(sum(of_years) / len(of_years) / 10.0)
        start += length
    return tuple(means)


def _slope(points: list[tuple[float, float]]) -> Trend | None:
    """Least-squares slope and its standard error, per ten years."""
    n = len(points)
    if n < 20:
        return None
    mean_x = sum(x for x, _ in points) / n
    mean_y = sum(y for _, y in points) / n
    spread = sum((x - mean_x) ** 2 for x, _ in points)
    slope = sum((x - mean_x) * (y - mean_y) for x, y in points) / spread
    left = sum((y - mean_y - slope * (x - mean_x)) ** 2 for x, y in points)
    return Trend(10.0 * slope, 10.0 * (left / (n - 2) / spread) ** 0.5, n)
