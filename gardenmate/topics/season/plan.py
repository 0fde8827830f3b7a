"""What comes of one start: when the plants go out, the first picking, and how likely the season lasts.

The plan of a crop, method, day and place. Day numbers count from the origin of `SiteYear`; dates are given
beside them. Nothing is worded here.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from gardenmate.core.answer import Window
from gardenmate.science.frost_risk import chance_before, normal_cdf, standard_quantile
from gardenmate.science.thermal_time import day_reached
from gardenmate.topics.season.scan import HEAT_OVER_C, NEVER, Scan, scan, season_end
from gardenmate.topics.season.site_year import YEAR, SiteYear
from gardenmate.topics.season.terms import OPEN_GROUND, Cover, Terms
from gardenmate.topics.season.windows import PAST_MIDWINTER_DAYS, dated, joined, spans

LONGEST_DAYS = {"": 230, "overwinter": 400, "perennial": 400}
"""Days after which a crop that is still not ready is given up, by the rule it follows."""
OUTLASTS_DAYS = 45.0
LEAST_CHANCE = 0.02
PAST_HOPE_DAYS = 45
AUTUMN_AFTER_DAYS = 45
"""A start this long after the warmest time stands the winter and is picked the year after."""
LONG_DAY_LAT = 38.0
"""From this latitude on long-day onions are grown (common practice)."""
LONG_DAYS_FROM = 165
"""Days from midwinter before which no bulb ripens: early June north of the equator (common practice)."""
BINDS_BELOW = 0.95
"""Under this chance of ripening in bearable warmth it is the heat that binds."""
HEAT_SPREAD_C = 2.0 / 0.8416
"""Spread of the heat limit: 80% sure half a degree under it, as likely as not where it is no more allowed."""


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
    cover: Cover
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
    cover: Cover = OPEN_GROUND,
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
    terms: Terms, year: SiteYear, method: str, day: date, cover: Cover, mat: bool, wait: bool, by: date | None
) -> Plan:
    origin, d = year.day_number(day)
    tried = scan(terms, year, "outdoors" if method == "outdoors" else "setout", cover)
    up = _up_day(terms, year, method, d, mat)
    if method == "indoors":
        youngest = d + round(7 * terms.weeks_indoors[0])
        slow = 0 if up is None or not _has_curve(terms) else max(0, up - d - 10)
        out = youngest + slow
    else:
        out = d
    opens = _opens(tried, out)
    goes = opens if wait and opens is not None else out
    waits = 0 if opens is None else opens - out
    age = float(goes - d) if method == "indoors" else None
    need = terms.need("outdoors" if method == "outdoors" else "setout", _capped_age(terms, age))
    total = terms.total(year, cover)
    base = (goes // YEAR) * YEAR
    reached = day_reached(total, goes - base, need)
    ready = None if reached is None else reached + base
    end, sd = season_end(terms, year, cover)
    end += base
    wintered = _after_winter(terms, year, total, goes - base)
    if wintered is not None:
        ready, end = wintered + base, end + YEAR
    elif ready is not None and terms.spring_ripe_from is not None and abs(year.site.lat) >= LONG_DAY_LAT:
        ready = max(ready, base + terms.spring_ripe_from)  # bulbs wait for the turn of the days, then swell
    if by is not None and (by - origin).days < end:
        end, sd = float((by - origin).days) + terms.wanted_days, 1.0
    too_long = ready is not None and ready - goes > LONGEST_DAYS.get(terms.rule, 1200)
    if too_long or (not terms.rule and ready is not None and ready > end + PAST_HOPE_DAYS):
        ready = None  # it would only ripen after another winter, or long after the cold
    chance, margin, binding, hot = _outcome(terms, year, ready, end, sd, goes)
    if by is not None and end - terms.wanted_days == (by - origin).days:
        binding = "wanted"

    def at(n: int | None) -> date | None:
        return None if n is None else origin + timedelta(days=n)

    return Plan(
        terms=terms,
        method=method,
        start=day,
        sow=day if method != "setout" else None,
        up=at(up),
        set_out=at(goes) if method != "outdoors" else None,
        first_pick=at(ready),
        end=None if end >= NEVER else at(round(end)),
        end_sd=sd,
        binding=binding,
        margin_days=margin,
        chance=chance,
        waits=waits,
        opens=at(opens),
        opens_loose=tried.opens[out % YEAR],
        age_weeks=None if age is None else age / 7.0,
        heat_mean_c=hot,
        cover=cover,
        degree_days=need,
    )


def _after_winter(terms: Terms, year: SiteYear, total: Sequence[float], goes: int) -> int | None:
    """First-picking day of what is planted to stand the winter: in autumn, or where winters are mild in the
    weeks after midwinter. None for any other start. Days from the same origin as ``goes``."""
    if goes >= year.hottest + AUTUMN_AFTER_DAYS:
        return ripe_after(terms, total, YEAR)
    late = terms.rule == "overwinter" and year.mild and goes <= PAST_MIDWINTER_DAYS
    return ripe_after(terms, total, goes) if late else None


def ripe_after(terms: Terms, total: Sequence[float], day: int) -> int | None:
    """When a planting that stood the winter, or missed it, has had its warmth from ``day`` on; bulbs wait for
    the long days. None for a crop that does not stand the winter."""
    need = terms.after_winter_degree_days
    ready = None if need is None else day_reached(total, day, need)
    if ready is None:
        return None
    return max(ready, day // YEAR * YEAR + LONG_DAYS_FROM) if terms.bulbs else ready


def _has_curve(terms: Terms) -> bool:
    return bool(terms.emergence)


def _up_day(terms: Terms, year: SiteYear, method: str, d: int, mat: bool) -> int | None:
    if method == "setout":
        return None
    if method == "indoors":
        days = terms.emergence_days(terms.general.mat_soil_c if mat else terms.general.room_soil_c)
        return None if days is None else d + round(days)
    from gardenmate.science.emergence import emerges_on

    first = d % YEAR
    soil = year.soil_c[first:] + year.soil_c[:first]
    up = emerges_on(terms.emergence, soil, 0)
    return None if up is None else d + up


def _opens(tried: Scan, out: int) -> int | None:
    """First day from ``out`` on which most growers would put it outdoors, within three quarters of a year."""
    for x in range(out, out + 275):
        if tried.opens_well[x % YEAR]:
            return x
    return None


def _capped_age(terms: Terms, age: float | None) -> float | None:
    """A plant kept longer than it should be is no further on: its gain stops at the oldest good age."""
    return None if age is None else min(age, 7.0 * terms.weeks_indoors[1])


def _outcome(
    terms: Terms, year: SiteYear, ready: int | None, end: float, sd: float, goes: int
) -> tuple[float, int | None, str, float | None]:
    """(chance, margin in days, what binds, daily mean at ripening when that is what is too hot)."""
    if ready is None:
        return 0.0, None, "cold", None
    spread = terms.general.maturity_spread * terms.dtm
    in_time = chance_before(ready + terms.wanted_days, spread, end, sd)
    margin = None if end >= NEVER else round(end - ready - terms.wanted_days)
    at_ready = year.mean_c[ready % YEAR]
    cool = 1.0
    if terms.heat_c is not None:
        cool = normal_cdf((terms.heat_c + HEAT_OVER_C - at_ready) / HEAT_SPREAD_C)
    if (
        terms.crop.warm
        and (terms.crop.maturity.picking_days or 0.0) >= OUTLASTS_DAYS
        and (margin or 999) > OUTLASTS_DAYS
        and year.mean_c[goes % YEAR] <= (99.0 if terms.heat_c is None else terms.heat_c) + HEAT_OVER_C
    ):
        cool = 1.0  # it rests through the heat and bears again after it
    binding = (
        "heat"
        if cool < min(in_time, BINDS_BELOW)
        else ("none" if margin is None else _what_ends(terms, year, end))
    )
    # Nothing is certain in a garden: weather and pests outside this model keep every chance off 0 and 1.
    chance = min(max(in_time * cool, LEAST_CHANCE), 1.0 - LEAST_CHANCE)
    return chance, margin, binding, at_ready if binding == "heat" else None


def _what_ends(terms: Terms, year: SiteYear, end: float) -> str:
    first = year.first_autumn(terms.ends_c)
    return "frost" if first is not None and abs(first.offset_days - end % YEAR) < 1.0 else "cold"


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


def longest_maturity(terms: Terms, year: SiteYear, plan: Plan, chance: float) -> float | None:
    """The most days to maturity a variety may have and still be picked with this chance from this start.

    None when no end of the season is known or no days are left.
    """
    if plan.end is None:
        return None
    origin = year.origin(plan.start)
    goes = plan.set_out if plan.set_out is not None else max(plan.start, plan.opens or plan.start)
    a, b = (goes - origin).days, (plan.end - origin).days
    spread = (plan.end_sd**2 + (terms.general.maturity_spread * terms.dtm) ** 2) ** 0.5
    b = int(b - standard_quantile(chance) * spread - terms.wanted_days)
    base = (a // YEAR) * YEAR
    if b <= a:
        return None
    total = terms.total(year, plan.cover)
    b = min(b, base + len(total) - 1)
    days = (total[b - base] - total[a - base]) / terms.reference_rate()
    extra = terms.days_needed("outdoors" if plan.method == "outdoors" else "setout") - terms.dtm
    fits = days - extra
    return fits if fits > 10.0 else None


def season_windows(terms: Terms, year: SiteYear, day: date) -> tuple[Window, ...]:
    """The crop's windows that are open on ``day`` or still to come within a year, in order of opening.

    The season before counts too: what opened in autumn may still be open after midwinter.
    """
    return year.kept(("open", terms.key, terms.crop.kind, day), lambda: _season_windows(terms, year, day))


def _season_windows(terms: Terms, year: SiteYear, day: date) -> tuple[Window, ...]:
    origin, _ = year.day_number(day)
    found: list[Window] = []
    for start in (year.origin(origin - timedelta(days=1)), origin, year.origin(origin + timedelta(days=400))):
        found += [dated(s, terms, start) for s in spans(terms, year)]
    horizon = day + timedelta(days=YEAR)
    return tuple(
        sorted(
            (
                w
                for w in joined(found, day, autumn_best=terms.bulbs)
                if w.latest >= day and w.earliest < horizon
            ),
            key=lambda w: (w.earliest, w.activity),
        )
    )


def latest_start(terms: Terms, year: SiteYear, method: str, day: date) -> date | None:
    """The last day of the window that is open on ``day`` or opens next, for this method; None without one."""
    wanted = {"indoors": ("sow-indoors",), "outdoors": ("sow-outdoors", "fall-sow")}.get(
        method, ("set-out", "fall-set-out")
    )
    open_now = [w for w in season_windows(terms, year, day) if w.activity in wanted]
    return max(
        (w.latest for w in open_now if w.earliest <= day), default=open_now[0].latest if open_now else None
    )
