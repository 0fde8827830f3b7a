"""What stands, worked out from the entries alone, and a whole journal made of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from datetime import date

from gardenmate.journal import rows
from gardenmate.journal.decision import GARDEN, UNREADABLE, corrected
from gardenmate.journal.frames import Content, EntryRow, Scanned, frame
from gardenmate.journal.rows import Stands
from gardenmate.journal.schema import key_of


def undone_of(entries: Iterable[EntryRow]) -> dict[int, int]:
    """Which entries are taken back, each with the undo that did it."""
    undone: dict[int, int] = {}
    for row in entries:
        if row.kind == "undo" and row.target is not None:
            undone[row.target] = row.number
        elif row.kind == "redo" and row.target is not None:
            undone.pop(row.target, None)
    return undone


def standing_of(entries: Iterable[EntryRow]) -> list[Stands]:
    """Every decision that stands, in the order of its number. An entry whose record is lost is passed
    over."""
    entries = sorted(entries)
    undone = undone_of(entries)
    records = {row.number: row for row in entries if row.kind == "record" and row.number not in undone}
    last: dict[int, tuple[str, Content]] = {}
    for row in entries:
        record = records.get(row.target) if row.kind == "correct" and row.target is not None else None
        if record is not None and row.number not in undone:
            before = last.get(record.number, ("", record.content))[1]
            last[record.number] = row.written_at, corrected(before, row.content)
    found = []
    for number, row in records.items():
        written_at, content = last.get(number, (None, row.content))
        try:
            day = date.fromisoformat(content["on"])
        except (KeyError, TypeError, ValueError):
            continue  # whole, but of no day: `check` tells of it
        key = key_of(day, number, listed=content.get("action") != GARDEN)
        found.append(Stands(key, number, written_at, content, number in last))
    return found


def fill(db: sqlite3.Connection, entries: Iterable[EntryRow]) -> None:
    """Put entries into an empty journal under their old numbers, and all that follows from them."""
    entries = sorted(entries)
    names: set[str] = set()
    for row in entries:
        uid = row.uid
        if row.kind == "record" and (uid is None or uid in names):
            uid = f"{uid}-{row.number}"
        names.add(uid or "")
        line = frame(row._replace(uid=uid))
        values = (row.number, row.kind, row.target, uid, row.written_at, line)
        db.execute(f"INSERT INTO entry ({rows.ENTRY}) VALUES (?, ?, ?, ?, ?, ?)", values)
    db.executemany("INSERT INTO undone (entry, undo) VALUES (?, ?)", undone_of(entries).items())
    for stands in standing_of(entries):
        rows.stand(db, stands)


def with_gaps_shown(found: Scanned) -> list[EntryRow]:
    """The entries found, and for each decision whose bytes are damaged a line that says so on a likely
    day."""
    entries = dict(found.rows)
    days = (str(row.content.get("on")) for row in sorted(found.rows.values()) if row.kind == "record")
    day, written_at = next(days, date(2000, 1, 1).isoformat()), ""
    for number in sorted(found.rows.keys() | found.broken):
        row = found.rows.get(number)
        if row is None:
            content: Content = {
                "on": day,
                "action": UNREADABLE,
                "text": f"(entry {number} was damaged; it could not be read)",
            }
            entries[number] = EntryRow(number, "record", None, f"unreadable-{number}", written_at, content)
        elif row.kind == "record":
            day, written_at = str(row.content.get("on", day)), row.written_at
    return list(entries.values())
