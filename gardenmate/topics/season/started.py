"""The start a harvest question is about: told, seen, logged, or the usual one of this season."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.season.case import Case
from gardenmate.topics.season.days_meant import Days, ago
from gardenmate.topics.season.season import ACTIVITIES
from gardenmate.topics.season.terms import with_dtm

LOGGED_DAYS = 250  # days: a start logged earlier is another season's; design value
MONTH_DAYS = 30.4  # days, the mean month
COOL_SOIL_C = 10.0  # degrees C, 50 F: soil in which cool crops come up (common practice)


def started(case: Case, question: Request, world: World, days: Days) -> Case:
    """The case with the day and the way of its start; ``day_said`` is False where both are only usual."""
    case = with_packet(case._replace(method=_begun_as(case, question, days)), question)
    said = days.begun or days.job
    if days.out is not None and case.terms.can_raise:
        return case._replace(day=days.out, day_said=True, method="setout")
    if said is not None:
        return case._replace(day=said, day_said=True)
    if days.seen is not None and days.stage == "up":
        up = case.terms.emergence_days(max(COOL_SOIL_C, case.terms.start.best_mean_c))
        return case._replace(day=days.seen - timedelta(days=round(up or 10.0)), day_said=True)
    back = ago(question, world.today)
    if back is not None and days.seen is None and plausible(case, back):
        return case._replace(day=back, day_said=True)
    if not case.method_said and world.journal is not None:
        for action, method in (("set-out", "setout"), ("sow", None)):
            since = world.today - timedelta(days=LOGGED_DAYS)
            logged = world.journal.search(crop=case.terms.base, action=action, since=since, limit=1)
            if logged:
                chosen = method or ("indoors" if case.terms.crop.methods[0] == "indoors" else "outdoors")
                return case._replace(day=logged[0].on, day_said=True, method=chosen, method_said=True)
    return case._replace(day=_usual_start(case), day_said=False)


def _begun_as(case: Case, question: Request, days: Days) -> str:
    """How it was begun, or is to be: seed of what is raised indoors was sown indoors, though plants are what is
    usual; seed to be sown where it is open for it goes into the ground."""
    if case.method_said or case.method != "setout":
        return case.method
    if days.begun_by == "sow":
        return "indoors" if case.terms.can_raise else "outdoors"
    if question.cue("start_verb") == "sow" and days.job is not None:
        ways = [
            w
            for w, can in (("outdoors", case.terms.can_sow_outdoors), ("indoors", case.terms.can_raise))
            if can
        ]
        return next(
            (w for w in ways if case.season.standing(w, days.job).open is not None), (*ways, "setout")[0]
        )
    return case.method


def with_packet(case: Case, question: Request) -> Case:
    """ "It says 105 days", "they take four months from seed": the packet's figure, not how long ago, where it is near
    the crop's own; from seed, the weeks under cover of what is counted from setting out are taken off."""
    if case.terms.variety_said or question.has("span-of", "past"):
        return case
    told = [t.number * MONTH_DAYS for t in question.all("span") if t.unit == "months" and t.role is None]
    back = (question.ask.weeks or 0) * 7 + (question.ask.days or 0)
    for days in (back, *told):
        dtm = _printed(case, days)
        if dtm is None or (
            question.topic == "harvest-date" and plausible(case, case.today - timedelta(days=round(days)))
        ):
            continue
        note = f"A variety of {case.name} of {dtm:.0f} days to maturity."
        terms = with_dtm(case.terms, round(dtm))._replace(notes=(note,), variety_said=True)
        return case._replace(terms=terms)
    return case


def _printed(case: Case, days: float) -> float | None:
    """The days to maturity a grower means by so many days; None where they are none of this crop."""
    maturity = case.terms.crop.maturity
    low, high = (
        0.75 * (maturity.days.early or maturity.days.mid),
        1.25 * (maturity.days.late or maturity.days.mid),
    )
    raised = (
        case.terms.raising_days if maturity.maturity_from == "transplant" and case.terms.can_raise else 0.0
    )
    return next((d for d in (days, days - raised) if low <= d <= high), None)


def plausible(case: Case, day: date) -> bool:
    """True when a start on that day is near one of the crop's windows."""
    since = day - timedelta(days=30)
    mine = [w for w in case.season.windows(since) if w.activity in ACTIVITIES[case.method]]
    return any(w.earliest - timedelta(days=30) <= day <= w.latest + timedelta(days=30) for w in mine)


def _usual_start(case: Case) -> date:
    """The start meant when none was told: what was planted last autumn where the crop stands winter; today
    when the window is open; else the good start of the window nearest before, or next."""
    since = case.today - timedelta(days=300 if case.terms.rule == "overwinter" else 200)
    mine = [w for w in case.season.windows(since) if w.activity in ACTIVITIES[case.method]]
    stood = [w for w in mine if w.activity.startswith("fall") and w.best_from <= case.today]
    if case.terms.rule == "overwinter" and stood:
        return stood[-1].best_from
    open_now = next((w for w in mine if w.earliest <= case.today <= w.latest), None)
    if open_now is not None:
        growing = timedelta(days=0) < case.today - open_now.best_from < timedelta(days=case.terms.dtm)
        return open_now.best_from if growing else case.today
    past = [w for w in mine if w.best_from <= case.today]
    if past:
        return past[-1].best_from
    return mine[0].best_from if mine else case.today
