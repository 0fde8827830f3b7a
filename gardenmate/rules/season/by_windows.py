"""Crops with a rule of their own, judged by their windows; and what of a crop can be started on a day."""

from __future__ import annotations

from datetime import timedelta

from gardenmate.answer import Mark, Verdict, Window
from gardenmate.rules.season.case import (
    OUTDOOR,
    Case,
    Finding,
    act,
    activity_words,
    assumed,
    best_open,
    days_word,
)
from gardenmate.rules.season.not_now import spring_planting
from gardenmate.rules.season.plan import make_plan, season_windows

JUST_CLOSED_DAYS = 75


def by_windows(case: Case, windows: tuple[Window, ...]) -> Finding:
    """Crops with a rule of their own (crowns, hardy herbs, what is planted in autumn): judged by window."""
    spring = spring_planting(case)
    if spring is not None:
        return spring
    wanted = OUTDOOR[case.method]
    mine = [w for w in windows if w.activity in wanted] or list(windows)
    open_now = best_open(mine, case.day)
    what = act(case.terms, case.method)
    upcoming = next((w for w in mine if w.earliest > case.day), None)
    closed = just_closed(case, wanted)
    if open_now is not None:
        good = open_now.best_from <= case.day <= open_now.best_to
        verdict: Verdict = "yes" if good else "tight"
        best = f"best {case.on(open_now.best_from)} to {case.on(open_now.best_to)}"
        extra = f"{best}, at the latest {case.on(open_now.latest)}"
        head = f"Not too late to {what}{'' if good else ', but not the best time'}: {extra}."
    elif upcoming is not None and (upcoming.earliest - case.day).days <= 120 and closed is None:
        verdict = "yes"
        head = (
            f"Not too late for {case.name}: {activity_words(case.terms, upcoming.activity)} "
            f"{case.on(upcoming.best_from)} to {case.on(upcoming.best_to)}."
        )
    else:
        verdict = "no"
        when = (
            ""
            if upcoming is None
            else f" Next: {case.on(upcoming.best_from)} to {case.on(upcoming.best_to)}."
        )
        last = "this season" if closed is None else f"by {days_word((case.day - closed.latest).days)}"
        head = f"Too late to {what} {last}.{when}"
    note = case.terms.crop.autumn.note or case.terms.crop.maturity.harvest_note
    return Finding(
        case=case,
        verdict=verdict,
        headline=head,
        details=(note,) if note else (),
        windows=windows,
        marks=_window_marks(case, open_now or upcoming),
        assumptions=assumed(case, variety=False),
        working=tuple(_window_line(case, w) for w in windows),
        do=what if open_now else ("-" if upcoming is None else f"{case.on(upcoming.best_from)}"),
        sources=case.terms.sources,
    )


def just_closed(case: Case, activities: tuple[str, ...]) -> Window | None:
    """The window of these activities that closed in the last weeks before the day, None when none did."""
    before = season_windows(case.terms, case.year, case.day - timedelta(days=JUST_CLOSED_DAYS))
    closed = [w for w in before if w.activity in activities and w.latest < case.day]
    return closed[-1] if closed else None


def standing_now(case: Case) -> Finding:
    """What of this crop can be started on the day, by any method: one row of "what can I sow now"."""
    windows = season_windows(case.terms, case.year, case.day)
    open_now = [w for w in windows if w.earliest <= case.day]
    good = [w for w in open_now if w.best_from <= case.day <= w.best_to]
    candidates = good or open_now or list(windows[:1])
    chosen = candidates[-1] if candidates else None
    verdict: Verdict = "yes" if good else ("tight" if open_now else "no")
    if chosen is None:
        return Finding(case=case, verdict="no", headline=f"No season for {case.name} here.", do="-")
    words = activity_words(case.terms, chosen.activity)
    method = next(m for m, acts in OUTDOOR.items() if chosen.activity in acts)
    begins = max(case.day, chosen.earliest if verdict != "no" else chosen.best_from)
    plan = make_plan(case.terms, case.year, method, begins)
    until = (
        f"{words}, best by {case.on(chosen.best_to)}" if good else f"{words}, latest {case.on(chosen.latest)}"
    )
    if case.day < chosen.best_from:
        until = f"{words} from {case.on(chosen.best_from)}"
    return Finding(
        case=case,
        verdict=verdict,
        headline=f"{case.name.capitalize()}: {until}.",
        windows=windows,
        do=until,
        pick="" if plan.first_pick is None else case.on(plan.first_pick),
        assumptions=case.site.notes,
        sources=case.terms.sources,
    )


def _window_marks(case: Case, window: Window | None) -> tuple[Mark, ...]:
    if window is None:
        return ()
    return (Mark("today", case.today), Mark("from", window.best_from), Mark("to", window.best_to))


def _window_line(case: Case, w: Window) -> str:
    return (
        f"{activity_words(case.terms, w.activity)}: {case.on(w.earliest)}, best {case.on(w.best_from)} to "
        f"{case.on(w.best_to)}, latest {case.on(w.latest)}."
    )
