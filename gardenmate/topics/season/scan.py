"""Every day of a place's year tried as a starting day for one crop: may it begin, will it come ready in time?

Two strictnesses run side by side: *allowed* (it can be done) and *good* (most growers would). Days are
numbers from the origin of `SiteYear`.
"""

from __future__ import annotations

from gardenmate.records import NamedTuple
from gardenmate.science.frost_risk import standard_quantile
from gardenmate.topics.season.ripening import (
    AUTUMN_AFTER_DAYS,
    HEAT_OVER_C,
    NEVER,
    ground,
    ripening,
)
from gardenmate.topics.season.site_year import YEAR, SiteYear
from gardenmate.topics.season.terms import OPEN_GROUND, Shelter, Terms

SLOWEST, BRISK = 1.5, 1.2
"""How many times its printed days an autumn start may take, at most and for a good one."""
NO_HEAT_LIMIT_C, COLDEST_C = 99.0, -99.0
"""What no day is hotter or colder than: no limit."""
FIRST_LIGHT_HOURS = 10.3
"""Hours of sun from which anything is begun in the open (set on the published calendars)."""
GOOD_LIGHT_HOURS = 10.7
"""Hours of sun from which most growers begin: where winters are mild light, not warmth, holds them back."""
HOT_SOIL_UNDER_C = 3.0
"""Seed comes up poorly from this much under the highest soil temperature it stands."""
SOIL_SHORT_C, SOIL_NEAR_C = 5.0, 3.0
"""How far the usual soil may be under what a start wants on the earliest day, and on the first good one: days
warm it before the root needs it, and no usual soil is known closer (set on the published calendars)."""
WARMEST_UNDER_C = 1.0
"""What a start wants is asked no nearer than this to the warmest the usual soil gets."""


NIGHT_SHORT_C, NIGHT_NEAR_C = 7.0, 4.0
"""How far the usual night may be under what plants want outdoors, on the earliest day and on the first good one:
the usual night is the average one, and plants get through some cool ones (set on the published calendars)."""


SUMMER_C, SUMMER_COOL_C, SUMMER_HOT_C = 20.0, 14.0, 27.0
"""The warmest daily mean of the summer the start groups hold for, and between which it counts."""
HURRY, HURRY_TO_C = 0.25, 12.0
"""What each degree of the warmest daily mean moves the mean at which most growers begin: where summers
are cool they hurry, though not below the second figure, and where there is warmth to spare tender plants wait
(set on the published calendars)."""


class Opening(NamedTuple):
    """What opens a start in one place, for one crop, method and strictness: day number, degrees C.

    ``soil_c`` and ``night_c`` are the lowest usual ones; -99 where none is asked for.
    """

    after: float
    mean_c: float
    soil_c: float
    night_c: float


class Scan(NamedTuple):
    """The year tried out, one item per starting day.

    ``ready`` is the first-picking day. ``opens`` / ``opens_well``: may be started by then, at the loose and
    at the strict limit; ``fits`` / ``fits_well``: comes ready in time and not in heat; ``too_hot``:
    would come ready in heat. ``chance``: of a crop from that day, put off to when it opens well.
    """

    ready: list[int]
    opens: list[bool]
    opens_well: list[bool]
    fits: list[bool]
    fits_well: list[bool]
    too_hot: list[bool]
    chance: list[float]


def emergence_lag(terms: Terms) -> float:
    """Days between sowing and leaves that frost can hurt, in soil as cold as the season opens with."""
    if "seed-potatoes" in terms.crop.methods:
        return 24.0
    days = terms.emergence_days(max(terms.start.best_mean_c, terms.emergence[0][0]))
    return min(days if days is not None else 14.0, 18.0)


def opening_day(
    terms: Terms, year: SiteYear, method: str, risk: float, cover: Shelter = OPEN_GROUND
) -> float:
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


def wanted_soil_c(terms: Terms, method: str) -> float | None:
    """The soil temperature at which this start makes sense: the practical one, else the published least; None
    where none is known, and indoors."""
    if method == "setout":
        return terms.crop.set_out.min_soil_set_out_c
    soil = terms.crop.soil
    low = soil.practical_soil_sow_c or soil.min_soil_sow_c
    return None if low is None or method == "indoors" else low[0]


def opening(
    terms: Terms, year: SiteYear, method: str, *, good: bool, cover: Shelter = OPEN_GROUND
) -> Opening:
    """What a start waits for, to be allowed or to be good."""
    start = terms.start
    risk = terms.own_risk
    if risk is None:
        risk = start.best_risk if good else start.earliest_risk
    hours = GOOD_LIGHT_HOURS if good else FIRST_LIGHT_HOURS
    light = year.kept(("light", hours), lambda: float(year.light_from(hours)))
    soil, night = wanted_soil_c(terms, method), terms.crop.set_out.min_night_set_out_c
    under_soil = SOIL_NEAR_C if good else SOIL_SHORT_C
    under_night = NIGHT_NEAR_C if good else NIGHT_SHORT_C
    return Opening(
        after=max(opening_day(terms, year, method, risk, cover), light),
        mean_c=(good_mean_c(terms, year, method) if good else start.earliest_mean_c) - cover.day_c,
        soil_c=COLDEST_C
        if soil is None
        else min(soil, max(year.soil_c) - WARMEST_UNDER_C) - under_soil - cover.day_c,
        night_c=COLDEST_C
        if night is None or method != "setout"
        else min(night, max(year.min_c) - WARMEST_UNDER_C) - under_night - cover.frost_c,
    )


def good_mean_c(terms: Terms, year: SiteYear, method: str) -> float:
    """The daily mean at which most growers begin here, degrees C. Only tender plants wait for more than their
    group does: seed goes in as soon as it comes up."""
    start = terms.start
    summer = min(max(year.mean_c[year.hottest], SUMMER_COOL_C), SUMMER_HOT_C)
    more = HURRY * (summer - SUMMER_C)
    least = (
        max(start.earliest_mean_c, min(start.best_mean_c, HURRY_TO_C))
        if terms.crop.warm
        else start.earliest_mean_c
    )
    return max(
        least, start.best_mean_c + (more if method == "setout" and terms.crop.warm else min(more, 0.0))
    )


def scan(terms: Terms, year: SiteYear, method: str, cover: Shelter = OPEN_GROUND) -> Scan:
    """Try every day of the year as a start, seed or plants in the open: ``method`` outdoors | setout."""
    return year.kept(("scan", terms.key, method, cover), lambda: _scan(terms, year, method, cover))


def _scan(terms: Terms, year: SiteYear, method: str, cover: Shelter) -> Scan:
    g, days, need = terms.general, range(YEAR), terms.need(method)
    mean, soil, hottest = year.mean_c, year.soil_c, year.hottest
    until = NO_HEAT_LIMIT_C if terms.until_mean_c is None else terms.until_mean_c
    opens, opens_well = openings(terms, year, method, cover)
    planted = ground(terms, year, cover)
    ripe = [ripening(planted, d, need) for d in days]
    ready = [NEVER if r.ready is None else r.ready for r in ripe]
    at_ready = [COLDEST_C if r == NEVER else planted.felt_c[r % YEAR] for r in ready]
    ahead = _next_open(opens_well)
    chance = [0.0 if ahead[d] is None else ripe[ahead[d]].chance for d in days]  # type: ignore[index]
    odds = [shown(r.chance) for r in ripe]
    heat = NO_HEAT_LIMIT_C if terms.heat_c is None else terms.heat_c
    longest, brisk = slowest_days(terms, method, SLOWEST), slowest_days(terms, method, BRISK)
    hot_soil = hottest_soil_c(terms, method)
    wintered = [terms.after_winter_degree_days is not None and ready[d] >= YEAR for d in days]
    spring = [d < hottest + AUTUMN_AFTER_DAYS or not wintered[d] for d in days]
    fits = [
        spring[d]
        and shown(chance[d]) >= g.tight_from
        and odds[d] >= g.tight_from
        and (d <= hottest or ready[d] - d <= longest)
        and soil[d] <= hot_soil
        for d in days
    ]
    fits_well = [
        fits[d]
        and odds[d] >= g.yes_from
        and mean[d] <= until - 1.0
        and (d <= hottest or ready[d] - d <= brisk)
        and soil[d] <= hot_soil - HOT_SOIL_UNDER_C
        for d in days
    ]
    too_hot = [t > heat + HEAT_OVER_C for t in at_ready]
    return Scan(ready, opens, opens_well, fits, fits_well, too_hot, chance)


def openings(
    terms: Terms, year: SiteYear, method: str, cover: Shelter = OPEN_GROUND
) -> tuple[list[bool], list[bool]]:
    """The days on which a start may be made, and on which most growers would make it, whatever the variety."""
    key = (terms.crop.id, terms.start, terms.own_risk, terms.until_mean_c, terms.damage_c)
    return year.kept(("opens", key, method, cover), lambda: _openings(terms, year, method, cover))


def _openings(terms: Terms, year: SiteYear, method: str, cover: Shelter) -> tuple[list[bool], list[bool]]:
    loose, strict = (opening(terms, year, method, good=good, cover=cover) for good in (False, True))
    mean, soil, night, hottest = year.mean_c, year.soil_c, year.min_c, year.hottest
    until = terms.until_mean_c
    still_falling = _last_too_cold(year, loose.mean_c)

    def warm(d: int, least: Opening) -> bool:
        return mean[d] >= least.mean_c and soil[d] >= least.soil_c and night[d] >= least.night_c

    opens = [
        ((d > hottest and until is None) or (d <= hottest and warm(d, loose) and mean[d] <= (until or 99.0)))
        and d >= loose.after
        and d > still_falling
        for d in range(YEAR)
    ]
    opens_well = [d >= strict.after and (d > hottest or warm(d, strict)) for d in range(YEAR)]
    return opens, opens_well


def _next_open(well: list[bool]) -> list[int | None]:
    """For each day the first one from it on that is open, within the year; None where none follows."""
    found: list[int | None] = [None] * len(well)
    following: int | None = None
    for d in range(len(well) - 1, -1, -1):
        following = d if well[d] else following
        found[d] = following
    return found


def shown(chance: float) -> float:
    """A chance as it is shown and judged: in whole percent."""
    return round(chance, 2)


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
