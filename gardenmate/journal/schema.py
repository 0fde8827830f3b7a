"""The tables of the journal, the steps from each schema version to the next, and how a file is opened.

`entry` is the journal: rows are only ever added (triggers refuse anything else). `standing`, `undone` and
`words` follow from it and are kept in the same transaction, so that a million decisions list at once;
`check` compares them with what the entries say.

`standing.key` is the day's ordinal above the entry id, so that one number orders decisions by day, then by
when they were written; `words` is a full-text index under the same key, which lets it answer "newest first,
from this day on" without sorting.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

APPLICATION_ID = 0x67646E6A  # "gdnj", marks the file as a journal of this program
_ID_BITS = 32

_V1 = """
CREATE TABLE entry (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    kind       TEXT NOT NULL CHECK (kind IN ('record', 'correct', 'undo', 'redo')),
    target     INTEGER REFERENCES entry (id),  -- correct: the record; undo, redo: the entry taken back
    uid        TEXT UNIQUE,                    -- of a record: its name in every journal
    written_at TEXT NOT NULL,
    content    TEXT NOT NULL                   -- JSON; of a correction only the replaced fields
);
CREATE INDEX entry_target ON entry (target) WHERE target IS NOT NULL;
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
    BEGIN SELECT RAISE(ABORT, 'entries of the journal are never changed'); END;
CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry
    BEGIN SELECT RAISE(ABORT, 'entries of the journal are never removed'); END;
CREATE TABLE standing (
    key        INTEGER PRIMARY KEY,
    id         INTEGER NOT NULL UNIQUE REFERENCES entry (id),
    written_at TEXT,   -- null: as in the entry
    content    TEXT    -- null: as in the entry; else with its corrections
);
CREATE TABLE undone (
    entry INTEGER PRIMARY KEY REFERENCES entry (id),
    undo  INTEGER NOT NULL UNIQUE REFERENCES entry (id)
);
"""
WORDS = """CREATE VIRTUAL TABLE words USING fts5 (
    text, crops, action, place,
    content = '', tokenize = "porter unicode61 remove_diacritics 2 tokenchars '_'"
);
"""


def _create(db: sqlite3.Connection) -> None:
    for statement in _statements(_V1):
        db.execute(statement)
    db.execute(WORDS)
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")


def _statements(script: str) -> list[str]:
    """The statements of a script one by one: `executescript` would end the transaction they belong to."""
    found: list[str] = []
    part = ""
    for line in script.splitlines():
        part += line + "\n"
        if sqlite3.complete_statement(part):
            found.append(part)
            part = ""
    return found


Migration = Callable[[sqlite3.Connection], None]
MIGRATIONS: Sequence[Migration] = (_create,)
"""Step n brings a file from schema version n to n + 1 (`PRAGMA user_version`)."""


def key_of(day: date, number: int) -> int:
    """The sort key of entry ``number`` on ``day``."""
    return (day.toordinal() << _ID_BITS) | number


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
        return sqlite3.connect(
            f"{path.resolve().as_uri()}?mode=ro&immutable=1", uri=True, isolation_level=None
        )
    db = sqlite3.connect(path, timeout=wait_s, isolation_level=None)
    try:
        # FULL syncs the log at every commit: what has been acknowledged outlives a power cut.
        db.execute("PRAGMA synchronous = FULL")
    except sqlite3.Error:
        db.close()
        raise
    return db


def version_of(db: sqlite3.Connection) -> int:
    """The schema version of an open file: 0 while it is new."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def is_foreign(db: sqlite3.Connection) -> bool:
    """True for a database that holds something else than a journal."""
    mark = int(db.execute("PRAGMA application_id").fetchone()[0])
    tables = int(db.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])
    return mark != APPLICATION_ID and (tables > 0 or mark != 0)


def migrate(db: sqlite3.Connection, backup: Callable[[int], None]) -> None:
    """Bring a file to the newest version in one transaction; ``backup(version)`` is called before an old one
    is changed."""
    newest = len(MIGRATIONS)
    if version_of(db) == newest:
        return
    # The persistent switch to write-ahead logging cannot be made inside a transaction.
    db.execute("PRAGMA journal_mode = WAL")
    old = version_of(db)
    if 0 < old < newest:
        backup(old)
    db.execute("BEGIN IMMEDIATE")
    try:
        # Another process may have done it while this one waited.
        for step in MIGRATIONS[version_of(db) :]:
            step(db)
        db.execute(f"PRAGMA user_version = {newest}")
        db.execute("COMMIT")
    except BaseException:
        db.execute("ROLLBACK")
        raise
