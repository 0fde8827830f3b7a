"""A start told in weeks from a frost or from setting out ("6 weeks before last frost"): is that right?"""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Number, Verdict, Window
from gardenmate.topics.season.case import Case, Reply, activity_words, assumed, frost_dates
from gardenmate.topics.season.choose import best_way
from gardenmate.topics.season.season import ACTIVITIES

SLACK_DAYS = 5
"""No rule of weeks is sharper than this."""
SEED_WEEKS = 3.0
"""So many weeks before the last frost what is raised indoors is sown, not set out."""


def weeks_from(case: Case, weeks: tuple[float, float], end: str) -> Reply | None:
    """The verdict on starting so many weeks before (negative) or after ``end`` (last | first frost, out);
    None where the place has no such day."""
    raised = case.terms.can_raise and case.terms.crop.methods[0] in ("indoors", "starts")
    told = case.method_said and end != "out"  # "before setting out" names no way of starting
    if not told and raised and end != "first" and weeks[0] <= -SEED_WEEKS:
        case = case._replace(method="indoors", method_said=True)
    named = _named_day(case, end)
    if named is None:
        return None
    first, last = (named + timedelta(days=round(7 * w)) for w in weeks)
    windows = case.season.windows(min(first, case.today))
    mine = [w for w in windows if w.activity in ACTIVITIES[case.method]]
    if not mine:
        return best_way(case._replace(day=first, day_said=True), (case.method,), "early")
    window = min(mine, key=lambda w: _gap(w, first, last))
    words, on = activity_words(case.terms, window.activity), case.on
    what = case.doing
    slack = timedelta(days=SLACK_DAYS)
    good = first - slack <= window.best_to and last + slack >= window.best_from
    possible = first <= window.latest and last >= window.earliest
    verdict: Verdict = "yes" if good else "tight" if possible else "no"
    said = _said(weeks, end, first, last, case)
    right = _in_weeks(window, named)
    best = f"best here {on(window.best_from)} to {on(window.best_to)}, {right} {_of(end, named, case)}"
    if verdict == "yes":
        head = f"Yes, right to {what}: {said}; {best}"
    elif last < window.best_from:
        head = f"{'Early but possible' if possible else 'Too early'} to {what}: {said}; {best}"
    else:
        head = f"{'Late but possible' if possible else 'Too late'} to {what}: {said}; {best}"
    crop = case.terms.base
    return Reply(
        case=case,
        told=True,
        verdict=verdict,
        headline=f"{head}.",
        numbers=(
            Number("start_from", window.best_from, "date", f"{words}, best from", crop),
            Number("start_latest", window.latest, "date", f"{words}, latest", crop),
        ),
        windows=windows,
        assumptions=assumed(case, variety=False),
        working=(f"{_of(end, named, case).capitalize()}; {said}.",),
        do=f"{words} from {on(window.best_from)}",
        sources=case.terms.sources,
    )


def _gap(window: Window, first: date, last: date) -> int:
    """Days between a window's good part and the days asked about; 0 when they meet."""
    return max(0, (window.best_from - last).days, (first - window.best_to).days)


def _named_day(case: Case, end: str) -> date | None:
    """The average frost named, or the day most growers set the crop out, of the season at hand."""
    spring, _, autumn = frost_dates(case)
    if end == "first":
        return autumn
    if end == "last":
        return spring
    origin = case.year.origin(case.day)
    out = [w for w in case.season.windows(origin) if w.activity == "set-out"]
    return out[0].best_from if out else None


def _said(weeks: tuple[float, float], end: str, first: date, last: date, case: Case) -> str:
    low, high = sorted(abs(w) for w in weeks)
    count = f"{low:g} to {high:g} weeks" if low != high else f"{low:g} weeks"
    side = "before" if weeks[0] < 0 else "after"
    name = {"last": "the last frost", "first": "the first frost", "out": "setting out"}[end]
    days = case.on(first) if first == last else f"{case.on(first)} to {case.on(last)}"
    return f"{count} {side} {name} is {days}"


def _in_weeks(window: Window, named: date) -> str:
    """ "8 to 3 weeks before", "1 week before to 5 weeks after": the good part of a window, in weeks."""
    a, b = (round((day - named).days / 7.0) for day in (window.best_from, window.best_to))
    if a < 0 and b < 0:
        return f"{-a} to {-b} weeks before"
    if a >= 0:
        return f"{a} to {b} weeks after"
    return f"{_weeks(-a)} before to {_weeks(b)} after"


def _weeks(count: int) -> str:
    return "1 week" if count == 1 else f"{count} weeks"


def _of(end: str, named: date, case: Case) -> str:
    name = {"last": "the average last frost", "first": "the average first frost", "out": "setting out"}[end]
    return f"{name} ({case.on(named)})"
