"""The tables of the journal, and how a file is opened.

`entry` is the journal: rows are only ever added (triggers refuse anything else), each with its line as
gardenmate.journal.frames makes it. All else follows from the lines and is kept in the same transaction, so
that a million decisions list at once: `standing` (what stands), `undone` (what was taken back), `words` (the
full-text index). `derived` holds what others work out from the entries, each with the version it is of.

`standing.key` is the day's ordinal above the entry's number, so that one number orders decisions by day, then
by when they were written; `words` is under the same key. Changes of the garden file have a key below 0: they
can be taken back, but are no line of the log.

The file is written with a rollback journal, not a write-ahead log: at rest all of it is one file, which can
be replaced in one step and copied by hand.
"""

from __future__ import annotations

import os
import sqlite3
from datetime import date
from pathlib import Path

from gardenmate.journal.frames import PAGE

APPLICATION_ID = 0x67646E6A  # "gdnj", marks the file as a journal of this program
FORMAT = 2
"""`PRAGMA user_version`, and `meta.format`: a header that says another thing than the table is damaged."""
_ID_BITS = 32  # bits of a number in the key of a day

_TABLES = (
    """CREATE TABLE entry (
    id         INTEGER PRIMARY KEY,
    kind       TEXT NOT NULL CHECK (kind IN ('record', 'correct', 'undo', 'redo')),
    target     INTEGER,        -- correct: the record; undo, redo: the entry taken back or put back
    uid        TEXT UNIQUE,    -- of a record: its name in every journal
    written_at TEXT NOT NULL,
    line       TEXT NOT NULL   -- the whole entry, provable; last, so that its bytes end the row
)""",
    "CREATE INDEX entry_target ON entry (target) WHERE target IS NOT NULL",
    """CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
    BEGIN SELECT RAISE(ABORT, 'entries of the journal are never changed'); END""",
    """CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry
    BEGIN SELECT RAISE(ABORT, 'entries of the journal are never removed'); END""",
    """CREATE TABLE standing (
    key        INTEGER PRIMARY KEY,
    id         INTEGER NOT NULL UNIQUE,
    written_at TEXT,   -- null: as in the entry
    content    TEXT    -- null: as in the entry; else packed, with its corrections
)""",
    "CREATE TABLE undone (entry INTEGER PRIMARY KEY, undo INTEGER NOT NULL UNIQUE)",
    "CREATE TABLE derived (name TEXT PRIMARY KEY, version TEXT NOT NULL, content TEXT NOT NULL)",
    "CREATE TABLE meta (name TEXT PRIMARY KEY, value TEXT NOT NULL)",
    """CREATE VIRTUAL TABLE words USING fts5 (
    text, crops, action, place, tokenize = "porter unicode61 remove_diacritics 2 tokenchars '_'"
)""",
)


def create(db: sqlite3.Connection) -> None:
    """Make the tables in an empty database, inside the transaction that is open."""
    for statement in _TABLES:
        db.execute(statement)
    name = os.urandom(8).hex()
    db.executemany("INSERT INTO meta VALUES (?, ?)", (("format", str(FORMAT)), ("name", name)))
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    db.execute(f"PRAGMA user_version = {FORMAT}")


def key_of(day: date, number: int, *, listed: bool = True) -> int:
    """The sort key of entry ``number`` on ``day``; below 0 for what is no line of the log."""
    return (day.toordinal() << _ID_BITS) | number if listed else -number


def day_of(key: int) -> date | None:
    """The day of a sort key, None for what is no line of the log, or when it is no such key."""
    ordinal = key >> _ID_BITS
    return date.fromordinal(ordinal) if 0 < ordinal <= date.max.toordinal() else None


def key_range(since: date | None, until: date | None) -> tuple[int, int]:
    """The lowest and highest key of the days from ``since`` to ``until``, both included."""
    low = (since or date.min).toordinal() << _ID_BITS
    high = ((until or date.max).toordinal() + 1 << _ID_BITS) - 1
    return low, high


def connect(path: Path, *, wait_s: float, frozen: bool = False) -> sqlite3.Connection:
    """Open a journal file, each statement its own transaction until BEGIN; nothing is read yet.

    ``frozen`` opens a file whose folder cannot be written: no lock or side file is made.
    """
    if frozen:
        where = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
        return _settled(sqlite3.connect(where, uri=True, isolation_level=None))
    db = _settled(sqlite3.connect(path, timeout=wait_s, isolation_level=None))
    try:
        db.execute(f"PRAGMA page_size = {PAGE}")
        # EXTRA syncs file and folder at every commit: what has been acknowledged outlives a power cut.
        db.execute("PRAGMA synchronous = EXTRA")
    except BaseException:
        db.close()
        raise
    return db


def in_memory() -> sqlite3.Connection:
    """An empty journal that is nowhere on the disk."""
    db = _settled(sqlite3.connect(":memory:", isolation_level=None))
    create(db)
    return db


def _settled(db: sqlite3.Connection) -> sqlite3.Connection:
    # Bytes that are no text come back as signs of their own: the entry is found damaged, nothing else is.
    db.text_factory = lambda raw: raw.decode("utf-8", "replace")
    db.execute("PRAGMA temp_store = MEMORY")  # a full temporary folder is no reason to fail
    return db


def version_of(db: sqlite3.Connection) -> int:
    """The format of an open file: 0 while it is new."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def is_foreign(db: sqlite3.Connection) -> bool:
    """True for a database that holds something else than a journal."""
    mark = int(db.execute("PRAGMA application_id").fetchone()[0])
    tables = int(db.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])
    return mark != APPLICATION_ID and (tables > 0 or mark != 0)


def meta(db: sqlite3.Connection, name: str) -> str | None:
    """A line of `meta`, None when it is not there."""
    row = db.execute("SELECT value FROM meta WHERE name = ?", (name,)).fetchone()
    return None if row is None else str(row[0])
