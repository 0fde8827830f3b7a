"""When to start, and when to pick: the crop's windows, and the first picking of a start already made."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Number, Verdict, Window
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.season.by_window import spring_planted_days
from gardenmate.topics.season.case import (
    Case,
    Reply,
    activity_words,
    an,
    assumed,
    days_word,
    done,
    later,
    percent,
)
from gardenmate.topics.season.changes import cover_gain
from gardenmate.topics.season.numbers import LONG_DAYS, plan_marks, plan_numbers, plan_working
from gardenmate.topics.season.phrases import how_far_grown, if_soil, share_grown
from gardenmate.topics.season.picking import in_picking_time
from gardenmate.topics.season.plan import Plan
from gardenmate.topics.season.ripening import PAST_MIDWINTER_DAYS
from gardenmate.topics.season.season import ACTIVITIES, JUST_CLOSED_DAYS, SAME_SEASON_DAYS, method_of
from gardenmate.topics.season.terms import OPEN_GROUND, early_variety, with_dtm

CALENDAR_SPREAD_DAYS = 15  # days either side of a date by the calendar; design value
MOST_PARTS = 3  # windows in the first line; design value
DAYS_TOLD = 400  # a longer wait is told in years
SPREAD_DAYS = 7
"""A first picking this much after the day it is wanted may still come in time, in a warm year."""


def when(case: Case, *, of_now: bool = True) -> Reply:
    """The windows of the crop; yes when ``case.day`` is inside one of those asked about. ``of_now``: what now is the
    time for may be said."""
    windows = case.season.windows(case.day)
    mine = tuple(w for w in windows if not case.method_said or w.activity in ACTIVITIES[case.method])
    if case.terms.rule == "crown" and not case.method_said:
        mine = tuple(w for w in windows if w.activity in ACTIVITIES["setout"])  # crowns, as a rule, not seed
    shown = mine or windows
    quick = _for_quick(case)
    if not shown and not quick:
        return Reply(
            case=case,
            verdict=None,
            headline=f"{case.plants.word.capitalize()} seldom {case.plants.does('ripen')} outdoors "
            f"{case.site.where}, whenever you start.",
            changes=("A greenhouse or tunnel may do it: ask again with 'in a tunnel'.",),
            assumptions=assumed(case),
            do="-",
            sources=case.terms.sources,
        )
    meant = mine if case.method_said else shown
    inside = next((w for w in meant if w.best_from <= case.day <= w.best_to), None)
    told, only = rests_on(case, shown)
    shown = (*quick, *shown)
    verdict: Verdict | None = None if inside is None else "tight" if only else "yes"
    told_first = _first_of_each(shown)
    if len(told_first) > MOST_PARTS:  # the rest stands in the details
        told_first = ([w for w in told_first if w.best_to >= case.day] or told_first)[:MOST_PARTS]
    parts = [_good_part(case, w, bool(only)) for w in told_first]
    headline = f"{', '.join(parts)}."
    if of_now and inside is not None and _good_part(case, inside, bool(only)) not in parts:
        headline += f" Now is the time to {activity_words(case.terms, inside.activity)}."
    headline += _ended(case, shown)
    if _seed_is_past(case, shown):
        headline += " It is too late for seed this season: buy plants."
    if only:
        headline += f" Only {only} will ripen here."
    case = told
    plan = _main_plan(case, shown)
    return Reply(
        case=case,
        verdict=verdict,
        headline=f"{case.name.capitalize()} {case.site.where}: {headline}",
        brief=f"{case.name.capitalize()}: {headline}",
        numbers=(
            *_window_numbers(case, shown),
            *(
                n
                for n in plan_numbers(case, plan)
                if not (case.terms.rule in ("crown", "perennial") and n.name == "first_pick")
                and n.name not in ("chance", "longest_dtm", "margin_days", "sow", "set_out", "start_from")
            ),
        ),
        details=_details(case, shown),
        windows=windows,
        marks=plan_marks(case, plan),
        assumptions=(
            *(() if case.terms.rule in ("crown", "perennial") else case.terms.notes),
            *case.site.notes,
        ),
        working=plan_working(case, plan),
        do=_good_part(case, shown[0], bool(only)),
        pick="" if plan.first_pick is None else case.on(plan.first_pick),
        sources=case.terms.sources,
    )


def _seed_is_past(case: Case, windows: Sequence[Window]) -> bool:
    """True where plants may go out this season, but seed for them should have been sown before."""
    sown = [w for w in windows if w.activity in ("sow-indoors", "sow-outdoors", "fall-sow")]
    out = [w for w in windows if w.activity in ACTIVITIES["setout"]]
    return case.terms.can_raise and bool(sown and out) and sown[0].earliest > out[0].latest


def _for_quick(case: Case) -> tuple[Window, ...]:
    """What is still open for a quick variety alone, by the ways asked about, with the days it takes."""
    ways = (case.method,) if case.method_said else ACTIVITIES
    found = ((way, case.season.open_for_quick(way, case.day)) for way in ways if not case.terms.rule)
    days = case.season.quick().terms.dtm
    return tuple(
        at.open._replace(days_to_maturity=at.open.days_to_maturity or days)
        for way, at in found
        if at is not None and at.open is not None and _is_asked(case, way)
    )


def _is_asked(case: Case, way: str) -> bool:
    return case.method_said or any(w.activity in ACTIVITIES[way] for w in case.season.windows(case.day))


def rests_on(case: Case, windows: Sequence[Window]) -> tuple[Case, str]:
    """The case with the variety and cover its windows rest on, and those in words; as it is, and "", where a
    middling variety ripens in the open."""
    ways = [w for w in windows if w.activity in ("set-out", "sow-outdoors")]
    if not ways or any(w.days_to_maturity is None for w in ways):
        return case, ""
    rests = min((case.season.resting_on(w) for w in ways), key=lambda s: (s.cover.day_c, -s.terms.dtm))
    under = "" if rests.cover is OPEN_GROUND else f" {rests.cover.where}"
    note = f"An early variety of {case.name}, {rests.terms.dtm:.0f} days to maturity{under}."
    told = case.resting_on(rests)
    words = f"{an(rests.terms.dtm)}-day variety{under}"
    return told._replace(terms=told.terms._replace(notes=(note,))), words


def _good_part(case: Case, w: Window, only: bool = False) -> str:
    """ "sow outdoors 3 May to 4 Jun": an activity with its good dates. ``only``: the variety it takes is told once, for
    all of them."""
    words, last = activity_words(case.terms, w.activity), _until(case, w.latest)
    if w.days_to_maturity is not None and w.days_to_maturity < case.terms.dtm and w.earliest <= case.day:
        return f"{words} {last}" if only else f"{words} {last} ({w.days_to_maturity:.0f}-day variety only)"
    if w.best_to < case.day:
        late = "" if w.latest == case.today else " at the latest"
        return f"{words} {last}{late}{_with_quick(case, w)}"
    if w.best_to == case.day and w.latest > case.day:
        return f"{words} now ({case.on(w.latest)} at the latest)"
    if w.best_from <= case.day:
        return f"{words} now" if w.best_to == case.day else f"{words} from now to {case.on(w.best_to)}"
    return f"{words} {case.between(w.best_from, w.best_to)}"


def _until(case: Case, day: date) -> str:
    """ "by 12 May", "today only"."""
    return "today only" if day == case.today else f"by {case.on(day)}"


def _ended(case: Case, shown: Sequence[Window]) -> str:
    """When this season's time ended, where nothing is open and what comes next is another season's; else ""."""
    if not shown or min(w.earliest for w in shown) <= case.day + timedelta(days=JUST_CLOSED_DAYS):
        return ""
    ways = (case.method,) if case.method_said else ACTIVITIES
    closed = [c.latest for way in ways if (c := case.season.standing(way, case.day).closed) is not None]
    return f" It is too late for this season: the last date was {case.on(max(closed))}." if closed else ""


def _first_of_each(windows: tuple[Window, ...]) -> list[Window]:
    """The next window of every activity, in order of opening."""
    seen: dict[str, Window] = {}
    for w in windows:
        seen.setdefault(w.activity, w)
    return list(seen.values())


def _main_plan(case: Case, windows: tuple[Window, ...]) -> Plan:
    """The start the first picking is told for: the next good one that gives one, whatever the method."""
    told = _first_of_each(windows)
    to_come = [w for w in told if w.best_to >= case.day] or told
    plans = [case.season.plan(method_of(w.activity), max(w.best_from, case.day)) for w in to_come]
    bearing = [p for p in plans if p.first_pick is not None]
    if bearing and all(w.best_to < case.day for w in to_come):  # what still can be done: the soonest to bear
        return min(bearing, key=lambda p: p.first_pick or p.start)
    return next(iter(bearing), plans[0])


def _window_numbers(case: Case, windows: tuple[Window, ...]) -> tuple[Number, ...]:
    found: list[Number] = []
    for w in _first_of_each(windows):
        name = w.activity.replace("-", "_")
        words = activity_words(case.terms, w.activity)
        dates = (
            (f"{name}_from", w.best_from, f"{words} from"),
            (f"{name}_latest", w.latest, f"{words}, latest"),
        )
        found += [Number(n, day, "date", label, case.terms.base, shown=False) for n, day, label in dates]
    return tuple(found)


def _details(case: Case, windows: tuple[Window, ...]) -> tuple[str, ...]:
    found = [
        f"{activity_words(case.terms, w.activity).capitalize()}: "
        f"{'' if w.earliest <= case.day else f'possible from {case.on(w.earliest)}{if_soil(case, w)}, '}"
        f"latest {case.on(w.latest)}{_with_quick(case, w)}."
        for w in _first_of_each(windows)
    ]
    if "day-length-bulb" in case.terms.crop.traits:
        found.append(day_length_note(case))
    note = case.terms.crop.timing.british_note if case.site.country in ("UK", "IE") else ""
    return (*found, note) if note else tuple(found)


def _with_quick(case: Case, w: Window) -> str:
    """ " (a 90-day variety by 24 Apr)": the last day of a quick variety, where it is worth telling."""
    later = case.season.quick_latest(method_of(w.activity), max(case.day, w.earliest))
    if later is None or (later - w.latest).days > SAME_SEASON_DAYS:
        return ""
    return f" ({an(case.season.quick().terms.dtm)}-day variety by {case.on(later)})"


def day_length_note(case: Case) -> str:
    """Which bulb onions suit the latitude: they swell when the day is long enough for their kind."""
    lat = abs(case.site.lat)
    if lat >= 38.0:
        kind = "long-day (14 hours and more)"
    elif lat >= 33.0:
        kind = "intermediate (12-14 hours)"
    else:
        kind = "short-day (10-12 hours)"
    return f"At latitude {lat:.0f} bulb onions should be {kind} varieties."


def harvest(case: Case, *, wanted: date | None = None) -> Reply:
    """The first picking of a start on ``case.day``, with its range; a verdict where it is ``wanted`` then."""
    plan = case.season.plan(case.method, case.day, wait=case.method == "indoors")
    if plan.first_pick is None and not case.terms.variety_said:
        quick = early_variety(case.terms)
        tried = case.season.with_variety(quick).plan(case.method, case.day, wait=case.method == "indoors")
        if tried.first_pick is not None:
            note = f"An early variety, {quick.dtm:.0f} days to maturity: slower ones seldom ripen here."
            case, plan = case._replace(terms=quick._replace(notes=(note,))), tried
    first, soon, late_ = _range(case, plan)
    if (
        first is not None
        and plan.end is not None
        and (first - case.day).days > LONG_DAYS
        and not case.terms.rule
        and not case.terms.stands
    ):
        first = None
    verb = done(case.terms, case.method)
    when_ = "now" if case.day == case.today else case.on(case.day)
    if first is None:
        return _never_ready(case, plan, f"{case.name.capitalize()} {verb} {when_}")
    years = (first - case.day).days
    headline = f"{case.name.capitalize()} {verb} {when_}: first picking about {case.on(first)}"
    if soon is not None and late_ is not None and late_ > soon:
        headline += f" ({case.between(soon, late_)})"
    verdict: Verdict | None = None
    chance: float | None = None
    if years < LONG_DAYS and plan.margin_days is not None:
        chance = round(plan.chance, 2)
        if not case.day_said and case.day != case.today and plan.chance < case.terms.general.yes_from:
            headline += f", but {_end_words(case, plan)}"
        elif plan.chance < case.terms.general.tight_from:
            verdict = "no"
            headline += f", but {_end_words(case, plan)}: a crop is {percent(plan.chance)} likely"
        elif plan.chance < case.terms.general.yes_from:
            verdict = "tight"
            headline += f", {percent(plan.chance)} likely to be ready before {_end_words(case, plan)}"
    if wanted is not None and verdict != "no":
        verdict, lead = _by_then(first, late_, wanted)
        headline = f"{lead} by {case.on(wanted)}. {headline}"
    picking = case.terms.crop.maturity.picking_days
    details = [f"That is about {days_word(years)} from the start."]
    if picking and years < LONG_DAYS and verdict != "no":
        details.append(
            f"Picking goes on for about {picking / 7:.0f} weeks."
            if picking >= 21
            else f"You have about {picking:.0f} days to pick it."
        )
    if case.terms.stands:
        details.append("After that it keeps in the ground: pick it as you want it, frost or not.")
    for note in (case.terms.crop.maturity.harvest_note, case.terms.crop.maturity.ripening_note):
        if note:
            details.append(worded(note, Manner(case.units)))
    numbers = [Number("first_pick", first, "date", "first picking", case.terms.base)]
    if soon is not None and late_ is not None:
        numbers.append(Number("first_pick_early", soon, "date", "at the earliest", case.terms.base))
        numbers.append(Number("first_pick_late", late_, "date", "at the latest", case.terms.base))
    days = (first - case.day).days
    few = days <= DAYS_TOLD
    numbers.append(
        Number("days_to_pick", days, "days", "days from start to picking", case.terms.base, shown=few)
    )
    kept = ("set_out",) if case.terms.rule else ("set_out", "first_frost", "margin_days")
    numbers += [n for n in plan_numbers(case, plan) if n.name in kept]
    return Reply(
        case=case,
        verdict=verdict,
        headline=headline + ".",
        numbers=tuple(numbers),
        details=tuple(details),
        chance=chance,
        marks=plan_marks(case, plan),
        assumptions=(*_start_assumed(case, verb), *assumed(case)),
        working=plan_working(case, plan),
        cautions=case.terms.crop.cautions,
        do=f"{verb} {when_}",
        pick=case.on(first),
        sources=case.terms.sources,
    )


def _by_then(first: date, late_: date | None, wanted: date) -> tuple[Verdict, str]:
    """Whether it is ready by the day it is wanted: sure, likely enough, or not."""
    if first > wanted:
        return (
            ("tight", "Perhaps not quite ready")
            if (first - wanted).days <= SPREAD_DAYS
            else ("no", "No, not ready")
        )
    return ("yes", "Yes, ready") if (late_ or first) <= wanted else ("tight", "Probably ready")


def _start_assumed(case: Case, verb: str) -> tuple[str, ...]:
    """What is taken where the start was not told, so that nobody reads it as their own date."""
    if case.day_said:
        return ()
    return (
        f"You didn't say when, so I assumed they were {verb} on {case.on(case.day)}, the usual time here.",
    )


def _never_ready(case: Case, plan: Plan, started: str) -> Reply:
    """The season ends first: how far the crop would get."""
    grown = share_grown(case, plan)
    end = "it turns too cold" if plan.end is None else f"it turns too cold about {case.on(plan.end)}"
    told = case.day_said or case.day == case.today
    would = "would" if told else "would probably"
    ready = f"{would} not be ready before" if grown is None else f"{would} be {how_far_grown(grown)} when"
    return Reply(
        case=case,
        verdict="no" if told else None,
        headline=f"{started} {ready} {end}.",
        numbers=tuple(
            n for n in plan_numbers(case, plan) if n.name in ("set_out", "first_frost", "season_end")
        ),
        chance=0.0,
        changes=tuple(cover_gain(case, plan)),
        marks=plan_marks(case, plan),
        assumptions=assumed(case),
        working=plan_working(case, plan),
        do="-",
        sources=case.terms.sources,
    )


def _end_words(case: Case, plan: Plan) -> str:
    if plan.binding == "heat":
        return "it turns too hot"
    end = "" if plan.end is None else f" about {case.on(plan.end)}"
    return f"it turns too cold{end}" if plan.binding == "cold" else f"a killing frost comes{end}"


def _range(case: Case, plan: Plan) -> tuple[date | None, date | None, date | None]:
    """First picking, and the range of it: the variety's spread, or that of early and late kinds."""
    days = case.terms.crop.maturity.days
    _, started = case.year.day_number(case.day)
    standing = case.terms.after_winter_degree_days is not None and case.terms.rule in ("overwinter", "crown")
    wintered = standing and (started > case.year.hottest or started <= PAST_MIDWINTER_DAYS)
    if (days.mid >= LONG_DAYS or wintered) and case.terms.rule:
        low, high = days.early or days.mid, days.late or days.mid
        middle = days.mid
        if wintered and plan.first_pick is not None:
            middle = float((plan.first_pick - case.day).days)
        elif started < case.year.hottest and case.terms.spring_days is not None:
            middle = spring_planted_days(case.season, started)
        if middle != days.mid:
            low, high = middle - CALENDAR_SPREAD_DAYS, middle + CALENDAR_SPREAD_DAYS
        told = (later(case.day, middle), later(case.day, low), later(case.day, high))
        return in_picking_time(case, told) if case.terms.rule == "crown" else told
    spread = 1.5 * case.terms.general.maturity_spread * case.terms.dtm
    picks = []
    for dtm in (case.terms.dtm, case.terms.dtm - spread, case.terms.dtm + spread):
        moved = case.season.with_variety(with_dtm(case.terms, dtm)).plan(
            case.method, case.day, wait=case.method == "indoors"
        )
        picks.append(moved.first_pick)
    return picks[0], picks[1], picks[2]
