"""`gardenmate agenda`: what is due from today on, as lines, or as a calendar file with alarms."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.text import encodable, harmless
from gardenmate.core.units import show_date
from gardenmate.dialogue.home import needs_garden
from gardenmate.dialogue.session import make_conversation
from gardenmate.journal.ics import Event, calendar_file
from gardenmate.topics.agenda.item import Item
from gardenmate.topics.agenda.items import items

if TYPE_CHECKING:
    from gardenmate.journal.ics import Event

ALARM_HOUR = 8  # o'clock in the morning; design value


def run(options: argparse.Namespace) -> int:
    """Print the jobs of the coming days. Raises NeedPlaceError where nothing at all can be told."""
    needs_garden(options)
    conversation = make_conversation(options)
    world = conversation.world()
    today = world.today
    found = [i for i in items(world, today + timedelta(days=options.days)) if i.status != "missed"]
    if not found and world.site is None:
        raise NeedPlaceError("The agenda needs a place: --place Duluth, or say 'I garden in Duluth' first.")
    if options.json:
        sys.stdout.write(json.dumps([_row(n, item) for n, item in enumerate(found, start=1)]) + "\n")
        return 0
    if options.format == "ics":
        place = world.site.label if world.site is not None else ""
        sys.stdout.write(calendar_file(_events(found, today, place), "Garden jobs").decode("utf-8"))
        return 0
    for number, item in enumerate(found, start=1):
        line = f"{number:>3}. {_days(item, today)}: {item.do}"
        sys.stdout.write(encodable(harmless(line), sys.stdout.encoding or "utf-8") + "\n")
    if not found:
        print(f"Nothing is due in the next {options.days} days.")
    return 0


def _days(item: Item, today: date) -> str:
    """When to do a job: until its best day, or its last one once that is past."""
    until = item.best_by if item.best_by >= today else item.closes or item.best_by
    start = max(today, item.opens)
    if until <= start:
        return f"{show_date(start, today)}, overdue" if item.status == "overdue" else show_date(start, today)
    return f"{show_date(start, today)} to {show_date(until, today)}"


def _row(number: int, item: Item) -> dict[str, object]:
    return {
        "number": number,
        "job": item.job,
        "crop": item.crop or None,
        "variety": item.variety,
        "status": item.status,
        "opens": item.opens.isoformat(),
        "best_by": item.best_by.isoformat(),
        "closes": item.closes.isoformat() if item.closes is not None else None,
        "cost_of_a_miss": item.cost,
        "batch": item.decision_id,
        "do": item.do,
    }


def _events(found: Sequence[Item], today: date, place: str) -> list[Event]:
    """One event a job, on the day to begin, with an alarm that morning and what a miss costs."""
    events = []
    for item in found:
        on = max(today, item.good_from or item.opens)
        end = f" Last date {item.closes.isoformat()}." if item.closes is not None else ""
        events.append(
            Event(
                uid=f"agenda-{item.job}-{item.crop}-{item.decision_id or 0}-{item.best_by.year}",
                on=on,
                summary=item.do,
                # The same jobs are the same file: stamped with the day they are reckoned for.
                written_at=datetime(today.year, today.month, today.day, tzinfo=UTC),
                until=max(on, item.best_by),
                description=f"Best by {item.best_by.isoformat()}.{end} {item.cost}".strip(),
                location=place,
                categories=("garden",),
                alarm_hour=ALARM_HOUR,
            )
        )
    return events
