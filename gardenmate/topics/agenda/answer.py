"""What to do now: everything due, closing, overdue or just missed, in the order of what a miss costs.

Little time, rain, or "nothing until Saturday" re-order the list and say what each delay costs.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Answer, JobRef, Number, Verdict
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import World
from gardenmate.records import dataclass, replace
from gardenmate.topics.agenda.item import Item, wanted_crops, week_of
from gardenmate.topics.agenda.items import items
from gardenmate.topics.agenda.sowing import still_to_start
from gardenmate.topics.agenda.words import (
    PRESSING,
    STATUS,
    day_words,
    delay,
    due_words,
    good_now,
    hurts,
    lower,
    names,
    step,
    table_of,
)
from gardenmate.topics.costs.bill import currency, money
from gardenmate.topics.season.season_dates import one_site
from gardenmate.topics.shared.asked_day import asked_day
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique

_TOLD = 6  # jobs told; design value
_QUICK_MINUTES = 20  # minutes; design value
_LIGHT_FROST_C = -1.1  # degrees C, 30 F: a light frost
_FAR_DAYS = 75  # days looked ahead for what is next; design value


@dataclass(frozen=True, slots=True)
class JobSpan:
    """The days asked about, both ends included, and how the headline calls them ("this week")."""

    world: World
    until: date
    said: str
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class JobsChosen:
    """The jobs in the order to do them, those put off and why, and those missed."""

    now: tuple[Item, ...]
    off: tuple[tuple[Item, str], ...]
    missed: tuple[Item, ...]
    notes: tuple[str, ...] = ()


def answer(question: Request, world: World) -> Answer:
    """What to do in the days asked about."""
    world = _for_crops(question, world)
    if world.site is None and not world.sites and world.journal is None and not world.garden.plants:
        raise NeedPlaceError("To say what is due I need to know where you garden.")
    span = span_of(question, world)
    every = items(span.world, span.until, _tonight(question, world))
    chosen = choose(question, span, every)
    if not chosen.now and (sowing := still_to_start(question, world)) is not None:
        return sowing
    return _with_money(_listed(question, world, span, chosen), question, world)


def _listed(question: Request, world: World, span: JobSpan, chosen: JobsChosen) -> Answer:
    """The jobs as an answer."""
    site, region_note = one_site(world)
    _, said = wanted_crops(world)
    assumed = [*span.assumed]
    if site is not None and not said:
        assumed.append("You haven't told me what you grow, so I used the usual crops of a household.")
    if region_note is not None:
        assumed.append(region_note)
    if site is None:
        assumed.append("Without your place only logged batches and woody plants are known, by weeks alone.")
    assumed.append("Times are typical for a home-sized planting.")
    return Answer(
        question=question,
        verdict=_verdict(question, chosen),
        headline=_headline(question, chosen, span),
        numbers=_numbers(chosen, span),
        details=unique(chosen.notes, _details(chosen, span)),
        table=table_of(chosen.now, span.world.today, _lines(span)) if chosen.now else None,
        steps=tuple(step(item, span.world.today) for item in chosen.now[:1]),
        changes=_changes(question, world),
        cautions=_cautions(chosen, world),
        assumptions=unique(assumed),
        sources=_sources(chosen, world),
        working=_working(chosen, span),
        jobs=job_refs(chosen.now),
    )


def job_refs(jobs: Sequence[Item]) -> tuple[JobRef, ...]:
    """The jobs with the numbers they are shown under."""
    return tuple(
        JobRef(n, i.job, i.crop, i.decision_id, i.reminder, i.do) for n, i in enumerate(jobs, start=1)
    )


def _lines(span: JobSpan) -> int:
    return int(span.world.facts.table("work")["order"]["lines"])


def _for_crops(question: Request, world: World) -> World:
    """Only the crops named in a short question; a longer one tells of crops that are seen to already."""
    if not question.has("brief"):
        return world
    found = [crop.id for ref in question.crops if (crop := world.facts.crop_for(ref)) is not None]
    return replace(world, garden=replace(world.garden, wanted=tuple(found))) if found else world


def _tonight(question: Request, world: World) -> float | None:
    """The low said for tonight, here or in the answer just before; frost without a figure counts as 30 F."""
    before = world.previous.question if world.previous is not None else None
    for asked in (question, before):
        if asked is None or (asked is before and asked.topic not in ("frost", "hardening-off", "cold-frame")):
            continue
        low = asked.ask.temperature_c
        if low is not None:
            return low
        if asked.topic == "frost" and (asked.ask.when == "tonight" or asked.cue("asks") == "tonight"):
            return _LIGHT_FROST_C
    return None


def span_of(question: Request, world: World) -> JobSpan:
    """The days a question is about: a week unless it says today, a date, a month or later."""
    today = world.today
    horizon = question.cue("horizon")
    stretch = question.cue("days")
    if stretch is not None and question.ask.when != "this week":
        first, last = (date.fromisoformat(part) for part in stretch.split("/"))
        long_begun = first <= today and (last - first).days > 2  # "mid April", in the midst of it: this week
        if last >= today and not long_begun:
            start = max(first, today)
            then = world if (start - today).days < 7 else replace(world, today=start)
            if last == start:
                return JobSpan(then, last, f"on {show_date(start, today)}")
            weekend = start.weekday() == 5 and (last - start).days == 1 and (start - today).days < 7
            between = f"from {show_date(start, today)} to {show_date(last, today)}"
            return JobSpan(then, last, "this weekend" if weekend else between)
    if question.cue("asked_month") is not None:
        asked = asked_day(question, world)
        if asked.word == "now" and question.ask.when != "this week":
            return JobSpan(world, _month_end(today), "this month")
        if asked.word != "now":
            first = asked.world.today.replace(day=1)
            return JobSpan(replace(world, today=max(first, today)), _month_end(first), asked.word)
    told = _day_it_is(question, world)
    if told is not None:
        then = replace(world, today=told[0])
        return JobSpan(then, told[1], f"from {show_date(told[0], today)} to {show_date(told[1], today)}")
    if horizon == "next-month":
        first = _month_end(today) + timedelta(days=1)
        return JobSpan(replace(world, today=first), _month_end(first), "next month")
    if horizon == "month":
        return JobSpan(world, _month_end(today), "this month")
    if horizon == "next-week":
        start = today + timedelta(days=7)
        return JobSpan(replace(world, today=start), week_of(start), "next week")
    day = question.ask.date
    if day is not None and day > today and held_until(question, world) is None:
        until = min(day, today + timedelta(days=60))
        return JobSpan(world, until, f"by {show_date(until, today)}")
    if question.ask.when in ("today", "tonight") or horizon == "today":
        return JobSpan(world, today, "today")
    return JobSpan(world, week_of(today), "this week")


def _day_it_is(question: Request, world: World) -> tuple[date, date] | None:
    """The first and last day of the list where another day than the clock's is told ("it's the 5th of March"), or a
    month to come is named ("walk me through January"); None where neither is."""
    today, spans = world.today, [t for t in question.all("date") if not question.in_story(t)]
    if len(spans) != 1 or (days := spans[0].days) is None:
        return None
    first, last = days
    if last > first:
        month = first if last >= today else first.replace(year=first.year + 1)
        return None if month <= today else (month, _month_end(month))
    if first >= today:
        return None
    return first, first + timedelta(days=round(7 * (question.slots.weeks or 1)))


def _with_money(found: Answer, question: Request, world: World) -> Answer:
    """The answer with what the money told buys: seed packets at the usual price."""
    told = question.first("price")
    if told is None:
        return found
    groups = (row["packet"] for row in world.facts.table("prices")["group"].values())
    from statistics import median  # start-up seam: few lists need it

    packets = int(told.number // median(float(price) for price in groups))
    line = f"{money(currency(question, world), told.number)} buys about {plural(packets, 'packet')} of seed."
    return replace(found, details=(line, *found.details))


def _month_end(day: date) -> date:
    first = day.replace(day=28) + timedelta(days=4)
    return first - timedelta(days=first.day)


def held_until(question: Request, world: World) -> date | None:
    """The first day the grower can work again ("nothing until Saturday"), None when free."""
    said = question.cue("not_before")
    if said is not None:
        return date.fromisoformat(said)
    if question.cue("hold") == "until" and question.ask.date is not None and question.ask.date > world.today:
        return question.ask.date
    return None


# -- choosing and ordering ------------------------------------------------------------------------------
def choose(question: Request, span: JobSpan, every: tuple[Item, ...]) -> JobsChosen:
    """The jobs asked for in order; what rain, little time or absence puts off, each with what that costs."""
    _, said = wanted_crops(span.world)
    missed = tuple(i for i in every if i.status == "missed" and (said or i.decision_id is not None))
    live = [i for i in every if i.status != "missed"]
    if span.said == "today":
        live = [i for i in live if i.status != "coming"]
    jobs = question.cue("jobs")
    notes: list[str] = []
    if jobs == "missed":
        late = [i for i in live if i.status in ("overdue", "late", "closing")]
        live = late or sorted(live, key=lambda i: lost_after(i, span.world))
        if not late:
            notes.append(
                "The most urgent come first: jobs whose time runs out soon, tender crops and slow ones."
            )
    if jobs == "more" and span.world.previous is not None:
        table = span.world.previous.table
        shown = set() if table is None else {row[0].partition(". ")[2] for row in table.rows}
        live = [i for i in live if i.do not in shown]
    if jobs in ("indoors", "light", "quick", "frame"):
        live = _only(jobs, live)
        notes.append(_ONLY[jobs])
    off: list[tuple[Item, str]] = []
    weather = question.cue("weather")
    if jobs == "before-rain":
        live = sorted(live, key=lambda i: (i.status != "frost", not i.stopped_by))
        notes.append("What rain would put off comes first.")
    elif weather in ("rain", "snow"):
        dry = [i for i in live if weather not in i.stopped_by]
        off += [(i, f"{weather} puts it off") for i in live if weather in i.stopped_by]
        live = sorted(dry, key=lambda i: (i.status != "frost", i.place == "outdoors"))
    held = held_until(question, span.world)
    if held is not None:
        frost = [i for i in live if i.status == "frost"]
        off += [
            (i, f"waits until {day_words(held)}") for i in live if i.status != "frost" and not _bears(i, held)
        ]
        live = frost + [i for i in live if i.status != "frost" and _bears(i, held)]
        notes.append(f"Everything is put off until {day_words(held)}, in the order to do it then.")
    limit = question.cue("limit_minutes")
    if limit is not None:
        live, waiting = _within(live, int(float(limit)))
        off += [(i, "there isn't time for it") for i in waiting if i.status in PRESSING]
        notes.append(f"That takes about {sum(i.minutes for i in live)} of your {int(float(limit))} minutes.")
    return JobsChosen(tuple(live), tuple(off), missed, tuple(notes))


_ONLY = {
    "indoors": "Only jobs indoors or at the bench are listed.",
    "light": "Only jobs without digging or carrying are listed; most can be done sitting down.",
    "quick": "The quickest come first.",
    "frame": "Only what goes into or through the frame is listed: hardening off and setting out.",
}


_TENDER_DAYS = 14.0  # days after the last frost tender crops go out (common practice)
_DAYS_A_WEEK_INDOORS = (
    2.0  # days each week indoors brings the start forward in the order of urgency; design value
)


def lost_after(item: Item, world: World) -> float:
    """Days a job can wait, counted shorter for tender crops and for those that need weeks indoors, which cannot be
    made up for. Both allowances are design values."""
    days = float(((item.closes or item.best_by) - world.today).days)
    crop = world.facts.crop(item.crop) if item.crop in world.facts.crop_ids else None
    if crop is None:
        return days
    weeks = crop.timing.weeks_indoors or (0.0, 0.0)
    return days - (_TENDER_DAYS if crop.warm else 0.0) - _DAYS_A_WEEK_INDOORS * weeks[1]


def _only(jobs: str, live: list[Item]) -> list[Item]:
    if jobs == "indoors":
        return [i for i in live if i.place != "outdoors"]
    if jobs == "light":
        return [i for i in live if not i.heavy]
    if jobs == "frame":
        return [i for i in live if i.job in ("harden", "cover", "set-out")]
    quickest = sorted(live, key=lambda i: i.minutes)
    return [i for i in quickest if i.minutes <= _QUICK_MINUTES] or quickest[:3]


def _bears(item: Item, held: date) -> bool:
    """True when a job can wait until ``held`` without being lost."""
    return item.closes is None or item.closes >= held


def _within(live: list[Item], minutes: int) -> tuple[list[Item], list[Item]]:
    """The jobs that fit, taken in order of weight, and the rest."""
    taken: list[Item] = []
    rest: list[Item] = []
    left = minutes
    for item in live:
        if item.minutes <= left and item.status != "coming":
            taken.append(item)
            left -= item.minutes
        else:
            rest.append(item)
    return taken, rest


# -- words ------------------------------------------------------------------------------------------
def _headline(question: Request, chosen: JobsChosen, span: JobSpan) -> str:
    said = span.said
    pressing = [i for i in chosen.now if i.status in PRESSING]
    held = held_until(question, span.world)
    if question.cue("jobs") == "missed":
        return _missed_headline(chosen)
    if held is not None:
        lost = [i for i, _ in chosen.off if not _bears(i, held)]
        then = names(chosen.now, 3) or "nothing is due"
        if not lost:
            return f"Nothing is lost by waiting until {day_words(held)}: {then}."
        it = "it" if len(lost) == 1 else "them"
        return f"Before {day_words(held)}: {names(lost, 3)}; waiting loses {it}."
    if question.cue("jobs") == "rest":
        lost = _closing_in(chosen, span)
        if not lost:
            return f"Yes, take it off: nothing runs out {span.said}."
        return f"Not all of it: {names(lost, 3)} cannot wait."
    if not chosen.now:
        after = _next_job(span)
        nothing = (
            "Nothing more is on the list" if question.cue("jobs") == "more" else f"Nothing is due {span.said}"
        )
        if after is None:
            return f"{nothing}."
        return f"{nothing}. Next, {lower(after.do)} from {show_date(after.opens, span.world.today)}."
    if not pressing:
        good = [i for i in chosen.now if good_now(i, span.world.today)]
        if good:
            return f"Nothing is urgent {said}, but it is a good time to {names(good, 3)}."
        return f"Nothing is urgent {said}; you could {names(chosen.now, 3)}."
    first = chosen.now[0]
    if first.status == "frost":
        after_it = f"; then {names(chosen.now[1:], 2)}" if len(chosen.now) > 1 else ""
        return f"Tonight, first {lower(first.do)}{after_it}."
    count = len(chosen.now)
    tail = f" There are {count} jobs in all." if count > _TOLD else ""
    then = f", then {names(chosen.now[1:3], 2)}" if count > 1 else ""
    return f"{sentence(said)}, first {lower(first.do)} ({due_words(first, span.world.today)}){then}.{tail}"


def _missed_headline(chosen: JobsChosen) -> str:
    late = [i for i in chosen.now if i.status in ("overdue", "late", "closing")]
    parts = []
    if late:
        parts.append(f"late, but you can still {names(late, 4)}")
    elif chosen.now:
        parts.append(f"nothing is overdue; the most urgent jobs are to {names(chosen.now, 4)}")
    if chosen.missed:
        parts.append(f"missed: {listed(lower(i.do) for i in chosen.missed[:3])}")
    return (
        sentence(f"{'; '.join(parts)}.")
        if parts
        else "Nothing is overdue, and nothing was missed in two weeks."
    )


def _next_job(span: JobSpan) -> Item | None:
    ahead = items(span.world, span.world.today + timedelta(days=_FAR_DAYS))
    coming = [i for i in ahead if i.status == "coming"]
    return min(coming, key=lambda i: (i.opens, i.do), default=None)


def _closing_in(chosen: JobsChosen, span: JobSpan) -> list[Item]:
    """Jobs that are lost or clearly late when nothing is done in the span."""
    return [
        i
        for i in chosen.now
        if i.status in ("frost", "overdue") or (i.closes is not None and i.closes <= span.until)
    ]


def _details(chosen: JobsChosen, span: JobSpan) -> list[str]:
    today = span.world.today
    told = [(i, why) for i, why in chosen.off if hurts(i, today) or i.status in ("late", "due")]
    lines = [delay(item, why, today) for item, why in told]
    rest = len(chosen.off) - len(told)
    if rest:
        lines.append(f"{plural(rest, 'more job')} put off can wait without harm.")
    for item in chosen.missed[: span.world.facts.table("work")["order"]["missed_limit"]]:
        tail = f" {sentence(item.way_out)}." if item.way_out else ""
        closed = show_date(item.closes or item.best_by, today)
        lines.append(f"{item.do} (it closed {closed}): {item.cost}.{tail}")
    for item in chosen.now[:3]:
        if item.status in ("closing", "overdue") and item.reminder is None:
            lines.append(f"{item.do}: if you miss it, {item.cost}.")
    return lines


def _numbers(chosen: JobsChosen, span: JobSpan) -> tuple[Number, ...]:
    found = [
        Number("jobs", len(chosen.now), "", f"jobs {span.said}"),
        Number(
            "minutes",
            sum(i.minutes for i in chosen.now if i.status in PRESSING),
            "minutes",
            "urgent jobs",
        ),
    ]
    for item in chosen.now[:_TOLD]:
        found.append(Number("best_by", item.best_by, "date", item.do, item.crop or None, shown=False))
        if item.closes is not None:
            found.append(Number("closes", item.closes, "date", item.do, item.crop or None, shown=False))
    return tuple(found)


def _verdict(question: Request, chosen: JobsChosen) -> Verdict | None:
    """Only "can I take the week off?" asks for one."""
    if question.cue("jobs") != "rest":
        return None
    statuses = {i.status for i in chosen.now}
    if "frost" in statuses or "overdue" in statuses or "closing" in statuses:
        return "no"
    return "tight" if "late" in statuses else "yes"


_CAUTIONS = (("prune", "blades"), ("cover", "no_flame"), ("mat-off", "electricity"))


def _cautions(chosen: JobsChosen, world: World) -> tuple[str, ...]:
    listed_jobs = {item.job for item in chosen.now}
    keys = [key for job, key in _CAUTIONS if job in listed_jobs]
    return cautions(world.facts, "agenda", *keys).texts if keys else ()


def _changes(question: Request, world: World) -> tuple[str, ...]:
    found = []
    if not world.garden.wanted:
        found.append("Tell me what you grow ('I want leeks, peppers and tomatoes') and the list is yours.")
    if world.journal is not None and question.cue("limit_minutes") is None:
        found.append(
            "Say 'done 2', '2 until Saturday' or 'drop 3'; 'I only have an hour' or 'it is raining' re-orders it."
        )
    return tuple(found)


def _sources(chosen: JobsChosen, world: World) -> tuple[str, ...]:
    found: list[str] = list(world.facts.table("work")["order"]["sources"])
    for item in chosen.now[:_TOLD]:
        if item.crop in world.facts.crop_ids:
            found += world.facts.crop(item.crop).timing.sources
    return unique(found)


def _working(chosen: JobsChosen, span: JobSpan) -> tuple[str, ...]:
    order = span.world.facts.table("work")["order"]
    lines = [f"Order: what a miss costs (0 to 1) / (days left + {order['days_slack']})."]
    for item in chosen.now[:_TOLD]:
        lines.append(f"{item.do}: {item.miss:g}, {STATUS[item.status]}, weight {item.weight:.3f}.")
    return tuple(lines)
