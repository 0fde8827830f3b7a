"""Crops with a rule of their own, judged by their windows."""

from __future__ import annotations

from datetime import timedelta

from gardenmate.core.answer import Mark, Verdict, Window
from gardenmate.topics.season.case import (
    OUTDOOR,
    Case,
    Finding,
    act,
    activity_words,
    assumed,
    best_open,
    days_word,
)
from gardenmate.topics.season.not_now import spring_planting
from gardenmate.topics.season.plan import season_windows

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
        good = case.day <= open_now.best_to  # a few days before the best of it nothing is late
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


def _window_marks(case: Case, window: Window | None) -> tuple[Mark, ...]:
    if window is None:
        return ()
    return (Mark("today", case.today), Mark("from", window.best_from), Mark("to", window.best_to))


def _window_line(case: Case, w: Window) -> str:
    return (
        f"{activity_words(case.terms, w.activity)}: {case.on(w.earliest)}, best {case.on(w.best_from)} to "
        f"{case.on(w.best_to)}, latest {case.on(w.latest)}."
    )
