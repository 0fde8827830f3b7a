"""The date line of a season answer, drawn in text: months along the top, marks below, a key under it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.answer import Mark
from gardenmate.units import show_date

_MONTHS = "JFMAMJJASOND"
_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def date_line(marks: Sequence[Mark], today: date, width: int) -> list[str]:
    """Lines no wider than ``width``: month names, the axis with numbered marks, and the key.

    Marks that fall on the same column share it: the later one moves right by one.
    """
    marks = sorted(marks, key=lambda m: m.on)
    start = marks[0].on - timedelta(days=4)
    end = marks[-1].on + timedelta(days=4)
    span = max(1, (end - start).days)
    width = max(24, min(width, 76))

    def column(day: date) -> int:
        return round((day - start).days * (width - 1) / span)

    top = [" "] * width
    axis = ["-"] * width
    month = date(start.year, start.month, 1)
    while month <= end:
        if month >= start:
            at = column(month)
            axis[at] = "|"
            name = _NAMES[month.month - 1] if width * 28 / span >= 5 else _MONTHS[month.month - 1]
            if at + len(name) <= width and all(c == " " for c in top[max(0, at - 1) : at + len(name)]):
                top[at : at + len(name)] = name
        month = date(month.year + month.month // 12, month.month % 12 + 1, 1)
    taken: set[int] = set()
    for number, mark in enumerate(marks, start=1):
        at = column(mark.on)
        while at in taken and at < width - 1:
            at += 1
        taken.add(at)
        axis[at] = str(number) if number < 10 else "+"
    lines = ["".join(top).rstrip(), "".join(axis)]
    key = ""
    for number, mark in enumerate(marks, start=1):
        part = f"{number} {mark.label} {show_date(mark.on, today)}"
        if key and len(key) + len(part) + 3 > width:
            lines.append(key)
            key = part
        else:
            key = f"{key}   {part}" if key else part
    return [*lines, key]
