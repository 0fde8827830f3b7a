"""What comes of one start: when the plants go out, the first picking, and how likely the season lasts.

The plan of a crop, method, day and place. Day numbers count from the origin of `SiteYear`; dates are given
beside them. Nothing is worded here.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.records import NamedTuple
from gardenmate.science.emergence import emerges_on
from gardenmate.topics.season.ripening import NEVER, ground, ripening
from gardenmate.topics.season.scan import openings, shown
from gardenmate.topics.season.site_year import YEAR, SiteYear
from gardenmate.topics.season.terms import OPEN_GROUND, Shelter, Terms

FEWEST_DAYS, MOST_DAYS = 15, 250
"""Days to maturity between which varieties are asked for."""


class Plan(NamedTuple):
    """One start worked out. Dates are None where nothing of the kind happens.

    ``method``: indoors | outdoors | setout. ``waits`` is how many days a start made now would have to wait
    before it can go outdoors; ``opens`` the day it may. ``end`` is the 50% date of what ends the season and
    ``binding`` its name (frost, cold, heat, none). ``margin_days`` lies between the last wanted picking and
    the end. ``chance`` is that of ripening a crop, 0..1.
    """

    terms: Terms
    method: str
    start: date
    sow: date | None
    up: date | None
    set_out: date | None
    first_pick: date | None
    end: date | None
    end_sd: float
    binding: str
    margin_days: int | None
    chance: float
    waits: int
    opens: date | None
    opens_loose: bool
    age_weeks: float | None
    heat_mean_c: float | None
    cover: Shelter
    degree_days: float

    @property
    def ready_in_days(self) -> int | None:
        """Days from the start to the first picking."""
        return None if self.first_pick is None else (self.first_pick - self.start).days


def make_plan(
    terms: Terms,
    year: SiteYear,
    method: str,
    day: date,
    *,
    cover: Shelter = OPEN_GROUND,
    mat: bool = True,
    wait: bool = True,
    by: date | None = None,
) -> Plan:
    """Work out a start of ``terms`` on ``day`` by ``method``. With ``wait`` False it goes out at once.

    ``by``: the day the harvest is wanted for; it ends the season where it comes before the cold.
    """
    key = ("plan", terms.key, method, day, cover, mat, wait, by)
    found = year.kept(key, lambda: _make_plan(terms, year, method, day, cover, mat, wait, by))
    return found._replace(terms=terms)  # the words and notes may be others than those it was kept with


def _make_plan(
    terms: Terms,
    year: SiteYear,
    method: str,
    day: date,
    cover: Shelter,
    mat: bool,
    wait: bool,
    by: date | None,
) -> Plan:
    origin, d = year.day_number(day)
    may, well = openings(terms, year, "outdoors" if method == "outdoors" else "setout", cover)
    up = _up_day(terms, year, method, d, mat)
    if method == "indoors":
        youngest = d + round(7 * terms.weeks_indoors[0])
        slow = 0 if up is None or not _has_curve(terms) else max(0, up - d - 10)
        out = youngest + slow
    else:
        out = d
    opens = _opens(well, out)
    goes = opens if wait and opens is not None else out
    waits = 0 if opens is None else opens - out
    age = float(goes - d) if method == "indoors" else None
    need = terms.need("outdoors" if method == "outdoors" else "setout", _capped_age(terms, age))
    wanted = None if by is None else float((by - origin).days)
    ripe = ripening(ground(terms, year, cover), goes, need, wanted=wanted)
    bound = wanted is not None and ripe.end - terms.wanted_days == wanted

    def at(n: int | None) -> date | None:
        return None if n is None else origin + timedelta(days=n)

    return Plan(
        terms=terms,
        method=method,
        start=day,
        sow=day if method != "setout" else None,
        up=at(up),
        set_out=at(goes) if method != "outdoors" else None,
        first_pick=at(ripe.ready),
        end=None if ripe.end >= NEVER else at(round(ripe.end)),
        end_sd=ripe.sd,
        binding="wanted" if bound else ripe.binding,
        margin_days=ripe.margin,
        chance=ripe.chance,
        waits=waits,
        opens=at(opens),
        opens_loose=may[out % YEAR],
        age_weeks=None if age is None else age / 7.0,
        heat_mean_c=ripe.hot_c,
        cover=cover,
        degree_days=need,
    )


def _has_curve(terms: Terms) -> bool:
    return bool(terms.emergence)


def _up_day(terms: Terms, year: SiteYear, method: str, d: int, mat: bool) -> int | None:
    if method == "setout":
        return None
    if method == "indoors":
        days = terms.emergence_days(terms.general.mat_soil_c if mat else terms.general.room_soil_c)
        return None if days is None else d + round(days)
    first = d % YEAR
    soil = year.soil_c[first:] + year.soil_c[:first]
    up = emerges_on(terms.emergence, soil, 0)
    return None if up is None else d + up


def _opens(well: Sequence[bool], out: int) -> int | None:
    """First day from ``out`` on which most growers would put it outdoors, within three quarters of a year."""
    for x in range(out, out + 275):
        if well[x % YEAR]:
            return x
    return None


def _capped_age(terms: Terms, age: float | None) -> float | None:
    """A plant kept longer than it should be is no further on: its gain stops at the oldest good age."""
    return None if age is None else min(age, 7.0 * terms.weeks_indoors[1])


# -- the numbers around a plan ------------------------------------------------------------------------------


def count_back(terms: Terms, year: SiteYear, method: str, origin: date) -> date | None:
    """The classic latest date: the average first frost less days to maturity, the picking wanted, 14 days for
    short cool days, 14 more for frost-tender crops, and the days under cover when sown indoors."""
    first = year.first_autumn(0.0)
    if first is None:
        return None
    g = terms.general
    back = terms.dtm + terms.wanted_days + g.fall_factor_days
    if terms.crop.warm:
        back += g.frost_tender_days
    if method == "indoors":
        back += terms.raising_days
    return origin + timedelta(days=round(first.offset_days - back))


def longest_maturity(
    terms: Terms,
    year: SiteYear,
    method: str,
    day: date,
    chance: float,
    *,
    cover: Shelter = OPEN_GROUND,
    mat: bool = True,
    by: date | None = None,
) -> int | None:
    """The most days to maturity a variety may have and still be picked with this chance from this start.

    None when not even a variety of `FEWEST_DAYS` is, or one of `MOST_DAYS` too. Halved: slower is never surer.
    """

    def fits(dtm: int) -> bool:
        tried = terms._replace(dtm=float(dtm))
        return shown(make_plan(tried, year, method, day, cover=cover, mat=mat, by=by).chance) >= chance

    low, high = FEWEST_DAYS, MOST_DAYS
    if not fits(low) or fits(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        if fits(middle):
            low = middle
        else:
            high = middle
    return low
