"""The grower's own frosts, year by year, laid over the dates of the stations.

The mean frost date of a garden is not known, only estimated from stations: it has a normal prior, the blend's date
with the blend's usual error. Each year of the grower's own is one observation of it, with the year-to-year spread as
noise. With n years of mean y, prior N(m, t^2) and spread s the mean is then normal with

    precision  1/t^2 + n/s^2        mean  (m/t^2 + n y/s^2) / (1/t^2 + n/s^2)

and a coming year has that mean and the variance s^2 + 1/precision (Gelman, Carlin, Stern, Dunson, Vehtari & Rubin,
Bayesian Data Analysis, 3rd ed. 2013, section 2.5, equations 2.11 and 2.12). This is the only place that does so.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from math import sqrt

from gardenmate.climate.adjust import warmed_nights
from gardenmate.climate.freezes import (
    Freeze,
    FreezeDate,
)
from gardenmate.climate.history import MIDSUMMER_DAYS, History
from gardenmate.climate.site import Site
from gardenmate.core.place import Called, FrostSeen
from gardenmate.core.units import plural, show_date
from gardenmate.records import NamedTuple, dataclass, replace

LEAST_SD_DAYS = 3.0
"""No year-to-year spread is taken for less (as everywhere in climate)."""
STATION_ERROR_DAYS = 4.0
"""Usual error for a garden of the dates of a record beside it (own-fit-to-bundled-places: two stations side by side
differ by about so much)."""
TOLD_ERROR_DAYS = 4.0  # usual error of an average date told by the grower (design value)
UNPLACED_ERROR_DAYS = 10.0  # of dates borrowed from a place alike, where no place is told (design value)
FREAK = 2.2  # a year further off than so many spreads counts as so far off, as in an imported record
UNNAMED_CHANCE = 0.25
"""A reading not called the last (first) one counts for its year where the true one lies before (after) it with at
least this chance; a reading of deep winter says nothing of either. Design value."""
OVER_CHANCE = 0.9  # from the day nine years in ten are past it a spring is over and its last frost known
FREEZING_C = 0.0  # degrees C
LEAST_MORNINGS = 3  # mornings with a station reading beside them before an offset is believed (design value)
OFFSET_SD_C, MORNING_SD_C = 2.0, 1.5
"""Usual difference of a garden from its station, and of one morning from the mean difference (design values)."""
MOST_APART_C = 8.0  # a reading further from the station's is of another day or of a thermometer indoors


class YearSeen(NamedTuple):
    """One own year on one side: the season's year (of its anchor) and the frost, in days from the anchor."""

    year: int
    offset: int


@dataclass(frozen=True, slots=True)
class OwnSide:
    """One side of the season: the years on hand, what the stations say, and both together (32 F dates).

    ``prior_error_days`` and ``error_days``: the usual error (sd) of the mean date before and after.
    """

    years: tuple[YearSeen, ...]
    prior: FreezeDate
    prior_error_days: float
    result: FreezeDate
    error_days: float

    @property
    def moved_days(self) -> float:
        """Days the mean date has moved (later is positive)."""
        return self.result.offset_days - self.prior.offset_days


@dataclass(frozen=True, slots=True)
class OwnYears:
    """What the grower's own frosts make of a site's dates; a side is None without a year or without a date.

    ``offset_c``: how much warmer (negative: colder) the garden's mornings are than the imported record's, learned from
    so many ``mornings``. ``base`` is the site before the years were laid over it.
    """

    last: OwnSide | None = None
    first: OwnSide | None = None
    offset_c: float | None = None
    mornings: int = 0
    base: Site | None = None


def updated(mean: float, error_days: float, spread_days: float, seen: Sequence[int]) -> tuple[float, float]:
    """The mean date (days from the anchor) after the years ``seen``, and its usual error.

    ``mean`` and ``error_days``: the prior's mean and sd; ``spread_days``: sd of one year about it. A freak year is
    drawn in first.
    """
    reach = FREAK * sqrt(spread_days**2 + error_days**2)
    years = [min(max(float(d), mean - reach), mean + reach) for d in seen]
    known, each = 1.0 / error_days**2, 1.0 / spread_days**2
    precision = known + len(years) * each
    return (known * mean + each * sum(years)) / precision, sqrt(1.0 / precision)


def with_own_years(site: Site, seen: Iterable[FrostSeen], today: date) -> Site:
    """The site with its dates updated by the grower's own years; 36 F and 28 F move with those of 32 F.

    Unchanged where freezes are too rare to date, or no year is on hand.
    """
    told = [one for one in seen if one.on <= today]
    if not told:
        return site
    at_32 = site.freezes[32]
    last = _side(site, told, at_32.last_spring, "last", today)
    first = _side(site, told, at_32.first_autumn, "first", today)
    kept = site.own_years or OwnYears()
    if last is None and first is None:
        return site
    anchor = site.anchor(today)
    sides: tuple[tuple[OwnSide | None, Called], ...] = ((last, "last"), (first, "first"))
    notes = [own_sentence(side, called, anchor) for side, called in sides if side is not None]
    freezes = {
        f: Freeze(_moved(freeze.last_spring, last), _moved(freeze.first_autumn, first), freeze.share)
        for f, freeze in site.freezes.items()
    }
    place = site.place
    if place is not None and not place.own:
        errors = [s.error_days if s is not None else place.spread_days for s in (last, first)]
        place = place._replace(spread_days=min(place.spread_days, max(errors)))
    return replace(
        site,
        freezes=freezes,
        place=place,
        notes=(*site.notes, *notes),
        own_years=replace(kept, last=last, first=first, base=site),
        source_ids=tuple(dict.fromkeys((*site.source_ids, "own-frost-dates", "gelman-bda-2013"))),
    )


def own_sentence(side: OwnSide, called: Called, anchor: date) -> str:
    """ "With 3 years of your own (2024-2026), your average last frost is 22 May; the stations say 17 May." """
    after, before = side.result.day(anchor), side.prior.day(anchor)
    years = [y.year for y in side.years]
    span = f"{years[0]}" if len(years) == 1 else f"{years[0]}-{years[-1]}"
    mine = f"your {'date' if len(years) == 1 else 'dates'} for {span}"
    source = "what you told me" if side.prior.basis == "own" else "weather records"
    if after == before:
        return f"Even with {mine}, I put your average {called} frost at {show_date(after)}, as before."
    return f"With {mine}, I now put your average {called} frost at {show_date(after)} ({source}: {show_date(before)})."


def years_seen(site: Site, seen: Iterable[FrostSeen], called: Called, today: date) -> tuple[YearSeen, ...]:
    """The frost that counts of every season on one side, oldest first.

    The one called the last (first) counts, the newest report where there are several; a later (earlier) frost read
    is the last (first) all the same. One not called so counts alone where it may well have been the one.
    """
    freeze = site.freezes[32]
    known = freeze.last_spring if called == "last" else freeze.first_autumn
    if known is None:
        return ()
    named: dict[int, FrostSeen] = {}
    others: dict[int, list[int]] = {}
    for one in sorted(seen, key=lambda s: s.entry):
        anchor, side = side_of(site, one.on)
        if one.called == called or (one.called is None and side == called and is_frost(one)):
            year = anchor if one.called is None else season_of(site, one.on, called)
            if one.called == called:
                named[year.year] = one
            else:
                others.setdefault(year.year, []).append((one.on - year).days)
    found = []
    for year_ in sorted({*named, *others}):
        anchor = date(year_, 7 if site.southern else 1, 15)
        offsets = [
            o for o in others.get(year_, ()) if year_ in named or _may_be(known, o, called, anchor, today)
        ]
        if year_ in named:
            offsets.append((named[year_].on - anchor).days)
        if offsets:
            found.append(YearSeen(year_, max(offsets) if called == "last" else min(offsets)))
    return tuple(found)


def is_frost(seen: FrostSeen) -> bool:
    """True for a frost seen without a figure, and for a reading at or below 32 F."""
    return seen.temp_c is None or seen.temp_c <= FREEZING_C + 0.05


def side_of(site: Site, day: date) -> tuple[date, Called]:
    """The anchor of the season a frost on ``day`` belongs to, and its side: the midsummer after the coldest day
    parts them."""
    anchor = site.anchor(day)
    if (day - anchor).days <= MIDSUMMER_DAYS:
        return anchor, "last"
    return anchor, "first"


def season_of(site: Site, day: date, called: Called) -> date:
    """The anchor of the season whose last (first) frost fell on ``day``: a last one before the anchor day belongs to
    the spring to come, a first one after it to the autumn before."""
    anchor, side = side_of(site, day)
    if side == called:
        return anchor
    return anchor.replace(year=anchor.year + (1 if called == "last" else -1))


def learned_offset(seen: Iterable[FrostSeen], history: History) -> tuple[float, int] | None:
    """How much colder (negative) the garden's mornings are than the station's, C, and from how many of them.

    The same normal update, with a mean difference of none before. None with fewer than three mornings.
    """
    apart = [
        one.temp_c - there
        for one in seen
        if one.temp_c is not None
        and (there := history.min_c(one.on)) is not None
        and abs(one.temp_c - there) <= MOST_APART_C
    ]
    if len(apart) < LEAST_MORNINGS:
        return None
    precision = 1.0 / OFFSET_SD_C**2 + len(apart) / MORNING_SD_C**2
    return sum(apart) / MORNING_SD_C**2 / precision, len(apart)


def with_offset(site: Site, seen: Iterable[FrostSeen]) -> Site | None:
    """The site with its nights as the grower's mornings show them beside the imported record; None with too few."""
    if site.history is None:
        return None
    learned = learned_offset(seen, site.history)
    if learned is None:
        return None
    warmer_c, mornings = learned
    word = "colder" if warmer_c < 0 else "warmer"
    note = (
        f"Nights in your garden are about {abs(warmer_c):.1f} C ({abs(warmer_c) * 1.8:.1f} F) degrees {word} than at "
        f"{site.history.label}, by {plural(mornings, 'morning')} you told me of."
    )
    moved = warmed_nights(site, warmer_c)
    return replace(moved, notes=(*site.notes, note), own_years=OwnYears(offset_c=warmer_c, mornings=mornings))


def _may_be(known: FreezeDate, offset: int, called: Called, anchor: date, today: date) -> bool:
    """True for a frost that may well have been the last (first) of its year, once that year is past it."""
    day = anchor + timedelta(days=offset)
    past = known.happened_by(day, anchor)
    if called == "first":
        return 1.0 - past >= UNNAMED_CHANCE
    return past >= UNNAMED_CHANCE and known.happened_by(today, anchor) >= OVER_CHANCE


def _side(
    site: Site, seen: Sequence[FrostSeen], known: FreezeDate | None, called: Called, today: date
) -> OwnSide | None:
    years = years_seen(site, seen, called, today)
    if known is None or not years:
        return None
    error, spread = errors_of(site, known, called)
    mean, left = updated(known.offset_days, error, spread, [y.offset for y in years])
    sd = sqrt(spread**2 + left**2) if _holds_error(site, known) else known.sd_days
    return OwnSide(years, known, error, FreezeDate(mean, sd, known.basis), left)


def errors_of(site: Site, known: FreezeDate, called: Called) -> tuple[float, float]:
    """Usual error of a site's mean date and its spread from year to year (sd, days).

    Dates blended or estimated carry both in one spread; published and measured ones only that of the years.
    """
    if known.basis == "own":
        return TOLD_ERROR_DAYS, max(known.sd_days, LEAST_SD_DAYS)
    if known.basis == "history":
        return STATION_ERROR_DAYS, max(known.sd_days, LEAST_SD_DAYS)
    place = site.place
    if place is None:
        error = UNPLACED_ERROR_DAYS
    elif place.side_errors is not None:
        error = place.side_errors[0 if called == "last" else 1]
    else:
        error = place.spread_days
    error = max(error, 1.0)
    spread = sqrt(max(known.sd_days**2 - error**2, 0.0)) if _holds_error(site, known) else known.sd_days
    return error, max(spread, LEAST_SD_DAYS)


def _holds_error(site: Site, known: FreezeDate) -> bool:
    """True where the spread of a date holds the error of its mean: blended and estimated ones."""
    blended = site.place is not None and bool(site.place.stations)
    return known.basis not in ("own", "history") and (known.basis == "estimated" or blended)


def _moved(known: FreezeDate | None, side: OwnSide | None) -> FreezeDate | None:
    """A threshold's date moved by as many days as that of 32 F, its spread changed as that one's."""
    if known is None or side is None:
        return known
    wide = side.result.sd_days / side.prior.sd_days
    return FreezeDate(known.offset_days + side.moved_days, known.sd_days * wide, known.basis)
