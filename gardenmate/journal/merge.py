"""Merging decisions from elsewhere into a journal without doubling any."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable

from gardenmate.journal import rows
from gardenmate.journal.decision import pack
from gardenmate.journal.frames import Content
from gardenmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Merged:
    """What an import did: decisions added, brought up to date, and already here."""

    added: int
    updated: int
    known: int


def merge(db: sqlite3.Connection, contents: Iterable[tuple[str | None, str, Content]], now: str) -> Merged:
    """Add what is new, correct what was changed later elsewhere, leave the rest; see `Journal.add_all`.

    What was taken back here stays taken back.
    """
    added = updated = known = 0
    for uid, written_at, content in contents:
        name = uid or _name_of(content)
        row = db.execute("SELECT id FROM entry WHERE uid = ?", (name,)).fetchone()
        if row is None:
            rows.add_record(db, content, written_at or now, name)
            added += 1
            continue
        ours = rows.computed(db, row[0])
        changes = {} if ours is None else _changes(ours.content, content)
        if ours is not None and changes and written_at > (ours.written_at or ""):
            rows.add_correction(db, row[0], changes, written_at)
            updated += 1
        else:
            known += 1
    return Merged(added, updated, known)


def _changes(ours: Content, theirs: Content) -> Content:
    """What a correction must say to turn ours into theirs (only what corrections may change)."""
    return {
        key: theirs[key]
        for key in ("text", "on", "count", "crops", "action", "detail")
        if key in theirs and theirs[key] != ours.get(key)
    }


def _name_of(content: Content) -> str:
    """A name made from the content itself, so that the same decision twice is known."""
    return hashlib.blake2b(pack(content).encode(), digest_size=16).hexdigest()
