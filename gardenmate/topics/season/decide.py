"""What is decided of one start on one day, before anything is worded: too late, too early, possible, not now.

The one road from a `Season` to a verdict. The window of a verdict is the season's own; its variety and cover are
those the verdict rests on; tight days lie inside it.
"""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Window
from gardenmate.records import replace
from gardenmate.topics.season.by_window import by_its_window, by_windows
from gardenmate.topics.season.finding import NOT_READ, Read, Spread, StartFinding, Why, level
from gardenmate.topics.season.heat import hot, soil_hot, soil_read_too_hot, too_hot
from gardenmate.topics.season.plan import Plan, longest_maturity
from gardenmate.topics.season.scan import shown
from gardenmate.topics.season.season import Season, Standing
from gardenmate.topics.season.terms import Terms, early_variety, ways_to_help

SOON_DAYS = 21
"""Past midsummer a window no further off than this is the one asked about (design value)."""
OVERGROWN_DAYS = 28
"""Plants kept indoors this much past their oldest good age are no use (common practice)."""
AHEAD_DAYS = 140
"""Days after the warmest time up to which what opens is still of this season (design value)."""


def late(
    season: Season, method: str, day: date, read: Read = NOT_READ, by: date | None = None
) -> StartFinding:
    """Whether a start on ``day`` still works. ``by``: the day the harvest is wanted for."""
    if season.terms.rule in ("crown", "perennial", "overwinter"):
        return by_windows(season, method, day)
    standing = season.standing(method, day)
    if not season.windows(day):
        return StartFinding(season, method, day, "no", Why.NO_SEASON, standing, plan=season.plan(method, day))
    if soil_read_too_hot(season, method, read):
        return hot(season, method, day, standing)
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


def _under_more_cover(season: Season, method: str, day: date, standing: Standing) -> StartFinding | None:
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
            return StartFinding(
                rests, method, day, "tight", Why.COVER, at_rest, at_rest.open, plan, spread=odds
            )
    return None


def _inside(
    asked: Season, method: str, day: date, window: Window, standing: Standing, by: date | None
) -> StartFinding:
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
        return StartFinding(
            rests, method, day, "tight", Why.COVER, standing, window, plan, spread=sheltered, listed=listed
        )
    verdict = level(asked.terms, usual.chance) if own else "no"
    stands = bool(asked.terms.autumn_means_c) and window.activity.startswith("fall")
    if own and stands and verdict == "no":
        return by_its_window(asked, method, day, standing, window)
    if verdict == "yes" and soil_hot(asked, method, day):
        return StartFinding(asked, method, day, "tight", Why.HOT_SOIL, standing, window, usual)
    if verdict == "yes":
        return StartFinding(asked, method, day, "yes", Why.FITS, standing, window, usual, shown(usual.chance))
    quick = asked.with_variety(early_variety(asked.terms))
    tried = quick.plan(method, day, by=by) if quick.terms.dtm < asked.terms.dtm else usual
    both = Spread(quick.terms.dtm, shown(tried.chance), usual.terms.dtm, shown(usual.chance))
    spread = None if tried is usual else both
    longest = None if usual.binding == "heat" else _longest(asked, method, day, by)
    if verdict == "tight":
        chance = shown(usual.chance)
        return StartFinding(
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
    return StartFinding(
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


def _ahead(season: Season, method: str, day: date, standing: Standing, soon: Window) -> StartFinding:
    """Its window opens later: nothing is too late yet, but what waits past the warmest time is not for now."""
    origin, _ = season.year.day_number(day)
    if soon.activity.startswith("fall"):
        hot = too_hot(season, method, day, standing)
        if hot is not None:
            return hot
    waits = (soon.earliest - day).days > SOON_DAYS
    if waits and (soon.best_from - origin).days >= season.year.hottest:
        return StartFinding(
            season, method, day, "no", Why.AFTER_HEAT, standing, soon, season.plan(method, soon.best_from)
        )
    found = _inside(season, method, soon.best_from, soon, standing, None)
    why = Why.AHEAD if found.why in (Why.FITS, Why.TIGHT) else found.why
    return replace(found, day=day, why=why, window=soon, standing=standing)


def _outside(season: Season, method: str, day: date, standing: Standing, by: date | None) -> StartFinding:
    plan = season.plan(method, day, by=by)
    hot = too_hot(season, method, day, standing) if plan.binding == "heat" else None
    if hot is not None:
        return hot
    if plan.binding != "heat" and shown(plan.chance) >= season.terms.general.tight_from:
        return _no(season, method, day, standing, plan, Why.BETWEEN, by)
    return _no(season, method, day, standing, plan, Why.TOO_LATE, by)


def _no(
    season: Season, method: str, day: date, standing: Standing, plan: Plan, why: Why, by: date | None = None
) -> StartFinding:
    """A no; its chance is told where that is what it rests on."""
    low = shown(plan.chance) < season.terms.general.tight_from
    chance = shown(plan.chance) if low and why is Why.TOO_LATE else None
    longest = None if plan.binding == "heat" else _longest(season, method, day, by)
    return StartFinding(
        season, method, day, "no", why, standing, standing.coming, plan, chance, longest=longest
    )


def waits_overgrown(season: Season, method: str, day: date) -> bool:
    """True where what is sown indoors now would wait overgrown for the next spring."""
    _, number = season.year.day_number(day)
    if method != "indoors" or number <= season.year.hottest:
        return False
    goes = season.plan(method, day).set_out or day
    return goes - day > timedelta(days=7 * season.terms.weeks_indoors[1] + OVERGROWN_DAYS)
