"""The status line: date, place, days to the last (or first) frost, units. Short, nothing vital in it."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from gardenmate.core.errors import GardenmateError
from gardenmate.core.units import plural, show_date
from gardenmate.present.text import harmless

if TYPE_CHECKING:
    from datetime import date

    from gardenmate.climate.site import Site
    from gardenmate.dialogue.conversation import Conversation

WIDEST = 58
_FROST_F = 32


def status_line(conversation: Conversation, width: int = WIDEST) -> str:
    """At most ``width`` signs: "18 Apr | Duluth, MN | last frost in 29 days | F".

    What does not fit is left out: the region, then the frost, then the place.
    """
    today = conversation.clock()
    day = show_date(today)
    width = min(width, WIDEST)
    try:
        place = conversation.place()
        units = "F" if conversation.shown_units() == "us" else "C"
    except GardenmateError:  # told when something is asked; the line under the prompt stays quiet
        return day[:width]
    site = place.site if place is not None else None
    choices: list[tuple[str | None, ...]]
    if site is None:
        choices = [(day, "no place yet: say 'I garden in ...'", units)]
    else:
        label, name, frost = harmless(site.label), harmless(site.name), _next_frost(site, today)
        choices = [(day, label, frost, units), (day, name, frost, units), (day, label, units)]
    for parts in (*choices, (day, units)):
        line = " | ".join(p for p in parts if p)
        if len(line) <= width:
            return line
    return day[:width]


def _next_frost(site: Site, today: date) -> str | None:
    """The next average last or first frost to come, None where there is none."""
    freeze = site.freezes.get(_FROST_F)
    if freeze is None:
        return None
    this_season = site.anchor(today)
    next_season = site.anchor(this_season + timedelta(days=400))
    for anchor in (this_season, next_season):
        for label, frost in (("last frost", freeze.last_spring), ("first frost", freeze.first_autumn)):
            if frost is not None and (days := (frost.day(anchor) - today).days) >= 0:
                return f"{label} in {plural(days, 'day')}" if days else f"{label} about today"
    return None
