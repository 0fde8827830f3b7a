"""Days named in a text the way gardeners name them, for the day it is.

A `date` span holds a day (value: date) or, where only a stretch is meant ("in April", "early June", "next
weekend"), a `Stretch`: that is a date to talk about, but not a day for the slots.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from gardenmate.language.calendar_days import MONTHS, Stretch, month_date, numeric_date
from gardenmate.language.near_days import DAYS, bare_day, feast_day, from_today, told, weekday
from gardenmate.language.spans import Board, Span

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
            month_date(board, i, today)
            or numeric_date(board, i, today, day_first)
            or from_today(board, i, today)
            or weekday(board, i, today)
            or feast_day(board, i, today)
            or bare_day(board, i, today)
        )
        if found is not None:
            board.lay(found[0], found[1], "date", found[2])


def a_day(board: Board, weights: Mapping[int, float]) -> date | None:
    """The day that counts: the first day named that is a day and not a stretch; in a long text a weekday or
    holiday counts only in the question clause. ``weights``: token -> weight of its clause."""
    for span in board.of("date"):
        if not isinstance(span.value, date):
            continue
        said = [t.word for t in board.tokens[span.start : span.end]]
        firm = any(t.number is not None for t in board.tokens[span.start : span.end]) or any(
            w in MONTHS or w in ("yesterday", "tomorrow") for w in said
        )
        ahead = any(w in DAYS for w in said) and _to_come(board, span)
        if not firm and not any(w in DAYS for w in said) and len(board.tokens) > FEW:
            continue  # a feast day tells when the story was, seldom what is asked
        if firm or ahead or len(board.tokens) <= SHORT or weights.get(span.start, 1.0) == 1.0:
            return span.value
    return None


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
