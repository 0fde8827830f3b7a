"""Nobody is there for some days: which part of a window is left before and after."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Mark, Number, Window
from gardenmate.topics.season.case import Case, Reply, activity_words
from gardenmate.topics.season.season import ACTIVITIES
from gardenmate.topics.season.when import when

ROOTING_DAYS = 14
"""A plant set out or seed sown needs water this long (common practice)."""


def when_away(case: Case, away: tuple[date, date]) -> Reply:
    """The windows of the crop with the days away taken out; "" of a window means nothing of it is left."""
    usual = when(case)
    first, last = away
    touched = [w for w in usual.windows if w.best_from <= last and w.latest >= first]
    mine = [w for w in touched if w.activity in ACTIVITIES[case.method]] or touched[:1]
    if not mine:
        return usual._replace(
            details=(f"{case.on(first)} to {case.on(last)} away does not matter for it.", *usual.details)
        )
    window = mine[0]
    before, after = _before(case, window, first), _after(window, last)
    words = activity_words(case.terms, window.activity)
    lead = f"{case.name.capitalize()}: {words}"
    crop, numbers = case.terms.base, []
    good_before = 0 if before is None else (min(before[1], window.best_to) - before[0]).days + 1
    good_after = 0 if after is None else (min(after[1], window.best_to) - after[0]).days + 1
    best_after = after is not None and good_after >= good_before
    if after is not None:
        numbers.append(Number("start_from", after[0], "date", f"{words} from, once back", crop))
        numbers.append(Number("start_latest", after[1], "date", f"{words}, latest", crop))
    if after is not None and (best_after or before is None):
        until = max(after[0], min(after[1], window.best_to))
        head = f"{lead} when you are back, {_words(case, (after[0], until))}"
        if before is not None:
            head += f"; or before you go, {_words(case, before)}"
    elif before is not None:
        head = f"{lead} before you go, {_words(case, before)}"
        if after is not None:
            head += f"; or when you are back, {_words(case, after)}"
    else:
        whole = _words(case, (window.earliest, window.latest))
        head = f"{lead}: its whole time falls in the days you are away, {whole}"
    chosen = after if after is not None and (best_after or before is None) else before
    inside = before is not None and before[0] <= case.today <= before[1]
    return usual._replace(
        told=True,
        verdict="no" if chosen is None else "yes" if inside else None,
        headline=f"{head}.",
        numbers=(*numbers, *_picking(case, window, chosen)),
        details=(
            f"New plants and seed beds want water for about {ROOTING_DAYS} days; a job done just before "
            "leaving needs a helper or a mulch and a soaker hose.",
            *usual.details,
        ),
        marks=(
            Mark("today", case.today),
            Mark("away from", first),
            Mark("back", last),
            *(() if chosen is None else (Mark(words, chosen[0]),)),
        ),
    )


def _picking(case: Case, window: Window, chosen: tuple[date, date] | None) -> tuple[Number, ...]:
    """The first picking of a start on the first of the days chosen."""
    if chosen is None:
        return ()
    method = next(m for m, activities in ACTIVITIES.items() if window.activity in activities)
    plan = case.season.plan(method, chosen[0])
    if plan.first_pick is None:
        return ()
    return (Number("first_pick", plan.first_pick, "date", "first picking then", case.terms.base),)


def _before(case: Case, window: Window, first: date) -> tuple[date, date] | None:
    """What of the window is left before leaving, from its good part on where there is any."""
    until = min(window.latest, first - timedelta(days=1))
    begins = max(case.today, window.best_from if window.best_from <= until else window.earliest)
    return (begins, until) if begins <= until else None


def _after(window: Window, last: date) -> tuple[date, date] | None:
    """What of the window is left after coming back."""
    begins = max(window.best_from, last + timedelta(days=1))
    return (begins, window.latest) if begins <= window.latest else None


def _words(case: Case, days: tuple[date, date]) -> str:
    a, b = days
    return case.on(a) if a == b else f"{case.on(a)} to {case.on(b)}"
