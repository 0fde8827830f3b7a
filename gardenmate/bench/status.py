"""The status line: date, place, the next window to close, the next job, units. Nothing vital stands only here."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from gardenmate.core.errors import GardenmateError
from gardenmate.core.text import harmless
from gardenmate.core.units import plural, show_date
from gardenmate.present.screen import WIDEST
from gardenmate.topics.agenda.items import items

if TYPE_CHECKING:
    from datetime import date

    from gardenmate.climate.site import Site
    from gardenmate.dialogue.conversation import Conversation

_FROST_F = 32  # degrees F: the freeze the status line tells of
_CLOSING_DAYS = 30
"""A window that closes later than this is no news. Design value."""

Choices = tuple[tuple[str, ...], ...]
"""The line in several lengths, the fullest first, each as its parts."""


def fitted(choices: Choices, width: int) -> str:
    """The fullest of the choices that fits into ``width`` signs."""
    lines = [" | ".join(parts) for parts in choices]
    return next((line for line in lines if len(line) <= min(width, WIDEST)), lines[-1][:width])


def status_of(conversation: Conversation) -> Choices:
    """Day, place, the next window to close, the next job, units; the next average frost where no job is due.

    What does not fit is left out in turn: the next job, the region, the window, the place. Made once a prompt: the
    line is drawn at every key.
    """
    today = conversation.clock()
    day = show_date(today)
    try:
        place = conversation.place()
        units = "F" if conversation.shown_units() == "us" else "C"
    except GardenmateError:  # told when something is asked; the line under the prompt stays quiet
        return ((day,),)
    site = place.site if place is not None else None
    if site is None:
        return ((day, "no place yet: say 'I garden in ...'", units), (day, units), (day,))
    label, name = harmless(site.label), harmless(site.name)
    closing, job = _jobs(conversation, today)
    frost = _next_frost(site, today)
    rows: tuple[tuple[str | None, ...], ...] = (
        (day, label, closing, job, units),
        (day, name, closing, job, units),
        (day, label, closing or job or frost, units),
        (day, name, closing or job or frost, units),
        (day, label, frost, units),
        (day, name, frost, units),
        (day, label, units),
        (day, units),
        (day,),
    )
    return tuple(tuple(part for part in row if part) for row in rows)


def _jobs(conversation: Conversation, today: date) -> tuple[str | None, str | None]:
    """The next window to close, and the job to do first where it is another; None where there is none."""
    try:
        found = [i for i in items(conversation.world(), today + timedelta(days=7)) if i.status != "missed"]
    except GardenmateError:  # a damaged file is told when something is asked
        return None, None
    last = today + timedelta(days=_CLOSING_DAYS)
    ending = sorted((i.closes, i.do) for i in found if i.closes is not None and today <= i.closes <= last)
    first = found[0].do if found else None
    closing = f"{_lower(ending[0][1])} by {show_date(ending[0][0])}" if ending else None
    if first is None or (ending and ending[0][1] == first):
        first = next((i.do for i in found if not ending or i.do != ending[0][1]), None)
    return closing, f"next: {_lower(first)}" if first else None


def _lower(text: str) -> str:
    return harmless(text[:1].lower() + text[1:])


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
