"""Calendar files (RFC 5545) through the icalendar library, which is loaded only here."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta

from gardenmate.core.text import harmless
from gardenmate.records import dataclass

_PRODUCT = "-//gardenmate//garden calendar//EN"


@dataclass(frozen=True, slots=True)
class Event:
    """One all-day event.

    ``uid`` stays the same from export to export, so that a calendar replaces instead of doubling.
    ``until`` is the last day (None: one day). ``alarm_hour``: hour of the first day, local time, at which to
    remind; None for no alarm. ``written_at``: when it was last changed, UTC.
    """

    uid: str
    on: date
    summary: str
    written_at: datetime
    until: date | None = None
    description: str = ""
    location: str = ""
    categories: tuple[str, ...] = ()
    alarm_hour: int | None = None


def calendar_file(events: Iterable[Event], name: str) -> bytes:
    """The events as one calendar file; ``name`` is what the calendar is called where it is shown."""
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", _PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", harmless(name))
    for event in events:
        calendar.add_component(_component(event))
    written: bytes = calendar.to_ical()
    return written


def _component(event: Event):  # type: ignore[no-untyped-def]  # the library is imported late and untyped
    from icalendar import Alarm
    from icalendar import Event as Component

    component = Component()
    component.add("uid", f"{harmless(event.uid)}@gardenmate")
    component.add("dtstamp", event.written_at.astimezone(UTC))
    component.add("dtstart", event.on)
    last = event.until or event.on
    if last < date.max:
        component.add("dtend", last + timedelta(days=1))  # the end of a DATE event is the day after
    component.add("summary", harmless(event.summary))
    component.add("transp", "TRANSPARENT")  # a garden job does not make its day busy
    for field, text in (("description", event.description), ("location", event.location)):
        if text:
            component.add(field, harmless(text, keep_lines=True))
    if event.categories:
        component.add("categories", [harmless(c) for c in event.categories])
    if event.alarm_hour is not None:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", harmless(event.summary))
        alarm.add("trigger", timedelta(hours=event.alarm_hour))
        component.add_component(alarm)
    return component
