"""When frost usually ends and begins at a place, and the odds of one on or after a date."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.climate.freezes import FreezeDate
from gardenmate.climate.site import (
    Site,
    first_frost_odds,
    last_frost_odds,
)
from gardenmate.core.answer import Answer, Mark, Number, Table, Verdict
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_date
from gardenmate.core.world import World
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.regions import in_sentence
from gardenmate.topics.shared.subjects import plants

_LOW_RISK, _HIGH_RISK = 0.10, 0.50  # accepted for tender and for half-hardy plants (common practice)
_FREEZING_C = 0.0  # degrees C
_HARD_F = 28.0  # a hard freeze, as forecasts name it


def answer_dates(question: Request, world: World, crops: Sequence[Named] = ()) -> Answer:
    """The usual last and first frost, or the odds on the date that was named.

    Raises NeedPlaceError when neither a place nor own frost dates are known.
    """
    if world.sites and world.site is None:
        return _region(question, world)
    site = world.site
    if site is None:
        raise NeedPlaceError("Frost dates differ from place to place: I need to know where the garden is.")
    threshold_c = _threshold(question, crops)
    days = _days_asked(question)
    if days is not None:
        return _odds(question, world, site, days, threshold_c, crops)
    return _usual(question, world, site, threshold_c)


def _days_asked(question: Request) -> tuple[date, date] | None:
    """First and last day of the month asked about, or the day, or the middle of the part of a month ("mid May"); None
    where none is named, or several to choose from."""
    if question.ask.date is not None:
        return question.ask.date, question.ask.date
    first, _, last = (question.cue("days") or "").partition("/")
    if last:
        a, b = date.fromisoformat(first), date.fromisoformat(last)
        return a + (b - a) / 2, a + (b - a) / 2
    months = {days for t in question.all("date", "stretch") if not t.told and (days := t.days) is not None}
    return months.pop() if len(months) == 1 else None


def _threshold(question: Request, crops: Sequence[Named]) -> float:
    """The temperature whose dates are asked: the one typed, the tenderest crop's, else 32 F."""
    typed = question.ask.temperature_c
    if typed is not None:
        return typed
    if question.cue("freeze") == "hard":
        return f_to_c(_HARD_F)
    if crops:
        return min(max(n.crop.frost.damage_below_c for n in crops), f_to_c(36.0))
    return _FREEZING_C


def _usual(question: Request, world: World, site: Site, threshold_c: float) -> Answer:
    freeze = site.freeze_at(threshold_c)
    spring, autumn = freeze.last_spring, freeze.first_autumn
    limit = _night_of(threshold_c, world)
    if spring is None and autumn is None:
        headline = (
            f"{site.label} has no dependable frost-free season: a {limit} can come in any month."
            if site.regime == "any-month"
            else f"{site.label} hardly ever has a {limit}, so there is no usual frost date."
        )
        return Answer(
            question, None, headline, assumptions=site.notes,
            sources=unique(site.source_ids),
        )  # fmt: skip
    today, only_first = world.today, autumn is not None and question.has("compare-by", "first-frost")
    numbers, lines, marks = [], [], []
    if spring is not None:
        anchor = _spring_anchor(site, spring, today)
        half, late = spring.day(anchor), spring.day_at(0.9, anchor)
        early = spring.day_at(0.1, anchor)
        numbers += [
            Number("last_frost_50", half, "date", "last frost, half the years by", shown=not only_first),
            Number("last_frost_10", late, "date", "last frost, one year in ten after", shown=not only_first),
            Number("last_frost_90", early, "date", "one year in ten before", shown=False),
        ]
        if only_first:
            lines.append(f"The last {limit} in spring is about {show_date(half, today)}.")
        marks.append(Mark("last frost (50%)", half))
        if late > half:
            marks.append(Mark("(10%)", late))
    if autumn is not None:
        anchor = _autumn_anchor(site, autumn, today)
        half, early = autumn.day(anchor), autumn.day_at(0.1, anchor)
        numbers += [
            Number("first_frost_50", half, "date", "first frost, half the years by"),
            Number("first_frost_10", early, "date", "first frost, one year in ten before"),
        ]
        lines.append(f"One year in ten has its first {limit} by {show_date(early, today)}.")
    return Answer(
        question=question,
        verdict=None,
        headline=_usual_headline(only_first, site, spring, autumn, world, limit),
        numbers=tuple(numbers),
        details=(*lines, *_record_usual(site, threshold_c, world)),
        marks=tuple(marks),
        changes=("Tell me your own dates ('my last frost is May 12') when you know your garden better.",)
        if site.basis != "own"
        else (),
        assumptions=site.notes,
        sources=unique(site.source_ids),
        working=_working(spring, autumn, site),
    )


def _night_of(threshold_c: float, world: World) -> str:
    """ "frost" where freezing is asked about, else the night of that temperature: "28 F night"."""
    return "frost" if threshold_c == _FREEZING_C else f"{frost_temp(threshold_c, world.units)} night"


def _spring_anchor(site: Site, spring: FreezeDate, today: date) -> date:
    """This year's season while its spring is not clearly past, else the next one."""
    anchor = site.anchor(today)
    past = spring.day_at(0.99, anchor) + timedelta(days=60)
    return site.anchor(anchor + timedelta(days=400)) if past < today else anchor


def _autumn_anchor(site: Site, autumn: FreezeDate, today: date) -> date:
    """This year's season until its first frost is clearly past, then the next one."""
    anchor = site.anchor(today)
    return site.anchor(anchor + timedelta(days=400)) if autumn.day_at(0.9, anchor) < today else anchor


def _usual_headline(
    only_first: bool,
    site: Site,
    spring: FreezeDate | None,
    autumn: FreezeDate | None,
    world: World,
    limit: str,
) -> str:
    """The last night and the first; the first alone leads where it was asked for."""
    today = world.today
    first = None
    if autumn is not None:
        first = show_date(autumn.day(_autumn_anchor(site, autumn, today)), today)
    if spring is None or only_first:
        return f"The first {limit} {site.where} is usually about {first}."
    anchor = _spring_anchor(site, spring, today)
    half, late = (show_date(day, today) for day in (spring.day(anchor), spring.day_at(0.9, anchor)))
    end = f". The first in autumn is about {first}" if first else ""
    return f"The last {limit} {site.where} is usually about {half}, and one year in ten after {late}{end}."


def _working(spring: FreezeDate | None, autumn: FreezeDate | None, site: Site) -> tuple[str, ...]:
    lines = []
    for name, frost in (("Last spring frost", spring), ("First autumn frost", autumn)):
        if frost is not None:
            lines.append(
                f"{name}: normal distribution, 50% at day {frost.offset_days:.0f} after the season's start, "
                f"spread {frost.sd_days:.0f} days ({frost.basis})."
            )
    return tuple(lines)


def _odds(
    question: Request,
    world: World,
    site: Site,
    days: tuple[date, date],
    threshold_c: float,
    crops: Sequence[Named],
) -> Answer:
    after = last_frost_odds(site, days[0], threshold_c)
    before = first_frost_odds(site, days[1], threshold_c)
    spring_side = after >= before
    day = days[0] if spring_side else days[1]
    chance = after if spring_side else before
    limit, on = frost_temp(threshold_c, world.units), show_date(day, world.today)
    low_risk = world.garden.frost_risk or _LOW_RISK
    verdict: Verdict = "yes" if chance <= low_risk else ("tight" if chance <= _HIGH_RISK else "no")
    percent = _percent(chance)
    what = (
        f" that hurts {plants(max(crops, key=lambda n: n.crop.frost.damage_below_c)).word}" if crops else ""
    )
    when = f"on or after {on}" if spring_side else f"by {on}"
    start = {"yes": "Little risk", "tight": "Some risk", "no": "Likely frost"}[verdict]
    numbers = [Number("frost_odds", round(100 * chance), "%", f"chance of {limit} {when}")]
    freeze = site.freeze_at(threshold_c)
    frost = freeze.last_spring if spring_side else freeze.first_autumn
    if frost is not None:
        anchor = site.anchor(day)
        numbers += [
            Number("frost_50", frost.day(anchor), "date", "half the years by"),
            Number("frost_10", frost.day_at(0.9 if spring_side else 0.1, anchor), "date", "one year in ten"),
        ]
    return Answer(
        question=question,
        verdict=verdict,
        polar=False,  # whether the risk may be taken, not whether frost comes
        headline=f"{start}: {site.where} a night of {limit}{what} comes {when} in {percent} years.",
        numbers=tuple(numbers),
        details=_record_odds(site, day, threshold_c, spring_side, limit, when),
        chance=chance,
        assumptions=(
            *site.notes,
            f"Up to {100 * low_risk:.0f}% counts as little risk, over 50% as likely (common practice).",
        ),
        sources=unique(site.source_ids, ("common-practice",)),
        working=_working(freeze.last_spring, freeze.first_autumn, site),
    )


def _record_odds(
    site: Site, day: date, threshold_c: float, spring: bool, limit: str, when: str
) -> tuple[str, ...]:
    """In how many years of an imported record it really came."""
    if site.history is None:
        return ()
    offset = (day - site.anchor(day)).days
    years = site.history.freeze_years(threshold_c, site.southern)
    if spring:
        came = [y.last_spring is not None and y.last_spring >= offset for y in years if y.spring_known]
    else:
        came = [y.first_autumn is not None and y.first_autumn <= offset for y in years if y.autumn_known]
    if not came:
        return ()
    return (f"On record at {site.history.label}: {limit} {when} in {sum(came)} of {len(came)} years.",)


def _record_usual(site: Site, threshold_c: float, world: World) -> tuple[str, ...]:
    """The latest spring frost of an imported record, and how the dates have moved."""
    history = site.history
    if history is None:
        return ()
    lines = []
    known = [
        (y.last_spring, y.year)
        for y in history.freeze_years(threshold_c, site.southern)
        if y.spring_known and y.last_spring is not None
    ]
    if known:
        offset, year = max(known)
        month = 7 if site.southern else 1
        latest = show_date(date(year, month, 15) + timedelta(days=offset), world.today)
        lines.append(f"Latest on record at {history.label}: {latest}, of {len(known)} years.")
    for side, trend in (
        ("last spring frost", history.last_frost_trend(threshold_c, site.southern)),
        ("first autumn frost", history.first_frost_trend(threshold_c, site.southern)),
    ):
        if trend is not None and trend.clear:
            way = "later" if trend.days_per_decade > 0 else "earlier"
            lines.append(
                f"There the {side} has come {abs(trend.days_per_decade):.1f} days {way} each decade "
                f"(give or take {2 * trend.standard_error:.1f}, {trend.years} years)."
            )
    return tuple(lines)


def _percent(chance: float) -> str:
    if chance < 0.005:
        return "fewer than 1 in 100"
    if chance > 0.995:
        return "practically all"
    return f"about {round(100 * chance)} of 100"


def _region(question: Request, world: World) -> Answer:
    rows, last, first = [], [], []
    for site in world.sites:
        freeze = site.freeze_at(_FREEZING_C)
        spring, autumn = freeze.last_spring, freeze.first_autumn
        half = late = begins = "-"
        if spring is not None:
            anchor = _spring_anchor(site, spring, world.today)
            last.append(spring.day(anchor))
            half = show_date(last[-1], world.today)
            late = show_date(spring.day_at(0.9, anchor), world.today)
        if autumn is not None:
            first.append(autumn.day(_autumn_anchor(site, autumn, world.today)))
            begins = show_date(first[-1], world.today)
        rows.append((site.label, half, late, begins))
    limit, region = frost_temp(_FREEZING_C, world.units), in_sentence(world.region, world.facts)
    said = [
        f"the {which} {limit} night{where} comes between {show_date(min(days), world.today)} and "
        f"{show_date(max(days), world.today)}"
        for which, where, days in (("usual last", "", last), ("first", " of autumn", first))
        if days
    ]
    return Answer(
        question=question,
        verdict=None,
        headline=f"In {region} {' and '.join(said)}, depending on the place."
        if said
        else f"In {region} {limit} is too rare to date.",
        table=Table(("place", "last frost", "nine in ten by", "first frost"), tuple(rows)),
        changes=("Name the nearest of these places for your own dates.",),
        sources=unique(*(s.source_ids for s in world.sites)),
    )
