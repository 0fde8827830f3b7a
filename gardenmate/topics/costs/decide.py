"""Buy plants or sow seed, decided: the two bills, the time left to sow, and the verdict. Nothing is worded here."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.answer import Verdict, Window
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import dataclass
from gardenmate.science.costs import cheaper
from gardenmate.topics.costs.bill import Comparison, compare, price_group, price_of_plants
from gardenmate.topics.quantities.household import need_of, wanted
from gardenmate.topics.season.decide import late
from gardenmate.topics.season.season_dates import (
    PLANTING,
    SOWING,
    current,
    garden_season,
    one_site,
    standing,
    windows_of,
)
from gardenmate.topics.shared.raising_plan import sensible

Time = Literal["unknown", "early", "yes", "late", "no", "nothing"]
Doing = Literal["buy", "sow"]
Asked = Literal["way", "money", "when"]
Basis = Literal["typed", "household", "usual"]
_LATELY_DAYS, _SOON_DAYS = (
    150,
    90,
)  # a sowing closed lately, and one that opens soon, belong to this season (design value)
_AHEAD_DAYS = 270  # a window further off belongs to another season (design value)
SLOW_WEEKS = 8  # seed that needs this long indoors is bought by many for that reason alone (common practice)


@dataclass(frozen=True, slots=True)
class BuyTiming:
    """Whether sowing is still in time, and until when bought plants can go out.

    ``state``: unknown (no place) | early | yes | late (at a risk) | no | nothing (the place has no season for
    it). ``sow_by`` is the last date to sow, ``plants_by`` the last to set out plants
    and ``plants_from`` the day it is good to; ``opens`` the first to sow, ``best_from`` the first good one.
    """

    state: Time
    opens: date | None = None
    sow_by: date | None = None
    best_by: date | None = None
    best_from: date | None = None
    plants_from: date | None = None
    plants_by: date | None = None

    @property
    def plants_instead(self) -> bool:
        """True when seed may not make it and plants can still go out: the season decides, whatever the money."""
        return self.state == "late" and self.plants_by is not None

    @property
    def sowing_lost(self) -> bool:
        """True when sowing can no longer give a crop but plants can, or nothing can."""
        return self.state in ("no", "nothing")


@dataclass(frozen=True, slots=True)
class CostFinding:
    """One crop decided: both bills, the time left, which way was asked about, and the verdict on that.

    ``basis`` tells where the number of plants comes from; ``people`` is the household it was worked out for.
    """

    costs: Comparison
    time: BuyTiming
    doing: Doing
    verdict: Verdict
    basis: Basis = "typed"
    people: int | None = None
    asks: Asked = "way"
    """What was asked first: which way is cheaper (the bills lead, the time follows), when plants are to be bought, or
    which way to go."""


def decide(crop: Crop, name: str, question: Request, world: World) -> CostFinding:
    """Buying against sowing for one crop of the question."""
    plants, basis = plants_asked(question, world, crop)
    costs = compare(crop, name, plants, question, world)
    time = timing(crop, world)
    doing = asked_for(question)
    lost = time.plants_instead or (time.state == "no" and time.plants_by is not None)
    if price_of_plants(question) is not None and lost:
        doing = "buy"  # plants at a price are before the grower, and only they are left: buying is judged
    people = question.ask.people if basis == "household" else None
    return CostFinding(
        costs, time, doing, verdict_on(costs, time, doing), basis, people, asked_first(question)
    )


def asked_first(question: Request) -> Asked:
    """What the answer has to say first."""
    if question.has("weighs", "money"):
        return "money"
    return "when" if question.cue("asks_when") == "yes" and asked_for(question) == "buy" else "way"


def asked_for(question: Request) -> Doing:
    """Which way the question asks about: buying when it says so, else sowing."""
    way = question.cue("way")
    if way in ("buy", "sow"):
        return "buy" if way == "buy" else "sow"
    return "buy" if question.slots.method == "starts" else "sow"


def plants_asked(question: Request, world: World, crop: Crop) -> tuple[int, Basis]:
    """How many plants: as typed, else what the people named eat fresh, else a household's usual number."""
    own = question.first("plants-wanted") or question.first("count", crop.base)
    if own is not None and own.number >= 1:
        return sensible(own.number), "typed"
    count = question.ask.count
    if count is not None and count >= 1 and question.cue("count_unit") not in _NOT_PLANTS:
        return sensible(count), "typed"
    if question.ask.people is not None:
        ref = next((ref for ref in question.crops if ref.id == crop.base), CropRef(crop.base, crop.kind))
        need = need_of(wanted(ref, world), question.ask.people, world.facts)
        if need is not None and need.fresh is not None:
            return sensible(sum(need.fresh) / 2.0), "household"
    return int(price_group(crop, world.facts)["usual_plants"]), "usual"


_NOT_PLANTS = ("pack", "tray")


def timing(crop: Crop, world: World) -> BuyTiming:
    """Whether sowing this crop is still in time at the place, from the season engine."""
    site, _ = one_site(world)
    if site is None:
        return BuyTiming("unknown")
    windows = windows_of(crop, site, world, world.today)
    if not windows:
        return BuyTiming("nothing")
    soon = world.today + timedelta(days=_AHEAD_DAYS)
    ways = [w for w in windows if w.activity in SOWING and w.earliest < soon]
    plants = current(tuple(w for w in windows if w.earliest < soon), PLANTING, world.today)
    out = (plants.best_from, plants.latest) if plants is not None else (None, None)
    open_now = [w for w in ways if w.earliest <= world.today <= w.latest]
    if open_now:
        best = max(open_now, key=lambda w: (w.best_to >= world.today, w.latest))
        state: Time = "yes" if _safe(crop, site, world, best) else "late"
        return BuyTiming(state, best.earliest, best.latest, best.best_to, best.best_from, *out)
    closed = max((w.latest for w in ways if w.latest < world.today), default=None)
    to_come = min((w for w in ways if w.earliest > world.today), key=lambda w: w.earliest, default=None)
    if to_come is not None and not _next_season(to_come, closed, world.today):
        return BuyTiming("early", to_come.earliest, to_come.latest, to_come.best_to, to_come.best_from, *out)
    opens, best_from = (None, None) if to_come is None else (to_come.earliest, to_come.best_from)
    return BuyTiming("no", opens, closed, None, best_from, *out)


def _safe(crop: Crop, site: Site, world: World, open_now: Window) -> bool:
    """True while a sowing in this window is early, or a plain yes where it is asked whether it is too late. Where
    only an early variety or a cover ever ripens the crop, in the first half of its best time: after that there is
    nothing quicker left to turn to (design value)."""
    at = standing(open_now, world.today).state
    if at in ("early", "late"):
        return at == "early"
    if open_now.cover or open_now.days_to_maturity is not None:
        return world.today <= open_now.best_from + (open_now.best_to - open_now.best_from) / 2
    method = "indoors" if open_now.activity == "sow-indoors" else "outdoors"
    return late(garden_season(crop, site, world), method, world.today).verdict == "yes"


def _next_season(window: Window, closed: date | None, today: date) -> bool:
    """True when this season's sowing has closed lately and the window to come belongs to the next one."""
    if closed is None:
        return False
    return (today - closed).days < _LATELY_DAYS and (window.earliest - today).days > _SOON_DAYS


def verdict_on(c: Comparison, when: BuyTiming, doing: Doing) -> Verdict:
    """Sowing: yes when it clearly saves in time; buying: yes when seed is too late, slow or no cheaper."""
    if c.not_from_seed:
        return "yes" if doing == "buy" else "no"
    if when.state == "nothing" or (when.state == "no" and when.plants_by is None):
        return "no"
    if when.state == "no":
        return "yes" if doing == "buy" else "no"
    return _on_sowing(c, when) if doing == "sow" else _on_buying(c, when)


def _slow(c: Comparison, when: BuyTiming) -> bool:
    """True where the seed needs long indoors and nothing is known of the time left."""
    return c.plan.weeks[0] >= SLOW_WEEKS and not c.in_ground and when.state == "unknown"


def _on_sowing(c: Comparison, when: BuyTiming) -> Verdict:
    if c.in_place:
        return "tight" if when.state == "late" else "yes"
    cost = cheaper(c.raised.total, c.bought.total)
    if cost < 0 or when.plants_instead:
        return "no"
    return "tight" if cost == 0 or when.state == "late" or _slow(c, when) or c.dear_at_first else "yes"


def _on_buying(c: Comparison, when: BuyTiming) -> Verdict:
    if c.in_place:
        return "no"
    cost = cheaper(c.raised.total, c.bought.total)
    if cost <= 0 or when.state == "late" or _slow(c, when) or c.dear_at_first:
        return "yes"
    return "tight" if c.raised.total > 0.5 * c.bought.total else "no"


def shown_windows(crop: Crop, world: World) -> tuple[Window, ...]:
    """The windows of this season still open or to come, one for each activity."""
    site, _ = one_site(world)
    if site is None:
        return ()
    soon = world.today + timedelta(days=_AHEAD_DAYS)
    found: dict[str, Window] = {}
    for window in windows_of(crop, site, world, world.today):
        if window.latest >= world.today and window.earliest < soon:
            found.setdefault(window.activity, window)
    return tuple(found.values())
