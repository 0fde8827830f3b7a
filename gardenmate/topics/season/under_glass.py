"""Seed of a tender crop sown in a greenhouse or polytunnel: the house only raises it, the garden sets the date.

Glass brings the seed bed on, not the day the plants can go out: that stays the one of the open ground, unless the
crop is to live in the house.
"""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Number, Verdict, Window
from gardenmate.core.question import Request
from gardenmate.records import NamedTuple
from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.scan import wanted_soil_c
from gardenmate.topics.season.season import ACTIVITIES
from gardenmate.topics.season.site_year import YEAR
from gardenmate.topics.season.terms import OPEN_GROUND

_MAT = "An unheated greenhouse warms too late for the seed: let it come up on a mat or in a warm room first."
_FROST = "Frost reaches into an unheated greenhouse: cover the seedlings on cold nights or bring them in."


class Sowing(NamedTuple):
    """When seed goes into the house and its plants out of it: ``first`` and ``last`` good day to sow, ``latest``
    of all, ``out`` the day most growers set out. ``soil_c`` is the usual soil in the house on the day asked about,
    ``least_c`` what the seed wants (None: not known). ``cold``: the house warms too late for it."""

    first: date
    last: date
    latest: date
    out: date
    soil_c: float
    least_c: float | None
    cold: bool


def sown_under_glass(case: Case, question: Request) -> Reply | None:
    """The answer for tender seed to be sown in a house and planted out later; None where that is not what is asked,
    or its time here is past."""
    sown = question.cue("start_verb") in ("sow", "start") and case.cover.id == "greenhouse"
    if not sown or not case.terms.crop.warm or not case.terms.can_raise or question.has("stays", "house"):
        return None
    gear = (question.cue("gear") or "").split(",")
    found = _sowing(case, heated="heater" in gear or "mat" in gear)
    if found is None or case.day > found.latest:
        return None
    early = case.day < found.first
    verdict: Verdict = "no" if early else "yes" if case.day <= found.last else "tight"
    house = "polytunnel" if question.has("house", "polytunnel") else "greenhouse"
    late = question.topic == "late-start"
    if late and early:
        verdict = "yes"  # nothing is late that is still to come
    when_asked = question.topic == "when-start"
    return Reply(
        case=case,
        verdict=None if when_asked else verdict,
        headline=_when(case, found, house) if when_asked else _judged(case, found, verdict, house),
        numbers=(
            Number("start_from", found.first, "date", "sow under glass from", case.terms.base),
            Number("set_out", found.out, "date", "set out", case.terms.base),
        ),
        details=(*((_MAT,) if found.cold else ()), _FROST),
        windows=case._replace(cover=OPEN_GROUND).season.windows(case.day),
        assumptions=(
            *case.terms.notes,
            "The plants go out afterwards; tell me if they stay in the greenhouse.",
            *case.site.notes,
        ),
        working=(
            "The soil in the greenhouse is the usual one outside and what a greenhouse adds to the day.",
        ),
        do="sow under glass",
        sources=case.terms.sources,
    )


def _sowing(case: Case, *, heated: bool) -> Sowing | None:
    """The days of the sowing in the house that is open or comes next, by the open ground the plants go to."""
    windows = case._replace(cover=OPEN_GROUND).season.windows(case.day)
    sown = next((w for w in windows if w.activity in ACTIVITIES["indoors"]), None)
    out = None if sown is None else _out(windows, sown)
    if sown is None or out is None:
        return None
    least = None if heated else _least_soil_c(case)
    days = (sown.best_from + timedelta(days=k) for k in range((sown.best_to - sown.best_from).days + 1))
    first = next((d for d in days if least is None or _house_soil_c(case, d) >= least), None)
    return Sowing(
        first or sown.best_from,
        sown.best_to,
        sown.latest,
        out,
        _house_soil_c(case, case.day),
        least,
        first is None,
    )


def _least_soil_c(case: Case) -> float | None:
    """The least soil the seed is published to come up in, else the one at which it is sown outdoors, degrees C."""
    least = case.terms.crop.soil.min_soil_sow_c
    return wanted_soil_c(case.terms, "outdoors") if least is None else least[0]


def _out(windows: tuple[Window, ...], sown: Window) -> date | None:
    """The day most growers set out what is sown in this window."""
    found = (w.best_from for w in windows if w.activity in ACTIVITIES["setout"] and w.latest > sown.earliest)
    return next(found, None)


def _house_soil_c(case: Case, day: date) -> float:
    """The usual soil in an unheated house: warmer than outside by what the house adds to the day."""
    _, number = case.year.day_number(day)
    return case.year.soil_c[number % YEAR] + case.cover.day_c


def _judged(case: Case, found: Sowing, verdict: Verdict, house: str) -> str:
    what = f"sow {case.name} in the {house}"
    now = "now" if case.day == case.today else f"on {case.on(case.day)}"
    out = f"the plants go out from {case.on(found.out)}, as they would without it"
    if verdict == "yes" and case.day < found.first:
        return f"Not too late to {what}: sow there from {case.on(found.first)}; {out}."
    if verdict == "yes":
        return f"Good time to {what} {now}: {out}."
    if verdict == "tight":
        return f"Late, but possible to {what} {now}: best by {case.on(found.last)}; {out}."
    cold = found.least_c is not None and found.soil_c < found.least_c
    why = (
        f"the soil in an unheated one is about {case.temp(found.soil_c)}, and the seed needs {case.temp(found.least_c)}"
        if cold and found.least_c is not None
        else "they would be overgrown before they can go out"
    )
    return f"Too early to {what} {now}: {why}. Sow there from {case.on(found.first)}; {out}."


def _when(case: Case, found: Sowing, house: str) -> str:
    return (
        f"Sow {case.name} in the {house} {case.on(found.first)} to {case.on(found.last)}; the plants go out from "
        f"{case.on(found.out)}, as they would without it."
    )
