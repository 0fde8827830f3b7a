"""The status line: date, place, days to the last (or first) frost, units. Short, nothing vital in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gardenmate.errors import GardenmateError
from gardenmate.present.text import harmless
from gardenmate.units import show_date

if TYPE_CHECKING:
    from gardenmate.conversation import Conversation

WIDEST = 58


def status_line(conversation: Conversation) -> str:
    """At most 58 signs: "18 Apr | Duluth, MN | last frost in 28 days | F"."""
    today = conversation.clock()
    parts = [show_date(today)]
    try:
        place = conversation.place()
    except GardenmateError:
        place = None
    site = place.site if place is not None else None
    if site is None:
        parts.append("no place yet: say 'I garden in ...'")
    else:
        parts.append(harmless(site.label))
        anchor = site.anchor(today)
        freeze = site.freezes.get(32)
        for label, frost in (
            ("last frost", freeze.last_spring if freeze else None),
            ("first frost", freeze.first_autumn if freeze else None),
        ):
            if frost is not None and (days := (frost.day(anchor) - today).days) > 0:
                parts.append(f"{label} in {days} days")
                break
    parts.append("F" if conversation.shown_units() == "us" else "C")
    line = " | ".join(parts)
    while len(line) > WIDEST and len(parts) > 2:
        parts.pop(-2)
        line = " | ".join(parts)
    return line[:WIDEST]
