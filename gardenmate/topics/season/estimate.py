"""A time the grower reckons with ("are four months for leeks about right?"), judged by what the crop takes."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.days_meant import Days
from gardenmate.topics.season.started import MONTH_DAYS
from gardenmate.topics.shared.grammar import sentence

_DAYS_IN = {"days": 1.0, "weeks": 7.0, "months": MONTH_DAYS}
_SLACK = 0.1  # of the days: no figure of this kind is closer (design value)


def with_estimate(found: Reply, question: Request, days: Days) -> Reply:
    """The reply about a harvest, the time reckoned with judged first; as it is where none is, or where it is how long
    ago something was done."""
    told = next((t for t in question.all("span") if t.unit in _DAYS_IN and not t.told), None)
    past = question.has("span-of", "past") or any((days.begun, days.job, days.seen))
    if told is None or past or not question.sense.polar or found.case.terms.rule:
        return found
    low, high = _usual(found.case)
    reckoned = told.number * _DAYS_IN[told.unit]
    span = sentence(plural(round(told.number, 1), told.unit.removesuffix("s")))
    fair = low * (1 - _SLACK) <= reckoned <= high * (1 + _SLACK)
    word = "is about right" if fair else "is too short" if reckoned < low else "is longer than it takes"
    p = found.case.plants
    line = f"{span} {word}: {p.word} {p.does('take')} {low:.0f} to {high:.0f} days{_from(found.case)}."
    return found._replace(headline=f"{line} {found.headline}")


def _usual(case: Case) -> tuple[float, float]:
    """The days early and late varieties of the crop take."""
    days = case.terms.crop.maturity.days
    return days.early or days.mid, days.late or days.mid


def _from(case: Case) -> str:
    """ " from setting out": what those days are counted from."""
    raised = case.terms.crop.maturity.maturity_from == "transplant" and case.terms.can_raise
    return " from setting out" if raised else " from sowing"
