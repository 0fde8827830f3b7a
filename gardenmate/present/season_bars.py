"""The printed calendar: one line per crop, the year from left to right, frost odds along the top.

Signs say what may be done: i sow indoors, o sow outdoors, s set out, p pick; capitals mark the good part.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Window
from gardenmate.records import dataclass

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SIGNS = {"sow-indoors": "i", "sow-outdoors": "o", "set-out": "s", "fall-sow": "o", "fall-set-out": "s"}
KEY = "i sow indoors   o sow outdoors   s set out   p pick; capitals: the good part"
FROST_KEY = (
    "frost: in how many years of ten 32 F (0 C) is still to come, or after the gap has come; # nearly all"
)
_FREE = ("frost-free", "free")
YEAR_DAYS = 365  # days drawn
_CERTAIN = 0.95  # chance shown as certain; design value


@dataclass(frozen=True, slots=True)
class BarRow:
    """One crop of the calendar: its windows and when it is picked."""

    name: str
    windows: tuple[Window, ...]
    picks: tuple[tuple[date, date], ...] = ()


def season_bars(
    rows: Sequence[BarRow], start: date, frost_odds: Sequence[float | None], width: int
) -> list[str]:
    """Lines no wider than ``width``. ``start`` is the first day drawn, ``frost_odds`` one chance a day.

    ``frost_odds`` None means a place without frost that day.
    """
    label = max(10, min(19, width // 4))
    columns = max(24, width - label - 1)

    def column(day: date) -> int:
        return (day - start).days * columns // YEAR_DAYS

    def blank() -> list[str]:
        return ["."] * columns

    top = [" "] * columns
    month = start if start.day == 1 else _next_month(start)
    while (month - start).days < YEAR_DAYS:
        at = column(month)
        name = MONTHS[month.month - 1] if columns >= 48 else MONTHS[month.month - 1][0]
        top[at : at + len(name)] = name
        month = _next_month(month)
    lines = [f"{'':{label}} {''.join(top[:columns]).rstrip()}"]
    if any(frost_odds):
        odds = "".join(
            _odds_sign(frost_odds[min(len(frost_odds) - 1, c * YEAR_DAYS // columns)]) for c in range(columns)
        )
        lines.append(f"{'frost':{label}} {_named_gap(odds)}")
    for row in rows:
        bar = blank()
        for first, last in row.picks:
            _fill(bar, column(first), column(last), "p", columns)
        for window in row.windows:
            sign = SIGNS[window.activity]
            _fill(bar, column(window.earliest), column(window.latest), sign, columns)
        for window in row.windows:
            sign = SIGNS[window.activity].upper()
            _fill(bar, column(window.best_from), column(window.best_to), sign, columns)
        if row.picks and "p" not in bar:  # sown all the while: picking shows over the lesser part
            for first, last in row.picks:
                _fill(bar, column(first), column(last), "p", columns, over=".ios")
        lines.append(f"{row.name[:label]:{label}} {''.join(bar)}")
    return lines


def _fill(bar: list[str], first: int, last: int, sign: str, columns: int, over: str = "") -> None:
    """Put ``sign`` from one column to the other; what runs past the end of the year comes round again.
    ``over``: the signs it may replace, all of them when empty."""
    for at in range(first, max(first, last) + 1):
        if not over or bar[at % columns] in over:
            bar[at % columns] = sign


def _named_gap(odds: str) -> str:
    """The row of odds with the summer in it named, so that the eye sees the one side fall and the other rise."""
    gap = max(re.finditer(r" +", odds), key=lambda m: len(m[0]), default=None)
    room = 0 if gap is None else len(gap[0])
    word = next((w for w in _FREE if len(w) + 2 <= room), None)
    if gap is None or word is None:
        return odds
    return odds[: gap.start()] + word.center(room) + odds[gap.end() :]


def _odds_sign(odds: float | None) -> str:
    if odds is None or odds < 0.05:
        return " "
    return "#" if odds >= _CERTAIN else str(min(9, round(10 * odds)))


def _next_month(day: date) -> date:
    later = day.replace(day=1) + timedelta(days=32)
    return later.replace(day=1)
