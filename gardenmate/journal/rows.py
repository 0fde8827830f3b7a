"""Reading and writing rows of an open journal: entries are added, what follows from them is kept in step."""

from __future__ import annotations

import re
import secrets
import sqlite3
from collections.abc import Iterator, Sequence
from datetime import date

from gardenmate.journal.decision import Content, KeptDecision, decision_of, pack, unpack
from gardenmate.journal.schema import WORDS, key_of, key_range

_COLUMNS = (
    "s.id, e.uid, coalesce(s.written_at, e.written_at), coalesce(s.content, e.content) "
    "FROM standing s JOIN entry e ON e.id = s.id"
)
# The latest changes that still count: not taken back themselves, nor a correction of what was taken back.
_CHANGES = """
SELECT e.id, e.kind, coalesce(e.target, e.id) FROM entry e
WHERE e.kind IN ('record', 'correct') AND e.id NOT IN (SELECT entry FROM undone)
  AND (e.kind = 'record' OR e.target NOT IN (SELECT entry FROM undone))
ORDER BY e.id DESC LIMIT ?
"""


class UnreadableEntryError(Exception):
    """An entry whose content is no decision (the file is sound for SQLite, but not for us)."""


# -- adding -------------------------------------------------------------------------------------------
def add_record(db: sqlite3.Connection, content: Content, written_at: str, uid: str | None = None) -> int:
    """Add a decision. Returns its number."""
    number = _add(db, "record", None, uid or secrets.token_hex(16), written_at, content)
    key = key_of(date.fromisoformat(content["on"]), number)
    db.execute("INSERT INTO standing (key, id) VALUES (?, ?)", (key, number))
    _index(db, key, content)
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
    cursor = db.execute(
        "INSERT INTO entry (kind, target, uid, written_at, content) VALUES (?, ?, ?, ?, ?)",
        (kind, target, uid, written_at, pack(content)),
    )
    assert cursor.lastrowid is not None
    return cursor.lastrowid


# -- what stands --------------------------------------------------------------------------------------
def restate(db: sqlite3.Connection, number: int) -> None:
    """Bring the standing form of decision ``number`` in step with its entries."""
    old = db.execute(f"SELECT s.key, {_COLUMNS} WHERE s.id = ?", (number,)).fetchone()
    if old is not None:
        _unindex(db, old[0], unpack(old[4]))
        db.execute("DELETE FROM standing WHERE id = ?", (number,))
    now = computed(db, number)
    if now is None:
        return
    written_at, content, corrected = now
    key = key_of(date.fromisoformat(content["on"]), number)
    kept = (written_at, pack(content)) if corrected else (None, None)
    db.execute(
        "INSERT INTO standing (key, id, written_at, content) VALUES (?, ?, ?, ?)", (key, number, *kept)
    )
    _index(db, key, content)


def computed(
    db: sqlite3.Connection, number: int, without: int | None = None, with_undone: int | None = None
) -> tuple[str, Content, bool] | None:
    """What the entries say of decision ``number``: when last written, its content, whether corrected.

    None when it was taken back. ``without`` leaves out one correction; ``with_undone`` counts one entry that
    was taken back.
    """
    rows = db.execute(
        "SELECT kind, written_at, content FROM entry "
        "WHERE (id = :number OR (target = :number AND kind = 'correct')) "
        "AND (id NOT IN (SELECT entry FROM undone) OR id IS :with_undone) AND id IS NOT :without ORDER BY id",
        {"number": number, "without": without, "with_undone": with_undone},
    ).fetchall()
    if not rows or rows[0][0] != "record":
        return None
    content: Content = {}
    for _, _, text in rows:
        content |= unpack(text)
    return rows[-1][1], content, len(rows) > 1


def record_of(db: sqlite3.Connection, entry: int) -> int:
    """The decision an entry is about."""
    kind, target = db.execute("SELECT kind, target FROM entry WHERE id = ?", (entry,)).fetchone()
    return int(target) if kind == "correct" else entry


def standing(db: sqlite3.Connection, number: int) -> KeptDecision | None:
    """Decision ``number`` as it stands, None when it was taken back or never was."""
    row = db.execute(f"SELECT {_COLUMNS} WHERE s.id = ?", (number,)).fetchone()
    return None if row is None else _decision(row)


def changes(db: sqlite3.Connection, limit: int) -> list[tuple[int, str, int]]:
    """(entry, kind, decision) of the latest changes that still count, newest first."""
    return [(int(e), str(k), int(d)) for e, k, d in db.execute(_CHANGES, (limit,))]


def last_undone(db: sqlite3.Connection) -> int | None:
    """The entry that was taken back last and may be put back."""
    row = db.execute("SELECT entry FROM undone ORDER BY undo DESC LIMIT 1").fetchone()
    return None if row is None else int(row[0])


def without(db: sqlite3.Connection, number: int, correction: int) -> KeptDecision | None:
    """Decision ``number`` as it would stand without one of its corrections."""
    return _from_computed(db, number, computed(db, number, without=correction))


def after_redo(db: sqlite3.Connection) -> KeptDecision | None:
    """The decision that putting back what was taken back last would restore or change."""
    entry = last_undone(db)
    if entry is None:
        return None
    number = record_of(db, entry)
    return _from_computed(db, number, computed(db, number, with_undone=entry))


def _from_computed(
    db: sqlite3.Connection, number: int, now: tuple[str, Content, bool] | None
) -> KeptDecision | None:
    if now is None:
        return None
    (uid,) = db.execute("SELECT uid FROM entry WHERE id = ?", (number,)).fetchone()
    return _decision((number, uid, now[0], pack(now[1])))


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
    low, high = key_range(since, until)
    filters = [f"{name} : {_token(value)}" for name, value in (("crops", crop), ("action", action)) if value]
    if text is None or not text.strip():
        return _matching(db, filters, low, high, limit)
    typed = re.findall(r"\w+", text.replace("_", " "))
    if not typed:  # nothing an index of words could hold: signs only
        rows = _matching(db, filters, low, high, -1)
        return [d for d in rows if text.strip() in d.text][:limit]
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
    return [_decision(row) for row in rows]


def everything(db: sqlite3.Connection) -> Iterator[KeptDecision]:
    """Every standing decision, oldest day first."""
    for row in db.execute(f"SELECT {_COLUMNS} ORDER BY s.key"):
        yield _decision(row)


def _decision(row: tuple[int, str, str, str]) -> KeptDecision:
    number, uid, written_at, content = row
    try:
        return decision_of(number, uid, written_at, unpack(content))
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise UnreadableEntryError(f"entry {number} holds no decision: {error}") from error


# -- the index of words -------------------------------------------------------------------------------
def _index(db: sqlite3.Connection, key: int, content: Content) -> None:
    db.execute(
        "INSERT INTO words (rowid, text, crops, action, place) VALUES (?, ?, ?, ?, ?)",
        (key, *_words(content)),
    )


def _unindex(db: sqlite3.Connection, key: int, content: Content) -> None:
    db.execute(
        "INSERT INTO words (words, rowid, text, crops, action, place) VALUES ('delete', ?, ?, ?, ?, ?)",
        (key, *_words(content)),
    )


def _words(content: Content) -> tuple[str, str, str, str]:
    """What is searched: text and place as words, crops and action as one token each."""
    detail = " ".join(str(v) for v in content.get("detail", {}).values())
    return (
        _plain(f"{content.get('text', '')} {detail}"),
        " ".join(_bare(c) for c in content.get("crops", ())),
        _bare(content["action"]),
        _plain(content.get("place", "")),
    )


def _plain(text: str) -> str:
    """Text as SQLite can hold it: no NUL, no lone surrogates; "_" parts words here as for the grower."""
    return text.replace("\0", " ").replace("_", " ").encode("utf-8", "replace").decode("utf-8")


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


def rebuild(db: sqlite3.Connection) -> None:
    """Make `undone`, `standing` and `words` anew from the entries."""
    db.execute("DELETE FROM undone")
    steps = "SELECT id, kind, target FROM entry WHERE kind IN ('undo', 'redo') ORDER BY id"
    for number, kind, target in db.execute(steps).fetchall():
        if kind == "undo":
            db.execute("INSERT OR REPLACE INTO undone (entry, undo) VALUES (?, ?)", (target, number))
        else:
            db.execute("DELETE FROM undone WHERE entry = ?", (target,))
    db.execute("DELETE FROM standing")
    db.execute("DROP TABLE words")
    db.execute(WORDS)
    for (number,) in db.execute("SELECT id FROM entry WHERE kind = 'record' ORDER BY id").fetchall():
        restate(db, number)
