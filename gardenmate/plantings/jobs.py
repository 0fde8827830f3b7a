"""What was said of jobs: put off to a day, dropped, brought back; own reminders and plans that are still open."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from gardenmate.core.world import Decision, JournalView
from gardenmate.plantings.batches import action_of
from gardenmate.records import dataclass

SEASON_DAYS = 200  # what was dropped or put off longer ago than this is another season's (design value)
ANY = ""  # every job of a crop


@dataclass(frozen=True, slots=True)
class JobSaid:
    """What was said last of a job: ``job`` its key ("" every job of the crop), ``crop`` ("" every crop), until when
    it waits (None: for good), and the number of the entry that says so."""

    job: str
    crop: str
    until: date | None
    entry: int


@dataclass(frozen=True, slots=True)
class Reminder:
    """A reminder or a plan with a day, still open. ``of`` is the deed planned ("" of a reminder in words)."""

    entry: int
    on: date
    text: str
    crops: tuple[str, ...]
    of: str = ""
    own: bool = True  # asked for as a reminder; False: a plan with a day
    count: float | None = None


@dataclass(frozen=True, slots=True)
class Jobs:
    """What was said of the jobs, and the reminders still open."""

    waits: tuple[JobSaid, ...] = ()
    reminders: tuple[Reminder, ...] = ()

    def waiting(self, job: str, crop: str, today: date) -> JobSaid | None:
        """What keeps a job off the list today; None when nothing does."""
        for said in reversed(self.waits):
            if said.crop in (ANY, crop) and said.job in (ANY, job):
                return said if said.until is None or said.until > today else None
        return None


PLANTING, SOWING = frozenset({"set-out", "plant"}), frozenset({"sow", "plant"})
"""Deeds that put plants in, and seed."""


def planned_for(journal: JournalView | None, crop: str, deeds: frozenset[str], today: date) -> date | None:
    """The day the grower plans one of these deeds for the crop, told and not yet done; None without such a plan."""
    plans = [
        r for r in jobs_of(journal, today).reminders if r.of in deeds and crop in r.crops and r.on >= today
    ]
    return min((r.on for r in plans), default=None)


def jobs_of(journal: JournalView | None, today: date) -> Jobs:
    """What the journal says of jobs in the season of ``today``."""
    if journal is None:
        return Jobs()
    since = today - timedelta(days=SEASON_DAYS)
    return fold_jobs(sorted(journal.search(since=since, limit=5000), key=lambda d: d.id))


def fold_jobs(entries: Iterable[Decision]) -> Jobs:
    """What was said of jobs, in the order it was said."""
    waits: list[JobSaid] = []
    open_: dict[int, Reminder] = {}
    for entry in entries:
        action, detail = action_of(entry), entry.detail
        job = detail.get("job", ANY)
        if action in ("remind", "decide") and detail.get("open") is None:
            open_[entry.id] = Reminder(
                entry.id,
                entry.on,
                entry.text,
                entry.crops,
                detail.get("of", ""),
                action == "remind",
                entry.count,
            )
        elif action == "drop":
            waits += [JobSaid(job, crop, None, entry.id) for crop in entry.crops or (ANY,)]
            _settle(open_, entry, detail.get("reminder"))
        elif action == "postpone":
            waits += [JobSaid(job, crop, entry.on, entry.id) for crop in entry.crops or (ANY,)]
            _put_off(open_, entry, detail.get("reminder"))
        elif action == "return":
            back = set(entry.crops)
            waits = [w for w in waits if w.crop not in back and w.crop != ANY]
        else:
            _settle(open_, entry, detail.get("reminder"))
    return Jobs(tuple(waits), tuple(sorted(open_.values(), key=lambda r: (r.on, r.entry))))


def _settle(open_: dict[int, Reminder], entry: Decision, number: str | None) -> None:
    """A deed settles the plans of the same deed and crop, and the reminder it names."""
    for key, reminder in list(open_.items()):
        named = number is not None and number == str(key)
        about = bool(set(entry.crops) & set(reminder.crops))
        same = (
            reminder.of in (entry.action, "") if reminder.own else reminder.of in (entry.action, "", "plant")
        )
        if (
            named
            or (about and same and entry.action not in ("note", "lost", "up", "buy"))
            or (about and entry.action == "drop")
        ):
            del open_[key]


def _put_off(open_: dict[int, Reminder], entry: Decision, number: str | None) -> None:
    for key, reminder in list(open_.items()):
        if (number is not None and number == str(key)) or set(entry.crops) & set(reminder.crops):
            open_[key] = Reminder(
                key, entry.on, reminder.text, reminder.crops, reminder.of, reminder.own, reminder.count
            )
