"""Hardening off: how many days, the plan day by day, the first outing, and which nights they come in.

Plants raised indoors meet sun, wind and cold a little at a time over one to two weeks. It should slow
growth, not stop it: cauliflower and cucumber are spoiled by too much, broccoli held long in the cold buttons.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from gardenmate.core.answer import Answer, Mark, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date, show_temp
from gardenmate.core.world import World
from gardenmate.plantings.jobs import PLANTING, planned_for
from gardenmate.records import replace
from gardenmate.topics.season.set_out import set_out_window
from gardenmate.topics.seedlings import hardening_begun as begun
from gardenmate.topics.seedlings import hardening_fall, planting_heat
from gardenmate.topics.seedlings import hardening_nights as nights
from gardenmate.topics.seedlings.hardening_begun import days_done
from gardenmate.topics.seedlings.hardening_care import first_outing, held_too_long, sunburn
from gardenmate.topics.seedlings.hardening_facts import Hardening, hardening_of
from gardenmate.topics.seedlings.hardening_reply import crop_table, day_of_plan, plan_table, reply
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import finished
from gardenmate.topics.shared.grammar import listed, sentence, span, when
from gardenmate.topics.shared.raising import Named, asks, named_crops
from gardenmate.topics.shared.seedling_age import age_weeks, of_their_age

_TOO_EARLY_DAYS = 14  # this long before hardening is due the answer to a question about nights says so
_PLAN = frozenset({"plan"})
_DAYS = frozenset({"days"})
_NEED = frozenset({"need", "skip"})
_LIMIT = frozenset({"limit"})
_HOLD = frozenset({"hold"})
_NIGHT = frozenset({"tonight", "bring-in"})


def answer(question: Request, world: World) -> Answer:
    """Plan, days, first outing, nights in or out, too early or too late, held too long."""
    found, aged = _answer(question, world), of_their_age(age_weeks(question), named_crops(question, world))
    return finished(replace(found, details=(*found.details, *aged)) if aged else found)


def _answer(question: Request, world: World) -> Answer:
    crops = named_crops(question, world)
    if crops and all("not-hardened" in n.crop.traits for n in crops):
        return _not_needed(question, world, crops)
    kept = tuple(hardening_of(n, world) for n in crops)
    wanted = asks(question)
    for rule in RULES:
        found = rule(question, world, kept, wanted)
        if found is not None:
            return found if rule in COUNTS_DAYS else begun.with_days_said(found, question, world, kept)
    return begun.with_days_said(_plan(question, world, kept), question, world, kept)


Rule = Callable[[Request, World, tuple[Hardening, ...], frozenset[str]], Answer | None]


def _held(
    question: Request, world: World, kept: tuple[Hardening, ...], wanted: frozenset[str]
) -> Answer | None:
    return held_too_long(question, world, kept) if wanted & _HOLD and kept else None


def _at_night(
    question: Request, world: World, kept: tuple[Hardening, ...], wanted: frozenset[str]
) -> Answer | None:
    """The nights typed, tonight, the day to bring them in for, or the limit."""
    if nights.about_nights(question, world, wanted & _NIGHT):
        told = nights.answer(question, world, kept, bring_in="bring-in" in wanted)
        return _with_too_early(told, question, world, kept)
    if "bring-in" in wanted and hardening_fall.asks_when_to_bring_in(question):
        timed_in = hardening_fall.bring_in_by(question, world, kept)
        if timed_in is not None:
            return timed_in
    if wanted & _NIGHT and question.ask.temperature_c is None:
        return nights.usual_answer(question, world, kept, bring_in="bring-in" in wanted)
    return nights.limit_answer(question, world, kept) if wanted & _LIMIT else None


def _day_out(
    question: Request, world: World, kept: tuple[Hardening, ...], wanted: frozenset[str]
) -> Answer | None:
    """Leaves burnt, planting on a hot day, the first outing."""
    warm = question.ask.temperature_c is not None
    if "sunburn" in wanted:
        return sunburn(question, world, kept)
    if "first-day" not in wanted and warm and planting_heat.about_planting_in_heat(question, world):
        return planting_heat.answer(question, world)
    return first_outing(question, world, kept) if "first-day" in wanted or warm else None


def _under_way(
    question: Request, world: World, kept: tuple[Hardening, ...], wanted: frozenset[str]
) -> Answer | None:
    """Days behind them: may they be planted, are so many enough, what comes on this day of the plan."""
    done = days_done(question, world.today) if kept else None
    if done is not None:
        return begun.answer(question, world, kept, done)
    day = question.first("day", "plan")
    if day is not None:
        return day_of_plan(question, world, kept, round(day.number))
    return begun.enough(question, world, kept)


def _days_wanted(
    question: Request, world: World, kept: tuple[Hardening, ...], wanted: frozenset[str]
) -> Answer | None:
    """How many days, where that is asked."""
    return _how_many_days(question, world, kept) if wanted & _DAYS and not wanted & _NEED else None


def _need_or_time(
    question: Request, world: World, kept: tuple[Hardening, ...], wanted: frozenset[str]
) -> Answer | None:
    """Whether it must be done, whether to start now."""
    if wanted & _NEED:
        return _needed(question, world, kept)
    if len(kept) != 1:
        return None
    timed = _start_now(question, world, kept[0]) if not wanted & _PLAN else None
    return _how_many_days(question, world, kept) if timed is None and not wanted else timed


RULES: tuple[Rule, ...] = (_held, _at_night, _day_out, _under_way, _days_wanted, _need_or_time)
COUNTS_DAYS: tuple[Rule, ...] = (_held, _under_way, _days_wanted)
"""Rules whose answer is itself about the number of days said."""


def _with_too_early(told: Answer, question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """Nights asked about weeks before hardening is due: the answer says so as well."""
    if len(kept) != 1 or question.cue("stage") is not None or question.ask.days is not None:
        return told
    out = _set_out_day(question, world, kept[0])
    if out is None or (out - world.today).days - kept[0].days[1] < _TOO_EARLY_DAYS:
        return told
    first = out - timedelta(days=round(kept[0].days[1]))
    weeks = plural(round((first - world.today).days / 7), "week")
    line = (
        f"It is about {weeks} too early to harden {kept[0].plants}: planting out is about "
        f"{show_date(out, world.today)}, so start about {show_date(first, world.today)}."
    )
    return replace(told, headline=f"{told.headline} {line}")


def _not_needed(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    return Answer(
        question=question,
        verdict="no",
        headline=f"No: {listed(n.name for n in crops)} grows where it is sown or planted: nothing to harden.",
        details=("Sprouted outdoors, it meets sun, wind and cold from the first day.",),
        cautions=cautions(world.facts, "hardening-off").texts,
        sources=tuple(world.facts.table("raising")["hardening"]["not_needed"]["sources"]),
        working=("Hardening is for plants raised indoors or under glass.",),
    )


# ------------------------------------------------------------------------------------------ need, days
def _needed(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """Must it be done? Yes for everything raised indoors; may it be skipped? no."""
    if "skip" in asks(question):
        return _not_skipped(question, world, kept)
    if not kept:
        headline = "Yes: harden off everything raised indoors for 7 to 14 days before you plant it out."
    else:
        first = kept[0]
        headline = (
            f"Yes, if you raised the {listed(k.many for k in kept)} indoors: give the plants {span(*first.days)} days "
            "outdoors, a little longer each day. Bring them in on nights below "
            f"{show_temp(first.night_c, world.units)}."
        )
    return reply(
        question, world, kept, "yes", headline,
        extra=("Plants sown outdoors or raised in an open cold frame are hard already.",),
    )  # fmt: skip


def _not_skipped(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """May it be left out? No; a cover outdoors shelters, so it can be shorter, never nothing."""
    names = listed(k.name for k in kept) or "seedlings"
    days = span(*kept[0].days) if kept else "7 to 14"
    covered = question.cue("cover") in ("fleece", "tunnel", "cloche", "frame", "plastic")
    headline = f"No, do not skip it: {names} raised indoors want {days} days of it, a little more each day."
    if covered:
        headline = (
            f"No, do not skip it: a cover softens sun and wind, so {names} raised indoors can do with about "
            f"half of the usual {days} days, not with none."
        )
    return reply(
        question, world, kept, "no", headline,
        extra=("Plants sown outdoors or raised in an open cold frame are hard already.",),
    )  # fmt: skip


def _how_many_days(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """How long it takes; with days already done, how many are left."""
    if not kept:
        return _plan(question, world, kept)
    first = kept[0]
    usual = first.usual_days
    done = question.ask.days
    if len(kept) == 1 and done is not None:
        left_low, left_high = max(0, round(first.days[0] - done)), max(0, round(first.days[1] - done))
        if left_high == 0:
            headline = f"Enough: {done:g} days out is plenty for {first.many}; plant out when nights allow."
        else:
            headline = (
                f"{sentence(first.name)} has had {done:g} days; give it {span(left_low, left_high)} more, "
                "with the last two or three nights out."
            )
    elif len(kept) == 1:
        headline = (
            f"Harden off {first.many} for {span(*first.days)} days, usually {usual}. Leave them out for the last two "
            f"or three nights, if those stay at {show_temp(first.night_c, world.units)} or more."
        )
    else:
        headline = f"{sentence(listed(f'{k.name} {span(*k.days)} days' for k in kept))}."
    return reply(question, world, kept, None, headline, table=crop_table(kept, world))


def _start_now(question: Request, world: World, kept: Hardening) -> Answer | None:
    """Too early, time, or too late to start? None while neither the place nor a set-out date is known."""
    out = _set_out_day(question, world, kept)
    if out is None:
        return None
    first, last = out - timedelta(days=round(kept.days[1])), out - timedelta(days=round(kept.days[0]))
    verdict: Verdict
    today = world.today
    if today < first:
        verdict = "no"
        headline = (
            f"Not yet: plant {kept.many} out about {show_date(out, today)}, so start hardening them off between "
            f"{show_date(first, last if first.year == last.year else today)} and {show_date(last, today)}."
        )
    elif today <= last:
        verdict = "yes"
        headline = (
            f"Yes, start now: plant {kept.many} out about {show_date(out, today)}, "
            f"{(out - today).days} days from now."
        )
    else:
        verdict = "yes"
        ready = today + timedelta(days=round(kept.days[0]))
        headline = (
            f"Yes, start today: it is planting time for {kept.many}, and after {round(kept.days[0])} days of "
            f"hardening you can plant out on {show_date(ready, today)}."
        )
        out = ready
    return reply(
        question,
        world,
        (kept,),
        verdict,
        headline,
        table=plan_table(kept, world, out),
        numbers=(
            Number(
                "harden_from", max(first, today) if verdict == "yes" else first, "date", "start hardening"
            ),
            Number("set_out", out, "date", "plant out"),
        ),
        marks=(Mark("start hardening", first), Mark("plant out", out)),
    )


def _set_out_day(question: Request, world: World, kept: Hardening) -> date | None:
    said = question.ask.date
    begins = _said_start(question, world)
    if begins is not None:
        return begins + timedelta(days=kept.usual_days)
    if said is not None and said > world.today:
        return said
    if kept.named is None:
        return None
    planned = planned_for(world.journal, kept.named.crop.base, PLANTING, world.today)
    window = set_out_window(kept.named.crop, world)
    return planned or (None if window is None else max(window.best_from, window.earliest))


def _said_start(question: Request, world: World) -> date | None:
    """ "Hardening off from Saturday": the day named is the first of the plan, not the day of planting."""
    said = question.ask.date
    if said is None or said < world.today or not question.has("day", "from"):
        return None
    return said


# ------------------------------------------------------------------------------------------------ plan
def _plan(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """The plan day by day, back from set-out when the date is known."""
    first = kept[0] if kept else hardening_of(None, world)
    out = _set_out_day(question, world, first) if kept else question.ask.date
    days = first.usual_days
    if out is not None:
        out = max(out, world.today + timedelta(days=round(first.days[0])))  # no plan begins in the past
    start = max(world.today, out - timedelta(days=days)) if out is not None else world.today
    headline = (
        f"Harden off over {span(*first.days)} days, usually {days}: shade first, a little more sun and wind each "
        f"day, and the last nights out if they stay above {show_temp(first.night_c, world.units)}."
    )
    if out is not None and kept:
        begin = when(start, world.today) if start > world.today else "now"
        headline = (
            f"Start {begin} to plant {first.many} out about {show_date(out, world.today)}: shade first, more "
            f"sun each day, and out overnight last, above {show_temp(first.night_c, world.units)}."
        )
    return reply(
        question,
        world,
        kept,
        None,
        headline,
        table=plan_table(first, world, out),
        numbers=() if out is None else (
            Number("harden_from", start, "date", "start hardening"),
            Number("set_out", out, "date", "plant out"),
        ),
        marks=() if out is None else (Mark("start hardening", start), Mark("plant out", out)),
        steps=_RULES,
    )  # fmt: skip


_RULES = (
    "Water a little less often, never to wilting, and give no feed.",
    "Keep them in on windy days, and on days that do not warm up.",
    "Water well the day before planting; plant on a dull, still day or in the evening.",
)
