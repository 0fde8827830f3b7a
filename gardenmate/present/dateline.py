"""The date line of a season answer, drawn in text: months along the top, marks below, a key under it.

   May          Jun          Jul           Aug           Sep
1--|------2-----|-3----------|-------------|-------------|4---------5
1 today 18 Apr   2 last frost 17 May   3 set out 6 Jun   4 first pick 4 Sep
5 first frost 27 Sep
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from textwrap import wrap

from gardenmate.core.answer import Mark
from gardenmate.core.units import show_date

NARROWEST = 20  # columns of a date line; design value
WIDEST = 76  # columns; wider lines part what belongs together; design value
_SIGNS = "123456789abcdefghijklmnopqrstuvwxyz"
_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_MARGIN_DAYS = 4  # days drawn before the first and after the last; design value
_MONTH_DAYS = 28  # the shortest month must have room for its name
_GAP = "   "


def date_line(marks: Sequence[Mark], today: date, width: int) -> list[str]:
    """Lines no wider than ``width`` (at least 20): month names, the axis with signed marks, and the key.

    Marks of the same day share one sign; marks of near days stand beside each other, in their order. Raises
    ValueError when there is no mark.
    """
    if not marks:
        raise ValueError("a date line needs a mark")
    width = max(NARROWEST, min(width, WIDEST))
    days = sorted({m.on for m in marks})
    start, end = days[0] - timedelta(days=_MARGIN_DAYS), days[-1] + timedelta(days=_MARGIN_DAYS)
    scale = (width - 1) / (end - start).days
    months = [(round((m - start).days * scale), m) for m in _months(start, end)]
    axis = ["-"] * width
    for at, _ in months:
        axis[at] = "|"
    signs = dict(zip(days, _SIGNS, strict=False))
    spots = _apart([round((d - start).days * scale) for d in signs], width)
    for spot, sign in zip(spots, signs.values(), strict=True):
        axis[spot] = sign
    top = _month_names(start, months, width, short=scale * _MONTH_DAYS < len("Jan") + 2)
    return [top, "".join(axis), *_key(marks, signs, today, width)]


def _months(start: date, end: date) -> list[date]:
    """First days of months from ``start`` to ``end``."""
    found = []
    day = start.replace(day=1)
    while day <= end:
        if day >= start:
            found.append(day)
        day = (day + timedelta(days=32)).replace(day=1)
    return found


def _apart(wanted: Sequence[int], width: int) -> list[int]:
    """The columns wanted, in rising order, moved as little as keeps every one its own column."""
    spots: list[int] = []
    for want in wanted:
        spots.append(max(want, spots[-1] + 1 if spots else 0))
    limit = width - 1
    for n in range(len(spots) - 1, -1, -1):
        spots[n] = min(spots[n], limit)
        limit = spots[n] - 1
    return spots


def _month_names(start: date, months: Sequence[tuple[int, date]], width: int, short: bool) -> str:
    """Each month's name over its first day; the month under way at the left edge when there is room."""
    first = months[0][0] if months else width
    named = [(0, start)] if first >= (2 if short else 4) else []
    top = [" "] * width
    free = 0
    for at, month in (*named, *months):
        name = _NAMES[month.month - 1][: 1 if short else 3]
        if at >= free and at + len(name) <= width:
            top[at : at + len(name)] = name
            free = at + len(name) + 1
    return "".join(top).rstrip()


def _key(marks: Sequence[Mark], signs: dict[date, str], today: date, width: int) -> list[str]:
    lines: list[str] = []
    for day, sign in signs.items():
        labels = ", ".join(dict.fromkeys(m.label for m in marks if m.on == day))
        part = f"{sign} {labels} {show_date(day, today)}"
        if lines and len(lines[-1]) + len(_GAP) + len(part) <= width:
            lines[-1] += _GAP + part
        else:
            lines += _cut(part, width)
    return lines


def _cut(part: str, width: int) -> list[str]:
    return wrap(part, width, subsequent_indent="  ")
