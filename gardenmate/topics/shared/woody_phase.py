"""Where a woody plant stands on a date: dormant, buds swelling, green, in bloom, in leaf, going dormant.

What the grower sees always wins. Without it the year of a plant is laid out from the green tip of a midseason
apple, reckoned from the warmth of spring at the place (knowledge/chilling.toml), and from the first hard
autumn frost; each plant opens so many days before or after the apple (its own file). Without a place the
dates of USDA zones 5-7 are used and said so.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any, Literal

from gardenmate.core.question import Request
from gardenmate.core.units import INCH_CM
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.woody import CuttingSeason, Woody
from gardenmate.records import dataclass, replace
from gardenmate.science.chilling import expected_degree_days
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.shared.regions import spread_out
from gardenmate.topics.shared.woody_chill import WinterRest

if TYPE_CHECKING:
    from gardenmate.climate.site import Site
    from gardenmate.core.world import World

Basis = Literal["weather", "normals", "region", "calendar"]
Span = tuple[date, date]

# What a grower may say, and the stage whose advice applies.
SEEN_STAGES = {
    "dormant": "dormant",
    "bud_swell": "bud_swell",
    "green_tip": "green_tip",
    "tight_cluster": "green_tip",
    "pink": "green_tip",
    "bloom": "bloom",
    "petal_fall": "petal_fall",
    "leafed_out": "leafed_out",
    "after_harvest": "after_harvest",
    "leaf_fall": "leaf_fall",
}
_GREEN_CM = 3.2  # new growth no longer than about an inch and a quarter is still green tip (design value)
PLAIN = {
    "dormant": "dormant",
    "bud_swell": "at bud swell",
    "green_tip": "showing green tips",
    "bloom": "in bloom",
    "petal_fall": "dropping its petals",
    "leafed_out": "in leaf",
    "after_harvest": "past harvest",
    "leaf_fall": "going dormant",
}
SEEN_WORDS = {**PLAIN, "tight_cluster": "at tight cluster", "pink": "at pink"}
WINTER_PHASES = ("dormant", "late-dormant", "bud-swell", "dormant-spring", "early-spring")
_AUTUMN_PHASES = ("runners", "autumn")
_AUTUMN_MONTHS = (9, 10, 11)  # a second time, in autumn, of what is done in early spring
_LONG_WAIT_DAYS = 40  # bloom this long after the first green means the plant is in leaf before it blooms
_ENOUGH_DD_C = 400.0  # past the bloom of everything told by degree-days
_WET_WINTER_C = 2.0  # coldest month milder than this: winter falls as rain (common practice)
_MILD_WINTER_C = 10.0
_LEAF_FALL_C = 8.0
_LATEST_LEAF_FALL_DAYS = 122  # from 1 August (1 February): about 1 December (1 June)


@dataclass(frozen=True, slots=True)
class Spring:
    """The yearly frame at a place: when a midseason apple shows green, and when leaves fall.

    ``cycle`` is the year the cycle starts in (1 January north, 1 July south of the equator). ``lag_days``:
    how much later the green tip is than the one the months in the fact files fit. ``wet_winter`` None: not
    known. ``mild`` places have no real winter, so dates mean little there. ``rest`` is the winter before, for
    plants that open late when it is short of chill; None where no place is known.
    """

    cycle: int
    southern: bool
    green_tip: date
    leaf_fall: date
    last_frost: date | None
    spread_days: int
    basis: Basis
    label: str
    lag_days: int
    wet_winter: bool | None
    mild: bool
    bloom_days: Callable[[float], int]
    rest: WinterRest | None = None

    @property
    def start(self) -> date:
        """First day of the cycle."""
        return date(self.cycle, 7 if self.southern else 1, 1)

    def shifted(self, years: int) -> Spring:
        """The same frame an average ``years`` later (earlier when negative)."""
        return replace(
            self,
            cycle=self.cycle + years,
            green_tip=_years_on(self.green_tip, years),
            leaf_fall=_years_on(self.leaf_fall, years),
            last_frost=None if self.last_frost is None else _years_on(self.last_frost, years),
        )


@dataclass(frozen=True, slots=True)
class Phase:
    """One stage of a plant's year: from ``since`` up to the day before ``until``."""

    stage: str
    since: date
    until: date


def spring_at(world: World) -> Spring:
    """The frame for the question's place: one place, the middle of a region's places, or zones 5-7."""
    if world.site is not None:
        return site_spring(world.facts, world.site, world.today)
    if world.sites:
        some = spread_out(world.sites)
        found = sorted((site_spring(world.facts, s, world.today) for s in some), key=lambda s: s.green_tip)
        middle = found[len(found) // 2]
        reach = (found[-1].green_tip - found[0].green_tip).days // 2
        spread = max(middle.spread_days, reach)
        return replace(middle, basis="region", spread_days=spread, label=world.region or middle.label)
    southern = world.garden.lat is not None and world.garden.lat < 0
    return _calendar_spring(world.facts, world.today, southern)


def site_spring(facts: Facts, site: Site, today: date) -> Spring:
    """The frame at one place, on its normals and, up to today, on the garden's imported weather."""
    key = ("spring", facts.root, today)
    return site_year(site).kept(key, lambda: _site_spring(facts, site, today))


def _site_spring(facts: Facts, site: Site, today: date) -> Spring:
    table = facts.table("chilling")
    cycle = _cycle(today, site.southern)
    start = date(cycle, table["green_tip"]["start_month"] + (6 if site.southern else 0), 1)
    base_c = (table["green_tip"]["base_f"] - 32.0) / 1.8
    totals, measured = _warmth(site, start, base_c, table["day_spread"]["day_sd_c"], today)
    need = table["green_tip"]["sum_dd_f"] / 1.8
    reached = _first_reaching(totals, need)
    green_tip = start + timedelta(days=reached)
    anchor = date(cycle, 7 if site.southern else 1, 15)
    freeze = site.freezes.get(28)
    autumn = freeze.first_autumn if freeze is not None else None
    leaf_fall = min(_cooling(site, cycle), autumn.day(anchor) if autumn is not None else date.max)
    frost = site.freezes.get(32)
    last = frost.last_spring if frost is not None else None
    coldest = min(0.5 * (a + b) for a, b in zip(site.monthly_min_c, site.monthly_max_c, strict=True))
    spread = table["spread"]
    return Spring(
        cycle=cycle,
        southern=site.southern,
        green_tip=green_tip,
        leaf_fall=leaf_fall,
        last_frost=None if last is None else last.day(anchor),
        spread_days=spread["with_this_years_weather_days"] if measured else spread["normals_days"],
        basis="weather" if measured else "normals",
        label=site.label,
        lag_days=(green_tip - _reference(table, cycle, site.southern, "green_tip")).days,
        wet_winter=coldest > _WET_WINTER_C,
        mild=coldest > _MILD_WINTER_C,
        bloom_days=lambda sum_dd: _first_reaching(totals, sum_dd) - reached,
        rest=WinterRest(site, _years_on(leaf_fall, -1), start, totals, need, table["day_spread"]["day_sd_c"]),
    )


def _calendar_spring(facts: Facts, today: date, southern: bool) -> Spring:
    table = facts.table("chilling")
    cycle = _cycle(today, southern)
    need = table["green_tip"]["sum_dd_f"] / 1.8
    return Spring(
        cycle=cycle,
        southern=southern,
        green_tip=_reference(table, cycle, southern, "green_tip"),
        leaf_fall=_reference(table, cycle, southern, "leaf_fall"),
        last_frost=None,
        spread_days=table["spread"]["calendar_only_days"],
        basis="calendar",
        label="USDA zones 5-7",
        lag_days=0,
        wet_winter=None,
        mild=False,
        bloom_days=lambda sum_dd: round((sum_dd - need) / 4.0),  # 4 C-days a day in April (common practice)
    )


def _cycle(day: date, southern: bool) -> int:
    return day.year - 1 if southern and day.month < 7 else day.year


def _reference(table: dict[str, Any], cycle: int, southern: bool, name: str) -> date:
    ref = table["reference"]
    month = ref[f"{name}_month"] + (6 if southern else 0)
    return date(cycle + (month - 1) // 12, (month - 1) % 12 + 1, ref[f"{name}_day"])


def _warmth(site: Site, start: date, base_c: float, day_sd_c: float, today: date) -> tuple[list[float], bool]:
    """Running degree-days from ``start`` for 240 days, and whether measured days are among them."""
    totals, total, measured = [0.0], 0.0, False
    for i in range(240):
        day = start + timedelta(days=i)
        seen = recorded_extremes(site, day) if day < today else None
        if seen is None:
            total += expected_degree_days(site.min_c(day), site.max_c(day), base_c, day_sd_c)
        else:
            measured = True
            total += expected_degree_days(seen[0], seen[1], base_c, 0.0)
        totals.append(total)
        if total > _ENOUGH_DD_C:
            break
    return totals, measured


def recorded_extremes(site: Site, day: date) -> tuple[float, float] | None:
    """Minimum and maximum measured on a day of the imported history, degrees C; None when there is none."""
    if site.history is None:
        return None
    low, high = site.history.min_c(day), site.history.max_c(day)
    return None if low is None or high is None or low > high else (low, high)


def _first_reaching(totals: Sequence[float], need: float) -> int:
    return next((i for i, total in enumerate(totals) if total >= need), len(totals) - 1)


def _cooling(site: Site, cycle: int) -> date:
    """First autumn day with a mean under 8 C, at the latest the first day of winter: short days bring the
    leaves down where no hard frost does (common practice)."""
    start = date(cycle, 8, 1) if not site.southern else date(cycle + 1, 2, 1)
    days = range(_LATEST_LEAF_FALL_DAYS)
    cold = (i for i in days if site.mean_c(start + timedelta(days=i)) < _LEAF_FALL_C)
    return start + timedelta(days=next(cold, _LATEST_LEAF_FALL_DAYS))


def _years_on(day: date, years: int) -> date:
    year = day.year + years
    return date(year, 2, 28) if (day.month, day.day) == (2, 29) else date(year, day.month, day.day)


def seen_stage(question: Request, plant: Woody | None = None) -> str | None:
    """The stage the grower sees (a key of SEEN_STAGES): as told, or by the length of the new growth; None unsaid.

    A length says more than "in leaf": what counts as green tip is the plant's own, where its file says so.
    """
    told = question.first("stage", "seen")
    stage = question.cue("bud_stage") if told is None else str(told.value)
    grown = question.first("size", "shoots") or question.first("size", "leaves")
    if grown is None or stage not in (None, "leafed_out"):
        return stage
    own = plant.stages["green_tip"].shoots_up_to_cm if plant is not None else None
    return "green_tip" if _CM[grown.unit] * grown.number <= (own or _GREEN_CM) else "leafed_out"


_CM = {"mm": 0.1, "cm": 1.0, "in": INCH_CM, "ft": 12 * INCH_CM, "m": 100.0}


# -- one plant ------------------------------------------------------------------------------------
def bud_break(plant: Woody, spring: Spring) -> date:
    """When the plant shows its first green; evergreens without a figure: after the last frost."""
    if plant.bud_break is None:
        return spring.last_frost or spring.green_tip
    late = chill_delay(plant, spring) or 0
    return spring.green_tip + timedelta(days=late + round(plant.bud_break.days_from_apple_green_tip))


def chill_need(plant: Woody) -> float:
    """Chill hours its usual kinds need, low end; 0 where none are known or needed."""
    if plant.chill is None:
        return 0.0
    span = plant.chill.typical_hours or plant.chill.hours
    return span[0] if span is not None else 0.0


def chill_delay(plant: Woody, spring: Spring) -> int | None:
    """Days the plant opens later for want of chill; None where it never gets what its usual kinds need."""
    need = chill_need(plant)
    return 0 if spring.rest is None or need <= 0 else spring.rest.delay_days(need)


def bloom(plant: Woody, spring: Spring) -> date | None:
    """When the plant opens its flowers; None where that is not told."""
    timing = plant.bud_break
    if timing is None:
        return None
    first = bud_break(plant, spring)
    if timing.bloom_dd_c is not None:
        return first + timedelta(days=spring.bloom_days(timing.bloom_dd_c))
    return None if timing.days_to_bloom is None else first + timedelta(days=round(timing.days_to_bloom))


def year_of(plant: Woody, spring: Spring, facts: Facts) -> tuple[Phase, ...]:
    """The stages of one cycle, from the leaf fall before it to the next dormancy."""
    days = facts.table("chilling")["phases"]
    green = bud_break(plant, spring)
    flowers = bloom(plant, spring)
    leaf_fall = timedelta(days=days["leaf_fall_days"])
    before = spring.shifted(-1).leaf_fall
    marks: list[tuple[date, str]] = [
        (before - timedelta(days=days["hardening_days"]), "leaf_fall"),
        (before + leaf_fall, "dormant"),
        (green - timedelta(days=days["swell_before_green_tip_days"]), "bud_swell"),
        (green, "green_tip"),
    ]
    if flowers is None or (flowers - green).days > _LONG_WAIT_DAYS:
        marks.append((green + timedelta(days=days["green_tip_days"]), "leafed_out"))
    if flowers is not None:
        over = flowers + timedelta(days=days["bloom_days"])
        bare = over + timedelta(days=days["petal_fall_days"])
        marks += [(flowers, "bloom"), (over, "petal_fall"), (bare, "leafed_out")]
    marks += _picked(plant, spring, marks[-1][0])
    autumn = spring.leaf_fall - timedelta(days=days["hardening_days"])
    end = min(max(autumn, marks[-1][0] + timedelta(days=1)), spring.leaf_fall)
    marks = [m for m in marks if m[0] < end] + [(end, "leaf_fall"), (spring.leaf_fall + leaf_fall, "dormant")]
    ends = [m[0] for m in marks[1:]] + [_years_on(green, 1)]
    return tuple(Phase(stage, since, until) for (since, stage), until in zip(marks, ends, strict=True))


def _picked(plant: Woody, spring: Spring, after: date) -> list[tuple[date, str]]:
    """When a plant that is cut after picking has been picked, for as long as that season lasts."""
    for season in plant.seasons:
        if season.phase in ("after-harvest", "summer-dry") and season.months:
            start, end = spans(plant, season, spring)[0]
            after_that = end + timedelta(days=1)
            return [(start, "after_harvest"), (after_that, "leafed_out")] if start > after else []
    return []


def phase_on(plant: Woody, spring: Spring, facts: Facts, day: date) -> Phase:
    """The stage the plant is likely to be in on a day."""
    for frame in (spring, spring.shifted(1), spring.shifted(-1)):
        for phase in reversed(year_of(plant, frame, facts)):
            if phase.since <= day < phase.until:
                return phase
    return year_of(plant, spring, facts)[1]


# -- seasons as dates -----------------------------------------------------------------------------
def spans(plant: Woody, season: CuttingSeason, spring: Spring) -> tuple[Span, ...]:
    """The dates of one pruning season in the cycle of ``spring``; usually one span."""
    weeks = season.weeks_from_bud_break
    if spring.wet_winter and season.mild_weeks_from_bud_break is not None:
        weeks = season.mild_weeks_from_bud_break  # no deep cold to wait for
    if weeks is not None:
        first, last = weeks
        green = bud_break(plant, spring)
        leafless = spring.shifted(-1).leaf_fall + timedelta(days=21)
        start = max(green + timedelta(weeks=first), leafless)
        return ((start, max(start, green + timedelta(weeks=last))),)
    if season.phase == "after-last-frost" and spring.last_frost is not None:
        return ((spring.last_frost, spring.last_frost + timedelta(weeks=6)),)
    found = month_spans(season.months, season.phase, spring)
    if season.finish_by:
        found = tuple(_finished(span, season.finish_by, spring) for span in found)
    if season.phase in ("dormant", "late-dormant"):
        found = tuple(_before_growth(span, bud_break(plant, spring)) for span in found)
    flowers = bloom(plant, spring)
    if season.phase == "after-bloom" and flowers is not None and len(found) == 1:
        start = flowers + timedelta(days=12)
        return ((start, max(found[0][1], start + timedelta(days=14))),)
    return found


def _before_growth(span: Span, green: date) -> Span:
    """A dormant season given by months ends when the buds open, if they open inside it."""
    return (span[0], green) if span[0] < green < span[1] else span


def month_runs(months: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Consecutive runs of months as (first, last): 11, 12, 1, 3 -> (11, 1), (3, 3)."""
    runs: list[tuple[int, int]] = []
    for month in months:
        if runs and month == runs[-1][1] % 12 + 1:
            runs[-1] = (runs[-1][0], month)
        else:
            runs.append((month, month))
    return tuple(runs)


def month_spans(months: Sequence[int], phase: str, spring: Spring) -> tuple[Span, ...]:
    """Runs of northern months as dates of the cycle, moved with the place's spring.

    Work on the dormant plant moves with the green tip (at most six weeks), summer work half as far (at most
    three); autumn planting moves the other way, since a late spring goes with an early winter.
    """
    return tuple(_run_span(run, phase, spring) for run in month_runs(months))


def _run_span(run: tuple[int, int], phase: str, spring: Spring) -> Span:
    first, last = run
    start = _cycle_month(spring, first - (12 if last < first else 0))
    end = _cycle_month(spring, last + 1) - timedelta(days=1)
    limit, lag = (42, spring.lag_days) if phase in WINTER_PHASES else (21, spring.lag_days // 2)
    again = phase == "early-spring" and first in _AUTUMN_MONTHS
    if again or (phase in _AUTUMN_PHASES and first >= 7):
        lag = -lag
    move = timedelta(days=max(-limit, min(limit, lag)))
    return start + move, end + move


def _finished(span: Span, finish_by: str, spring: Spring) -> Span:
    """The span cut off at a published last day "MM-DD", a little later where spring is late."""
    month, day = (int(part) for part in finish_by.split("-"))
    last = _cycle_month(spring, month) + timedelta(days=day - 1 + max(0, min(21, spring.lag_days // 2)))
    return span[0], min(span[1], last)


def _cycle_month(spring: Spring, month: int) -> date:
    """First day of a northern month (0 and below: the year before) in the cycle's own hemisphere."""
    index = spring.start.year * 12 + spring.start.month - 1 + month - 1
    return date(index // 12, index % 12 + 1, 1)
