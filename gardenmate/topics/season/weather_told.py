"""The nights, days and soil a grower tells of, set beside what the crop wants: told figures weigh more than normals.

A killing night told turns a yes into a no, a cool one into a risk; what does not turn the verdict is said, so that a
grower sees that it was weighed.
"""

from __future__ import annotations

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request, Temperature
from gardenmate.core.units import F_DEGREE
from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.site_year import YEAR

WARM_DAY_C = 15.5
"""A bare temperature from here up is taken for a day's, below it for a night's (design value, 60 F)."""
LASTS_C = 2.0
"""Nights told so much warmer than usual are a spell that need not last (design value)."""


def with_weather_told(found: Reply, question: Request) -> Reply:
    """The reply with the temperatures of this turn weighed; what is sown indoors is not touched by them."""
    case, told = found.case, question.slots.temps
    lows = [t.celsius for t in told if t.role == "low"]
    if case.method == "indoors" and lows:
        line = f"Nights of {case.temp(min(lows))} outside make no difference to seed raised indoors."
        return found._replace(details=(*found.details, line))
    if not told or case.method == "indoors" or found.verdict is None:
        return found
    nights = [t for t in told if t.role == "low" or (_bare(t) and case.method == "setout" and not _of_day(t))]
    days = [t for t in told if t.role == "high" or (_bare(t) and _of_day(t))]
    soil = [t for t in told if t.role is None and case.method == "outdoors" and not _of_day(t)]
    lines = []
    if nights:
        found, line = _night(found, min(t.celsius for t in nights))
        lines.append(line)
    elif soil:
        lines.append(_soil(case, soil[0].celsius, sure=False))
    if days:
        warm = case.temp(max(t.celsius for t in days))
        suits = found.verdict == "yes"
        lines.append(
            f"Days of {warm} suit {case.plants.them}." if suits else f"Days of {warm} don't make up for that."
        )
    measured = next((t for t in told if t.role == "soil"), None)
    if measured is not None and case.season.wanted_soil_c(case.method) is None:
        lines.append(_soil(case, measured.celsius, sure=True))
    return found._replace(headline=" ".join((found.headline, *(line for line in lines if line))))


def with_low_beside(found: Reply, question: Request) -> Reply:
    """The reply about a harvest with a word on a cold night told beside it: whether it hurts the crop."""
    lows = [t for t in question.slots.temps if t.role in ("low", "outside", None) and not _of_day(t)]
    if not lows:
        return found
    low_c, case = min(t.celsius for t in lows), found.case
    low, p = case.temp(low_c), case.plants
    hurt = case.terms.damage_c - case.cover.frost_c
    colder_c = (
        case.facts.table("protection")["radiation"]["ground_colder_f"] * F_DEGREE
    )  # a clear, calm night
    clear = case.temp(case.terms.damage_c)
    line = (
        f"A night of {low} hurts {p.them}: cover or pick before it."
        if low_c <= hurt
        else f"A night of {low} on the thermometer may still hurt {p.them} at leaf height if it is clear, so cover "
        f"{p.them}: {clear} there does harm."
        if low_c <= hurt + colder_c
        else f"A night of {low} does {p.them} no harm."
    )
    return found._replace(headline=f"{found.headline} {line}")


def _bare(temp: Temperature) -> bool:
    return temp.role in (None, "outside", "air")


def _of_day(temp: Temperature) -> bool:
    return temp.celsius >= WARM_DAY_C


def _night(found: Reply, low_c: float) -> tuple[Reply, str]:
    """The reply as the coldest night told leaves it, and the sentence that says what that night means."""
    case = found.case
    low, plants = case.temp(low_c), case.plants
    damage = case.terms.damage_c - case.cover.frost_c
    least = case.terms.crop.set_out.min_night_set_out_c if case.method == "setout" else None
    if low_c <= damage:
        hurt = f"a night of {low} hurts {plants.them}"
        if found.verdict == "no":
            return found, f"And {hurt}."
        lead = f"Not yet: {hurt}. Wait to {case.doing} until nights stay above that."
        return found._replace(verdict=_worse(found.verdict, "no"), headline=lead, told=True, changes=()), ""
    if least is not None and low_c < least - case.cover.frost_c:
        want = f"nights of {low} are colder than the {case.temp(least)} {plants.they} {plants.does('want')}"
        if found.verdict == "no":
            return found, f"And {want}."
        lead = f"Early: {want}. Wait for warmer ones, or cover {plants.them} at night."
        return found._replace(verdict=_worse(found.verdict, "tight"), headline=lead, told=True), ""
    _, number = case.year.day_number(case.day)
    usual = case.year.min_c[number % YEAR]
    if found.verdict == "no" and usual < low_c - LASTS_C:
        return found, f"Nights of {low} would do, but may not last: usual now is {case.temp(usual)}."
    return found, f"Nights of {low} are warm enough for {plants.them}."


def _worse(verdict: Verdict | None, other: Verdict) -> Verdict:
    return "no" if "no" in (verdict, other) else other


def _soil(case: Case, soil_c: float, *, sure: bool) -> str:
    """What a soil so warm means for the crop; a bare figure is only taken for the soil's with an if."""
    crop, said = case.terms.crop, case.temp(soil_c)
    least = case.season.wanted_soil_c(case.method)
    least = crop.set_out.min_soil_set_out_c if least is None else least
    if least is None:
        return ""
    lead = f"Your soil at {said} is" if sure else f"If {said} is your soil, it is"
    if soil_c >= least - 0.3:
        return f"{lead} warm enough; {case.temp(least)} will do."
    return f"{lead} too cold; wait for {case.temp(least)}."
