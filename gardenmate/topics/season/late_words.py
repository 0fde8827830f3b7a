"""Is it too late? The first line of each reason a verdict may rest on."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from gardenmate.core.answer import Window
from gardenmate.topics.season.case import (
    Case,
    activity_words,
    days_word,
    percent,
)
from gardenmate.topics.season.finding import StartFinding, Why
from gardenmate.topics.season.heat import heat_limit_c
from gardenmate.topics.season.phrases import (
    hot_for_seed,
    how_far_grown,
    if_soil,
    only_with,
    share_grown,
    share_words,
    usual_warmth,
    what_ends,
    when_words,
)
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.scan import hottest_soil_c
from gardenmate.topics.season.site_year import YEAR

TOO_LONG_DAYS = 200  # days: no picking further off is told; design value


def can_still(case: Case) -> str:
    """The start of a first line that says it may still be done, in the sense of the question."""
    return "No longer early, but you can still" if case.asked_early else "Not too late to"


def but_tight(case: Case) -> str:
    """That it is tight, behind such a start."""
    return ", though it is tight" if case.asked_early else ", but tight"


def _fits(case: Case, found: StartFinding) -> str:
    plan, what, when = found.plan, case.doing, when_words(case)
    if plan is None:
        return f"{can_still(case)} {what}: {_best_of(case, found)}."
    first = "" if plan.first_pick is None else case.on(plan.first_pick)
    spare = plan.margin_days
    margin = f", with {days_word(spare)} to spare" if spare is not None and 0 <= spare <= 60 else ""
    if plan.waits > 3 and plan.opens is not None and plan.method != "indoors":
        start = "You can" if case.asked_early else can_still(case)
        return (
            f"{start} {what}, but it is still early: better from {case.on(plan.opens)} "
            f"(in {days_word(plan.waits)}), with the first picking about {first}."
        )
    out = ""
    if plan.set_out is not None and plan.method == "indoors":
        out = f"{case.plants.they} can go out about {case.on(plan.set_out)}, and "
    return f"{can_still(case)} {what} {when}: {out}first picking is about {first}{margin}.{_shade_it(case)}"


def _shade_it(case: Case) -> str:
    """What a cool crop begun in heat over its own wants, in one sentence; "" for any other."""
    heat, terms = case.terms.heat_c, case.terms
    _, number = case.year.day_number(case.day)
    if heat is None or terms.crop.warm or case.method == "indoors" or case.year.felt_c[number % YEAR] <= heat:
        return ""
    how = (
        "shade the row and sow in the evening"
        if case.method == "outdoors"
        else "plant in the evening and shade them"
    )
    more = f"more than {case.plants.they} {case.plants.does('like')}"
    return f" Days average {case.temp(usual_warmth(case)[0])}, {more}: {how}."


def _tight(case: Case, found: StartFinding) -> str:
    what, plan = case.doing, found.plan
    if plan is None:
        second = "" if case.asked_early else ", but not the best time"
        return f"{can_still(case)} {what}{second}: {_best_of(case, found)}."
    first = "" if plan.first_pick is None else case.on(plan.first_pick)
    return (
        f"{can_still(case)} {what} {when_words(case)}{but_tight(case)}: first picking about {first}, "
        f"{percent(plan.chance)} likely to be ready before {what_ends(plan)}.{_longest(found)}"
    )


def _longest(found: StartFinding) -> str:
    """Which days to maturity are still sure, where the verdict turns on the variety."""
    days = fits_still(found)
    return "" if days is None else f" A variety of {days} days or fewer is still safe."


def fits_still(found: StartFinding) -> int | None:
    """The days to maturity that are still sure, where varieties as quick as that are grown; else None."""
    longest, days = found.longest, found.season.terms.crop.maturity.days
    quickest = days.early if days.early is not None else days.mid
    return longest if longest is not None and longest >= 0.85 * quickest else None


def _best_of(case: Case, found: StartFinding) -> str:
    window = found.window
    assert window is not None
    best = f"best {case.between(window.best_from, window.best_to)}"
    return f"{best}, {case.on(window.latest)} at the latest"


def _by_variety(case: Case, found: StartFinding) -> str:
    plan, spread = found.plan, found.spread
    assert plan is not None
    first = "" if plan.first_pick is None else case.on(plan.first_pick)
    what, only = case.doing, only_with(found)
    if found.verdict == "yes":
        return (
            f"{can_still(case)} {what} {when_words(case)}: {only} first picking is about {first}; slower kinds stay "
            "smaller but keep in the ground."
        )
    head = f"{can_still(case)} {what} {when_words(case)}{but_tight(case)}: only {only} (first picking about {first})."
    if spread is None:
        return head
    usual = f"a usual {spread.usual_days:.0f}-day one is {percent(spread.usual_chance)} likely to make it"
    return f"{head}{_longest(found)} {usual[0].upper()}{usual[1:]}."


def _by_cover(case: Case, found: StartFinding) -> str:
    plan, window, only = found.plan, found.window, only_with(found)
    assert plan is not None
    assert window is not None
    first = "" if plan.first_pick is None else f" (first picking about {case.on(plan.first_pick)})"
    if window.earliest > case.day:
        return f"{_coming(case, window)}, but only {only}."
    what = case.doing
    return f"{can_still(case)} {what} {when_words(case)}{but_tight(case)}: only {only}{first}."


def _coming(case: Case, soon: Window) -> str:
    words, wait = activity_words(case.terms, soon.activity), (soon.earliest - case.day).days
    return (
        f"Not too late for {case.name}: {words} {case.between(soon.best_from, soon.best_to)} "
        f"(possible from {case.on(soon.earliest)}, in {days_word(wait)}{if_soil(case, soon)})"
    )


def _ahead(case: Case, found: StartFinding) -> str:
    soon = found.window
    assert soon is not None
    if found.plan is None:
        words = activity_words(case.terms, soon.activity)
        return f"Not too late for {case.name}: {words} {case.between(soon.best_from, soon.best_to)}."
    return f"{_coming(case, soon)}."


def _variety(case: Case, found: StartFinding) -> str:
    window = found.window
    if window is not None and window.earliest > case.day:
        return f"{_coming(case, window)}, but only {only_with(found)}.{_longest(found)}"
    return _by_variety(case, found)


def _after_heat(case: Case, found: StartFinding) -> str:
    soon = found.window
    assert soon is not None
    return (
        f"Not now: it is past the spring time to {case.doing} here. Next, "
        f"{activity_words(case.terms, soon.activity)} {case.between(soon.best_from, soon.best_to)} "
        f"(possible from {case.on(soon.earliest)})."
    )


def _hot(case: Case, found: StartFinding) -> str:
    _, day = case.year.day_number(case.day)
    mean, soil = case.year.mean_c[day % YEAR], case.year.soil_c[day % YEAR]
    limit, most = heat_limit_c(case.terms, case.method), hottest_soil_c(case.terms, case.method)
    if case.soil_said_c is not None and case.soil_said_c > most:
        why = f"your soil is at {case.temp(case.soil_said_c)}, and above {case.temp(most)} little of the seed comes up"
    elif limit is not None and case.year.felt_c[day % YEAR] > limit:
        hot = " with hot afternoons" if case.year.felt_c[day % YEAR] > mean + 0.5 else ""
        they, fail = case.plants.they, case.plants.does("struggle")
        why = f"days average {case.temp(mean)}{hot}, and {they} {fail} above about {case.temp(limit)}"
    else:
        why = f"the soil is about {case.temp(soil)}, and above {case.temp(most)} little of the seed comes up"
    after, soon = "", found.window
    if soon is not None:
        words = activity_words(case.terms, soon.activity)
        after = f" The next good time to {words} is {case.between(soon.best_from, soon.best_to)}."
    return f"No, it is too hot to {case.doing} {when_words(case)}: {why}.{after}"


def _in_hot_soil(case: Case, found: StartFinding) -> str:
    plan, window = found.plan, found.window
    assert plan is not None
    assert window is not None
    first = "" if plan.first_pick is None else f" First picking is about {case.on(plan.first_pick)}."
    better = f" Better from {case.on(window.best_from)}." if window.best_from > case.day else ""
    return (
        f"{can_still(case)} {case.doing} {when_words(case)}, but it is hot for the seed: "
        f"{hot_for_seed(case)}. Sow in the evening, shade the row and keep it moist.{better}{first}"
    )


def _too_late(case: Case, found: StartFinding) -> str:
    plan, soon = found.plan, found.standing.coming
    assert plan is not None
    why = _why_late(case, plan)
    tail = ""
    if soon is not None and (soon.earliest - case.day).days < 300:
        tail = f" The next time to {activity_words(case.terms, soon.activity)} is from {case.on(soon.best_from)}."
    return f"Too late to {case.doing} {when_words(case)}: {why}.{tail}"


def _why_late(case: Case, plan: Plan) -> str:
    first = None if plan.first_pick is None else case.on(plan.first_pick)
    wanted = "" if case.wanted_by is None else f"the day you want it for, {case.on(case.wanted_by)}"
    they = case.plants.they
    if first is None or plan.ready_in_days is None or plan.ready_in_days > TOO_LONG_DAYS:
        grown = share_grown(case, plan)
        before = "growth stops for the winter" if case.terms.stands else "it turns too cold"
        end = before if plan.end is None else f"{before} about {case.on(plan.end)}"
        if wanted or grown is None:
            return (
                f"{they} would not be ready by {wanted}"
                if wanted
                else f"{they} would not be ready before {end}"
            )
        return f"{they} would be {how_far_grown(grown)} when {end}"
    if plan.binding == "heat":
        return f"{they} would be ready about {first}, in heat {they} can't take"
    if plan.margin_days is not None and plan.margin_days < 0:
        if wanted:
            return f"first picking would be about {first}, too late for {wanted}"
        end = f", and {what_ends(plan)} about {case.on(plan.end)}" if plan.end else ""
        return f"first picking would be about {first}{end}"
    return f"first picking would be about {first}, {percent(plan.chance)} likely to be worth it"


def _between(case: Case, found: StartFinding) -> str:
    soon, what = found.standing.coming, case.doing
    head = f"Too late to {what} {when_words(case)} for this season, too early for the next."
    if soon is None:
        return head
    return f"{head} The next time to {activity_words(case.terms, soon.activity)} is from {case.on(soon.best_from)}."


def _no_season(case: Case, found: StartFinding) -> str:
    plan = found.plan
    assert plan is not None
    goes, grown = plan.set_out or plan.opens or plan.start, share_grown(case, plan)
    how_far, they = "", case.plants.they
    if grown is not None:
        how_far = f", with {share_words(grown)} of the warmth {they} {case.plants.does('need')}"
    return (
        f"No: {case.name} seldom {case.plants.does('ripen')} outdoors {case.site.where}. Started in the open about "
        f"{case.on(goes)}, {they} {case.plants.have} {percent(plan.chance)} chance of a crop{how_far}."
    )


def _second_best(case: Case, found: StartFinding) -> str:
    autumn, ready = found.window, found.ready
    assert ready is not None
    better = "Autumn is the better time"
    if autumn is not None:
        better = f"{better}: {case.between(autumn.best_from, autumn.best_to)}"
    return (
        f"You can {case.doing} as soon as you can work the soil, but expect smaller "
        f"bulbs, or single undivided ones, about {case.on(ready)}. {better}."
    )


def _closed(case: Case, found: StartFinding) -> str:
    closed, soon = found.standing.closed, found.window
    gone = " this season"
    if closed is not None:
        gone = f": the last good date was {days_word((case.day - closed.latest).days)} ago"
    after = "" if soon is None else f" The next time is {case.between(soon.best_from, soon.best_to)}."
    return f"Too late to {case.doing}{gone}.{after}"


LATE_WORDS: Mapping[Why, Callable[[Case, StartFinding], str]] = {
    Why.FITS: _fits,
    Why.TIGHT: _tight,
    Why.VARIETY: _variety,
    Why.COVER: _by_cover,
    Why.AHEAD: _ahead,
    Why.AFTER_HEAT: _after_heat,
    Why.HOT: _hot,
    Why.HOT_SOIL: _in_hot_soil,
    Why.TOO_LATE: _too_late,
    Why.BETWEEN: _between,
    Why.NO_SEASON: _no_season,
    Why.SECOND_BEST: _second_best,
    Why.CLOSED: _closed,
}
