"""Phrases the answers to "too late?" and "too early?" share: what it takes, what ends the season, how warm it is."""

from __future__ import annotations

from gardenmate.core.answer import Number, Window
from gardenmate.topics.season.case import (
    Case,
    an,
)
from gardenmate.topics.season.finding import StartFinding, Why
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.scan import HOT_SOIL_UNDER_C, hottest_soil_c
from gardenmate.topics.season.season import method_of
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.terms import OPEN_GROUND

NEAR_HEAT_C = 3.0
"""A cool crop is told to be shaded from this much under the mean it stands."""
NEARLY_GROWN = 0.95
"""From this share of the warmth it needs a crop is called full-grown, not so many percent (design value)."""
_MOSTLY_GROWN = 0.84
"""From this share on it is nearly full-grown (design value)."""
_HARDLY = 0.15
"""Up to this share it is hardly grown (design value)."""
_SHARES = (
    (_HARDLY, "a small part"), (0.29, "about a quarter"), (0.41, "about a third"), (0.58, "about half"),
    (0.70, "about two-thirds"), (_MOSTLY_GROWN, "about three-quarters"), (1.0, "most"),
)  # fmt: skip
"""Shares in words, each up to half way to the next (design value)."""


def only_with(found: StartFinding) -> str:
    """ "with a 60-day variety under low tunnel": what the verdict takes; "" where a middling variety will do."""
    if found.why not in (Why.VARIETY, Why.COVER):
        return ""
    cover = found.season.cover
    under = "" if cover is OPEN_GROUND else f" {cover.where}"
    return f"with {an(found.season.terms.dtm)}-day variety{under}"


SOIL_SLACK_C = 0.3
"""The usual soil may be so much under the least a start wants and still count as it (rounding of the normals)."""


def if_soil(case: Case, window: Window) -> str:
    """ " if the soil holds 60 F by then": the condition on the first possible day, where the usual soil is colder than
    what the crop wants; "" where it is warm enough."""
    method = method_of(window.activity)
    least = None if method == "indoors" else case.season.wanted_soil_c(method)
    if least is None or window.activity.startswith("fall"):
        return ""
    _, number = case.year.day_number(window.earliest)
    short = case.year.soil_c[number % YEAR] + case.cover.day_c < least - SOIL_SLACK_C
    return f" if the soil holds {case.temp(least)} by then" if short else ""


def when_words(case: Case) -> str:
    """ "now", "on 12 May"."""
    return "now" if case.day == case.today else f"on {case.on(case.day)}"


def what_ends(plan: Plan) -> str:
    """What the crop has to be ready before, as a clause."""
    if plan.terms.stands and plan.binding in ("frost", "cold"):
        return "growth stops for the winter"
    return {
        "frost": "a killing frost comes",
        "heat": "it turns too hot",
        "cold": "it turns too cold",
        "wanted": "the day you want it",
    }.get(plan.binding, "the season ends")


def share_grown(case: Case, plan: Plan) -> float | None:
    """Share of the warmth the crop needs that it gets before its season ends (0..1); None without an end."""
    if plan.end is None:
        return None
    goes = plan.set_out or plan.opens or plan.start
    origin = case.year.origin(goes)
    a, b = (goes - origin).days, (plan.end - origin).days
    total = case.terms.total(case.year, plan.cover)
    if not 0 <= a < b < len(total):
        return None
    return min(1.0, (total[b] - total[a]) / plan.degree_days)


def how_far_grown(share: float) -> str:
    """How far a crop is when its season ends, in words; ``share`` 0 to 1 of the warmth it needs."""
    if share >= _MOSTLY_GROWN:
        return "only just full-grown" if share >= NEARLY_GROWN else "nearly, but not quite, full-grown"
    return f"only {share_words(share)} grown" if share > _HARDLY else "hardly grown at all"


def share_words(share: float) -> str:
    """A share (0 to 1) as a person says it: "about two-thirds"."""
    return next(words for most, words in _SHARES if share <= most)


def hot_for_seed(case: Case) -> str:
    """ "the soil is about 77 F, and over about 75 F little of it comes up"."""
    most = hottest_soil_c(case.terms, case.method) - HOT_SOIL_UNDER_C
    soil = case.temp(usual_warmth(case)[1])
    return f"the soil is about {soil}, and over about {case.temp(most)} little of it comes up"


def shade_wanted(case: Case, mean_c: float) -> tuple[str, ...]:
    """What a start of a cool crop in the warmest part of the year wants; nothing for any other."""
    heat = case.terms.heat_c
    if heat is None or case.terms.crop.warm or case.method == "indoors" or mean_c <= heat - NEAR_HEAT_C:
        return ()
    return (
        f"{case.plants.they.capitalize()} {case.plants.does('like')} cool weather, and days average "
        f"{case.temp(mean_c)} then: shade the row and keep it moist until the plants are up.",
    )


def usual_warmth(case: Case) -> tuple[float, float]:
    """The usual daily mean and soil temperature of the day, degrees C."""
    _, day = case.year.day_number(case.day)
    return case.year.mean_c[day % YEAR], case.year.soil_c[day % YEAR]


def temperatures(name: str, label: str, temp_c: float, case: Case) -> tuple[Number, ...]:
    """A temperature as a number in F and in C, that of the grower shown."""
    us = case.units == "us"
    return (
        Number(f"{name}_f", round(temp_c * 1.8 + 32), "F", label, case.terms.base, shown=us),
        Number(f"{name}_c", round(temp_c), "C", label, case.terms.base, shown=not us),
    )
