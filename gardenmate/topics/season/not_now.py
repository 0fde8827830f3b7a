"""Starts that are neither early nor late: too hot a time, and spring plantings of what belongs to autumn."""

from __future__ import annotations

from gardenmate.core.answer import Number, Window
from gardenmate.topics.season.case import Case, Finding, act, activity_words, assumed, later
from gardenmate.topics.season.plan import ripe_after, season_windows
from gardenmate.topics.season.scan import HEAT_OVER_C, hottest_soil_c
from gardenmate.topics.season.site_year import YEAR

WORKABLE_SOIL_C = 0.5
NEAR_HEAT_C = 3.0
"""A cool crop is told to be shaded from this much under the mean it stands."""
LATE_SPRING_C = 2.0
"""A forgotten planting is still worth making in spring this much past the mean up to which it is good."""


def heat_limit_c(case: Case) -> float | None:
    """The daily mean above which this start does not do well, degrees C; None indoors."""
    return None if case.method == "indoors" or case.terms.heat_c is None else case.terms.heat_c + HEAT_OVER_C


def soil_read_too_hot(case: Case) -> bool:
    """True where the grower's own thermometer shows soil the seed does not come up in."""
    return case.soil_said_c is not None and case.soil_said_c > hottest_soil_c(case.terms, case.method)


def too_hot(case: Case, windows: tuple[Window, ...], window: Window | None) -> Finding | None:
    """No, for the heat: days or soil warmer than the crop bears now; None when it is not that hot."""
    _, day = case.year.day_number(case.day)
    mean, soil = case.year.mean_c[day % YEAR], case.year.soil_c[day % YEAR]
    limit, most = heat_limit_c(case), hottest_soil_c(case.terms, case.method)
    if soil_read_too_hot(case):
        said = case.temp(case.soil_said_c or 0.0)
        why = f"your soil is at {said}, and over {case.temp(most)} the seed hardly comes up"
    elif limit is not None and mean > limit:
        why = f"days average {case.temp(mean)}, and over about {case.temp(limit)} it does not come well"
    elif soil > most:
        why = f"the soil is about {case.temp(soil)}, and over {case.temp(most)} the seed hardly comes up"
    else:
        return None
    after = ""
    if window is not None:
        words = activity_words(case.terms, window.activity)
        after = f" The next good time to {words} is {case.on(window.best_from)} to {case.on(window.best_to)}."
    when = "now" if case.day == case.today else f"on {case.on(case.day)}"
    us = case.units == "us"
    label = "normal daily mean"
    return Finding(
        case=case,
        verdict="no",
        headline=f"No, it is too hot to {act(case.terms, case.method)} {when}: {why}.{after}",
        numbers=(
            Number("daily_mean_f", round(mean * 1.8 + 32), "F", label, case.terms.base, shown=us),
            Number("daily_mean_c", round(mean), "C", label, case.terms.base, shown=not us),
            *(() if window is None else (
                Number("start_from", window.best_from, "date", "next good start", case.terms.base),)),
        ),
        changes=("Shade, evening sowing and steady water help only in the last weeks before that.",),
        windows=windows,
        assumptions=assumed(case),
        working=(f"Normal daily mean {case.temp(mean)}, soil {case.temp(soil)} on {case.on(case.day)}.",),
        do="-" if window is None else f"from {case.on(window.best_from)}",
        sources=case.terms.sources,
    )  # fmt: skip


def shade_wanted(case: Case, mean_c: float) -> tuple[str, ...]:
    """What a start of a cool crop in the warmest part of the year wants; nothing for any other."""
    heat = case.terms.heat_c
    if heat is None or case.terms.crop.warm or case.method == "indoors" or mean_c <= heat - NEAR_HEAT_C:
        return ()
    return (
        f"It likes it cool, and days average {case.temp(mean_c)} then: a shaded or lightly covered row, kept "
        "moist until the plants stand.",
    )


def spring_planted_days(case: Case, number: int) -> float:
    """Days to the harvest of what belongs to autumn, planted on a day of spring: without its winter it is
    quicker, and smaller, but no quicker than the warmth and the long days allow."""
    ripe = ripe_after(case.terms, case.terms.total(case.year), number)
    return max(case.terms.spring_days or 0.0, 0.0 if ripe is None else float(ripe - number))


def spring_planting(case: Case) -> Finding | None:
    """Second best: what is planted in autumn, put in as soon as the soil can be worked; else None."""
    terms = case.terms
    days = terms.spring_days
    _, number = case.year.day_number(case.day)
    if days is None or number >= case.year.hottest:
        return None
    mean, soil = case.year.mean_c[number], case.year.soil_c[number]
    if (
        soil < WORKABLE_SOIL_C
        or mean > (terms.until_mean_c or 99.0) + LATE_SPRING_C
        or number > case.year.hottest - 60
    ):
        return None
    windows = season_windows(terms, case.year, case.day)
    falls = [w for w in windows if w.activity.startswith("fall")]
    if any(w.earliest <= case.day <= w.latest for w in falls):
        return None  # its own time still runs: a mild winter goes on into the new year
    autumn = falls[0] if falls else None
    ready = later(case.day, spring_planted_days(case, number))
    better = (
        "Autumn is the better time"
        if autumn is None
        else f"Autumn is the better time: {case.on(autumn.best_from)} to {case.on(autumn.best_to)}"
    )
    return Finding(
        case=case,
        verdict="tight",
        headline=f"Possible: {act(terms, case.method)} as soon as the soil can be worked, for smaller bulbs "
        f"or single rounds about {case.on(ready)}. {better}.",
        numbers=(Number("first_pick", ready, "date", "first picking", terms.base),),
        details=(terms.crop.growth.heat_or_bolting_note,) if terms.crop.growth.heat_or_bolting_note else (),
        windows=windows,
        assumptions=assumed(case, variety=False),
        working=(f"About {days:.0f} days from a spring planting.",),
        do="plant now, for smaller bulbs",
        pick=case.on(ready),
        sources=terms.sources,
    )
