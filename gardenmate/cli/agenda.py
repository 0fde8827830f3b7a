"""`gardenmate agenda`: what is due from today on, as lines, or as a calendar file with alarms."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.text import encodable, harmless
from gardenmate.core.units import show_date
from gardenmate.dialogue.conversation import Conversation
from gardenmate.topics.agenda.items import Item, items

if TYPE_CHECKING:
    from gardenmate.journal.ics import Event

ALARM_HOUR = 8


def run(options: argparse.Namespace, conversation: Conversation) -> int:
    """Print the jobs of the coming days. Raises NeedPlaceError where nothing at all can be told."""
    world = conversation.world()
    today = world.today
    found = [i for i in items(world, today + timedelta(days=options.days)) if i.status != "missed"]
    if not found and world.site is None:
        raise NeedPlaceError("The agenda needs a place: --place Duluth, or say 'I garden in Duluth' first.")
    if options.format == "ics":
        from gardenmate.journal.ics import calendar_file

        place = world.site.label if world.site is not None else ""
        sys.stdout.write(calendar_file(_events(found, today, place), "Garden jobs").decode("utf-8"))
        return 0
    for item in found:
        line = f"{show_date(max(today, item.opens), today)} to {show_date(item.best_by, today)}: {item.do}"
        sys.stdout.write(encodable(harmless(line), sys.stdout.encoding or "utf-8") + "\n")
    if not found:
        print(f"Nothing is due in the next {options.days} days.")
    return 0


def _events(found: Sequence[Item], today: date, place: str) -> list[Event]:
    """One event a job, on the day to begin, with an alarm that morning and what a miss costs."""
    from gardenmate.journal.ics import Event

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
