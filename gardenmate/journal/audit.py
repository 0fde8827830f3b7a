"""Is the whole journal sound?"""

from __future__ import annotations

import sqlite3

from gardenmate.journal import rows
from gardenmate.journal.decision import decision_of, unpack

_FEW = 10


def problems(db: sqlite3.Connection) -> list[str]:
    """Everything that is wrong, as sentences; empty when the file is sound.

    The pages of the file are checked, then every entry is read, and what stands is worked out anew from the
    entries and compared.
    """
    found = [
        f"The file is damaged: {row[0]}." for row in db.execute("PRAGMA integrity_check") if row[0] != "ok"
    ]
    if found:
        return found[:_FEW]
    if rows.words_damaged(db):
        found.append("The index of words is damaged.")
    found += _unreadable(db)
    if not found:
        found += _out_of_step(db)
    return found


def _unreadable(db: sqlite3.Connection) -> list[str]:
    bad = []
    for number, uid, written_at, content in db.execute(
        "SELECT id, uid, written_at, content FROM entry WHERE kind = 'record'"
    ):
        try:
            decision_of(number, uid, written_at, unpack(content))
        except (ValueError, KeyError, TypeError, AttributeError):
            bad.append(f"Entry {number} holds no decision that can be read.")
    return bad[:_FEW]


def _out_of_step(db: sqlite3.Connection) -> list[str]:
    """Decisions whose standing form is not what their entries say."""
    bad = []
    missing = db.execute(
        "SELECT id FROM entry WHERE kind = 'record' AND id NOT IN (SELECT entry FROM undone) "
        "AND id NOT IN (SELECT id FROM standing)"
    )
    bad += [f"Decision {number} is missing from the list of what stands." for (number,) in missing]
    listed = db.execute(
        "SELECT s.id, s.content FROM standing s WHERE s.content IS NOT NULL "
        "OR s.id IN (SELECT target FROM entry WHERE target IS NOT NULL)"
    ).fetchall()
    for number, content in listed:
        now = rows.computed(db, number)
        plain = now is not None and not now[2]
        if now is None or (content is None) != plain or (content is not None and unpack(content) != now[1]):
            bad.append(f"Decision {number} does not stand as its entries say.")
    return bad[:_FEW]
