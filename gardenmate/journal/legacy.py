"""Entries of a journal of format 1, whose rows carry no checksum and were written with a write-ahead log."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path

from gardenmate.journal import schema
from gardenmate.journal.decision import decision_of
from gardenmate.journal.frames import KINDS, PAGE, EntryRow

_LEAF = 0x0D  # kind of a page that holds rows (SQLite file format)
_FIELDS = 6  # columns of a row in the first format
# Where pages begin, and how far apart: in the file itself, in a write-ahead log, in a rollback journal.
_LAID = ((0, PAGE), (32 + 24, 24 + PAGE), (512 + 4, 4 + PAGE + 4))
_NOT_READ = (ValueError, KeyError, TypeError, AttributeError, IndexError, RecursionError)


def entries(path: Path, files: Sequence[bytes]) -> dict[int, EntryRow]:
    """Every entry of format 1 that can be read and makes sense, by number.

    A sound file is asked; of a damaged one the pages are read one by one.
    """
    try:
        with closing(_open(path)) as db:
            rows = db.execute("SELECT id, kind, target, uid, written_at, content FROM entry").fetchall()
            found = [_row(row) for row in rows]
    except (sqlite3.Error, UnicodeDecodeError):
        found = [_row(cells) for data in files for cells in _cells(data)]
    return {row.number: row for row in reversed(found) if row is not None}


def _open(path: Path) -> sqlite3.Connection:
    db = schema.connect(path, wait_s=1.0)
    try:
        if any(row[0] != "ok" for row in db.execute("PRAGMA integrity_check(1)")):
            raise sqlite3.DatabaseError("damaged")
    except sqlite3.OperationalError:  # on read-only ground
        db.close()
        return schema.connect(path, wait_s=1.0, frozen=True)
    except BaseException:
        db.close()
        raise
    return db


def _row(values: Sequence[object]) -> EntryRow | None:
    try:
        number, kind, target, uid, written_at, content = values
        if not isinstance(number, int) or kind not in KINDS or not isinstance(target, int | None):
            return None
        read = json.loads(str(content))
        if kind == "record":
            decision_of(number, str(uid), str(written_at), read)
        elif not isinstance(target, int) or not isinstance(read, dict):
            return None
        return EntryRow(
            number, str(kind), target, str(uid) if uid is not None else None, str(written_at), read
        )
    except _NOT_READ:
        return None


def _cells(data: bytes) -> Iterator[list[object]]:
    """The rows on every leaf page of a table, each as its values with the number first.

    SQLite file format, sections 1.6 and 2.1: cell pointers, payload length, number, record.
    """
    for start in (at for first, step in _LAID for at in range(first, len(data) - PAGE + 1, step)):
        if data[start] != _LEAF:
            continue
        count = int.from_bytes(data[start + 3 : start + 5], "big")
        if count > PAGE // 8:
            continue
        for each in range(count):
            at = start + 8 + 2 * each
            offset = int.from_bytes(data[at : at + 2], "big")
            try:
                yield _cell(data[start + offset : start + PAGE])
            except _NOT_READ:
                continue


def _cell(data: bytes) -> list[object]:
    length, at = _varint(data, 0)
    number, at = _varint(data, at)
    head_length, first = _varint(data, at)
    types, position = [], first
    while position < at + head_length:
        kind, position = _varint(data, position)
        types.append(kind)
    if len(types) != _FIELDS or position - at > length:
        raise ValueError
    values: list[object] = []
    for kind in types:
        size = (kind - 12) // 2 if kind >= 12 else (0, 1, 2, 3, 4, 6, 8, 8, 0, 0, 0, 0)[kind]
        raw = data[position : position + size]
        if len(raw) != size:
            raise ValueError
        position += size
        values.append(_value(kind, raw))
    return [number, *values[1:]]


def _value(kind: int, raw: bytes) -> object:
    if kind >= 13 and kind % 2:
        return raw.decode("utf-8")
    if 1 <= kind <= 6:
        return int.from_bytes(raw, "big", signed=True)
    return {8: 0, 9: 1}.get(kind)


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = 0
    for used in range(8):
        byte = data[at + used]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + used + 1
    return value << 8 | data[at + 8], at + 9
