"""What can still be read of a damaged journal, carried over into a new one."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from gardenmate.journal import rows
from gardenmate.journal.decision import decision_of, unpack

Row = tuple[int, str, int | None, str | None, str, str]
_COLUMNS = "id, kind, target, uid, written_at, content"


def readable_entries(damaged: Path) -> list[Row]:
    """The entries of a damaged file that can be read and make sense, in their order; the file is not touched.

    Corrections and undos of an entry that cannot be read are left out with it.
    """
    try:
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(folder) / damaged.name
            for ending in ("", "-wal"):  # what was written last may still be in the log beside it
                source = damaged.with_name(damaged.name + ending)
                if source.exists():
                    shutil.copyfile(source, copy.with_name(copy.name + ending))
            with closing(sqlite3.connect(copy)) as db:
                found = {row[0]: row for row in _rows(db) if _makes_sense(row)}
    except (sqlite3.Error, OSError):
        return []  # not even the first page: there is nothing to carry over
    return [row for row in found.values() if row[2] is None or row[2] in found]


def _rows(db: sqlite3.Connection) -> Iterator[Row]:
    """Every row that can be read, each fetched on its own, so that one bad page hides only its own rows."""
    last = _last_id(db)
    for number in range(1, last + 1):
        try:
            row = db.execute(f"SELECT {_COLUMNS} FROM entry WHERE id = ?", (number,)).fetchone()
        except sqlite3.DatabaseError:
            continue
        if row is not None:
            yield row


def _last_id(db: sqlite3.Connection) -> int:
    for question in ("SELECT seq FROM sqlite_sequence WHERE name = 'entry'", "SELECT max(id) FROM entry"):
        try:
            row = db.execute(question).fetchone()
        except sqlite3.DatabaseError:
            continue
        if row is not None and isinstance(row[0], int):
            return row[0]
    return 0


def _makes_sense(row: Row) -> bool:
    number, kind, target, uid, written_at, content = row
    try:
        if kind == "record":
            decision_of(number, str(uid), str(written_at), unpack(content))
        else:
            unpack(content)
    except (ValueError, KeyError, TypeError, AttributeError):
        return False
    return isinstance(uid, str) if kind == "record" else isinstance(target, int)


def carry_over(db: sqlite3.Connection, entries: list[Row]) -> None:
    """Put entries into a new, empty journal under their old numbers."""
    db.executemany(f"INSERT INTO entry ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?)", entries)
    rows.rebuild(db)
