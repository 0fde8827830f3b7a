"""Is it too late? The figures, details and changes beside the first line."""

from __future__ import annotations

from datetime import timedelta

from gardenmate.core.answer import Mark, Number, Table, Window
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.season.case import (
    Case,
    Reply,
    activity_words,
    an,
    assumed,
    done,
)
from gardenmate.topics.season.changes import cover_gain, for_late, quick_crop, sensitivity
from gardenmate.topics.season.finding import StartFinding, Why
from gardenmate.topics.season.late_words import LATE_WORDS, fits_still
from gardenmate.topics.season.numbers import LONG_DAYS, plan_marks, plan_numbers, plan_working
from gardenmate.topics.season.phrases import shade_wanted, temperatures, usual_warmth
from gardenmate.topics.season.plan import Plan, count_back
from gardenmate.topics.season.replay import replay, replay_words, strip

_ALWAYS_DAYS = 300
"""From this many days to spare on nothing ends the season (plan.py)."""


def late_reply(case: Case, found: StartFinding) -> Reply:
    """The finding about "too late?" as a reply."""
    head = LATE_WORDS[found.why](case, found)
    plan = found.plan
    return Reply(
        case=case,
        verdict=found.verdict,
        headline=head,
        numbers=_late_numbers(case, found),
        details=_late_details(case, found),
        table=None if plan is None else _past_years(case, plan),
        changes=_late_changes(case, found),
        chance=found.chance,
        windows=found.windows,
        marks=plan_marks(case, plan) if plan is not None else _window_marks(case, found),
        assumptions=assumed(case, variety=plan is not None),
        working=plan_working(case, plan) if plan is not None else _window_lines(case, found),
        do=_do(case, found),
        pick=_pick(case, found),
        sources=case.terms.sources,
    )


def _late_numbers(case: Case, found: StartFinding) -> tuple[Number, ...]:
    crop, plan = case.terms.base, found.plan
    if found.why is Why.HOT:
        soon = found.window
        next_ = (
            () if soon is None else (Number("start_from", soon.best_from, "date", "next good start", crop),)
        )
        return (*temperatures("daily_mean", "normal daily mean", usual_warmth(case)[0], case), *next_)
    if plan is None:
        return (
            () if found.ready is None else (Number("first_pick", found.ready, "date", "first picking", crop),)
        )
    numbers = plan_numbers(case, plan)
    untold = ("chance", "start_from") if found.verdict == "no" else ("chance",)
    numbers = tuple(n for n in numbers if n.name not in untold)
    if found.chance is not None:
        mixed = found.why is Why.VARIETY and found.verdict == "tight"
        label = "chance of a crop, early to mid-season varieties" if mixed else "chance of a crop"
        numbers = (Number("chance", round(100 * found.chance), "%", label, crop), *numbers)
    longest = ()
    if found.longest is not None and found.verdict != "no":
        longest = (Number("longest_dtm", found.longest, "days", "safe with a variety of up to", crop),)  # type: ignore[assignment]
    numbers = (*longest, *(n for n in numbers if n.name != "longest_dtm"))
    spread = found.spread
    if spread is None or found.why is Why.TIGHT:
        return numbers
    quick = "chance_early" if found.why is Why.VARIETY else "chance_covered"
    odds = tuple(
        Number(name, round(100 * chance), "%", f"chance with {an(days)}-day variety", crop)
        for name, days, chance in (
            (quick, spread.early_days, spread.early_chance),
            ("chance_usual", spread.usual_days, spread.usual_chance),
        )
    )
    return (*numbers, *odds)


def _late_details(case: Case, found: StartFinding) -> tuple[str, ...]:
    plan = found.plan
    if found.why is Why.SECOND_BEST:
        note = worded(case.terms.crop.growth.heat_or_bolting_note, Manner(case.units))
        return (note,) if note else ()
    if plan is None:
        note = worded(
            case.terms.crop.autumn.note or case.terms.crop.maturity.harvest_note, Manner(case.units)
        )
        return (note,) if note and found.why is not Why.HOT else ()
    if found.why is Why.NO_SEASON:
        return ()
    if found.window is not None and found.window.earliest > case.day and found.verdict != "no":
        first = plan.first_pick
        return () if first is None else (f"First picking then about {case.on(first)}.",)
    return tuple(line for line in _of_the_plan(case, found, plan) if line)


def _of_the_plan(case: Case, found: StartFinding, plan: Plan) -> list[str]:
    lines: list[str] = []
    now, possible = found.standing.open, found.verdict != "no"
    if case.terms.stands and plan.binding in ("frost", "cold") and possible:
        lines.append(
            "Frost doesn't end it: what has grown keeps in the ground, and you pick it as you want it."
        )
    if plan.waits > 3 and plan.opens is not None and case.method != "indoors" and possible:
        opens = case.on(plan.opens)
        lines.append(f"Most growers begin about {opens}; before that frost or cold soil holds it back.")
    if now is not None and possible:
        lines.append(_runs_to(case, now))
    if possible:
        lines += shade_wanted(case, usual_warmth(case)[0])
    spare = plan.margin_days is not None and 0 <= plan.margin_days < _ALWAYS_DAYS
    if spare and round(plan.terms.wanted_days) > 1:
        lines.append(f"The days to spare are those left after {plan.terms.wanted_days:.0f} days of picking.")
    lines.append(sensitivity(case, plan) or "")
    if plan.binding not in ("heat", "wanted"):
        lines.append(_count_back_differs(case, found, plan) or "")
    lines.append(_replay(case, plan) or "")
    return lines


def _runs_to(case: Case, now: Window) -> str:
    """How long the window runs, with the days of it that are tight marked."""
    past = now.best_to < case.day
    best = "its best part is past" if past else f"best by {case.on(now.best_to)}"
    tight = ""
    if now.sure_to is not None and case.day <= now.sure_to < now.latest:
        tight = f", tight after {case.on(now.sure_to)}"
    return f"The window runs to {case.on(now.latest)}{tight}; {best}."


def _count_back_differs(case: Case, found: StartFinding, plan: Plan) -> str | None:
    """Say so when the classic count-back and the thermal time disagree about today."""
    back = count_back(case.terms, case.year, case.method, case.year.origin(case.day))
    if plan.ready_in_days is not None and plan.ready_in_days > LONG_DAYS:
        return None  # it stands the winter: nothing is counted back from the first frost
    if back is None or (not case.terms.crop.warm and not case.terms.crop.autumn.possible):
        return None
    if found.verdict == "yes" and back < case.day - timedelta(days=7):
        return (
            f"Counting back days from frost gives {case.on(back)} as the last date; your climate "
            "allows later."
        )
    if found.verdict == "no" and back > case.day + timedelta(days=7):
        return (
            f"Counting back days from frost would allow until {case.on(back)}, but it isn't warm enough here to "
            "ripen a crop in that time."
        )
    return None


def _replay(case: Case, plan: Plan) -> str | None:
    """Past years on record, when a station history is there."""
    if case.site.history is None or plan.binding == "heat":
        return None
    return replay_words(replay(plan, case.year, case.site.history), case.site.history.label)


def _past_years(case: Case, plan: Plan) -> Table | None:
    """The years on record, a sign each."""
    if case.site.history is None or plan.binding == "heat":
        return None
    return strip(replay(plan, case.year, case.site.history))


def _late_changes(case: Case, found: StartFinding) -> tuple[str, ...]:
    plan = found.plan
    if found.why is Why.HOT:
        return ("Shade, evening sowing and steady water help only in the last weeks before that.",)
    if found.verdict == "yes" or plan is None:
        return ()
    if found.why is Why.NO_SEASON:
        ways = tuple(cover_gain(case, plan) + quick_crop(case))
        return ways or ("A greenhouse or a tall tunnel is what it takes.",)
    if found.window is not None and found.window.earliest > case.day and found.verdict == "tight":
        return ()
    return for_late(case, plan, None if found.why in (Why.VARIETY, Why.TIGHT) else fits_still(found))


def _do(case: Case, found: StartFinding) -> str:
    plan, soon = found.plan, found.standing.coming
    if found.why is Why.SECOND_BEST:
        return "plant now, for smaller bulbs"
    if found.verdict == "no" or (found.window is not None and found.window.earliest > case.day):
        window = found.window or soon
        if window is None or found.why is Why.NO_SEASON:
            return "-"
        return f"{activity_words(case.terms, window.activity)} from {case.on(window.best_from)}"
    if plan is None:
        return case.doing
    if plan.set_out is not None and plan.method == "indoors":
        return f"sow now, set out {case.on(plan.set_out)}"
    words = done(case.terms, case.method)
    return {"sown": "sow now", "planted": "plant now"}.get(words, "set out now")


def _pick(case: Case, found: StartFinding) -> str:
    if found.ready is not None:
        return case.on(found.ready)
    first = None if found.plan is None else found.plan.first_pick
    return "" if found.verdict == "no" or first is None else case.on(first)


def _window_marks(case: Case, found: StartFinding) -> tuple[Mark, ...]:
    window = found.window
    if window is None:
        return ()
    return (Mark("today", case.today), Mark("from", window.best_from), Mark("to", window.best_to))


def _window_lines(case: Case, found: StartFinding) -> tuple[str, ...]:
    lines = [
        f"{activity_words(case.terms, w.activity)}: {case.on(w.earliest)}, best {case.on(w.best_from)} to "
        f"{case.on(w.best_to)}, latest {case.on(w.latest)}."
        for w in found.windows
    ]
    mean, soil = usual_warmth(case)
    if found.ready is not None:
        lines.append(f"About {(found.ready - case.day).days} days from a spring planting.")
    return (*lines, f"Normal daily mean {case.temp(mean)}, soil {case.temp(soil)} on {case.on(case.day)}.")
