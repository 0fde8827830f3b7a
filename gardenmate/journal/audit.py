"""Is the whole journal sound?"""

from __future__ import annotations

import sqlite3

from gardenmate.journal import rows, schema
from gardenmate.journal.decision import decision_of
from gardenmate.journal.frames import EntryRow, unframe
from gardenmate.journal.rebuild import standing_of, undone_of

_FEW = 10  # faults told
_NOT_READ = (ValueError, KeyError, TypeError, AttributeError, RecursionError)


def problems(db: sqlite3.Connection) -> list[str]:
    """Everything that is wrong, as sentences; empty when the file is sound. Reads everything."""
    return structure(db) or unreadable(db)


def structure(db: sqlite3.Connection) -> list[str]:
    """What is wrong with the file: its pages, its index of words, and what stands against what the entries
    say. One damaged entry in a sound file is none of these."""
    found = [
        f"The file is damaged: {row[0]}." for row in db.execute("PRAGMA integrity_check") if row[0] != "ok"
    ]
    if found:
        return found[:_FEW]
    if rows.words_damaged(db):
        found.append("The index of words is damaged.")
    if schema.meta(db, "format") != str(schema.FORMAT) or not schema.meta(db, "name"):
        found.append("The file's own name and format are missing.")
    return found + _out_of_step(db)


def unreadable(db: sqlite3.Connection) -> list[str]:
    """Entries that cannot be read, as sentences."""
    bad = [
        f"Entry {number} holds no decision that can be read."
        for number, line in db.execute("SELECT id, line FROM entry")
        if not reads(number, line)
    ]
    return bad[:_FEW]


def reads(number: int, line: str) -> bool:
    """True when an entry's line is whole and makes sense."""
    try:
        row = unframe(line)
        if row.kind == "record":
            decision_of(number, str(row.uid), row.written_at, row.content)
    except _NOT_READ:
        return False
    return row.number == number


def _whole(db: sqlite3.Connection) -> list[EntryRow]:
    found = []
    for number, kind, target, line in db.execute("SELECT id, kind, target, line FROM entry"):
        try:
            row = unframe(line)
        except _NOT_READ:
            row = EntryRow(number, kind if kind in ("undo", "redo") else "damaged", target, None, "", {})
        found.append(row)
    return found


def _out_of_step(db: sqlite3.Connection) -> list[str]:
    """Decisions whose standing form is not what their entries say."""
    entries = _whole(db)
    damaged = {row.number for row in entries if row.kind == "damaged"}
    if dict(db.execute("SELECT entry, undo FROM undone").fetchall()) != undone_of(sorted(entries)):
        return ["The list of what was taken back is not what the entries say."]
    should = {stands.number: stands for stands in standing_of(entries)}
    listed = {
        number: (key, written_at, content)
        for number, key, written_at, content in db.execute(
            "SELECT id, key, written_at, content FROM standing"
        )
    }
    bad = [
        f"Decision {n} is missing from the list of what stands."
        for n in sorted(should.keys() - listed.keys())
    ]
    for number in sorted(listed):
        if number in damaged:
            continue
        stands = should.get(number)
        if stands is None or listed[number] != (stands.key, *rows.packed(stands)):
            bad.append(f"Decision {number} does not stand as its entries say.")
    return bad[:_FEW]
