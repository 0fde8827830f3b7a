"""What becomes of plants that stand in the ground from a day on: when they are ripe, and how likely in time.

Everything in day numbers from the origin of `SiteYear`. The windows and every plan ask this one place, so that a
window ends on the very day a verdict does.
"""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.records import NamedTuple
from gardenmate.science.frost_risk import chance_before, normal_cdf
from gardenmate.science.thermal_time import day_reached
from gardenmate.topics.season.record_years import RecordChance, chance_on_record
from gardenmate.topics.season.site_year import YEAR, SiteYear
from gardenmate.topics.season.terms import OPEN_GROUND, Shelter, Terms

NEVER = 10**6  # a day that never comes
LONGEST_DAYS = {"": 230, "overwinter": 400, "perennial": 400}
"""Days after which a crop that is still not ready is given up, by the rule it follows."""
LEAST_CHANCE = 0.02  # no chance is nearer to 0 or 1; design value
PAST_HOPE_DAYS = 45  # days past the end by which nothing ripens; design value
AUTUMN_AFTER_DAYS = 45
"""A start this long after the warmest time stands the winter and is picked the year after."""
PAST_MIDWINTER_DAYS = 45
"""How long after midwinter what stands the winter may still be planted where the ground stays open: cloves go
in from April into July in New Zealand, and in Britain until February (common practice)."""
LONG_DAY_LAT = 38.0
"""From this latitude on long-day onions are grown (common practice)."""
LONG_DAYS_FROM = 165
"""Days from midwinter before which no bulb ripens: early June north of the equator (common practice)."""
BINDS_BELOW = 0.95
"""Under this chance of ripening in bearable warmth it is the heat that binds."""
HEAT_OVER_C = 1.5
"""The printed highest monthly mean is a soft limit: as likely as not this much over it (design value)."""
HEAT_SPREAD_C = 2.0 / 0.8416
"""Spread of the heat limit: 80% sure half a degree under it, as likely as not where it is no more allowed."""
LEAST_LIGHT_HOURS = 10.0
"""Hours of sun below which little grows, however mild the winter (common practice)."""
DARK_SPELL_DAYS = 32
"""Half the length of a dark spell that is worth the name: about 40 degrees of latitude and more (design value)."""
GROWS_IN_THE_DARK_C = 9.0
"""A coldest daily mean from which short days slow growth but do not stop it (set on the published calendars)."""
WINTER_MARGIN_C = 4.0
"""So far above the killing temperature the coldest normal night must stay for a crop to stand the winter."""


class Ripening(NamedTuple):
    """``ready``: first picking (None: not in this season). ``end`` and ``sd``: what ends the season (NEVER without).
    ``margin``: days between the last wanted picking and the end. ``binding``: frost | cold | heat | none.
    ``hot_c``: the felt daily mean at ripening where that is what is too hot. ``chance``: 0..1."""

    ready: int | None
    end: float
    sd: float
    margin: int | None
    chance: float
    binding: str
    hot_c: float | None


class Ground(NamedTuple):
    """A crop in the ground of one place, whatever day it went there: ``total``, its running degree-days; ``ends``,
    (mean, sd) of each day that ends the season; ``spread``, sd of the days to maturity; ``frost``, the day of the
    autumn freeze that ends it in the open (None: practically never); ``felt_c`` see `felt_fruiting_c`."""

    terms: Terms
    year: SiteYear
    cover: Shelter
    total: list[float]
    ends: list[tuple[float, float]]
    spread: float
    frost: float | None
    felt_c: list[float]


def ground(terms: Terms, year: SiteYear, cover: Shelter = OPEN_GROUND) -> Ground:
    """What holds for every start of a crop at a place."""
    first = year.first_autumn(terms.ends_c)
    return Ground(
        terms,
        year,
        cover,
        terms.total(year, cover),
        _ends(terms, year, cover),
        terms.general.maturity_spread * terms.dtm,
        None if first is None else first.offset_days,
        felt_fruiting_c(terms, year),
    )


def ripening(ground: Ground, goes: int, need: float, *, wanted: float | None = None) -> Ripening:
    """What becomes of plants (or seed) in the ground from day ``goes`` that need so many degree-days.

    ``wanted``: the day the harvest is wanted for; it ends the season where it comes before the cold.
    """
    terms, year, cover, total, ends, spread, *_ = ground
    base = goes // YEAR * YEAR
    reached = day_reached(total, goes - base, need)
    ready = None if reached is None else reached + base
    if base:
        ends = [(end + base, sd) for end, sd in ends]
    plain = wanted is None and terms.spring_ripe_from is None and not terms.rule
    record = chance_on_record(terms, year, goes - base, need, cover, spread) if plain else None
    soon = not terms.rule and reached is not None and reached < YEAR
    wintered = None if soon else _after_winter(terms, year, total, goes - base)
    if wintered is not None:
        ready, ends, record = wintered + base, [(end + YEAR, sd) for end, sd in ends], None
    elif ready is not None and terms.spring_ripe_from is not None and abs(year.site.lat) >= LONG_DAY_LAT:
        ready = max(ready, base + terms.spring_ripe_from)  # bulbs wait for the turn of the days, then swell
    if wanted is not None and wanted < min(ends)[0]:
        ends = [(wanted + terms.wanted_days, 1.0)]
    end, _ = min(ends)
    too_long = ready is not None and ready - goes > LONGEST_DAYS.get(terms.rule, 1200)
    if too_long or (not terms.rule and ready is not None and ready > end + PAST_HOPE_DAYS):
        ready = None  # it would only ripen after another winter, or long after the cold
    return _outcome(ground, ready, ends, record)


def _outcome(
    ground: Ground,
    ready: int | None,
    ends: Sequence[tuple[float, float]],
    record: RecordChance | None = None,
) -> Ripening:
    """``ends``: mean and spread of all that may end the season, the freeze first; it has to beat the hardest of them.
    ``record``: how often it beat the freeze in the years of an imported record."""
    end, sd = min(ends)
    if ready is None:
        return Ripening(None, end, sd, None, 0.0, "cold", None)
    terms = ground.terms
    beaten = [chance_before(ready + terms.wanted_days, ground.spread, *last) for last in ends]
    if record is not None and ends[0][0] < NEVER:
        beaten[0] = record.beside(beaten[0])
    in_time = min(beaten)
    margin = None if end >= NEVER else round(end - ready - terms.wanted_days)
    at_ready = ground.felt_c[ready % YEAR]
    cool = 1.0
    if terms.heat_c is not None:
        cool = normal_cdf((terms.heat_c + HEAT_OVER_C - at_ready) / HEAT_SPREAD_C)
    hot = cool < min(in_time, BINDS_BELOW)
    binding = "heat" if hot else "none" if margin is None else _what_ends(ground, end)
    # Nothing is certain in a garden: weather and pests outside this model keep every chance off 0 and 1.
    chance = min(max(in_time * cool, LEAST_CHANCE), 1.0 - LEAST_CHANCE)
    return Ripening(ready, end, sd, margin, chance, binding, at_ready if hot else None)


def felt_fruiting_c(terms: Terms, year: SiteYear) -> list[float]:
    """The heat a crop comes ready in on each day of the year, degrees C as felt. Fruit that hangs for weeks has set in
    the weather it set in, and what is picked for weeks may bear later: only where all of that is hot has the plant
    nothing on it."""
    if not terms.crop.warm:
        return year.felt_c
    return year.kept(("fruiting", terms.crop.id, terms.wanted_days), lambda: _felt_fruiting_c(terms, year))


def _felt_fruiting_c(terms: Terms, year: SiteYear) -> list[float]:
    hung = round(sum(terms.crop.picked_after.get("fruit", (0.0, 0.0))) / 2)
    picked, felt = round(terms.wanted_days), year.felt_c
    return [min(felt[(d - hung) % YEAR], felt[d], felt[(d + picked) % YEAR]) for d in range(YEAR)]


def _what_ends(ground: Ground, end: float) -> str:
    return "frost" if ground.frost is not None and abs(ground.frost - end % YEAR) < 1.0 else "cold"


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


def season_end(terms: Terms, year: SiteYear, cover: Shelter = OPEN_GROUND) -> tuple[float, float]:
    """(mean, sd) of the day the season ends, the soonest of what may end it. NEVER in places without an end."""
    return min(_ends(terms, year, cover))


def _ends(terms: Terms, year: SiteYear, cover: Shelter) -> list[tuple[float, float]]:
    """(mean, sd) of each day that ends the season: the autumn freeze that kills, and for warm crops the day the mean
    falls to where growth stops."""
    first = year.first_autumn(terms.ends_c - cover.frost_c)
    frost = (first.offset_days, first.sd_days) if first is not None else (float(NEVER), 0.0)
    if terms.crop.warm:
        floor = terms.base_c + 1.0 - cover.day_c
        cold = year.first_day(year.hottest, lambda t: t < floor, year.hottest + 300)
        return [frost] if cold is None else [frost, (float(cold), 8.0)]
    if not (
        year.mild and terms.crop.frost.killed_below_c < terms.damage_c and stands_winter(terms, year, cover)
    ):
        return [frost]
    # A cool crop that only the killing cold would end stands the winter where that cold hardly comes, but what is
    # not grown when the dark days come stands still until they are over.
    dark = year.kept(("light", LEAST_LIGHT_HOURS), lambda: float(year.light_from(LEAST_LIGHT_HOURS)))
    warm = year.mean_c[year.coldest] >= GROWS_IN_THE_DARK_C
    long_dark = dark > DARK_SPELL_DAYS and not warm and not terms.winter_harvest
    if long_dark or (terms.grown_by_dark and dark > 0.0):
        return [(YEAR - dark + terms.wanted_days, 10.0)]
    return [(float(NEVER), 0.0)]


def stands_winter(terms: Terms, year: SiteYear, cover: Shelter = OPEN_GROUND) -> bool:
    """True where the cold that kills the crop hardly comes: the usual coldest night stays well above it."""
    killed = terms.crop.frost.killed_below_c - cover.frost_c
    return year.first_autumn(killed) is None or min(year.min_c) >= killed + WINTER_MARGIN_C
