"""When each activity may be done in a place: the year's windows of one crop.

A window has four days: earliest and latest bound what can be done, best_from..best_to is the good part.
Direct sowing includes tubers and cloves planted where they grow; plants, sets, crowns, slips and divisions
are set out.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from gardenmate.answer import Activity, Window
from gardenmate.rules.season.scan import NEVER, Scan, runs, scan
from gardenmate.rules.season.site_year import YEAR, SiteYear
from gardenmate.rules.season.terms import OPEN_GROUND, Cover, Terms, ways_to_help

CROWN_UNTIL_MEAN_C = 14.0
LEAD_DAYS = 14
SHORT_DAYS = 14
AUTUMN_EQUINOX = 275
AHEAD_DAYS = 28
POTTED_DAYS = 28
LONG_PICK_DAYS = 45.0


class Span(NamedTuple):
    """A window in day numbers from the origin of a `SiteYear`."""

    activity: Activity
    earliest: int
    best_from: int
    best_to: int
    latest: int

    def shifted(self, days: int, activity: Activity) -> Span:
        """The same window moved by whole days, for another activity."""
        return Span(
            activity, self.earliest + days, self.best_from + days, self.best_to + days, self.latest + days
        )


_OUT: dict[str, tuple[Activity, Activity]] = {
    "outdoors": ("sow-outdoors", "fall-sow"),
    "setout": ("set-out", "fall-set-out"),
}


def spans(terms: Terms, year: SiteYear) -> tuple[Span, ...]:
    """Every window of the crop in this place, in the order of the year."""
    return year.kept(("spans", terms.key), lambda: _spans(terms, year))


def _spans(terms: Terms, year: SiteYear) -> tuple[Span, ...]:
    found: list[Span] = []
    if terms.rule in ("crown", "perennial"):
        found += _perennial(terms, year)
    else:
        if terms.can_sow_outdoors:
            found += _ordinary(terms, year, "outdoors")
        if terms.can_set_out:
            out = _ordinary(terms, year, "setout")
            found += [_shortened(s, terms, "set-out", terms.general.best_set_out_days) for s in out]
            if terms.can_raise:
                found += _raising(terms, out, direct="direct" in terms.crop.methods)
    if terms.autumn_means_c:
        found += _overwinter(terms, year)
    return tuple(sorted(found, key=lambda s: (s.earliest, s.activity)))


def _ordinary(terms: Terms, year: SiteYear, method: str) -> list[Span]:
    """Windows of an ordinary crop: with a middling variety, else with what helps where it will not ripen."""
    spring, _ = _OUT[method]
    found: list[Span] = []
    for variety, cover in ((terms, OPEN_GROUND), *ways_to_help(terms, method)):
        found = _found(variety, year, method, cover)
        if any(s.activity == spring and s.latest - s.earliest >= SHORT_DAYS for s in found):
            break
    return found


def _found(terms: Terms, year: SiteYear, method: str, cover: Cover) -> list[Span]:
    tried = scan(terms, year, method, cover)
    spring, autumn = _OUT[method]
    found: list[Span] = []
    allowed = [o and f for o, f in zip(tried.opens, tried.fits, strict=True)]
    for a, b in runs(allowed):
        after_heat = a > 0 and tried.too_hot[a - 1] and a > year.hottest - 75
        if after_heat or a > year.hottest:
            if terms.crop.autumn.possible:
                found.append(_autumn_best(tried, autumn, a, b))
            continue
        span = _spring_best(tried, spring, a, b)
        found.append(span)
        twice = not terms.crop.warm or _hot_summer(terms, year)
        if terms.crop.autumn.possible and terms.rule == "" and twice and b > year.hottest - 40:
            found.append(_autumn_part(terms, year, tried, autumn, a, b))
    return found


def _hot_summer(terms: Terms, year: SiteYear) -> bool:
    """True where high summer comes so near the crop's limit that growers sow again for autumn."""
    return terms.heat_c is not None and year.mean_c[year.hottest] > terms.heat_c - 1.0


def _spring_best(tried: Scan, activity: Activity, a: int, b: int) -> Span:
    """The good part of a run that opens in spring: from when most growers begin, while it still fits well."""
    best_from = next((d for d in range(a, b + 1) if tried.opens_well[d]), a + (b - a) // 3)
    best_to = best_from
    while best_to < b and tried.fits_well[best_to + 1]:
        best_to += 1
    if best_to - best_from < 14:
        best_to = min(b, best_from + max(14, (b - best_from) // 2))
    return Span(activity, a, best_from, best_to, b)


def _autumn_best(tried: Scan, activity: Activity, a: int, b: int) -> Span:
    """The good part of a run that opens as the heat goes: up to the last start that fits well."""
    best_to = next((d for d in range(b, a - 1, -1) if tried.fits_well[d]), b - (b - a) // 3)
    best_from = best_to
    while best_from > a and tried.fits_well[best_from - 1]:
        best_from -= 1
    if best_to - best_from < 14:
        best_from = max(a, best_to - max(14, (best_to - a) // 2))
    return Span(activity, a, best_from, best_to, b)


def _autumn_part(terms: Terms, year: SiteYear, tried: Scan, activity: Activity, a: int, b: int) -> Span:
    """The last part of a season that runs through the summer: starts for an autumn harvest."""
    weeks = terms.crop.autumn.sow_weeks_from_first_frost
    length = max(28, int(7 * (weeks[1] - weeks[0]))) if weeks is not None else 35
    if b >= YEAR - LEAD_DAYS:  # no winter ends it: autumn is what follows the warmest time
        warmest = year.hottest
        return Span(activity, warmest - LEAD_DAYS, warmest + 7, min(b, warmest + 77), b)
    span = _autumn_best(tried, activity, max(a, b - length - 2 * LEAD_DAYS), b)
    best_from = max(span.best_from, span.best_to - length)
    return span._replace(earliest=max(span.earliest, best_from - LEAD_DAYS), best_from=best_from)


def _raising(terms: Terms, out: list[Span], *, direct: bool) -> list[Span]:
    """Sowing indoors, counted back from each window for setting out."""
    low, high = (int(7 * w) for w in terms.weeks_indoors)
    age = high if terms.crop.warm else (low + high) // 2  # slow warm crops are sown at the long end
    found: list[Span] = []
    for s in out:
        activity: Activity = "sow-indoors" if s.activity == "set-out" else "fall-sow"
        if activity == "fall-sow" and direct:
            continue
        first = max(s.earliest - high, s.latest - low - YEAR + 1)  # all the year round is a year, not more
        sown = Span(activity, first, max(first, s.best_from - age), s.best_to - low, s.latest - low)
        found.append(_shortened(sown, terms, "sow-indoors", terms.general.best_indoors_days))
    return found


def _shortened(span: Span, terms: Terms, activity: Activity, days: int) -> Span:
    """The good part held to the first weeks, for plants that are picked the longer the sooner they start."""
    long_pick = (terms.crop.maturity.picking_days or 0.0) >= LONG_PICK_DAYS
    if span.activity != activity or not (long_pick or activity == "sow-indoors"):
        return span
    return span._replace(best_to=min(span.best_to, span.best_from + days))


def _perennial(terms: Terms, year: SiteYear) -> list[Span]:
    """Crowns go in while cool and dormant; hardy herbs from spring until there is no time left to root."""
    start = terms.start
    found: list[Span] = []
    opens = year.first_day(0, lambda t: t >= start.earliest_mean_c, year.hottest)
    if opens is None:
        return []
    good = year.first_day(opens, lambda t: t >= start.best_mean_c, year.hottest) or opens
    if terms.rule == "crown":
        closes = year.first_day(good, lambda t: t > CROWN_UNTIL_MEAN_C, year.hottest) or year.hottest - 30
        best_to = year.first_day(good, lambda t: t > CROWN_UNTIL_MEAN_C - 2.0, year.hottest) or closes
        closes = max(closes, opens + 28)
        if "starts" in terms.crop.methods:
            closes += POTTED_DAYS  # growing in a pot it may follow a month later
    else:
        first = year.first_autumn(0.0)
        frost = first.offset_days if first is not None else year.hottest + 150
        closes = int(frost) - 56
        best_to = min(good + 56, closes)
    if closes < opens + SHORT_DAYS:
        return []
    best_to = min(max(best_to, good + 14), closes)
    spring = Span("set-out", opens, min(good, best_to), best_to, closes)
    found.append(spring)
    if terms.can_sow_outdoors:
        found.append(spring._replace(activity="sow-outdoors"))
    if terms.can_raise:
        found += _raising(terms, [spring], direct=False)
    if year.mild:
        a = year.first_day(year.hottest, lambda t: t < 15.0, 2 * YEAR)
        if a is not None and a < YEAR:
            b = min(a + 75, YEAR + 10)
            found.append(Span("fall-set-out", a, a + 10, b - 20, b))
    return found


def _overwinter(terms: Terms, year: SiteYear) -> list[Span]:
    """Autumn planting of what stands the winter: between falling daily means."""
    if terms.autumn_mild_only and not year.mild:
        return []
    edges = []
    for limit in terms.autumn_means_c:
        day = year.first_day(year.hottest, lambda t, limit=limit: t <= limit, YEAR + 20)  # type: ignore[misc]
        edges.append(day if day is not None else YEAR + 10)
    a, x, y, b = edges
    earliest = AUTUMN_EQUINOX + round(7 * terms.autumn_weeks_from_equinox)
    a, x = max(a, earliest - AHEAD_DAYS), max(x, earliest)
    a, x = min(a, AUTUMN_EQUINOX + AHEAD_DAYS), min(x, AUTUMN_EQUINOX + 2 * AHEAD_DAYS)  # however warm
    y = max(y, x + AHEAD_DAYS)
    activity: Activity = "fall-sow" if terms.can_sow_outdoors else "fall-set-out"
    found = [Span(activity, a, x, max(x, y), max(x, y, b))]
    if terms.crop.id == "onion-seed":
        found.append(Span("fall-set-out", x, x + 21, max(x + 42, y + 30), max(b, y) + 60))
    return found


def dated(span: Span, terms: Terms, origin: date) -> Window:
    """A span as a window of the season that starts on ``origin``."""
    days = [span.earliest, span.best_from, span.best_to, span.latest]
    for i in range(1, 4):
        days[i] = max(days[i], days[i - 1])
    a, b, c, d = (origin + timedelta(days=min(v, NEVER)) for v in days)
    return Window(terms.base, span.activity, a, b, c, d, terms.crop.kind)
