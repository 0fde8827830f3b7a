"""Lengths of time told with a start: so much left, so old the plants wanted, so far ahead of the usual.

What a grower tells of the time left weighs more than the place's normals.
"""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.terms import Terms, early_variety

_WORST: dict[Verdict | None, int] = {"yes": 0, "tight": 1, "no": 2, None: 0}
SLOW_AUTUMN_DAYS = 14
"""Days a crop takes longer when it ripens towards the autumn frost (common practice: count two weeks more)."""


def with_time_told(found: Reply, question: Request) -> Reply:
    """The reply with the time left (too late?) or the age the plants are to have (when?) weighed."""
    left, age = question.first("time-left"), question.first("raised-weeks")
    if left is not None and question.topic == "late-start" and found.verdict is not None:
        return _in_time_left(found, left.number)
    if age is not None and question.topic == "when-start":
        return _of_age(found, age.number)
    return found


def day_ahead_of_usual(case: Case, question: Request) -> date | None:
    """ "Two weeks before everyone else": that day of the next opening; None where nothing of the kind is told."""
    ahead = question.first("ahead-of-usual")
    if ahead is None or question.topic != "early-start":
        return None
    opening = next((w for w in case.season.of(case.method, case.today) if w.best_from >= case.today), None)
    return (
        None if opening is None else max(case.today, opening.best_from - timedelta(days=round(ahead.number)))
    )


def _in_time_left(found: Reply, days: float) -> Reply:
    case = found.case
    usual, quick = _needed(case.terms, case), _needed(early_variety(case.terms), case)
    p, start = case.plants, "setting out" if case.method == "setout" else "sowing"
    have = f"you have about {plural(round(days), 'day')}"
    plants_need = case.terms.days_needed("setout")
    as_plants = not case.method_said and case.method != "setout" and case.terms.can_set_out
    if days < usual and as_plants and days >= plants_need:
        head = (
            f"Too late from seed, but not for plants set out now: {p.they} {p.does('need')} about "
            f"{plants_need:.0f} days more, and {have}."
        )
        return found._replace(verdict="tight", headline=head, told=True)
    if days >= usual + SLOW_AUTUMN_DAYS:
        line = f"{p.word.capitalize()} {p.does('need')} about {usual:.0f} days from {start}, and {have}."
        return found._replace(headline=f"{found.headline} {line}")
    if days >= usual:
        head = f"Just: {p.word} {p.does('need')} about {usual:.0f} days from {start}, and {have}."
        return found._replace(verdict=_worse(found.verdict, "tight"), headline=head, told=True)
    if days >= quick:
        verdict: Verdict = "tight"
        head = (
            f"Only with a quick variety: {p.word} {p.does('need')} {quick:.0f} to {usual:.0f} days from {start}, "
            f"and {have}."
        )
    else:
        verdict = "no"
        head = f"Too late: {p.word} {p.does('need')} at least {quick:.0f} days from {start}, and {have}."
    if _worse(found.verdict, verdict) != verdict:
        return found._replace(headline=f"{found.headline} {head}")
    return found._replace(verdict=verdict, headline=head, told=True)


def _worse(one: Verdict | None, other: Verdict) -> Verdict:
    return one if one is not None and _WORST[one] > _WORST[other] else other


def _needed(terms: Terms, case: Case) -> float:
    """Days of good weather from this start to the first picking, those indoors among them."""
    indoors = terms.raising_days if case.method == "indoors" else 0.0
    return terms.days_needed(case.method) + indoors


def _of_age(found: Reply, weeks: float) -> Reply:
    case = found.case
    out = next((w for w in found.windows if w.activity == "set-out" and w.latest >= case.today), None)
    if out is None:
        return found
    back = timedelta(weeks=weeks)
    first, last = out.best_from - back, out.best_to - back
    line = f"For plants {plural(round(weeks), 'week')} old then, sow {case.between(first, last)}."
    if last < case.today:
        line = f"Plants {plural(round(weeks), 'week')} old then should have been sown by {case.on(last)}."
    return found._replace(headline=f"{found.headline} {line}")
