"""The harvest is wanted by a day ("for Halloween"): the start counted back from it, this year's if it can."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Mark, Number, Verdict, Window
from gardenmate.records import NamedTuple
from gardenmate.topics.season.case import Case, Reply, act, assumed, done, percent
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.scan import shown
from gardenmate.topics.season.terms import early_variety

FRESH_START_DAYS = 14  # days of picking wanted at the least; design value
STANDING_DAYS = 100
"""How long before the last start one is worth telling: as long as the crop is picked, a fortnight at least;
what stands in the ground waits longer, but coarsens (common practice)."""


class Back(NamedTuple):
    """One way of starting counted back: its window, the first and last day that make the harvest in time, the
    plan of the last one; ``early``: with an early variety, as a middling one is too slow."""

    case: Case
    window: Window
    first: date
    last: date
    plan: Plan
    early: bool


def for_wanted(case: Case, ways: Sequence[str], wanted: date, topic: str) -> Reply:
    """When to start for a harvest by ``wanted``; for "too late?" and "too early?" the verdict is on today."""
    case = case._replace(wanted_by=wanted, day=case.today)
    found = [b for way in ways if (b := count_back_from(case._replace(method=way), wanted)) is not None]
    usable = [b for b in found if b.last >= case.today]
    sure = [b for b in usable if not b.early] or usable
    if sure:
        return _finding(case, sure, wanted, topic)
    return _cannot(case, ways, wanted)


def count_back_from(case: Case, wanted: date) -> Back | None:
    """The last start by the case's method likely ready by ``wanted``; None when none from today is."""
    early = early_variety(case.terms)
    for terms in (case.terms,) if early is case.terms else (case.terms, early):
        tried = case._replace(terms=terms)
        mine = [w for w in tried.season.of(case.method, case.today) if w.earliest <= wanted]
        for window in sorted(mine, key=lambda w: w.latest, reverse=True):
            opens = max(case.today, window.best_from)
            last = _last_likely(tried, opens, min(window.latest, wanted), wanted)
            if last is not None:
                return Back(tried, window, opens, last, _plan(tried, last, wanted), terms is not case.terms)
    return None


def _plan(case: Case, day: date, wanted: date) -> Plan:
    return case.season.plan(case.method, day, by=wanted)


def _last_likely(case: Case, opens: date, closes: date, wanted: date) -> date | None:
    """The last day from ``opens`` to ``closes`` whose start is likely ready by then; halved, for later is
    never sooner."""

    def likely(day: date) -> bool:
        return shown(_plan(case, day, wanted).chance) >= case.terms.general.yes_from

    if closes < opens or not likely(opens):
        return None
    low, high = 0, (closes - opens).days
    while low < high:
        middle = (low + high + 1) // 2
        if likely(opens + timedelta(days=middle)):
            low = middle
        else:
            high = middle - 1
    return opens + timedelta(days=low)


def _told_from(back: Back) -> date:
    """From when a start is worth telling: what is ready long before the day is past it by then."""
    terms = back.case.terms
    days = max(FRESH_START_DAYS, terms.crop.maturity.picking_days or 0.0)
    if terms.stands:
        days = STANDING_DAYS
    return max(back.first, back.last - timedelta(days=round(days)))


def _finding(case: Case, found: Sequence[Back], wanted: date, topic: str) -> Reply:
    on = case.on
    main = found[0]
    early = f", with an early variety ({main.case.terms.dtm:.0f} days)" if main.early else ""
    parts = [f"{_job(b.case)} {_span(b)}" for b in found]
    open_now = [b for b in found if _told_from(b) <= case.today <= b.last]
    verdict: Verdict | None = None
    if open_now:
        verdict = "tight" if open_now[0].early else "yes"
    elif topic == "late-start":
        verdict = "tight" if main.early else "yes"
    elif topic == "early-start":
        verdict = "tight" if any(b.window.earliest <= case.today <= b.last for b in found) else "no"
    lead = {
        "late-start": "Not too late",
        "early-start": "Not too early" if open_now else "Early" if verdict == "tight" else "Too early now",
    }.get(topic, "")
    counted = f"{', or '.join(parts)}{early}"
    pick = main.plan.first_pick
    ready = "" if pick is None else f". A start on the last day is ready about {on(pick)}"
    what = f"to have {case.name} by {on(wanted)}, {counted}{ready}."
    headline = f"{lead}: {what}" if lead else what[0].upper() + what[1:]
    crop = case.terms.base
    numbers = [
        Number(
            "start_from", _told_from(main), "date", f"{act(main.case.terms, main.case.method)} from", crop
        ),
        Number("start_latest", main.last, "date", "at the latest", crop),
    ]
    if main.plan.first_pick is not None:
        numbers.append(Number("first_pick", main.plan.first_pick, "date", "first picking then", crop))
    numbers.append(
        Number("chance", round(100 * main.plan.chance), "%", "chance of a crop from the last day", crop)
    )
    return Reply(
        case=main.case,
        told=True,
        verdict=verdict,
        headline=headline,
        numbers=tuple(numbers),
        details=_sooner(main),
        chance=shown(main.plan.chance) if verdict == "yes" else None,
        windows=tuple(b.window for b in found),
        marks=_marks(case, main, wanted),
        assumptions=_assumed(main.case, main.early),
        working=_working(main, wanted),
        do=f"{act(main.case.terms, main.case.method)} by {on(main.last)}",
        pick="" if main.plan.first_pick is None else on(main.plan.first_pick),
        sources=case.terms.sources,
    )


def _job(case: Case) -> str:
    """ "sow outdoors", "set out", "plant": the job without the crop's name."""
    return case.doing.replace(f" {case.name}", "", 1)


def _span(back: Back) -> str:
    """ "16 May to 2 Jul", "now to 2 Jul", or the last day alone."""
    shown, first = back.case.on, _told_from(back)
    if first >= back.last:
        return f"by {shown(back.last)}"
    return f"{'from now' if first == back.case.today else shown(first)} to {shown(back.last)}"


def _sooner(back: Back) -> tuple[str, ...]:
    """When the first of the good days would be ready."""
    first = _told_from(back)
    if first >= back.last:
        return ()
    plan = back.case.season.plan(back.case.method, first)
    if plan.first_pick is None:
        return ()
    stands = ", and stands in the ground until it is wanted" if back.case.terms.stands else ""
    return (f"Begun on {back.case.on(first)} it is ready about {back.case.on(plan.first_pick)}{stands}.",)


def _assumed(case: Case, early: bool) -> tuple[str, ...]:
    notes = assumed(case._replace(method_said=True))
    if not early:
        return notes
    return (f"An early variety of {case.name}, {case.terms.dtm:.0f} days to maturity.", *notes[1:])


def _marks(case: Case, back: Back, wanted: date) -> tuple[Mark, ...]:
    points = (("today", case.today), ("start by", back.last), ("first pick", back.plan.first_pick))
    return (*(Mark(label, on) for label, on in points if on is not None), Mark("wanted", wanted))


def _working(back: Back, wanted: date) -> tuple[str, ...]:
    case = back.case
    pick = back.plan.first_pick
    return (
        f"Counted back from {case.on(wanted)}: the last start that is ready by then in four years of five.",
        f"{case.doing.capitalize()} on {case.on(back.last)}: "
        f"{case.terms.dtm:.0f} days to maturity at this place's warmth come to "
        f"{'no day' if pick is None else case.on(pick)}.",
        f"Its window is {case.on(back.window.earliest)} to {case.on(back.window.latest)}.",
    )


def _cannot(case: Case, ways: Sequence[str], wanted: date) -> Reply:
    """No start from today is likely ready by then: what the soonest one gives, and the year to come."""
    tried = [_soonest(case._replace(method=way), wanted) for way in ways]
    best, plan = min(tried, key=lambda pair: pair[1].first_pick or date.max)
    on, pick, crop = case.on, plan.first_pick, case.terms.base
    changes = [c for c in (_plants_instead(case, ways, wanted), _following_year(case, ways, wanted)) if c]
    verdict: Verdict = "no"
    numbers: tuple[Number, ...] = ()
    if pick is None:
        headline = f"Too late for {on(wanted)}: no start of {case.name} from now is ready by then."
    else:
        now = plan.start <= case.today
        start = "now" if now else f"on the first good day, {on(plan.start)},"
        variety = f" an early variety ({best.terms.dtm:.0f} days)" if best.terms is not case.terms else ""
        what = f"{variety or ' ' + case.name} {done(best.terms, best.method)} {start}"
        if pick > wanted:
            lead = "Too late" if now else "No, not"
            headline = f"{lead} for {on(wanted)}: {what.strip()} would not give a first picking until about {on(pick)}."
        else:
            if plan.chance >= case.terms.general.tight_from:
                verdict = "tight"
            lead = "Tight" if verdict == "tight" else "Probably not"
            headline = (
                f"{lead} for {on(wanted)}: {what.strip()} would give a first picking about {on(pick)}, "
                f"{percent(plan.chance)} likely to be ready by then."
            )
        numbers = (
            Number("start_from", plan.start, "date", "soonest start", crop),
            Number("first_pick", pick, "date", "first picking then", crop),
            Number("chance", round(100 * plan.chance), "%", "chance of a crop by then", crop),
        )
    return Reply(
        case=best,
        told=True,
        verdict=verdict,
        headline=headline,
        numbers=numbers,
        changes=tuple(changes),
        chance=shown(plan.chance),
        marks=(Mark("today", case.today), Mark("wanted", wanted)),
        assumptions=_assumed(best, best.terms is not case.terms),
        working=(f"Every start from {on(case.today)} was tried against {on(wanted)}.",),
        do="-",
        pick="" if pick is None else on(pick),
        sources=case.terms.sources,
    )


def _soonest(case: Case, wanted: date) -> tuple[Case, Plan]:
    """The start soonest ready, by an early variety where one is grown, and its plan."""
    tried = case._replace(terms=early_variety(case.terms))
    mine = [w for w in tried.season.of(case.method, case.today) if w.best_from <= wanted]
    day = case.today if not mine else max(case.today, mine[0].best_from)
    plan = _plan(tried, day, wanted)
    if plan.first_pick is None:
        plan = tried.season.plan(case.method, day)
        plan = plan._replace(chance=0.0)
    return tried, plan


def _plants_instead(case: Case, ways: Sequence[str], wanted: date) -> str:
    """Whether bought plants make it where seed does not; "" where they do not either."""
    if "setout" in ways or not (case.terms.can_raise and case.terms.can_set_out):
        return ""
    back = count_back_from(case._replace(method="setout"), wanted)
    if back is None:
        return ""
    kind = " of an early variety" if back.early else ""
    return f"Bought plants{kind} would make it: set them out {_span(back)}."


def _following_year(case: Case, ways: Sequence[str], wanted: date) -> str:
    """When to start for the same day a year on; "" where no start would do."""
    following = wanted.replace(
        year=wanted.year + 1, day=min(wanted.day, 28) if wanted.month == 2 else wanted.day
    )
    later = case._replace(today=wanted, day=wanted)
    for way in ways:
        back = count_back_from(later._replace(method=way), following)
        if back is not None:
            start = act(back.case.terms, way)
            return f"For {case.on(following)}: {start} {case.on(_told_from(back))} to {case.on(back.last)}."
    return ""
