"""Months, or parts of them, put to choose from: "is it a January or a March thing?", "May or June for setting out?".

Each is judged by the windows of the crop: right, possible, or neither.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from gardenmate.core.question import Request
from gardenmate.topics.season.case import Reply
from gardenmate.topics.season.days_meant import Days as Told
from gardenmate.topics.season.season import ACTIVITIES
from gardenmate.topics.shared.grammar import listed, sentence

Days = tuple[date, date]
_YEARS = (-1, 0, 1, 2)
"""Years a month may be meant in beside the one it was read in."""


def with_months_named(found: Reply, question: Request) -> Reply:
    """The reply, the months named in the question judged by its windows first."""
    named = months_named(question)
    case = found.case
    windows = [w for w in found.windows if not case.method_said or w.activity in ACTIVITIES[case.method]]
    if not named or not windows:
        return found
    right = [d for d in named if _meets(d, ((w.best_from, w.best_to) for w in windows))]
    possible = [d for d in named if _meets(d, ((w.earliest, w.latest) for w in windows))]
    lead = _judged(named, right, possible)
    brief = f"{lead} {found.brief}" if found.brief else ""
    return found._replace(headline=f"{lead} {found.headline}", brief=brief)


def with_day_compared(found: Reply, question: Request) -> Reply:
    """The reply about a start now with a word on another day it might wait for: "could I go sooner than Cup Day?"."""
    case = found.case
    other = [
        d for t in question.all("date")
        if not question.in_story(t) and (d := t.days) is not None and not d[0] <= case.day <= d[1]
        and d[0] > case.today
    ]  # fmt: skip
    if len(other) != 1 or question.topic != "early-start":
        return found
    first, last = other[0]
    state: str = case.season.standing(case.method, first + (last - first) / 2).state
    if state == "before" and any(w.latest < first for w in case.season.of(case.method, case.day)):
        state = "past"
    words = stretch_words(other[0]) if last > first else case.on(first)
    line = {
        "good": f"{words} is a good time to {case.doing}",
        "early": f"{words} is possible, if early",
        "late": f"{words} is late, but possible",
        "before": f"{words} is too early as well",
    }.get(state, f"by {words} it is too late to {case.doing}")
    return found._replace(headline=f"{found.headline} {sentence(line)}.")


def with_harvest_months(found: Reply, question: Request, days: Told) -> Reply:
    """The reply, the months named in a harvest question, and the days away, set beside the first picking."""
    picks = {n.name: n.value for n in found.numbers if isinstance(n.value, date)}
    first, soon = picks.get("first_pick"), picks.get("first_pick_early") or picks.get("first_pick")
    if first is None or soon is None or days.wanted is not None:
        return found
    late_ = picks.get("first_pick_late") or first
    started = [d for d in (days.job, days.begun, days.out) if d is not None]
    named = [
        d for d in months_named(question)
        if d != days.away and not any(d[0] <= s <= d[1] for s in started) and d[1] >= min(started, default=d[1])
    ]  # fmt: skip
    lead = [_picked_in(d, soon, first, late_, surely=found.verdict != "no") for d in named]
    if days.away is not None:
        lead.append(_while_away(days.away, soon, late_))
    return found._replace(headline=" ".join((*lead, found.headline))) if lead else found


def _picked_in(month: Days, soon: date, first: date, late_: date, *, surely: bool) -> str:
    """Whether picking has begun in a month; ``surely`` False where it may never come to that."""
    words = stretch_words(month)
    if month[1] < soon:
        return f"Not in {words}."
    if month[1] < first:
        return f"In {words} at the earliest."
    return f"{'In' if month[0] <= late_ else 'By'} {words}, {'yes' if surely else 'if at all'}."


def _while_away(away: Days, soon: date, late_: date) -> str:
    """How the first picking falls beside the days nobody is there."""
    words = stretch_words(away)
    if away[1] < soon:
        return f"Not before you are back: you are away {words}."
    if late_ < away[0]:
        return f"Before you go: you are away {words}."
    return f"It may fall while you are away ({words}): have somebody look."


def months_named(question: Request) -> list[Days]:
    """The stretches of days the question itself names, each once, in the order typed."""
    of_question = (t for t in question.all("date", "stretch") if not question.in_story(t))
    return list(dict.fromkeys(days for t in of_question if (days := t.days) is not None))


def stretch_words(days: Days) -> str:
    """ "March" for the whole of it, "1 to 7 Mar" for a part."""
    first, last = days
    if first.day == 1 and (last + timedelta(days=1)).day == 1:
        return f"{first:%B}"
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day} to {last.day} {first:%b}"
    return f"{first.day} {first:%b} to {last.day} {last:%b}"


def _judged(named: list[Days], right: list[Days], possible: list[Days]) -> str:
    one = len(named) == 1
    good = right or possible
    if not good:
        words = [stretch_words(d) for d in named]
        return f"Not in {words[0]}." if one else f"Neither {listed(words, 'nor')}."
    names = listed(stretch_words(d) for d in good)
    is_, fair = "are" if len(good) > 1 else "is", "right" if right else "possible"
    rest = [stretch_words(d) for d in named if d not in good]
    if rest:
        return sentence(f"{names} rather than {listed(rest, 'or')}.")
    return sentence(f"{'both ' if len(named) == 2 else ''}{names} {is_} {fair}.")


def _meets(days: Days, spans: Iterable[Days]) -> bool:
    """True where the days fall into one of the spans, in whatever year."""
    told = list(spans)
    return any(
        _moved(days[0], k) <= last and first <= _moved(days[1], k) for k in _YEARS for first, last in told
    )


def _moved(day: date, years: int) -> date:
    return day.replace(year=day.year + years, day=min(day.day, 28) if day.month == 2 else day.day)
