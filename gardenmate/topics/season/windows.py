"""When each activity may be done in a place: the year's windows of one crop.

A window has four days: earliest and latest bound what can be done, best_from..best_to is the good part.
Direct sowing includes tubers and cloves planted where they grow; plants, sets, crowns, slips and divisions
are set out.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from gardenmate.core.answer import Activity, Window
from gardenmate.records import NamedTuple
from gardenmate.topics.season.plan import make_plan
from gardenmate.topics.season.ripening import NEVER, PAST_MIDWINTER_DAYS
from gardenmate.topics.season.scan import GOOD_LIGHT_HOURS, Scan, runs, scan, shown
from gardenmate.topics.season.site_year import YEAR, SiteYear
from gardenmate.topics.season.terms import OPEN_GROUND, Shelter, Terms, ways_to_help

CROWN_UNTIL_MEAN_C = 14.0  # degrees C: crowns are planted while the days are cooler; design value
LEAD_DAYS = 14  # days before the warmest time an autumn sowing opens; design value
SHORT_DAYS = 14  # days: a shorter window is no season of its own; design value
AUTUMN_EQUINOX = 275  # day of the season, counted from 21 December in the north
AHEAD_DAYS = 28  # days a better part may lie ahead; design value
POTTED_DAYS = 28  # days plants in pots may follow later; design value
SEED_BED_DAYS = 28  # days a seed bed must stay open; design value
YOUNG_PLANT_SHARE = 0.75  # share of the weeks indoors a late sowing still takes; design value
LONG_PICK_DAYS = 45.0  # days: picking this long counts as long; design value
JOINED_WITHIN_DAYS = 45
"""Good parts no further apart than this are one, when midwinter is between them and stops nothing."""
NEXT_SPRING_AFTER = 320
"""A short run from so late in the year on is the head of the next spring, not an autumn."""


class RunOfDays(NamedTuple):
    """A window in day numbers from the origin of a `SiteYear`.

    ``sure_to`` is the last day that is more than tight, None where every day is; ``way`` the variety and the
    cover it rests on (None: what was asked about, in the open).
    """

    activity: Activity
    earliest: int
    best_from: int
    best_to: int
    latest: int
    sure_to: int | None = None
    way: tuple[float, str] | None = None


_OUT: dict[str, tuple[Activity, Activity]] = {
    "outdoors": ("sow-outdoors", "fall-sow"),
    "setout": ("set-out", "fall-set-out"),
}


def spans(
    terms: Terms, year: SiteYear, cover: Shelter = OPEN_GROUND, *, mat: bool = True
) -> tuple[RunOfDays, ...]:
    """Every window of the crop in this place, in the order of the year.

    A day is in a window when a start on it is at least tight, and ``sure_to`` is the last one that is a yes: both
    by the chance every verdict goes by.
    """
    return year.kept(("spans", terms.key, cover, mat), lambda: _spans(terms, year, cover, mat))


def _spans(terms: Terms, year: SiteYear, cover: Shelter, mat: bool) -> tuple[RunOfDays, ...]:
    found: list[RunOfDays] = []
    if terms.rule in ("crown", "perennial"):
        found += _perennial(terms, year)
    else:
        sown = _ordinary(terms, year, "outdoors", cover) if terms.can_sow_outdoors else []
        if terms.also_direct:  # a seed bed is for where it has weeks to spare, not for a last chance of days
            sown = [s for s in sown if s.latest - s.earliest >= SEED_BED_DAYS]
        if terms.can_set_out:
            out = _ordinary(terms, year, "setout", cover)
            found += [_shortened(s, terms, "set-out", terms.general.best_set_out_days) for s in out]
            if terms.can_raise:
                sown = _in_time_for_plants(terms, sown, out)
                found += _raising(terms, year, out, cover, mat)
        found += sown
    if terms.autumn_means_c:
        found += _overwinter(terms, year)
    return tuple(sorted(_one_of_each(found), key=lambda s: (s.earliest, s.activity)))


def _one_of_each(spans: list[RunOfDays]) -> list[RunOfDays]:
    """Overlapping windows of one activity made one: a summer sowing that runs on into the winter one."""
    found: list[RunOfDays] = []
    for s in sorted(spans, key=lambda s: (s.activity, s.earliest)):
        last = found[-1] if found else None
        if last is not None and last.activity == s.activity and s.earliest <= last.latest:
            best_to, latest = max(last.best_to, s.best_to), max(last.latest, s.latest)
            found[-1] = last._replace(
                best_from=min(last.best_from, s.best_from), best_to=best_to, latest=latest, sure_to=s.sure_to
            )
        else:
            found.append(s)
    return found


def _ordinary(terms: Terms, year: SiteYear, method: str, cover: Shelter) -> list[RunOfDays]:
    """Windows of an ordinary crop: with a middling variety, else with what helps where it will not ripen."""
    if cover is not OPEN_GROUND or terms.rule:
        return _found(terms, year, method, cover)
    variety, needed = way_that_ripens(terms, year, method)
    found = _found(variety, year, method, needed)
    if variety.dtm == terms.dtm and needed is OPEN_GROUND:
        return found
    return [s._replace(way=(variety.dtm, needed.id)) for s in found]


def way_that_ripens(terms: Terms, year: SiteYear, method: str) -> tuple[Terms, Shelter]:
    """The variety and the cover the windows of this method rest on: a middling variety in the open where that
    ripens, else the first of what growers turn to that gives a spring window; the last of it where none does.

    ``method``: outdoors | setout.
    """
    variety, cover = year.kept(("way", terms.key, method), lambda: _way(terms, year, method))
    # kept from an earlier question, perhaps: this one's own terms again, or their early variety
    return (terms if variety.dtm == terms.dtm else terms._replace(dtm=variety.dtm)), cover


def _way(terms: Terms, year: SiteYear, method: str) -> tuple[Terms, Shelter]:
    spring, _ = _OUT[method]
    ways = ((terms, OPEN_GROUND), *ways_to_help(terms, method))
    tried = [[s for s in _found(t, year, method, cover) if s.activity == spring] for t, cover in ways[:2]]
    sure = (way for way, found in zip(ways, tried, strict=False) if any(s.sure_to is not None for s in found))
    chosen = next(sure, None)  # growers go by the variety that is sure, as long as one is
    if chosen is not None:
        return chosen
    for variety, cover in ways:
        found = _found(variety, year, method, cover)
        if any(s.activity == spring and s.latest - s.earliest >= SHORT_DAYS for s in found):
            return variety, cover
    return ways[-1]


def _found(terms: Terms, year: SiteYear, method: str, cover: Shelter) -> list[RunOfDays]:
    tried = scan(terms, year, method, cover)
    spring, autumn = _OUT[method]
    found: list[RunOfDays] = []
    hot = terms.crop.warm and _hot_summer(terms, year)
    again = terms.crop.autumn.possible or (hot and year.mild)  # summer is the gap: warm crops come twice
    allowed = [o and f for o, f in zip(tried.opens, tried.fits, strict=True)]
    for a, b in runs(allowed):
        after_heat = a > 0 and tried.too_hot[a - 1] and a > year.hottest - 75
        if after_heat or a > year.hottest:
            if again and a < NEXT_SPRING_AFTER:
                found.append(_autumn_best(tried, autumn, a, b))
            continue
        span = _spring_best(tried, spring, a, b, terms.best_days)
        found.append(span)
        twice = not terms.crop.warm or hot
        if again and terms.rule == "" and twice and b > year.hottest - 40:
            part = _autumn_part(terms, year, tried, autumn, a, b)
            if part.best_from - span.best_from >= AHEAD_DAYS:
                found.append(part)
    return [_marked(s, tried.chance, terms) for s in found]


def _marked(span: RunOfDays, chance: list[float], terms: Terms) -> RunOfDays:
    """The span with its last sure day, and its good part no longer than that: in spring the end of the first sure
    stretch, in autumn the last sure day of all."""
    sure = [shown(chance[d % YEAR]) >= terms.general.yes_from for d in range(span.earliest, span.latest + 1)]
    if not any(sure):
        return span
    last = len(sure) - 1 - sure[::-1].index(True)
    if not span.activity.startswith("fall"):
        first = sure.index(True)
        last = next((i for i in range(first, len(sure)) if not sure[i]), len(sure)) - 1
    sure_to = span.earliest + last
    return span._replace(sure_to=sure_to, best_to=min(span.best_to, max(sure_to, span.best_from)))


def _hot_summer(terms: Terms, year: SiteYear) -> bool:
    """True where high summer comes so near the crop's limit that growers sow again for autumn."""
    return terms.heat_c is not None and year.mean_c[year.hottest] > terms.heat_c - 1.0


def _spring_best(tried: Scan, activity: Activity, a: int, b: int, most: int | None) -> RunOfDays:
    """The good part of a run that opens in spring: from when most growers begin, while it still fits well."""
    best_from = next((d for d in range(a, b + 1) if tried.opens_well[d]), a + (b - a) // 3)
    best_to = best_from
    while best_to < b and tried.fits_well[best_to + 1]:
        best_to += 1
    if best_to - best_from < 14:
        best_to = min(b, best_from + max(14, (b - best_from) // 2))
    if most is not None:
        best_to = min(best_to, best_from + most)
    return RunOfDays(activity, a, best_from, best_to, b)


def _autumn_best(tried: Scan, activity: Activity, a: int, b: int) -> RunOfDays:
    """The good part of a run that opens as the heat goes: the first good stretch, to its last good start."""
    good = runs(tried.fits_well[a : b + 1])
    long = [r for r in good if r[1] - r[0] >= SHORT_DAYS] or good[-1:]
    if long:
        best_from, best_to = a + long[0][0], a + long[0][1]
    else:
        best_from = best_to = b - (b - a) // 3
    if best_to - best_from < 14:
        best_from = max(a, best_to - max(14, (best_to - a) // 2))
    return RunOfDays(activity, a, best_from, best_to, b)


def _autumn_part(terms: Terms, year: SiteYear, tried: Scan, activity: Activity, a: int, b: int) -> RunOfDays:
    """The last part of a season that runs through the summer: starts for an autumn harvest."""
    weeks = terms.crop.autumn.sow_weeks_from_first_frost
    length = max(28, int(7 * (weeks[1] - weeks[0]))) if weeks is not None else 35
    if b >= YEAR - LEAD_DAYS:  # no winter ends it: autumn is what follows the warmest time
        warmest = year.hottest
        return RunOfDays(activity, warmest - LEAD_DAYS, warmest + 7, min(b, warmest + 77), b)
    span = _autumn_best(tried, activity, max(a, b - length - 2 * LEAD_DAYS), b)
    best_from = max(span.best_from, span.best_to - length)
    return span._replace(earliest=max(span.earliest, best_from - LEAD_DAYS), best_from=best_from)


def _raising(
    terms: Terms, year: SiteYear, out: list[RunOfDays], cover: Shelter = OPEN_GROUND, mat: bool = True
) -> list[RunOfDays]:
    """Sowing indoors, counted back from each window for setting out; one that lies in another is left out."""
    low, high = (int(7 * w) for w in terms.weeks_indoors)
    age = high if terms.crop.warm else (low + high) // 2  # slow warm crops are sown at the long end
    found: list[RunOfDays] = []
    for s in out:
        first = max(s.earliest - high, s.latest - low - YEAR + 1)  # all the year round is a year, not more
        best_to = s.best_to - low
        last = max(first, s.latest - low)
        sure = None if s.sure_to is None else min(last, s.sure_to - low)
        sown = RunOfDays(
            "sow-indoors", first, min(last, max(first, s.best_from - age)), best_to, last, sure, s.way
        )
        fits = sown if terms.rule else _while_it_fits(sown, terms, year, cover, mat)
        if fits is None:
            continue
        sown = fits
        if not any(o.earliest <= sown.earliest and sown.latest <= o.latest for o in found):
            found.append(_shortened(sown, terms, "sow-indoors", terms.general.best_indoors_days))
    return found


def _while_it_fits(
    span: RunOfDays, terms: Terms, year: SiteYear, cover: Shelter, mat: bool
) -> RunOfDays | None:
    """The span held to the days from which the chance of raised plants is at least tight: the youngest plants may
    come out into the heat, and slow seed costs days at its end. None where no day is left."""
    variety, under = terms, cover
    if span.way is not None:
        variety = terms._replace(dtm=span.way[0])
        under = next((c for _, c in ways_to_help(terms, "setout") if c.id == span.way[1]), cover)
    origin = year.origin(date(2027, 7, 1))

    def chance(d: int) -> float:
        day = origin + timedelta(days=d)
        return shown(make_plan(variety, year, "indoors", day, cover=under, mat=mat).chance)

    tight, yes = terms.general.tight_from, terms.general.yes_from
    first = next((d for d in range(span.earliest, span.latest + 1) if chance(d) >= tight), None)
    if first is None:
        return None
    last = next(d for d in range(span.latest, first - 1, -1) if chance(d) >= tight)
    sure = None
    if span.sure_to is not None:
        sure = next((d for d in range(min(last, span.sure_to), first - 1, -1) if chance(d) >= yes), None)
    best_from = min(max(first, span.best_from), last)
    best_to = max(best_from, min(span.best_to, last if sure is None else sure))
    return span._replace(earliest=first, best_from=best_from, best_to=best_to, latest=last, sure_to=sure)


def _in_time_for_plants(terms: Terms, sown: list[RunOfDays], out: list[RunOfDays]) -> list[RunOfDays]:
    """Sowings of what is sown in a seed bed or stands the winter: in time for a young plant to be moved.

    A mild winter ends nothing, and would else let seed in as late as plants.
    """
    if not out or not (terms.winter_harvest or terms.also_direct):
        return sown
    last = max(s.latest for s in out) - int(7 * YOUNG_PLANT_SHARE * terms.weeks_indoors[0])
    good = last - LEAD_DAYS
    kept = [
        s._replace(
            best_to=min(s.best_to, good),
            latest=min(s.latest, last),
            sure_to=None if s.sure_to is None else min(s.sure_to, last),
        )
        for s in sown
    ]
    return [s for s in kept if s.best_from <= s.best_to]


def _shortened(span: RunOfDays, terms: Terms, activity: Activity, days: int) -> RunOfDays:
    """The good part held to the first weeks, for plants that are picked the longer the sooner they start."""
    long_pick = (terms.crop.maturity.picking_days or 0.0) >= LONG_PICK_DAYS
    if span.activity != activity or not (long_pick or activity == "sow-indoors"):
        return span
    return span._replace(best_to=min(span.best_to, span.best_from + days))


def _perennial(terms: Terms, year: SiteYear) -> list[RunOfDays]:
    """Crowns go in while cool and dormant; hardy herbs from spring until there is no time left to root."""
    start = terms.start
    found: list[RunOfDays] = []
    opens = year.first_day(0, lambda t: t >= start.earliest_mean_c, year.hottest)
    never_cool = year.mean_c[year.coldest] > CROWN_UNTIL_MEAN_C - 2.0
    if opens is None or (terms.autumn_means_c and never_cool):
        return []  # where no spring is cool, autumn is the time
    good = year.first_day(opens, lambda t: t >= start.best_mean_c, year.hottest) or opens
    light = year.kept(("light", GOOD_LIGHT_HOURS), lambda: float(year.light_from(GOOD_LIGHT_HOURS)))
    good = max(good, opens, int(light))
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
    spring = RunOfDays("set-out", opens, min(good, best_to), best_to, closes, best_to)
    found.append(spring)
    if terms.can_sow_outdoors:
        found.append(spring._replace(activity="sow-outdoors"))
    if terms.can_raise:
        found += _raising(terms, year, [spring])
    if year.mild and not terms.autumn_means_c:
        a = year.first_day(year.hottest, lambda t: t < 15.0, 2 * YEAR)
        if a is not None and a < YEAR:
            b = min(a + 75, YEAR + 10)
            found.append(RunOfDays("fall-set-out", a, a + 10, b - 20, b, b - 20))
    return found


def _overwinter(terms: Terms, year: SiteYear) -> list[RunOfDays]:
    """Autumn planting of what stands the winter: between falling daily means.

    Where the winter never gets as cold as that, planting goes on past midwinter for some weeks.
    """
    if terms.autumn_coldest_c is not None and year.mean_c[year.coldest] < terms.autumn_coldest_c:
        return []
    never = (YEAR + 10, YEAR + 10, YEAR + 10, YEAR + PAST_MIDWINTER_DAYS)
    edges = []
    for limit, else_ in zip(terms.autumn_means_c, never, strict=True):
        day = year.first_day(year.hottest, lambda t, limit=limit: t <= limit, YEAR + 20)  # type: ignore[misc]
        edges.append(day if day is not None else else_)
    a, x, y, b = edges
    y = max(y, YEAR + 10) if b > YEAR + 20 else y  # ground that stays open is as good at midwinter
    earliest = AUTUMN_EQUINOX + round(7 * terms.autumn_weeks_from_equinox)
    a, x = max(a, earliest - AHEAD_DAYS), max(x, earliest)
    a, x = min(a, AUTUMN_EQUINOX + AHEAD_DAYS), min(x, AUTUMN_EQUINOX + 2 * AHEAD_DAYS)  # however warm
    y = max(y, x + AHEAD_DAYS)
    activity: Activity = "fall-sow" if terms.can_sow_outdoors else "fall-set-out"
    found = [RunOfDays(activity, a, x, max(x, y), max(x, y, b), max(x, y))]
    if terms.crop.calendar.fall_plants:
        found.append(
            RunOfDays("fall-set-out", x, x + 21, max(x + 42, y + 30), max(b, y) + 60, max(x + 42, y + 30))
        )
    return found


_WORK: dict[Activity, str] = {
    "sow-indoors": "raise",
    "sow-outdoors": "sow",
    "fall-sow": "sow",
    "set-out": "plant",
    "fall-set-out": "plant",
}


def joined(windows: Iterable[Window], day: date, *, autumn_best: bool) -> list[Window]:
    """The windows with those of one work made one where midwinter alone parts them: a mild winter is no end.

    The joined window goes by the name of the part ``day`` falls in. With ``autumn_best`` spring is second
    best, and the good part stays that of autumn.
    """
    found: list[Window] = []
    for w in sorted(windows, key=lambda w: (_WORK[w.activity], w.earliest)):
        before = found[-1] if found else None
        if before is not None and _runs_on(before, w, autumn_best=autumn_best):
            found[-1] = before._replace(
                activity=before.activity if day <= before.latest else w.activity,
                best_to=before.best_to if autumn_best else max(before.best_to, w.best_to),
                latest=max(before.latest, w.latest),
                sure_to=before.sure_to if autumn_best else w.sure_to or before.sure_to,
            )
        else:
            found.append(w)
    return found


def _runs_on(before: Window, after: Window, *, autumn_best: bool) -> bool:
    """True where a window of autumn goes over into the one of the next spring."""
    if _WORK[before.activity] != _WORK[after.activity] or not before.activity.startswith("fall"):
        return False
    if after.earliest <= before.best_from:
        return False  # the spring of the same year
    if after.activity.startswith("fall") or (after.earliest - before.latest).days > SHORT_DAYS:
        return False
    return autumn_best or (after.best_from - before.best_to).days <= JOINED_WITHIN_DAYS


def dated(span: RunOfDays, terms: Terms, origin: date) -> Window:
    """A span as a window of the season that starts on ``origin``."""
    days = [span.earliest, span.best_from, span.best_to, span.latest]
    for i in range(1, 4):
        days[i] = max(days[i], days[i - 1])
    a, b, c, d = (origin + timedelta(days=min(v, NEVER)) for v in days)
    sure = None if span.sure_to is None else origin + timedelta(days=max(span.earliest, span.sure_to))
    days_to_maturity, cover = (None, "") if span.way is None else span.way
    return Window(
        terms.base,
        span.activity,
        a,
        b,
        c,
        d,
        terms.crop.kind,
        sure,
        days_to_maturity,
        cover.replace("none", ""),
    )
