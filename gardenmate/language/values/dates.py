"""Days named in a text the way gardeners name them, for the day it is.

A `date` span holds a day (value: date) or, where only a stretch is meant ("in April", "early June", "next
weekend"), a `Stretch`: that is a date to talk about, but not a day for the slots.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from gardenmate.language.text.spans import Board, Span, words
from gardenmate.language.values.calendar_days import MONTHS, Stretch, month_date, numeric_date
from gardenmate.language.values.near_days import DAYS, bare_day, feast_day, from_today, told, weekday
from gardenmate.language.values.story_days import of_the_story

__all__ = ["Stretch", "a_day", "find_dates"]

FEW = 10  # words; a feast day in a longer text is background
SHORT = 16  # words; a longer text tells a story, and not every day in it is meant


def find_dates(board: Board, today: date, day_first: bool) -> None:
    """Lay a `date` span on every day or stretch of days. ``day_first``: 5/4 is 5 April."""
    board.today = today
    for i in range(len(board.tokens)):
        if i in board.taken:
            continue
        found = (
            feast_day(board, i, today)
            or month_date(board, i, today)
            or numeric_date(board, i, today, day_first)
            or from_today(board, i, today)
            or weekday(board, i, today)
            or bare_day(board, i, today)
        )
        if found is not None:
            board.lay(found[0], found[1], "date", found[2])


def a_day(board: Board, weights: Mapping[int, float]) -> date | None:
    """The day that counts: a day and not a stretch; of several the one of the job ("going out the 10th").

    In a long text a weekday or holiday counts only in the question clause.
    ``weights``: token -> weight of its clause.
    """
    spans = [s for s in board.of("date") if isinstance(s.value, date) and _counts(board, s, weights)]
    if not spans:
        return None
    of_the_job = [s for s in spans if _of_the_job(board, s)]
    chosen = of_the_job[0] if len(of_the_job) == 1 else spans[0]
    day: date = chosen.value
    return day


def _counts(board: Board, span: Span, weights: Mapping[int, float]) -> bool:
    """True for a day that is meant, not one of the story around the question."""
    if _gone_until(board, span) or board.words(span.end, span.end + 2) in _ANOTHER_YEAR:
        return False
    long = len(board.tokens) > SHORT
    said = [t.word for t in board.tokens[span.start : span.end]]
    if long and said == ["yesterday"] and not _done_then(board, span):
        return False
    named = any(w in DAYS for w in said)
    firm = any(t.number is not None for t in board.tokens[span.start : span.end])
    firm = firm or any(w in MONTHS or w in ("yesterday", "tomorrow") for w in said)
    if not firm and not named and len(board.tokens) > FEW:
        # a feast day tells when the story was, unless the question leads to it
        at = span.start - 1 - (board.word(span.start - 1) == "the")
        led = weights.get(span.start, 1.0) == 1.0 and board.word(at) in _FEAST_LED
        return led and not of_the_story(board, span)
    return firm or (named and _to_come(board, span)) or not long or weights.get(span.start, 1.0) == 1.0


_FEAST_LED = words("on until it's its is at")
_AWAY = words("away gone back off out holiday vacation travelling traveling")
_ANOTHER_YEAR = frozenset({"like last", "as last", "same as"})
_OF_THE_JOB = words(
    "sow sown sowed sowing plant planted planting transplant transplanted going go goes went set put"
)
_DONE = words(
    "sowed sown planted potted put moved transplanted pruned cut bought set started harvested sprayed took "
    "picked dug log note record diary sprouted germinated emerged"
)
_INTO = words("in out into under outside down")


def _gone_until(board: Board, span: Span) -> bool:
    """ "Hubby's away till Sunday": when somebody is back is not when the job is."""
    return board.word(span.start - 1) == "until" and board.near(span.start, _AWAY, 4, 0)


def _done_then(board: Board, span: Span) -> bool:
    """True when what the grower did to the plants stands by "yesterday"."""
    if board.near(span.start, _DONE, 7, 5):
        return True
    first = max(0, span.start - 8)
    return any(board.word(k) == "went" and board.word(k + 1) in _INTO for k in range(first, span.start))


def _of_the_job(board: Board, span: Span) -> bool:
    return board.near(span.start, _OF_THE_JOB, 5, 0)


def _to_come(board: Board, span: Span) -> bool:
    """True for a weekday that lies ahead and is spoken of as a day to do or fear something."""
    if board.today is None or not isinstance(span.value, date) or span.value <= board.today:
        return False
    before, after = board.word(span.start - 1), board.word(span.end)
    return (
        bool(board.of("temp"))
        or before in ("coming", "next", "by", "is", "until", "so")
        or board.word(span.start) in ("next", "this", "coming")
        or after in ("i", "night", "morning", "we", "to")
    ) and not told(board, span.start)
