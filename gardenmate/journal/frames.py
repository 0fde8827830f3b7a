"""One entry of the journal as one line of text that can be found, and proved whole, anywhere in a file.

    gdnj2 <crc32 of the body, 8 hex signs> <length of the body> <body: JSON array, ASCII>

The line stands in the last column of its row, so that SQLite lays its bytes down in one piece, or, when it is
long, in a chain of overflow pages. Whatever else of a file is damaged - header, schema, tree, free list - a
search for the mark finds every line, and the checksum says whether it is whole (SQLite file format, sections
1.5 "B-tree pages" and 1.6 "payload overflow": https://sqlite.org/fileformat2.html).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from typing import Any
from zlib import crc32

from gardenmate.records import NamedTuple

Content = dict[str, Any]
KINDS = ("record", "correct", "undo", "redo")
MARK = "gdnj2"
PAGE = 4096
"""Bytes of a page of the journal's file, set when it is made."""
MOST_BYTES = 9_000_000
"""The longest body of one entry, in bytes (design value: a million signs, most of them escaped)."""

_HEAD = re.compile(rb"gdnj2 ([0-9a-f]{8}) ([1-9][0-9]{0,6}) ")
_NUMBER = re.compile(rb"\[([1-9][0-9]{0,9}),\"record\"")
_LOCAL_MOST = PAGE - 35
_LOCAL_LEAST = (PAGE - 12) * 32 // 255 - 23
_CHUNK = PAGE - 4
_LONGEST_BEFORE = 240  # bytes of a row before its line: record header, kind, target, uid, moment
_WORK = 24  # overflow chains are followed for at most this many times the bytes of the file


class NotKeepableError(Exception):
    """An entry that is too long, or holds what no line can hold."""


class EntryRow(NamedTuple):
    """One entry: its number, what it is, the entry it is about, its name, when it was written, its
    content."""

    number: int
    kind: str
    target: int | None
    uid: str | None
    written_at: str
    content: Content


class Scanned(NamedTuple):
    """Entries found whole by their number, and numbers of decisions that stood there but are not whole."""

    rows: dict[int, EntryRow]
    broken: frozenset[int]


def frame(row: EntryRow) -> str:
    """The line of an entry. Raises NotKeepableError."""
    try:
        body = json.dumps(list(row), separators=(",", ":"), sort_keys=True, allow_nan=False)
    except ValueError as error:
        raise NotKeepableError(str(error)) from error
    if len(body) > MOST_BYTES:
        raise NotKeepableError(f"it is longer than {MOST_BYTES} bytes")
    return f"{MARK} {crc32(body.encode()):08x} {len(body)} {body}"


def unframe(line: str | bytes) -> EntryRow:
    """The entry of a line. Raises ValueError when the line is not whole."""
    raw = line.encode("utf-8", "replace") if isinstance(line, str) else line
    head = _HEAD.match(raw)
    if head is None:
        raise ValueError("it does not begin as an entry")
    return _row(head, raw[head.end() :])


def _row(head: re.Match[bytes], body: bytes) -> EntryRow:
    if len(body) != int(head[2]) or crc32(body) != int(head[1], 16):
        raise ValueError("its bytes have changed")
    number, kind, target, uid, written_at, content = json.loads(body)
    row = EntryRow(number, kind, target, uid, written_at, content)
    fits = isinstance(number, int) and number > 0 and kind in KINDS and isinstance(content, dict)
    if not fits or not isinstance(target, int | None) or not isinstance(written_at, str):
        raise ValueError("it is no entry")
    return row


def scan(files: Sequence[bytes]) -> Scanned:
    """Every entry that is whole somewhere in these bytes, the first place winning; time linear in the
    bytes."""
    rows: dict[int, EntryRow] = {}
    broken: set[int] = set()
    for data in files:
        work = _WORK * len(data)
        for head in _HEAD.finditer(data):
            row = _in_one_piece(data, head)
            if row is None and work > 0 and int(head[2]) > _LOCAL_LEAST:
                row, cost = _in_a_chain(data, head)
                work -= cost
            if row is not None:
                rows.setdefault(row.number, row)
            elif (number := _NUMBER.match(data, head.end())) is not None:
                broken.add(int(number[1]))
    return Scanned(rows, frozenset(broken - rows.keys()))


def _in_one_piece(data: bytes, head: re.Match[bytes]) -> EntryRow | None:
    length = int(head[2])
    return _row_or_none(head, data[head.end() : head.end() + length]) if length < PAGE else None


def _in_a_chain(data: bytes, head: re.Match[bytes]) -> tuple[EntryRow | None, int]:
    """A line that goes on in overflow pages, and how many bytes were looked at to find it.

    How much of it stands in its own page follows from the bytes of its row before it; those are tried.
    """
    start, whole = head.start(), head.end() - head.start() + int(head[2])
    cost = 0
    for here in dict.fromkeys(_local_bytes(whole)):
        at = start + here
        if here < head.end() - start or at + 4 > len(data):
            continue
        line = b"".join(_chain(data, start, here, whole))
        cost += len(line)
        row = _row_or_none(head, line[head.end() - start :])
        if row is not None:
            return row, cost
    return None, cost + _LONGEST_BEFORE


def _local_bytes(whole: int) -> Iterator[int]:
    for before in range(8, _LONGEST_BEFORE):
        payload = before + whole
        if payload > _LOCAL_MOST:
            surplus = _LOCAL_LEAST + (payload - _LOCAL_LEAST) % _CHUNK
            yield (surplus if surplus <= _LOCAL_MOST else _LOCAL_LEAST) - before


def _chain(data: bytes, start: int, here: int, whole: int) -> Iterator[bytes]:
    yield data[start : start + here]
    pointer, left = start + here, whole - here
    while left > 0:
        page = int.from_bytes(data[pointer : pointer + 4], "big")
        pointer = (page - 1) * PAGE
        if page < 2 or pointer + PAGE > len(data):
            return
        yield data[pointer + 4 : pointer + 4 + min(left, _CHUNK)]
        left -= _CHUNK


def _row_or_none(head: re.Match[bytes], body: bytes) -> EntryRow | None:
    try:
        return _row(head, body)
    except (ValueError, TypeError, RecursionError):
        return None
