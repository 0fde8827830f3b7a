"""Living in the frame or house from now on: odds of a night too cold, and whether usual nights are warm enough."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal

from gardenmate.climate.site import Site, last_frost_odds
from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import Quantity, temperature
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.records import NamedTuple, dataclass
from gardenmate.topics.frame.box import FrameFacts, frame_facts, in_greenhouse
from gardenmate.topics.frame.house import Chill, limit_of, night_gain_c, usual_chill
from gardenmate.topics.frame.house_from import HouseDates, house_dates
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import Limits, limits, stage_of
from gardenmate.topics.shared.raising import Named, gear, named_crops

_LOW_RISK, _HIGH_RISK = 0.10, 0.50  # odds accepted, common practice
_FREEZING_C = f_to_c(34.0)  # design value: hurt above this is chill, and the usual nights decide
_HARDY_C = f_to_c(15.0)  # design value: killed only below this, a winter under cover is worth trying
_SEASON = timedelta(days=90)  # design value: how long after its open-ground date a crop is still put in
_WINTER_AHEAD_DAYS = 225  # from the coldest time of year: late summer, when the next cold is a winter's
_RANK: dict[Verdict, int] = {"no": 0, "tight": 1, "yes": 2}

Reason = Literal["unplaced", "odds", "chill", "winter"]
"""What decides: nothing but the edge, as no place is known; the odds of a night too cold still to come; usual nights
that chill it; the coldest night of the winter ahead."""
Help = Literal["fleece-inside", "second-cover", "house-cover", "take-in", "shut-early"]
"""What goes with it. fleece-inside: the verdict rests on fleece over the plants too; second-cover, house-cover: hardy
plants often survive more under one; take-in: bring it in before the hard cold; shut-early: it grows slowly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Keep(Finding):
    """Can these crops live in it? ``edge_c`` is the air outside at which the tenderest is hurt inside, ``gain_c`` what
    it keeps at night; ``day`` the day asked about. ``from_day``: when they may go in, where that is still to come."""

    crops: tuple[Named, ...]
    bounds: tuple[Limits, ...]
    frame: FrameFacts
    house: bool
    gain_c: float
    edge_c: float
    reason: Reason
    helps: Help | None = None
    day: date | None = None
    site: Site | None = None
    chill: Chill | None = None
    dates: HouseDates | None = None
    from_day: date | None = None


def about_living_in_a_house(question: Request, world: World) -> bool:
    """True when tender plants are to go into an unheated house now: the nights inside decide."""
    if question.cue("cover") != "greenhouse" or question.ask.method in ("indoors", "outdoors"):
        return False
    crops = named_crops(question, world)
    tender = bool(crops) and all(limit_of(question, world, n.crop) is not None for n in crops)
    return tender and not gear(question) & {"heater", "mat"} and not question.has("doing", "sowing")


class _Judged(NamedTuple):
    """The part of the finding that needs a place."""

    verdict: Verdict
    chance: float
    reason: Reason
    helps: Help | None
    chill: Chill | None = None
    dates: HouseDates | None = None
    from_day: date | None = None


def decide_keep(question: Request, world: World, crops: Sequence[Named]) -> Keep:
    """Can these crops live in the shut frame or house from the day asked about on."""
    frame, house, site = frame_facts(question, world), in_greenhouse(question), world.site
    gain_c = night_gain_c(question, world, frame)
    bounds = tuple(limits(world.facts, n.crop, stage_of(question), world.units) for n in crops)
    edge_c = max(b.hurt_c if b.hurt_c <= _FREEZING_C else b.killed_c for b in bounds) - gain_c
    day = max(question.ask.date or world.today, world.today)
    sources = unique(
        ("common-practice",) if house else frame.sources,
        *(b.sources for b in bounds),
        site.source_ids if site else (),
    )
    judged = None
    if site is not None:
        winter = question.cue("freeze") == "winter" or winter_ahead(site, day)
        judged = (
            _whole_winter(world, site, day, edge_c, bounds, house)
            if winter
            else _from_now(question, world, site, day, crops, edge_c, gain_c)
        )
    return Keep(
        verdict=judged.verdict if judged else None,
        chance=judged.chance if judged else None,
        figures=tuple(_figures(edge_c, judged)),
        key=("outside_limit", "frost_odds", "house_from"),
        sources=sources,
        crops=tuple(crops),
        bounds=bounds,
        frame=frame,
        house=house,
        gain_c=gain_c,
        edge_c=edge_c,
        reason=judged.reason if judged else "unplaced",
        helps=judged.helps if judged else None,
        day=day,
        site=site,
        chill=judged.chill if judged else None,
        dates=judged.dates if judged else None,
        from_day=judged.from_day if judged else None,
    )


def _whole_winter(
    world: World, site: Site, day: date, edge_c: float, bounds: Sequence[Limits], house: bool
) -> _Judged:
    """The winter ahead, judged by its coldest night; hardy plants in a house may be tried with fleece inside."""
    chance = cold_ahead(site, day, edge_c, winter=True)
    verdict = _risked(chance, world)
    if verdict == "yes":
        return _Judged(verdict, chance, "winter", None)
    if not all(b.killed_c <= _HARDY_C for b in bounds):
        return _Judged(verdict, chance, "winter", "take-in")
    if house and verdict == "no":
        return _Judged("tight", chance, "winter", "fleece-inside")
    return _Judged(verdict, chance, "winter", "house-cover" if house else "second-cover")


def _from_now(
    question: Request,
    world: World,
    site: Site,
    day: date,
    crops: Sequence[Named],
    edge_c: float,
    gain_c: float,
) -> _Judged:
    """From the day on, with the winter behind: the odds of a night too cold, and the usual nights of tender crops.

    Once it is time for them in a house, chilled nights are no reason to wait: they are no worse off than outside.
    """
    chance = cold_ahead(site, day, edge_c, winter=False)
    verdict = _risked(chance, world)
    chill = _worst_chill(question, world, site, day, crops, gain_c)
    dates = _latest_dates(question, world, site, crops) if in_greenhouse(question) else None
    in_time = dates is not None and dates.first <= day <= dates.open_from + _SEASON
    by_now = in_time and dates is not None and day >= dates.best
    chilled = chill is not None and not by_now and _RANK[chill.verdict] < _RANK[verdict]
    if chill is not None and chilled:
        verdict = chill.verdict
    if verdict == "no" and in_time:
        verdict = "tight"
    later = dates.first if chilled and verdict == "no" and dates is not None and dates.first > day else None
    slow = by_now and chill is not None and chill.verdict != "yes"
    return _Judged(
        verdict, chance, "chill" if chilled else "odds", "shut-early" if slow else None, chill, dates, later
    )


def _risked(chance: float, world: World) -> Verdict:
    low_risk = world.garden.frost_risk or _LOW_RISK
    return "yes" if chance <= low_risk else ("tight" if chance <= _HIGH_RISK else "no")


def _worst_chill(
    question: Request, world: World, site: Site, day: date, crops: Sequence[Named], gain_c: float
) -> Chill | None:
    """The tender crop the usual nights suit least; None when none of them minds a cool night."""
    found = [usual_chill(question, world, site, day, n.crop, gain_c) for n in crops]
    return min(
        (c for c in found if c is not None), key=lambda c: (_RANK[c.verdict], -c.limit_c), default=None
    )


def _latest_dates(question: Request, world: World, site: Site, crops: Sequence[Named]) -> HouseDates | None:
    """The dates of the crop that goes into the house last; None unless all of them have dates."""
    found = [house_dates(question, world, site, n) for n in crops]
    known = [d for d in found if d is not None]
    return max(known, key=lambda d: d.first) if known and len(known) == len(found) else None


def winter_ahead(site: Site, day: date) -> bool:
    """True from late summer on: what lies ahead is a whole winter, not the end of one."""
    return (day - site.anchor(day)).days >= _WINTER_AHEAD_DAYS


def cold_ahead(site: Site, day: date, edge_c: float, *, winter: bool) -> float:
    """Chance (0-1) of a night at or under ``edge_c`` after ``day``: in the whole winter ahead, or, with the
    winter behind, before summer."""
    return site.freeze_at(edge_c).share if winter else last_frost_odds(site, day, edge_c)


def _figures(edge_c: float, judged: _Judged | None) -> list[Figure]:
    found = [Figure("outside_limit", temperature(edge_c))]
    if judged is None:
        return found
    found.append(Figure("frost_odds", Quantity(round(100 * judged.chance), "percent")))
    chill, dates = judged.chill, judged.dates
    if chill is None:
        return found
    found.append(Figure("usual_low_inside", temperature(chill.inside_c)))
    found.append(Figure("chill_limit", temperature(chill.limit_c)))
    if dates is not None:
        found.append(Figure("house_from", Quantity(dates.first, "date")))
        found.append(Figure("house_best", Quantity(dates.best, "date")))
    elif chill.from_day is not None:
        found.append(Figure("nights_from", Quantity(chill.from_day, "date")))
    return found
