"""Is it too early? One day against the window that opens in spring: frost odds, warmth, soil."""

from __future__ import annotations

from datetime import timedelta

from gardenmate.core.answer import Number, Verdict, Window
from gardenmate.science.frost_risk import chance_still_to_come
from gardenmate.topics.season.case import (
    OUTDOOR,
    Case,
    Finding,
    act,
    activity_words,
    assumed,
    best_open,
    days_word,
    percent,
)
from gardenmate.topics.season.changes import for_early
from gardenmate.topics.season.late import late, out_of_season
from gardenmate.topics.season.not_now import shade_wanted, soil_read_too_hot, spring_planting, too_hot
from gardenmate.topics.season.numbers import plan_marks, plan_numbers, plan_working
from gardenmate.topics.season.plan import make_plan, season_windows
from gardenmate.topics.season.scan import HOT_SOIL_UNDER_C, emergence_lag, hottest_soil_c, scan
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.terms import OPEN_GROUND

WAITS_DAYS = 150
"""A season no further off than this is the one meant by who asks whether it is too early."""
TOLD_BACK_DAYS = 60
"""When most growers begin is told for so many days after."""
SOIL_NEAR_C = 1.5
"""The usual soil counts as warm enough from this much under what a start wants: no soil is known closer."""
WARMEST_UNDER_C = 2.0
"""What a start wants is asked no nearer than this to the warmest the usual soil gets."""
SOIL_SHORT_C = 4.0
"""The usual soil may be this much under what a start wants: days warm it before the seed or root needs it."""


def early(case: Case) -> Finding:
    """Whether a start on ``case.day`` is too early. Too early is a no with the day it becomes possible."""
    windows = season_windows(case.terms, case.year, case.day)
    mine = [w for w in windows if w.activity in OUTDOOR[case.method]]
    if not mine:
        return late(case)
    if soil_read_too_hot(case):
        hot = too_hot(case, windows, next((w for w in mine if w.earliest > case.day), None))
        if hot is not None:
            return hot
    if case.cover is not OPEN_GROUND and case.method != "indoors":
        mine = _covered(case, mine)
    open_now = best_open(mine, case.day)
    window = open_now or mine[0]
    risk = frost_still_to_come(case)
    mean, soil = _warmth(case)
    if open_now is None:
        other = spring_planting(case) or too_hot(case, windows, window) or _past(case, window, mean, risk)
        if other is not None:
            return other
    elif case.day > open_now.best_to:
        return _rather_late(late(case))
    elif open_now.activity.startswith("fall") and not case.terms.rule and not _soil_hot(case, soil):
        return late(case)
    window = warm_enough(case, window)
    verdict = _verdict(case, window)
    verdict, measured = _by_thermometer(case, verdict, risk)
    if verdict == "yes" and measured is None:
        measured = soil_behind(case, window, soil)
        verdict = "yes" if measured is None else "tight"
    begins = max(case.day, window.earliest)
    indoors = case.method == "indoors"  # raised plants wait for the season; what is put out stands there
    plan = make_plan(case.terms, case.year, case.method, begins, cover=case.cover, wait=indoors)
    crop, words = case.terms.base, activity_words(case.terms, window.activity)
    opening = window.earliest if verdict == "no" else window.best_from
    if dormant(case):
        risk = None
    label = "chance of a frost that hurts it"
    chance = None if risk is None else Number("frost_chance", round(100 * risk), "%", label, crop)
    kept = ("first_pick", "last_frost", "last_frost_90", "set_out")
    numbers = (
        Number("start_from", window.best_from, "date", "most growers begin", crop),
        Number("earliest", window.earliest, "date", "earliest", crop),
        *(() if chance is None else (chance,)),
        *(
            ()
            if case.method == "indoors"
            else (
                *_temperatures("soil", "normal soil temperature", soil, case),
                *_temperatures("daily_mean", "normal daily mean", mean, case),
            )
        ),
        *(n for n in plan_numbers(case, plan) if n.name in kept),
    )
    return Finding(
        case=case,
        verdict=verdict,
        headline=measured or _headline(case, verdict, window, risk, mean),
        numbers=numbers,
        details=_details(case, mean, soil),
        changes=() if verdict == "yes" else for_early(case, opening, window.activity),
        chance=None if risk is None else round(1.0 - risk, 2),
        windows=windows,
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=(*_working(case, window, risk, mean, soil), *plan_working(case, plan)),
        do="now" if verdict == "yes" else f"{words} from {case.on(window.best_from)}",
        pick="" if plan.first_pick is None else case.on(plan.first_pick),
        sources=case.terms.sources,
    )


def _rather_late(found: Finding) -> Finding:
    """The late answer to a question whether it is too early."""
    words = found.headline.replace("Not too late to ", "Late rather than early, but possible to ", 1)
    return found._replace(headline=words.replace(", but not the best time:", ":", 1))


def _soil_hot(case: Case, soil_c: float) -> bool:
    """True where seed sown now comes up poorly for the heat of the soil."""
    return soil_c > hottest_soil_c(case.terms, case.method) - HOT_SOIL_UNDER_C


def _air_hot(case: Case) -> bool:
    """True where the air the grower reports is hotter than the seed stands in its soil."""
    said, most = case.air_said_c, hottest_soil_c(case.terms, case.method)
    return said is not None and said >= most


def _past(case: Case, window: Window, mean: float, risk: float | None) -> Finding | None:
    """The late answer where the next window is another season's, and nothing about today is too cold."""
    wait = (window.earliest - case.day).days
    cold = mean < case.terms.start.earliest_mean_c or (risk or 0.0) >= 0.1
    _, number = case.year.day_number(case.day)
    indoors_past = case.method == "indoors" and wait > 100 and number > case.year.hottest - 60
    if wait > 240 or indoors_past or (number > case.year.hottest and wait > 60) or (not cold and wait > 60):
        if window.activity.startswith("fall"):
            return None
        if case.method == "indoors" and wait <= WAITS_DAYS:
            plan = make_plan(case.terms, case.year, case.method, case.day, mat=case.mat)
            if out_of_season(case, plan):
                return None  # they would stand overgrown until spring: too early, not late
        return late(case)
    return None


def _covered(case: Case, windows: list[Window]) -> list[Window]:
    """The spring windows opened as early as the named cover lets them."""
    tried = scan(case.terms, case.year, case.method, case.cover)
    found: list[Window] = []
    for w in windows:
        origin, opens = case.year.day_number(w.best_from)
        if w.activity.startswith("fall") or opens > case.year.hottest:
            found.append(w)
            continue
        first = next((d for d in range(opens) if tried.opens[d]), opens)
        good = next((d for d in range(first, opens) if tried.opens_well[d]), opens)
        days = [origin + timedelta(days=d) for d in (first, good)]
        found.append(w._replace(earliest=min(w.earliest, days[0]), best_from=min(w.best_from, days[1])))
    return found


def warm_enough(case: Case, window: Window) -> Window:
    """The window, opened no earlier than the usual soil comes near what the start wants."""
    least = wanted_soil_c(case)
    if least is None or case.method == "indoors" or window.activity.startswith("fall"):
        return window
    origin, opens = case.year.day_number(window.earliest)
    good = (window.best_from - origin).days
    near = least - SOIL_SHORT_C - case.cover.day_c
    first = next((d for d in range(opens, good) if case.year.soil_c[d % YEAR] >= near), good)
    return window._replace(earliest=origin + timedelta(days=max(first, opens)))


def _verdict(case: Case, window: Window) -> Verdict:
    """yes in the good part, tight before it, no before the day it opens."""
    if case.day >= window.best_from:
        return "yes"
    return "tight" if case.day >= window.earliest else "no"


def wanted_soil_c(case: Case) -> float | None:
    """The soil temperature at which this start makes sense: the practical one, else the published least."""
    if case.method == "setout":
        return case.terms.crop.set_out.min_soil_set_out_c
    soil = case.terms.crop.soil
    low = soil.practical_soil_sow_c or soil.min_soil_sow_c
    return None if low is None else low[0]


def _by_thermometer(case: Case, verdict: Verdict, risk: float | None) -> tuple[Verdict, str | None]:
    """What the grower's own soil reading changes, with the headline that says so; their thermometer wins over
    the normals, but not over the frost still to come."""
    least = wanted_soil_c(case)
    if case.soil_said_c is None or least is None or case.method == "indoors":
        return verdict, None
    what, said = act(case.terms, case.method), case.temp(case.soil_said_c)
    if case.soil_said_c < least - 0.3:
        return "no", f"Too early to {what}: soil at {said} is colder than the {case.temp(least)} it wants."
    accepted = case.terms.start.best_risk
    if risk is None or risk <= accepted:
        return "yes", f"Not too early to {what}: soil at {said} is warm enough and the frost risk is small."
    if risk <= case.terms.start.earliest_risk:
        return "tight", (
            f"Possible to {what}: soil at {said} is warm enough, but a frost that hurts them is still "
            f"{percent(risk)} likely; have a cover ready."
        )
    return "no", (
        f"Too early to {what}: soil at {said} is warm enough, but a frost that hurts them is still "
        f"{percent(risk)} likely."
    )


def soil_behind(case: Case, window: Window, soil_c: float) -> str | None:
    """The headline where the air is warm enough but the usual soil is still well under what the start wants,
    with the day it gets there; None where it is not. Where the soil never gets there by much (a cool summer)
    its warmest is what counts."""
    least = wanted_soil_c(case)
    _, number = case.year.day_number(case.day)
    spring = number <= case.year.hottest and not window.activity.startswith("fall")
    if least is None or case.method == "indoors" or case.soil_said_c is not None or not spring:
        return None
    wanted = min(least, max(case.year.soil_c) - WARMEST_UNDER_C) - case.cover.day_c
    near = wanted - SOIL_NEAR_C
    if soil_c >= near:
        return None
    reached = next((d for d in range(number, case.year.hottest + 1) if case.year.soil_c[d] >= near), None)
    on = (
        ""
        if reached is None
        else f" and comes near that about {case.on(case.day + timedelta(days=reached - number))}"
    )
    when = "now" if case.day == case.today else f"on {case.on(case.day)}"
    return (
        f"Possible to {act(case.terms, case.method)} {when}, but early: the usual soil is about "
        f"{case.temp(soil_c)} where {case.temp(least)} is wanted{on}. Go by your own thermometer, or warm "
        "the soil under plastic."
    )


def dormant(case: Case) -> bool:
    """Crowns and bulbs go in asleep: a frost does not hurt them."""
    rule = case.terms.rule
    return rule == "crown" or (rule == "overwinter" and not case.terms.can_raise)


def frost_still_to_come(case: Case) -> float | None:
    """Chance that a freeze that hurts the crop is still to come once it is up; None when never."""
    last = case.year.last_spring(case.terms.damage_c - case.cover.frost_c)
    if last is None:
        return None
    _, day = case.year.day_number(case.day)
    if case.method == "indoors" or day > case.year.hottest:
        return None
    lag = emergence_lag(case.terms) if case.method == "outdoors" else 0.0
    return chance_still_to_come(day + lag, last.offset_days, last.sd_days)


def _warmth(case: Case) -> tuple[float, float]:
    _, day = case.year.day_number(case.day)
    return case.year.mean_c[day % YEAR], case.year.soil_c[day % YEAR]


def _temperatures(name: str, label: str, temp_c: float, case: Case) -> tuple[Number, ...]:
    us = case.units == "us"
    return (
        Number(f"{name}_f", round(temp_c * 1.8 + 32), "F", label, case.terms.base, shown=us),
        Number(f"{name}_c", round(temp_c), "C", label, case.terms.base, shown=not us),
    )


def _headline(case: Case, verdict: Verdict, window: Window, risk: float | None, mean: float) -> str:
    what = act(case.terms, case.method)
    when = "now" if case.day == case.today else f"on {case.on(case.day)}"
    cold = mean < case.terms.start.earliest_mean_c
    if verdict == "yes":
        tail = (
            f": most growers begin about {case.on(window.best_from)}"
            if 0 < (case.day - window.best_from).days <= TOLD_BACK_DAYS
            else ""
        )
        if _air_hot(case):
            said = case.temp(case.air_said_c or 0.0)
            tail = (
                f", but not into hot ground: in {said} heat hardly any of the seed comes up. Shade and water "
                "the row for some days first, or start it indoors where it is cool"
            )
        return f"Not too early: go ahead and {what} {when}{tail}."
    if case.method == "indoors":
        first = (
            f"from {case.on(window.earliest)}"
            if verdict == "no"
            else f"best from {case.on(window.best_from)}"
        )
        age = "the plants would be overgrown before they can go out"
        if verdict == "no":
            return f"Too early to {what} {when}: {age}. Sow {first}."
        return f"A little early to {what} {when}, but possible: {first}."
    why = []
    if risk is not None and risk >= 0.1:
        why.append(f"a frost that hurts them is still {percent(risk)} likely")
    if cold:
        why.append(f"days average only {case.temp(mean)}")
    _, number = case.year.day_number(case.day)
    if window.activity.startswith("fall"):
        why = [
            "its time is autumn"
            if number < case.year.hottest
            else "it is still too warm, and this is for autumn"
        ]
    elif number > case.year.hottest:
        why = ["it is the end of the season, not its start"]
    warm = mean >= case.terms.start.best_mean_c
    usual = "the days are still too short" if warm else "it is still colder than they like"
    reason = " and ".join(why) if why else usual
    if verdict == "no":
        off = days_word((window.earliest - case.day).days)
        if window.earliest == window.best_from:
            return f"Too early to {what} {when}: {reason}. Wait until {case.on(window.earliest)} ({off})."
        return (
            f"Too early to {what} {when}: {reason}. Possible from {case.on(window.earliest)} ({off}), "
            f"better from {case.on(window.best_from)}."
        )
    return f"Early but possible to {what} {when}: {reason}. Safer from {case.on(window.best_from)}."


def _details(case: Case, mean: float, soil: float) -> tuple[str, ...]:
    least = wanted_soil_c(case)
    found = []
    if _soil_hot(case, soil):
        most = hottest_soil_c(case.terms, case.method) - HOT_SOIL_UNDER_C
        found.append(
            f"The seed comes up poorly in soil over about {case.temp(most)}, and the usual soil then is "
            f"about {case.temp(soil)}: shade the row, water it cool and sow in the evening."
        )
    elif least is not None and case.soil_said_c is None and case.method != "indoors":
        found.append(
            f"It wants soil at {case.temp(least)} or more; the usual soil then is about {case.temp(soil)}. "
            "Your own thermometer decides."
        )
    found += shade_wanted(case, mean)
    note = case.terms.crop.set_out.chill_note
    if note and case.method == "setout":
        from gardenmate.topics.shared.protection import note_in_units

        found.append(note_in_units(note, case.units))
    return tuple(found)


def _working(case: Case, window: Window, risk: float | None, mean: float, soil: float) -> tuple[str, ...]:
    s = case.terms.start
    lines = [
        f"Its season opens at a daily mean of {case.temp(s.earliest_mean_c)}, for most growers at "
        f"{case.temp(s.best_mean_c)}; on {case.on(case.day)} the normal is {case.temp(mean)} "
        f"(soil {case.temp(soil)}).",
        f"Accepted chance of a night at {case.temp(case.terms.damage_c)} still to come: "
        f"{100 * s.earliest_risk:.0f}% at the earliest, {100 * s.best_risk:.0f}% for most.",
    ]
    if risk is not None:
        lines.append(f"Chance of such a night after it is up, from {case.on(case.day)}: {100 * risk:.0f}%.")
    lines.append(f"Window: {case.on(window.earliest)}, good from {case.on(window.best_from)}.")
    return tuple(lines)
