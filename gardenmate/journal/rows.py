"""Reading and writing rows of an open journal: entries are added, what follows from them is kept in step."""

from __future__ import annotations

import os
import re
import sqlite3
from collections.abc import Sequence
from datetime import date

from gardenmate.journal.decision import (
    GARDEN,
    KeptDecision,
    corrected,
    decision_of,
    pack,
    unpack,
    unreadable,
)
from gardenmate.journal.frames import MARK, Content, EntryRow, frame, unframe
from gardenmate.journal.schema import day_of, key_of, key_range, meta
from gardenmate.records import NamedTuple

ENTRY = "id, kind, target, uid, written_at, line"
_COLUMNS = (
    "s.key, s.id, e.uid, coalesce(s.written_at, e.written_at), s.content, e.line "
    "FROM standing s JOIN entry e ON e.id = s.id"
)
# The latest changes that still count: not taken back themselves, nor a correction of what was taken back.
_CHANGES = """
SELECT e.id, e.kind, coalesce(e.target, e.id) FROM entry e
WHERE e.kind IN ('record', 'correct') AND e.id NOT IN (SELECT entry FROM undone)
  AND (e.kind = 'record' OR e.target NOT IN (SELECT entry FROM undone))
ORDER BY e.id DESC LIMIT ?
"""
_DAMAGED = (ValueError, KeyError, TypeError, AttributeError, RecursionError)
_EPOCH = date(2000, 1, 1)  # where an entry is shown whose day cannot be told


class Stands(NamedTuple):
    """One decision as it stands: its key and number, and when it was corrected, its moment and content."""

    key: int
    number: int
    written_at: str | None
    content: Content
    is_corrected: bool


# -- adding -------------------------------------------------------------------------------------------
def add_record(db: sqlite3.Connection, content: Content, written_at: str, uid: str | None = None) -> int:
    """Add a decision. Returns its number."""
    number = _add(db, "record", None, uid or os.urandom(16).hex(), written_at, content)
    key = key_of(date.fromisoformat(content["on"]), number, listed=content["action"] != GARDEN)
    stand(db, Stands(key, number, None, content, False))
    return number


def add_correction(db: sqlite3.Connection, number: int, changes: Content, written_at: str) -> None:
    """Add a correction of decision ``number``."""
    _add(db, "correct", number, None, written_at, changes)
    restate(db, number)


def add_undo(db: sqlite3.Connection, entry: int, written_at: str) -> None:
    """Take back one entry, a decision or a correction."""
    undo = _add(db, "undo", entry, None, written_at, {})
    db.execute("INSERT INTO undone (entry, undo) VALUES (?, ?)", (entry, undo))
    restate(db, record_of(db, entry))


def add_redo(db: sqlite3.Connection, entry: int, written_at: str) -> None:
    """Put back an entry that was taken back."""
    _add(db, "redo", entry, None, written_at, {})
    db.execute("DELETE FROM undone WHERE entry = ?", (entry,))
    restate(db, record_of(db, entry))


def _add(
    db: sqlite3.Connection, kind: str, target: int | None, uid: str | None, written_at: str, content: Content
) -> int:
    row = EntryRow(newest(db) + 1, kind, target, uid, written_at, content)
    values = (row.number, kind, target, uid, written_at, frame(row))
    db.execute(f"INSERT INTO entry ({ENTRY}) VALUES (?, ?, ?, ?, ?, ?)", values)
    return row.number


def newest(db: sqlite3.Connection) -> int:
    """The number of the newest entry of any kind, 0 while there is none."""
    return int(db.execute("SELECT coalesce(max(id), 0) FROM entry").fetchone()[0])


def version(db: sqlite3.Connection) -> str:
    """The journal's own name and the number of its newest entry."""
    return f"{meta(db, 'name')}-{newest(db)}"


def known(db: sqlite3.Connection, names: Sequence[str]) -> set[str]:
    """Those of the names (uids) that entries here have."""
    question = "SELECT uid FROM entry WHERE uid = ?"
    return {name for name in names if db.execute(question, (name,)).fetchone() is not None}


# -- what stands --------------------------------------------------------------------------------------
def stand(db: sqlite3.Connection, stands: Stands) -> None:
    """List a decision as standing, its words found."""
    db.execute(
        "INSERT INTO standing (key, id, written_at, content) VALUES (?, ?, ?, ?)",
        (stands.key, stands.number, *packed(stands)),
    )
    if stands.key > 0:
        db.execute(
            "INSERT INTO words (rowid, text, crops, action, place) VALUES (?, ?, ?, ?, ?)",
            (stands.key, *_words(stands.content)),
        )


def packed(stands: Stands) -> tuple[str | None, str | None]:
    """The moment and content in `standing`: null where the entry says them."""
    return (stands.written_at, pack(stands.content)) if stands.is_corrected else (None, None)


def restate(db: sqlite3.Connection, number: int) -> None:
    """Bring the standing form of decision ``number`` in step with its entries."""
    old = db.execute("SELECT key FROM standing WHERE id = ?", (number,)).fetchone()
    if old is not None:
        db.execute("DELETE FROM words WHERE rowid = ?", old)
        db.execute("DELETE FROM standing WHERE id = ?", (number,))
    now = computed(db, number)
    if now is not None:
        stand(db, now)


def computed(
    db: sqlite3.Connection, number: int, without: int | None = None, with_undone: int | None = None
) -> Stands | None:
    """What the entries say of decision ``number``.

    None when it was taken back, or its bytes are damaged; a damaged correction is passed over. ``without``
    leaves out one correction; ``with_undone`` counts one entry that was taken back.
    """
    found = db.execute(
        "SELECT line FROM entry "
        "WHERE (id = :number OR (target = :number AND kind = 'correct')) "
        "AND (id NOT IN (SELECT entry FROM undone) OR id IS :with_undone) AND id IS NOT :without ORDER BY id",
        {"number": number, "without": without, "with_undone": with_undone},
    ).fetchall()
    entries = [row for (line,) in found if (row := _whole(line)) is not None]
    if not entries or entries[0].kind != "record":
        return None
    content, written_at = entries[0].content, entries[0].written_at
    for row in entries[1:]:
        content, written_at = corrected(content, row.content), row.written_at
    try:
        day = date.fromisoformat(content["on"])
    except (KeyError, TypeError, ValueError):
        return None
    key = key_of(day, number, listed=content.get("action") != GARDEN)
    return Stands(key, number, written_at, content, len(entries) > 1)


def _whole(line: str) -> EntryRow | None:
    try:
        return unframe(line)
    except _DAMAGED:
        return None


def record_of(db: sqlite3.Connection, entry: int) -> int:
    """The decision an entry is about."""
    kind, target = db.execute("SELECT kind, target FROM entry WHERE id = ?", (entry,)).fetchone()
    return int(target) if kind == "correct" else entry


def standing(db: sqlite3.Connection, number: int) -> KeptDecision | None:
    """Decision ``number`` as it stands, None when it was taken back or never was."""
    row = db.execute(f"SELECT {_COLUMNS} WHERE s.id = ?", (number,)).fetchone()
    return None if row is None else _decision(db, row)


def changes(db: sqlite3.Connection, limit: int) -> list[tuple[int, str, int]]:
    """(entry, kind, decision) of the latest changes that still count, newest first."""
    return [(int(e), str(k), int(d)) for e, k, d in db.execute(_CHANGES, (limit,))]


def last_undone(db: sqlite3.Connection, number: int | None = None) -> int | None:
    """The entry that was taken back last and may be put back; of decision ``number`` alone when given."""
    about = "" if number is None else "WHERE entry = :n OR entry IN (SELECT id FROM entry WHERE target = :n)"
    row = db.execute(
        f"SELECT entry FROM undone {about} ORDER BY undo DESC LIMIT 1", {"n": number} if number else {}
    ).fetchone()
    return None if row is None else int(row[0])


def without(db: sqlite3.Connection, number: int, correction: int) -> KeptDecision | None:
    """Decision ``number`` as it would stand without one of its corrections."""
    return _from_computed(db, computed(db, number, without=correction))


def after_redo(db: sqlite3.Connection, entry: int) -> KeptDecision | None:
    """The decision that putting back ``entry`` would restore or change."""
    return _from_computed(db, computed(db, record_of(db, entry), with_undone=entry))


def _from_computed(db: sqlite3.Connection, now: Stands | None) -> KeptDecision | None:
    if now is None:
        return None
    (uid,) = db.execute("SELECT uid FROM entry WHERE id = ?", (now.number,)).fetchone()
    return decision_of(now.number, uid, now.written_at or "", now.content)


# -- finding ------------------------------------------------------------------------------------------
def find(
    db: sqlite3.Connection,
    *,
    crop: str | None = None,
    action: str | None = None,
    since: date | None = None,
    until: date | None = None,
    text: str | None = None,
    limit: int,
) -> list[KeptDecision]:
    """Standing decisions that fit every filter, newest day first.

    Words of ``text`` are found in any of their forms (leek, leeks), anywhere in the grower's words or the
    place; when no decision has them all, beginnings of words count too.
    """
    if action == GARDEN:
        rows = db.execute(f"SELECT {_COLUMNS} WHERE s.key < 0 ORDER BY s.key LIMIT ?", (limit,))
        return [_decision(db, row) for row in rows.fetchall()]
    low, high = key_range(since, until)
    filters = [f"{name} : {_token(value)}" for name, value in (("crops", crop), ("action", action)) if value]
    if text is None or not text.strip():
        return _matching(db, filters, low, high, limit)
    typed = re.findall(r"\w+", text.replace("_", " "))
    if not typed:  # nothing an index of words could hold: signs only
        found = _matching(db, filters, low, high, -1)
        return [d for d in found if text.strip() in d.text][:limit]
    whole = [f'{{text place}} : "{word}"' for word in typed]
    found = _matching(db, [*filters, *whole], low, high, limit)
    if found:
        return found
    begun = [f'{{text place}} : "{word}" *' for word in typed]
    return _matching(db, [*filters, *begun], low, high, limit)


def _matching(
    db: sqlite3.Connection, filters: Sequence[str], low: int, high: int, limit: int
) -> list[KeptDecision]:
    if filters:
        keys = (
            "SELECT rowid AS key FROM words WHERE words MATCH ? AND rowid BETWEEN ? AND ? "
            "ORDER BY rowid DESC LIMIT ?"
        )
        values: tuple[object, ...] = (" AND ".join(filters), low, high, limit)
    else:
        keys = "SELECT key FROM standing WHERE key BETWEEN ? AND ? ORDER BY key DESC LIMIT ?"
        values = (low, high, limit)
    rows = db.execute(
        f"WITH found AS MATERIALIZED ({keys}) SELECT {_COLUMNS} JOIN found ON found.key = s.key "
        "ORDER BY s.key DESC",
        values,
    )
    return [_decision(db, row) for row in rows.fetchall()]


def everything(db: sqlite3.Connection) -> list[KeptDecision]:
    """Every standing decision that is a line of the log, oldest day first."""
    rows = db.execute(f"SELECT {_COLUMNS} WHERE s.key > 0 ORDER BY s.key").fetchall()
    return [_decision(db, row) for row in rows]


def added_since(db: sqlite3.Connection, number: int) -> list[KeptDecision] | None:
    """Decisions recorded after entry ``number``, oldest first; None when one older was changed since, or when
    there never was such an entry."""
    if number > newest(db):
        return None
    touched = db.execute(
        "SELECT 1 FROM entry e LEFT JOIN entry t ON t.id = e.target AND t.kind = 'correct' "
        "WHERE e.id > ? AND e.kind != 'record' AND coalesce(t.target, e.target) <= ? LIMIT 1",
        (number, number),
    ).fetchone()
    if touched is not None:
        return None
    rows = db.execute(f"SELECT {_COLUMNS} WHERE s.id > ? ORDER BY s.id", (number,)).fetchall()
    return [_decision(db, row) for row in rows]


def _decision(db: sqlite3.Connection, row: tuple[int, int, str, str, str | None, str]) -> KeptDecision:
    """A standing decision; one whose bytes are damaged is shown as unreadable, and hides no other."""
    key, number, uid, written_at, content, line = row
    try:
        if content is not None:
            return decision_of(number, uid, written_at, unpack(content))
        entry = unframe(line)
        if entry.number == number:
            return decision_of(number, uid, written_at, entry.content)
    except _DAMAGED:
        pass
    now = computed(db, number) if content is not None else None  # only the copy with its corrections is bad
    if now is not None:
        return decision_of(number, uid, now.written_at or "", now.content)
    return unreadable(number, day_of(key) or _EPOCH, uid, written_at)


# -- the index of words -------------------------------------------------------------------------------
def _words(content: Content) -> tuple[str, str, str, str]:
    """What is searched: text and place as words, crops and action as one token each."""
    detail = " ".join(str(v) for v in content.get("detail", {}).values())
    return (
        _plain(f"{content.get('text', '')} {detail}"),
        " ".join(_bare(c) for c in content.get("crops", ())),
        _bare(str(content["action"])),
        _plain(str(content.get("place", ""))),
    )


def _plain(text: str) -> str:
    """Text as SQLite can hold it: no NUL, no lone surrogates; "_" parts words here as for the grower. The
    mark of an entry's line is not repeated here, where a search for lines would find it."""
    text = text.replace("\0", " ").replace("_", " ").replace(MARK, " ")
    return text.encode("utf-8", "replace").decode("utf-8")


def _bare(name: str) -> str:
    return re.sub(r"\W", "_", name)


def _token(name: str) -> str:
    return f'"{_bare(name)}"'


def words_damaged(db: sqlite3.Connection) -> bool:
    """True when the index of words contradicts itself."""
    try:
        db.execute("INSERT INTO words (words) VALUES ('integrity-check')")
    except sqlite3.OperationalError:
        return False  # read-only: it cannot be checked, and was found sound when written
    except sqlite3.DatabaseError:
        return True
    return False


# -- what others work out of the entries --------------------------------------------------------------
def derived(db: sqlite3.Connection, name: str) -> tuple[str, str] | None:
    """(version, text) kept under a name, None when nothing whole is kept."""
    row = db.execute("SELECT version, content FROM derived WHERE name = ?", (name,)).fetchone()
    try:
        return None if row is None else (str(row[0]), str(unpack(row[1])["text"]))
    except _DAMAGED:
        return None


def put_derived(db: sqlite3.Connection, name: str, version: str, text: str) -> None:
    """Keep a text under a name, with the version of the entries it was worked out of."""
    db.execute("INSERT OR REPLACE INTO derived VALUES (?, ?, ?)", (name, version, pack({"text": text})))
