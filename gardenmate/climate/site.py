"""The climate of one garden: daily normals, freeze dates with their spread, and how it came by them.

A season is anchored on the cold half of the year: it starts on the anchor day (15 January north of the
equator, 15 July south of it) and runs to the next one, so spring always comes before autumn, also where a
season spans New Year.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from gardenmate.climate.freezes import (
    YEAR_DAYS,
    Basis,
    Freeze,
    FreezeDate,
    FreezeFit,
    MinimumCurve,
    freeze_between,
    minimum_curve,
)
from gardenmate.core.place import PlaceNote
from gardenmate.records import NamedTuple, dataclass, field

if TYPE_CHECKING:
    from gardenmate.climate.history import History
    from gardenmate.climate.own_years import OwnYears

Regime = Literal["seasonal", "frost-free", "any-month"]
UNNAMED = "Your garden"
"""What a spot is called whose position alone is known."""
_SPOTS = frozenset({"Airport", "AP", "AP)", "Int'l", "(Observatory)", "Park", "Forest", "Head", "Field"})
"""Last words of station names that are no town: one is at an airport, in a town."""
_RARE_SD_DAYS = 22.0  # spread of frosts too rare to date, round the coldest night; design value
_WINTER_DAYS = 60  # round the coldest night frost counts to both sides of the season; design value


DoubtReason = Literal["spread", "height", "far"]
DOUBT_DAYS, DOUBT_KM, DOUBT_CLIMB_M = 10.0, 40.0, 150.0  # design values


class Doubt(NamedTuple):
    """Why the frost dates of a place are uncertain, and by how much.

    ``days`` is their usual error (sd) beside the change from year to year. ``asks_height``: the grower's height
    would make them closer, for the stations round the place lie at very different ones.
    """

    reasons: tuple[DoubtReason, ...]
    days: float
    station: str
    km: float
    climb_m: float
    asks_height: bool


@dataclass(frozen=True, slots=True)
class Site:
    """A place an answer is computed for.

    ``normal_min_c`` / ``normal_max_c``: 366 smooth daily normals by day of the leap year (index 0 = 1
    January, 59 = 29 February). ``freezes`` by threshold in whole F (36, 32, 28 and, by interpolation, any
    asked through `freeze_at`). ``notes`` are sentences the answer must state (distance, height correction,
    estimated freeze dates). ``source_ids`` resolve in knowledge/sources.toml. ``history`` is an imported
    daily record; ``fit`` the coefficients that carry freeze dates to thresholds beyond the table; ``place`` the
    stations it is made from and how sure it is; ``own_years`` what the grower's own frosts have made of the dates.
    """

    name: str
    region: str
    country: str
    lat: float
    lon: float
    elev_m: float | None
    normal_min_c: tuple[float, ...]
    normal_max_c: tuple[float, ...]
    monthly_min_c: tuple[float, ...]
    monthly_max_c: tuple[float, ...]
    regime: Regime
    freezes: Mapping[int, Freeze]
    basis: Basis
    notes: tuple[str, ...] = ()
    source_ids: tuple[str, ...] = ()
    history: History | None = field(default=None, compare=False)
    fit: FreezeFit | None = field(default=None, compare=False, repr=False)
    place: PlaceNote | None = field(default=None, compare=False)
    own_years: OwnYears | None = field(default=None, compare=False)

    @property
    def label(self) -> str:
        """ "Duluth, MN": the name with its region or country."""
        return f"{self.name}, {self.region or self.country}"

    @property
    def where(self) -> str:
        """ "in Duluth, MN", "at Cork Airport, Cork": the label with the word before it that a sentence needs."""
        if self.name == UNNAMED:
            return f"in your garden {self.region}"
        last = self.name.rsplit(maxsplit=1)[-1]
        return f"{'at' if last in _SPOTS else 'in'} {self.label}"

    @property
    def southern(self) -> bool:
        """True south of the equator."""
        return self.lat < 0

    def doubt(self) -> Doubt | None:
        """Why this place is uncertain; None where it is not, or its dates are the grower's own."""
        place = self.place
        if place is None or place.own:
            return None
        climb = place.height_difference_m or 0.0
        reasons: list[DoubtReason] = []
        if (
            place.stations and place.spread_days >= DOUBT_DAYS
        ):  # an estimate of one record says so in its notes
            reasons.append("spread")
        if abs(climb) >= DOUBT_CLIMB_M:
            reasons.append("height")
        if place.km >= DOUBT_KM:
            reasons.append("far")
        if not reasons:
            return None
        return Doubt(tuple(reasons), place.spread_days, place.station, place.km, climb, self.asks_height)

    @property
    def asks_height(self) -> bool:
        """True when the stations round the place lie so far apart in height that the grower's own matters, and is
        not known."""
        place = self.place
        if place is None or place.own or place.height_from in ("told", "station"):
            return False
        return place.heights_apart_m >= DOUBT_CLIMB_M

    def anchor(self, day: date) -> date:
        """The anchor day of the season that ``day`` falls in (the latest anchor on or before it)."""
        month = 7 if self.southern else 1
        this_year = date(day.year, month, 15)
        if day >= this_year or day.year == 1:
            return this_year
        return date(day.year - 1, month, 15)

    def min_c(self, day: date) -> float:
        """Normal daily minimum, degrees C."""
        return self.normal_min_c[_leap_index(day)]

    def max_c(self, day: date) -> float:
        """Normal daily maximum, degrees C."""
        return self.normal_max_c[_leap_index(day)]

    def mean_c(self, day: date) -> float:
        """Normal daily mean, degrees C: the middle of minimum and maximum."""
        i = _leap_index(day)
        return 0.5 * (self.normal_min_c[i] + self.normal_max_c[i])

    def freeze_at(self, threshold_c: float) -> Freeze:
        """Freeze dates for any damage temperature, degrees C.

        Between the tabulated thresholds (36, 32, 28 F) interpolated; beyond them extrapolated on the daily
        minimum curve. See gardenmate.climate.freezes.
        """
        return freeze_between(self.freezes, threshold_c, self.minimum_curve, self.fit)

    @property
    def minimum_curve(self) -> MinimumCurve:
        """The normal daily minimum along the season."""
        return minimum_curve(self.normal_min_c, self.southern)


def _leap_index(day: date) -> int:
    index = day.timetuple().tm_yday - 1
    leap = day.year % 4 == 0 and (day.year % 100 != 0 or day.year % 400 == 0)
    return index if leap or index < 59 else index + 1


def last_frost_odds(site: Site, day: date, threshold_c: float = 0.0) -> float:
    """Chance (0-1) of a minimum at or below a threshold on ``day`` or later before the coming summer.

    From midsummer until two months before the coldest day there is no spring to speak of: 0.
    """
    freeze = site.freeze_at(threshold_c)
    anchor = site.anchor(day)
    curve = site.minimum_curve
    if (day - anchor).days > curve.coldest + YEAR_DAYS - _WINTER_DAYS:
        anchor = anchor.replace(year=anchor.year + 1)
    if (day - anchor).days > curve.warmest:
        return 0.0
    return freeze.share * (
        1.0 - _side(freeze.last_spring, curve.coldest).happened_by(day - timedelta(days=1), anchor)
    )


def first_frost_odds(site: Site, day: date, threshold_c: float = 0.0) -> float:
    """Chance (0-1) that a minimum at or below a threshold has come by ``day`` since the last summer.

    From two months after the coldest day until midsummer there is no autumn to speak of: 0.
    """
    freeze = site.freeze_at(threshold_c)
    anchor = site.anchor(day)
    curve = site.minimum_curve
    if (day - anchor).days < curve.coldest + _WINTER_DAYS:
        anchor = anchor.replace(year=anchor.year - 1)
    if (day - anchor).days <= curve.warmest:
        return 0.0
    return freeze.share * _side(freeze.first_autumn, curve.coldest + YEAR_DAYS).happened_by(day, anchor)


def frost_odds(site: Site, day: date, threshold_c: float = 0.0) -> float:
    """Chance of frost around a day: before summer that one is still to come, after it that one has come."""
    return max(last_frost_odds(site, day, threshold_c), first_frost_odds(site, day, threshold_c))


def _side(known: FreezeDate | None, coldest: int) -> FreezeDate:
    """A date for odds: the known one, else spread around the coldest night, where rare frosts fall."""
    return known or FreezeDate(float(coldest), _RARE_SD_DAYS, "estimated")
