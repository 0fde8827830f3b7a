"""A day told by its number alone behind a day of another month: "7 June ...", "what if it's the 14th instead"."""

from __future__ import annotations

from datetime import date

from gardenmate.language.text.spans import Board
from gardenmate.language.values.calendar_days import SUFFIX

_MOST_TOKENS = 3  # "the", the number, its ending


def take_month_of(board: Board, spoken: date | None, today: date) -> None:
    """Bare day numbers still to come, read in the month of ``spoken``, the day spoken of before, if that lies ahead."""
    if spoken is None or spoken <= today:
        return
    for at, span in enumerate(board.spans):
        bare = span.tag == "date" and 0 < span.end - span.start <= _MOST_TOKENS
        numbers = [t.number for t in board.tokens[span.start : span.end] if t.number is not None]
        ends = any(t.word in SUFFIX for t in board.tokens[span.start : span.end])
        if not (bare and ends and len(numbers) == 1 and isinstance(span.value, date) and span.value >= today):
            continue
        if not all(
            t.word in (*SUFFIX, "the") or t.number is not None for t in board.tokens[span.start : span.end]
        ):
            continue
        try:
            board.spans[at] = span._replace(value=spoken.replace(day=int(numbers[0])))
        except ValueError:  # no such day in that month: as read
            continue
