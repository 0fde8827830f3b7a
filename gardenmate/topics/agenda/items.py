"""What is due in a garden: every job that is open, closing, overdue or just missed, in the order to do it.

`items` is the one engine behind the agenda topic, the bench's status line and the calendar export. It reads
the world and nothing else.
"""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.world import World
from gardenmate.plantings.jobs import Jobs, jobs_of
from gardenmate.records import replace
from gardenmate.topics.agenda.batches import batch_items
from gardenmate.topics.agenda.item import Item, make_item
from gardenmate.topics.agenda.plants import frost_items, plant_items
from gardenmate.topics.agenda.windows import window_items

_REMINDER_DAYS = 60  # a reminder passed over for longer is dropped (design value)


def items(world: World, until: date, tonight_c: float | None = None) -> tuple[Item, ...]:
    """Everything to do from today to ``until`` (inclusive), in the order of doing.

    ``tonight_c``: the lowest temperature the grower expects tonight. Missed jobs come last. Without a place
    only logged batches and woody plants are known.
    """
    found = [
        *frost_items(world, tonight_c),
        *batch_items(world, until),
        *window_items(world, until),
        *plant_items(world, until),
    ]
    jobs = jobs_of(world.journal, world.today)
    kept = [i for i in found if i.status == "frost" or jobs.waiting(i.job, i.crop, world.today) is None]
    kept += _reminders(jobs, world, until)
    return tuple(sorted(kept, key=lambda i: _order(i, world.today)))


def _reminders(jobs: Jobs, world: World, until: date) -> list[Item]:
    """Reminders and plans whose day has come or comes within the time asked."""
    found = []
    week = timedelta(days=7)
    for r in jobs.reminders:
        if r.on > until or (world.today - r.on).days > _REMINDER_DAYS:
            continue
        item = make_item(
            world,
            "reminder",
            r.crops[0] if r.crops else "",
            r.text.removeprefix("reminder: ").removeprefix("plan to "),
            opens=r.on,
            best_by=r.on,
            closes=None if r.own else r.on + 8 * week,
            until=until,
            urgent=True,
        )
        if item is not None:
            do = f"{item.do[:1].upper()}{item.do[1:]}"
            found.append(replace(item, do=do, reminder=r.entry))
    return found


def _order(item: Item, today: date) -> tuple[int, float, date, str]:
    rank = {"frost": 0, "missed": 3, "coming": 2}.get(item.status, 1)
    return rank, -item.weight, item.closes or item.best_by, item.do
