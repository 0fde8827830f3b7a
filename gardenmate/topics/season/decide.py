"""What is decided of one start on one day, before anything is worded: too late, too early, possible, not now.

The one road from a `Season` to a verdict. The window of a verdict is the season's own; its variety and cover are
those the verdict rests on; tight days lie inside it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import Enum
from typing import NamedTuple

from gardenmate.core.answer import Verdict, Window
from gardenmate.science.frost_risk import chance_still_to_come
from gardenmate.topics.season.plan import Plan, longest_maturity
from gardenmate.topics.season.ripening import HEAT_OVER_C, ripe_after
from gardenmate.topics.season.scan import HOT_SOIL_UNDER_C, emergence_lag, hottest_soil_c, shown
from gardenmate.topics.season.season import Season, Standing
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.terms import Terms, early_variety, ways_to_help

SOON_DAYS = 21
"""Past midsummer a window no further off than this is the one asked about (design value)."""
OVERGROWN_DAYS = 28
"""Plants kept indoors this much past their oldest good age are no use (common practice)."""
WAITS_DAYS = 150
"""A season no further off than this is the one meant by who asks whether it is too early (design value)."""
AHEAD_DAYS = 140
"""Days after the warmest time up to which what opens is still of this season (design value)."""
WORKABLE_SOIL_C = 0.5  # degrees C: colder soil is frozen or about to be; design value
LATE_SPRING_C = 2.0
"""A forgotten planting is still worth making in spring this much past the mean up to which it is good."""


class Why(Enum):
    """The reason a verdict rests on."""

    FITS = "it comes ready in time"
    TIGHT = "it may not come ready in time"
    VARIETY = "only quick varieties come ready in time"
    COVER = "it comes ready only under a cover"
    EARLY = "possible, before most growers begin"
    TOO_EARLY = "its window opens later"
    AHEAD = "nothing is late: its window is still to come"
    AFTER_HEAT = "past its spring, before its autumn"
    HOT = "too hot now"
    TOO_LATE = "it would not come ready in time"
    BETWEEN = "too late for this season, too early for the next"
    NO_SEASON = "it has no season here"
    HOT_SOIL = "it comes ready in time, from soil so warm that little of the seed comes up"
    COLD_SOIL = "the soil as read is too cold"
    WARM_SOIL = "the soil as read is warm enough"
    FROST = "warm soil as read, but frost to come"
    SECOND_BEST = "a spring planting of what belongs to autumn"
    CLOSED = "its planting time is past"


class Read(NamedTuple):
    """What the grower read: temperatures of the soil and of the air outside, degrees C."""

    soil_c: float | None = None
    air_c: float | None = None


NOT_READ = Read()


class Spread(NamedTuple):
    """The varieties a verdict turns on: days to maturity and chance of a quick one (under
    the cover it takes, if any) and of a middling one in the open."""

    early_days: float
    early_chance: float
    usual_days: float
    usual_chance: float


@dataclass(frozen=True, slots=True)
class Finding:
    """What is decided of a start by ``method`` on ``day``.

    ``season`` is that of the variety and cover the verdict rests on; ``plan`` the start its figures are of;
    ``window`` the one it is about; ``longest`` the days to maturity that are still sure; ``frost`` the chance that
    a frost that hurts is still to come. ``chance`` is
    there where the verdict rests on it.
    """

    season: Season
    method: str
    day: date
    verdict: Verdict
    why: Why
    standing: Standing
    window: Window | None = None
    plan: Plan | None = None
    chance: float | None = None
    frost: float | None = None
    spread: Spread | None = None
    longest: int | None = None
    ready: date | None = None
    of_spring: bool = False
    """Judged against the opening of its window, not against its end."""
    listed: Season | None = None
    """The season whose list of windows ``window`` stands in, where that is not the one the verdict rests on."""

    @property
    def windows(self) -> tuple[Window, ...]:
        """Every window open on the day or to come, the one of the verdict among them."""
        return (self.listed or self.season).windows(self.day)


def level(terms: Terms, chance: float) -> Verdict:
    """yes from 80%, tight from 50%, no below, of the chance as it is shown."""
    g = terms.general
    return "yes" if shown(chance) >= g.yes_from else "tight" if shown(chance) >= g.tight_from else "no"


# -- is it too late? ----------------------------------------------------------------------------------------


def late(season: Season, method: str, day: date, read: Read = NOT_READ, by: date | None = None) -> Finding:
    """Whether a start on ``day`` still works. ``by``: the day the harvest is wanted for."""
    if season.terms.rule in ("crown", "perennial", "overwinter"):
        return _by_windows(season, method, day)
    standing = season.standing(method, day)
    if not season.windows(day):
        return Finding(season, method, day, "no", Why.NO_SEASON, standing, plan=season.plan(method, day))
    if soil_read_too_hot(season, method, read):
        return _hot(season, method, day, standing)
    if standing.open is not None:
        return _inside(season, method, day, standing.open, standing, by)
    at_quick = season.open_for_quick(method, day)
    if at_quick is not None and at_quick.open is not None:
        return _inside(season, method, day, at_quick.open, at_quick, by)
    under = _under_more_cover(season, method, day, standing)
    if under is not None:
        return under
    if standing.closed is None and standing.coming is not None and _of_this_season(season, standing, day):
        return _ahead(season, method, day, standing, standing.coming)
    return _outside(season, method, day, standing, by)


def _under_more_cover(season: Season, method: str, day: date, standing: Standing) -> Finding | None:
    """Where a crop ripens only under cover, and it is too late for a low one: what a higher one still does."""
    near = standing.closed
    if near is None or not near.cover:
        return None
    for terms, cover in ways_to_help(season.terms, "outdoors" if method == "outdoors" else "setout"):
        rests = season._replace(terms=terms, cover=cover)
        at_rest = rests.standing(method, day)
        if cover.id != near.cover and at_rest.open is not None:
            plan, usual = rests.plan(method, day), season.plan(method, day)
            odds = Spread(terms.dtm, shown(plan.chance), usual.terms.dtm, shown(usual.chance))
            return Finding(rests, method, day, "tight", Why.COVER, at_rest, at_rest.open, plan, spread=odds)
    return None


def _inside(
    asked: Season, method: str, day: date, window: Window, standing: Standing, by: date | None
) -> Finding:
    """Inside a window: yes or tight, by the variety and the cover it takes."""
    own = window in asked.of(method, day)  # else it is the window of a quick variety
    usual = asked.plan(method, day, by=by)
    if window.cover:
        rests = asked.resting_on(window)
        plan = rests.plan(method, day, by=by)
        if by is not None and level(rests.terms, plan.chance) == "no":
            return _no(rests, method, day, standing, plan, Why.TOO_LATE, by)
        listed = asked if own else asked.with_variety(early_variety(asked.terms))
        sheltered = Spread(rests.terms.dtm, shown(plan.chance), usual.terms.dtm, shown(usual.chance))
        return Finding(
            rests, method, day, "tight", Why.COVER, standing, window, plan, spread=sheltered, listed=listed
        )
    verdict = level(asked.terms, usual.chance) if own else "no"
    stands = bool(asked.terms.autumn_means_c) and window.activity.startswith("fall")
    if own and stands and verdict == "no":
        return _by_its_window(asked, method, day, standing, window)
    if verdict == "yes" and soil_hot(asked, method, day):
        return Finding(asked, method, day, "tight", Why.HOT_SOIL, standing, window, usual)
    if verdict == "yes":
        return Finding(asked, method, day, "yes", Why.FITS, standing, window, usual, shown(usual.chance))
    quick = asked.with_variety(early_variety(asked.terms))
    tried = quick.plan(method, day, by=by) if quick.terms.dtm < asked.terms.dtm else usual
    both = Spread(quick.terms.dtm, shown(tried.chance), usual.terms.dtm, shown(usual.chance))
    spread = None if tried is usual else both
    longest = None if usual.binding == "heat" else _longest(asked, method, day, by)
    if verdict == "tight":
        chance = shown(usual.chance)
        return Finding(
            asked,
            method,
            day,
            "tight",
            Why.TIGHT,
            standing,
            window,
            usual,
            chance,
            spread=spread,
            longest=longest,
        )
    found = level(quick.terms, tried.chance)
    if found == "no":
        return _no(asked, method, day, standing, usual, Why.TOO_LATE, by)
    at_quick = quick.standing(method, day)
    sized = asked.terms.stands  # it is picked at any size, and waits in the ground
    return Finding(
        quick,
        method,
        day,
        found if sized else "tight",
        Why.VARIETY,
        at_quick,
        at_quick.open or window,
        tried,
        shown(tried.chance) if sized else _of_either(quick.terms, tried, usual),
        spread=spread,
        longest=longest,
    )


def _by_its_window(season: Season, method: str, day: date, standing: Standing, window: Window) -> Finding:
    """What stays for years or stands the winter: judged by its window, for its chance is no matter of days."""
    good = day <= window.best_to
    why = Why.FITS if good else Why.TIGHT
    return Finding(season, method, day, "yes" if good else "tight", why, standing, window)


def _of_either(terms: Terms, quick: Plan, usual: Plan) -> float | None:
    """The chance where it is as likely a quick variety as a middling one; None where that says something else than
    the verdict, which rests on choosing."""
    chance = shown(0.5 * (quick.chance + usual.chance))
    return chance if level(terms, chance) == "tight" else None


def _longest(season: Season, method: str, day: date, by: date | None) -> int | None:
    """The most days to maturity that are still sure from this start; None where it is no matter of days."""
    terms = season.terms
    return longest_maturity(
        terms, season.year, method, day, terms.general.yes_from, cover=season.cover, mat=season.mat, by=by
    )


def _of_this_season(season: Season, standing: Standing, day: date) -> bool:
    """True when the window that opens next is this growing season's, so that there is time left."""
    assert standing.coming is not None
    origin, number = season.year.day_number(day)
    opens = (standing.coming.earliest - origin).days
    wait = (standing.coming.earliest - day).days
    hottest = season.year.hottest
    return opens < hottest + AHEAD_DAYS and (number < hottest or wait <= SOON_DAYS)


def _ahead(season: Season, method: str, day: date, standing: Standing, soon: Window) -> Finding:
    """Its window opens later: nothing is too late yet, but what waits past the warmest time is not for now."""
    origin, _ = season.year.day_number(day)
    if soon.activity.startswith("fall"):
        hot = too_hot(season, method, day, standing)
        if hot is not None:
            return hot
    waits = (soon.earliest - day).days > SOON_DAYS
    if waits and (soon.best_from - origin).days >= season.year.hottest:
        return Finding(
            season, method, day, "no", Why.AFTER_HEAT, standing, soon, season.plan(method, soon.best_from)
        )
    found = _inside(season, method, soon.best_from, soon, standing, None)
    why = Why.AHEAD if found.why in (Why.FITS, Why.TIGHT) else found.why
    return replace(found, day=day, why=why, window=soon, standing=standing)


def _outside(season: Season, method: str, day: date, standing: Standing, by: date | None) -> Finding:
    plan = season.plan(method, day, by=by)
    hot = too_hot(season, method, day, standing) if plan.binding == "heat" else None
    if hot is not None:
        return hot
    if plan.binding != "heat" and shown(plan.chance) >= season.terms.general.tight_from:
        return _no(season, method, day, standing, plan, Why.BETWEEN, by)
    return _no(season, method, day, standing, plan, Why.TOO_LATE, by)


def _no(
    season: Season, method: str, day: date, standing: Standing, plan: Plan, why: Why, by: date | None = None
) -> Finding:
    """A no; its chance is told where that is what it rests on."""
    low = shown(plan.chance) < season.terms.general.tight_from
    chance = shown(plan.chance) if low and why is Why.TOO_LATE else None
    longest = None if plan.binding == "heat" else _longest(season, method, day, by)
    return Finding(season, method, day, "no", why, standing, standing.coming, plan, chance, longest=longest)


def waits_overgrown(season: Season, method: str, day: date) -> bool:
    """True where what is sown indoors now would wait overgrown for the next spring."""
    _, number = season.year.day_number(day)
    if method != "indoors" or number <= season.year.hottest:
        return False
    goes = season.plan(method, day).set_out or day
    return goes - day > timedelta(days=7 * season.terms.weeks_indoors[1] + OVERGROWN_DAYS)


# -- crops with a rule of their own --------------------------------------------------------------------------


def _by_windows(season: Season, method: str, day: date) -> Finding:
    """Crowns, hardy herbs, what is planted in autumn: judged by window, their chance being no matter of days."""
    second = spring_planting(season, method, day)
    if second is not None:
        return second
    standing = season.standing(method, day)
    if standing.state == "none":  # none by this way: any of its windows
        others = [season.standing(m, day) for m in ("setout", "outdoors", "indoors") if m != method]
        standing = next((s for s in others if s.state != "none"), standing)
    now, soon = standing.open, standing.coming
    if now is not None:
        return _by_its_window(season, method, day, standing, now)
    if soon is not None and (soon.earliest - day).days <= WAITS_DAYS - 30 and standing.closed is None:
        return Finding(season, method, day, "yes", Why.AHEAD, standing, soon)
    return Finding(season, method, day, "no", Why.CLOSED, standing, soon)


def spring_planted_days(season: Season, number: int) -> float:
    """Days to the harvest of what belongs to autumn, planted on a day of spring: without its winter it is
    quicker, and smaller, but no quicker than the warmth and the long days allow."""
    ripe = ripe_after(season.terms, season.terms.total(season.year), number)
    return max(season.terms.spring_days or 0.0, 0.0 if ripe is None else float(ripe - number))


def spring_planting(season: Season, method: str, day: date) -> Finding | None:
    """Second best: what is planted in autumn, put in as soon as the soil can be worked; else None."""
    terms, year = season.terms, season.year
    _, number = year.day_number(day)
    if terms.spring_days is None or number >= year.hottest:
        return None
    mean, soil = year.mean_c[number], year.soil_c[number]
    too_warm = mean > (terms.until_mean_c or 99.0) + LATE_SPRING_C or number > year.hottest - 60
    if soil < WORKABLE_SOIL_C or too_warm:
        return None
    falls = [w for w in season.windows(day) if w.activity.startswith("fall")]
    if any(w.earliest <= day <= w.latest for w in falls):
        return None  # its own time still runs: a mild winter goes on into the new year
    ready = day + timedelta(days=round(spring_planted_days(season, number)))
    return Finding(
        season,
        method,
        day,
        "tight",
        Why.SECOND_BEST,
        season.standing(method, day),
        falls[0] if falls else None,
        ready=ready,
    )


# -- heat ----------------------------------------------------------------------------------------------------


def soil_read_too_hot(season: Season, method: str, read: Read) -> bool:
    """True where the grower's own thermometer shows soil the seed does not come up in."""
    return read.soil_c is not None and read.soil_c > hottest_soil_c(season.terms, method)


def heat_limit_c(terms: Terms, method: str) -> float | None:
    """The daily mean above which this start does not do well, degrees C; None indoors."""
    return None if method == "indoors" or terms.heat_c is None else terms.heat_c + HEAT_OVER_C


def too_hot(season: Season, method: str, day: date, standing: Standing) -> Finding | None:
    """No, for the heat: days or soil warmer than the crop bears now; None when it is not that hot."""
    _, number = season.year.day_number(day)
    limit = heat_limit_c(season.terms, method)
    hot_air = limit is not None and season.year.felt_c[number % YEAR] > limit
    hot_soil = season.year.soil_c[number % YEAR] > hottest_soil_c(season.terms, method)
    return _hot(season, method, day, standing) if hot_air or hot_soil else None


def _hot(season: Season, method: str, day: date, standing: Standing) -> Finding:
    return Finding(season, method, day, "no", Why.HOT, standing, standing.coming)


def soil_hot(season: Season, method: str, day: date) -> bool:
    """True where seed sown on the day comes up poorly for the heat of the usual soil."""
    _, number = season.year.day_number(day)
    return season.year.soil_c[number % YEAR] > hottest_soil_c(season.terms, method) - HOT_SOIL_UNDER_C


# -- is it too early? -----------------------------------------------------------------------------------------


def early(season: Season, method: str, day: date, read: Read = NOT_READ) -> Finding:
    """Whether a start on ``day`` is too early. Too early is a no with the day it becomes possible."""
    standing = season.standing(method, day)
    if standing.state == "none":
        return late(season, method, day, read)
    if soil_read_too_hot(season, method, read):
        return _hot(season, method, day, standing)
    now = standing.open
    if now is None:
        return _before(season, method, day, standing, read)
    autumn = now.activity.startswith("fall") and not season.terms.rule
    measured = read.soil_c is not None and season.wanted_soil_c(method) is not None
    if not measured and (standing.state == "late" or (autumn and not soil_hot(season, method, day))):
        return late(season, method, day, read)
    rests = season.resting_on(now)
    frost = frost_still_to_come(rests, method, day)
    good = day >= now.best_from
    verdict: Verdict = "yes" if good and not now.cover else "tight"
    why = Why.EARLY if not good else Why.COVER if now.cover else Why.FITS
    plan = _as_put_out(rests, method, day)
    found = Finding(
        rests, method, day, verdict, why, standing, now, plan, frost=frost, of_spring=True, listed=season
    )
    return _by_thermometer(found, read)


def _as_put_out(season: Season, method: str, day: date) -> Plan:
    """The start as it stands from the day: raised plants wait for the season, what is put out does not."""
    return season.plan(method, day, wait=method == "indoors")


def _before(season: Season, method: str, day: date, standing: Standing, read: Read) -> Finding:
    """No window is open: too early for the next one, or an answer of another kind."""
    if not season.terms.rule and season.open_for_quick(method, day) is not None:
        return late(season, method, day, read)
    other = spring_planting(season, method, day) or too_hot(season, method, day, standing)
    if other is not None:
        return other
    soon = standing.coming
    if soon is None or _is_past(season, method, day, soon):
        return late(season, method, day, read)
    rests = season.resting_on(soon)
    frost = frost_still_to_come(rests, method, day)
    plan = _as_put_out(rests, method, soon.earliest)
    found = Finding(
        rests, method, day, "no", Why.TOO_EARLY, standing, soon, plan, frost=frost, of_spring=True,
        listed=season,
    )  # fmt: skip
    return _by_thermometer(found, read)


def _is_past(season: Season, method: str, day: date, soon: Window) -> bool:
    """True where the next window is another season's, and nothing about the day is too cold."""
    wait = (soon.earliest - day).days
    _, number = season.year.day_number(day)
    hottest = season.year.hottest
    frost = frost_still_to_come(season, method, day) or 0.0
    cold = season.year.mean_c[number % YEAR] < season.terms.start.earliest_mean_c or frost >= 0.1
    indoors = method == "indoors" and wait > 100 and number > hottest - 60
    if not (wait > 240 or indoors or (wait > 60 and (number > hottest or not cold))):
        return False
    if soon.activity.startswith("fall"):
        return False
    return not (method == "indoors" and wait <= WAITS_DAYS and waits_overgrown(season, method, day))


def frost_still_to_come(season: Season, method: str, day: date) -> float | None:
    """Chance that a freeze that hurts the crop is still to come once it is up; None when never, and for what goes
    in asleep."""
    terms = season.terms
    last = season.year.last_spring(terms.damage_c - season.cover.frost_c)
    asleep = terms.rule == "crown" or (terms.rule == "overwinter" and not terms.can_raise)
    _, number = season.year.day_number(day)
    if last is None or asleep or method == "indoors" or number > season.year.hottest:
        return None
    lag = emergence_lag(terms) if method == "outdoors" else 0.0
    return chance_still_to_come(number + lag, last.offset_days, last.sd_days)


def _by_thermometer(found: Finding, read: Read) -> Finding:
    """What the grower's own soil reading changes: their thermometer wins over the normals, but not over the frost
    still to come."""
    least = found.season.wanted_soil_c(found.method)
    if read.soil_c is None or least is None or found.method == "indoors":
        return found
    if read.soil_c < least - 0.3:
        return replace(found, verdict="no", why=Why.COLD_SOIL)
    terms, frost = found.season.terms, found.frost or 0.0
    if frost <= terms.safe_risk:
        return replace(found, verdict="yes", why=Why.WARM_SOIL)
    return replace(found, verdict="tight" if frost <= terms.start.earliest_risk else "no", why=Why.FROST)
