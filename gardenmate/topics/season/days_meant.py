"""What the days in a season question mean: of the job, the harvest wanted, going out, a trip, a sight.

One reading for "when", "too early", "too late" and "when is it ready", so that no topic takes for the day of
the job what is the day of something else. Language names the roles as cues; here they become days.
"""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.records import NamedTuple

NEXT_YEARS_DAYS = 150
"""A day this long past, of a job still to be done, is that of the year to come."""
LONGEST_AGO_DAYS = 3650  # days: ten years; nothing told is older
MONTHS_AGO = 6
"""A month no longer past, named with plants, is when they were sown."""
PART_OF_A_MONTH_DAYS = 14
"""A stretch of days no longer than this inside a month is a part of it: early, mid or late."""
END_OF_MONTH_FROM = 25
"""The end of a month begins here, and means its last day."""
LATELY_NAMED_DAYS = 45
"""A month whose middle is no longer past is this year's."""


class Days(NamedTuple):
    """The days of one question, each None when not told.

    ``job``: of the job asked about. ``begun``: of a start already made, ``begun_by`` how (sow | plant |
    setout, also without its day). ``out``: the plants go out. ``wanted``: the harvest is wanted by then.
    ``away``: first and last day nobody is there. ``seen``: the ``stage`` was seen then. ``frost_weeks``:
    weeks from the frost or setting-out day named by ``frost_end`` (last | first | out), earliest and latest.
    ``assumed``: sentences. ``past``: the sentence that the day of the job is past.
    """

    job: date | None = None
    begun: date | None = None
    begun_by: str = ""
    out: date | None = None
    wanted: date | None = None
    away: tuple[date, date] | None = None
    seen: date | None = None
    stage: str = ""
    frost_weeks: tuple[float, float] | None = None
    frost_end: str = ""
    assumed: tuple[str, ...] = ()
    past: str = ""


def days_meant(question: Request, today: date) -> Days:
    """The days of a question. The day named is the job's unless it is said to be that of something else."""
    begun, seen = _day(question, "begun_on"), _day(question, "seen_on")
    out, wanted, told = (_day(question, f"{name}_on") for name in ("out", "wanted", "told"))
    a, b = _span(question, "away")
    away = None if a is None or b is None else (a, b)
    # by month and day: a start already made, or a harvest to come, may be of another year than the bare date
    others = {(d.month, d.day) for d in (begun, seen, out, wanted, told, *(away or ())) if d is not None}
    named, newly = question.ask.date, question.slots.date
    job = _day(question, "job_on")
    if job is None and named is not None and (named.month, named.day) not in others:
        job = named
    if newly is not None and newly == job:
        begun = None  # said anew in this turn
    weeks, end = _frost_weeks(question)
    picked = question.topic == "harvest-date" and question.cue("start_verb") is None
    of_something_else = picked or any((begun, seen, out, wanted, away))
    started = question.topic == "harvest-date" and question.cue("job_in_of") == "start" and begun is None
    if job is None and (not of_something_else or started):
        job = _in_asked(question, today)
    days = Days(
        job=job,
        begun=begun,
        begun_by=question.cue("begun_by") or "",
        out=out,
        wanted=wanted,
        away=away,
        seen=seen,
        stage=question.cue("seen") or "",
        frost_weeks=weeks,
        frost_end=end,
    )
    told_about = next((d for d in (begun, wanted, out, seen) if d is not None), None)
    if question.cue("about") == "yes" and told_about is not None:
        days = days._replace(assumed=(f"I read that as about {show_date(told_about, today)}.",))
    return days


def job_day(days: Days, question: Request, today: date) -> Days:
    """The same where a start is asked about: a day just past is today, one long past that of next year;
    a start already made is judged on its own day when asked "was it too early?".
    """
    if days.begun is not None and question.topic == "early-start" and not question.has("again"):
        plants = question.ask.method in ("setout", "starts") or question.cue("asks") == "move"
        if not (plants and days.begun_by == "sow"):
            return days._replace(job=days.begun)
    if days.away is not None and days.job is None and question.has("after", "trip"):
        return days._replace(job=days.away[1] + timedelta(days=1))
    if days.job is None or days.job >= today:
        return days
    if (today - days.job).days > NEXT_YEARS_DAYS:
        return days._replace(job=_other_year(days.job, 1))
    return days._replace(job=None, past=f"{show_date(days.job, today)} is past.")


def _in_asked(question: Request, today: date) -> date | None:
    """The middle of the month the job is asked for, or of the part of it named ("early April": the 5th), the
    nearest to today; None where none is named, in that month itself, and where it is when plants were sown."""
    a, b = _span(question, "job_in")
    month = question.cue("asked_month")
    if a is None and month is not None and (question.topic != "when-start" or not question.crops):
        a, b = _span(
            question, "days"
        )  # of a longer question: where its words say that the month is the job's
        if a is None or a.month != int(month):
            a = date(today.year, int(month), 1)
            b = a + timedelta(days=27)
    if a is None or b is None:
        return None
    part = (b - a).days <= PART_OF_A_MONTH_DAYS
    plants = question.ask.method in ("setout", "starts") and question.topic != "when-start"
    if plants and not part and 1 <= (today.month - a.month) % 12 <= MONTHS_AGO:
        return None  # "plant out leeks sown in March": when they were sown
    ends = part and a.day >= END_OF_MONTH_FROM
    middle = b if ends else a + (b - a) / 2 if part else a.replace(day=15)
    near = [_other_year(middle, k) for k in (-1, 0, 1)]
    day = min((d for d in near if (today - d).days < LATELY_NAMED_DAYS), key=lambda d: abs((d - today).days))
    here = a <= today <= b if part else (day.year, day.month) == (today.year, today.month)
    return None if here else day


def ago(question: Request, today: date) -> date | None:
    """ "Six weeks ago": that day, None when no such time was told."""
    back = (question.ask.weeks or 0) * 7 + (question.ask.days or 0)
    return today - timedelta(days=round(back)) if 0 < back <= LONGEST_AGO_DAYS else None


def _other_year(day: date, years: int) -> date:
    return day.replace(year=day.year + years, day=min(day.day, 28) if day.month == 2 else day.day)


def _day(question: Request, cue: str) -> date | None:
    return _iso(question.cue(cue))


def _iso(said: str | None) -> date | None:
    try:
        return date.fromisoformat(said) if said else None
    except ValueError:
        return None


def _span(question: Request, cue: str) -> tuple[date | None, date | None]:
    first, _, last = (question.cue(cue) or "").partition("/")
    return _iso(first), _iso(last)


def _frost_weeks(question: Request) -> tuple[tuple[float, float] | None, str]:
    span, _, end = (question.cue("from_frost") or "").partition(":")
    if not end:
        return None, ""
    low, _, high = span.partition("/")
    return (float(low), float(high)), end
