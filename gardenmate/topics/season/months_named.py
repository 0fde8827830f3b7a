"""Months, or parts of them, put to choose from: "is it a January or a March thing?", "May or June for setting out?".

Each is judged by the windows of the crop: right, possible, or neither.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from gardenmate.core.question import Request
from gardenmate.topics.season.case import Reply
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
