"""Is it too early? The first line of each reason, and what stands beside it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from gardenmate.core.answer import Number
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.season.case import (
    Case,
    Reply,
    activity_words,
    assumed,
    days_word,
    percent,
)
from gardenmate.topics.season.changes import for_early
from gardenmate.topics.season.finding import StartFinding, Why
from gardenmate.topics.season.heat import soil_hot
from gardenmate.topics.season.numbers import plan_marks, plan_numbers, plan_working
from gardenmate.topics.season.phrases import (
    hot_for_seed,
    if_soil,
    only_with,
    shade_wanted,
    temperatures,
    usual_warmth,
    when_words,
)
from gardenmate.topics.season.scan import HOT_SOIL_UNDER_C, good_mean_c, hottest_soil_c
from gardenmate.topics.season.site_year import YEAR

TOLD_BACK_DAYS = 60
"""When most growers begin is told for so many days after."""
FROST_TOLD_FROM = 0.1
"""A frost at least this likely is told where it is no reason to wait (design value)."""


def early_reply(case: Case, found: StartFinding) -> Reply:
    """The finding about "too early?" as a reply."""
    plan, window = found.plan, found.window
    assert plan is not None
    assert window is not None
    mean, soil = usual_warmth(case)
    crop, no = case.terms.base, found.verdict == "no"
    kept = ("first_pick", "last_frost", "last_frost_90", "set_out")
    frost = ()
    if found.frost is not None:
        label = "chance of a harmful frost"
        frost = (Number("frost_chance", round(100 * found.frost), "%", label, crop),)  # type: ignore[assignment]
    warmth = () if case.method == "indoors" else (
        *temperatures("soil", "usual soil temperature", soil, case),
        *temperatures("daily_mean", "usual daily average", mean, case),
    )  # fmt: skip
    opening = window.earliest if no else window.best_from
    return Reply(
        case=case,
        verdict=found.verdict,
        headline=_EARLY[found.why](case, found),
        numbers=(
            Number("start_from", window.best_from, "date", "most growers start", crop),
            Number("earliest", window.earliest, "date", "earliest", crop),
            *frost,
            *warmth,
            *(n for n in plan_numbers(case, plan) if n.name in kept),
        ),
        details=_early_details(case, found, mean, soil),
        changes=() if found.verdict == "yes" else for_early(case, opening, window.activity),
        windows=found.windows,
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=(*_early_working(case, found, mean, soil), *plan_working(case, plan)),
        do="now"
        if found.verdict == "yes"
        else f"{activity_words(case.terms, window.activity)} from {case.on(window.best_from)}",
        pick="" if plan.first_pick is None else case.on(plan.first_pick),
        sources=case.terms.sources,
    )


def _now(case: Case, found: StartFinding) -> str:
    window, air = found.window, case.air_said_c
    assert window is not None
    tail = ""
    if 0 < (case.day - window.best_from).days <= TOLD_BACK_DAYS:
        tail = f"; most growers begin about {case.on(window.best_from)}"
    if air is not None and air >= hottest_soil_c(case.terms, case.method):
        tail = (
            f", but not into hot ground: in {case.temp(air)} heat hardly any of the seed comes up. Shade and "
            "water the row for some days first, or start it indoors where it is cool"
        )
    elif found.frost is not None and found.frost >= FROST_TOLD_FROM and case.terms.crop.warm:
        tail += (
            f"; a frost that would hurt them is still {percent(found.frost)} likely, so keep a cover ready"
        )
    return f"Not too early: {case.doing} {when_words(case)}{tail}."


def _possible(case: Case, found: StartFinding) -> str:
    window, what, when = found.window, case.doing, when_words(case)
    assert window is not None
    if case.method == "indoors":
        return f"You can {what} {when}, but it is a little early: from {case.on(window.best_from)} is better."
    return f"You can {what} {when}, but it is early: {_reason(case, found)}. {case.on(window.best_from)} is safer."


def _too_early(case: Case, found: StartFinding) -> str:
    window, what, when = found.window, case.doing, when_words(case)
    assert window is not None
    if case.method == "indoors":
        return (
            f"Too early to {what} {when}: the plants would be overgrown before they can go out. Sow from "
            f"{case.on(window.earliest)}."
        )
    off, first = days_word((window.earliest - case.day).days), case.on(window.earliest)
    if window.earliest == window.best_from:
        return f"Too early to {what} {when}: {_reason(case, found)}. Wait until {first} (in {off})."
    return (
        f"Too early to {what} {when}: {_reason(case, found)}. You can from {first} (in {off})"
        f"{if_soil(case, window)}, but {case.on(window.best_from)} is better."
    )


def _reason(case: Case, found: StartFinding) -> str:
    """Why it is early: frost to come, cold air, cold soil, cold nights, short days."""
    window, year, terms = found.window, case.year, case.terms
    assert window is not None
    _, number = year.day_number(case.day)
    mean, soil = usual_warmth(case)
    if window.activity.startswith("fall"):
        if soil_hot(found.season, found.method, case.day):
            return hot_for_seed(case)
        warm = "it is still too warm, and this is for autumn"
        return f"autumn is the time for {case.plants.them}" if number < year.hottest else warm
    if number > year.hottest:
        return "it is the end of the season, not its start"
    waits = found.season.waits_for(found.method, good=True)
    why = []
    if found.frost is not None and found.frost > found.season.terms.safe_risk:
        why.append(f"a frost that would hurt them is still {percent(found.frost)} likely")
    if mean < terms.start.earliest_mean_c:
        average = "are averaging" if case.day == case.today else "average"
        why.append(f"days {average} only {case.temp(mean)}")
    elif soil < waits.soil_c:
        wanted = case.temp(found.season.wanted_soil_c(found.method) or soil)
        want = f"{case.plants.they} {case.plants.does('need')} {wanted}"
        why.append(f"the soil is usually about {case.temp(soil)} ({want})")
    elif year.min_c[number % YEAR] < waits.night_c:
        why.append(f"nights usually fall to {case.temp(year.min_c[number % YEAR])}")
    short = (
        "the days are still too short"
        if mean >= good_mean_c(terms, year, found.method)
        else "it is still colder than they like"
    )
    return " and ".join(why) if why else short


def _cold_soil(case: Case, found: StartFinding) -> str:
    said, least = case.soil_said_c or 0.0, found.season.wanted_soil_c(found.method) or 0.0
    want = f"{case.plants.they} {case.plants.does('want')}"
    what = case.doing
    return f"Too early to {what}: soil at {case.temp(said)} is colder than the {case.temp(least)} {want}."


def _warm_soil(case: Case, found: StartFinding) -> str:
    said, what = case.temp(case.soil_said_c or 0.0), case.doing
    return f"Not too early to {what}: soil at {said} is warm enough and the frost risk is small."


def _frost_to_come(case: Case, found: StartFinding) -> str:
    said, what = case.temp(case.soil_said_c or 0.0), case.doing
    lead = "Possible" if found.verdict == "tight" else "Too early"
    cover = "; have a cover ready" if found.verdict == "tight" else ""
    return (
        f"{lead} to {what}: soil at {said} is warm enough, but a frost that would hurt them is still "
        f"{percent(found.frost or 0.0)} likely{cover}."
    )


def _under_cover(case: Case, found: StartFinding) -> str:
    return f"You can {case.doing} {when_words(case)}, but only {only_with(found)}."


_EARLY: Mapping[Why, Callable[[Case, StartFinding], str]] = {
    Why.FITS: _now,
    Why.EARLY: _possible,
    Why.COVER: _under_cover,
    Why.TOO_EARLY: _too_early,
    Why.COLD_SOIL: _cold_soil,
    Why.WARM_SOIL: _warm_soil,
    Why.FROST: _frost_to_come,
}


def _early_details(case: Case, found: StartFinding, mean: float, soil: float) -> tuple[str, ...]:
    least = found.season.wanted_soil_c(found.method)
    lines = []
    if soil_hot(found.season, found.method, case.day):
        most = hottest_soil_c(case.terms, case.method) - HOT_SOIL_UNDER_C
        lines.append(
            f"The seed comes up poorly in soil over about {case.temp(most)}, and the usual soil then is "
            f"about {case.temp(soil)}: shade the row, water it cool and sow in the evening."
        )
    elif least is not None and case.soil_said_c is None and case.method != "indoors":
        lines.append(
            f"{case.plants.they.capitalize()} {case.plants.does('need')} soil at {case.temp(least)} or more: go by "
            "your own soil thermometer."
        )
    lines += shade_wanted(case, mean)
    note = case.terms.crop.set_out.chill_note
    if note and case.method == "setout":
        lines.append(worded(note, Manner(case.units)))
    return tuple(lines)


def _early_working(case: Case, found: StartFinding, mean: float, soil: float) -> tuple[str, ...]:
    s, window, good = case.terms.start, found.window, good_mean_c(case.terms, case.year, found.method)
    assert window is not None
    lines = [
        f"Its season opens at a daily mean of {case.temp(s.earliest_mean_c)}, for most growers at "
        f"{case.temp(good)}; on {case.on(case.day)} the normal is {case.temp(mean)} "
        f"(soil {case.temp(soil)}).",
        f"Accepted chance of a night at {case.temp(case.terms.damage_c)} still to come: "
        f"{100 * s.earliest_risk:.0f}% at the earliest, {100 * s.best_risk:.0f}% for most.",
    ]
    if found.frost is not None:
        on = case.on(case.day)
        lines.append(f"Chance of such a night after it is up, from {on}: {100 * found.frost:.0f}%.")
    lines.append(f"Window: {case.on(window.earliest)}, good from {case.on(window.best_from)}.")
    return tuple(lines)
