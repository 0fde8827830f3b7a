"""Journals as the first release wrote them: read as they stand, brought to the new format by the next entry."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.effects import LogDecision, RedoDecision
from gardenmate.journal.store import Journal

# The tables of format 1, without what only followed from `entry`.
_FORMAT_1 = """
PRAGMA application_id = 0x67646E6A;
PRAGMA user_version = 1;
PRAGMA journal_mode = WAL;
CREATE TABLE entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT, kind TEXT NOT NULL, target INTEGER, uid TEXT UNIQUE,
    written_at TEXT NOT NULL, content TEXT NOT NULL
);
CREATE TABLE standing (key INTEGER PRIMARY KEY, id INTEGER NOT NULL UNIQUE, written_at TEXT, content TEXT);
"""
NOTE = LogDecision("note", "after", date(2027, 4, 18))
WHEN = "2027-04-18T08:00:00.000000+00:00"


@pytest.fixture
def old(path: Path) -> Path:
    path.parent.mkdir()
    with closing(sqlite3.connect(path)) as db:
        db.executescript(_FORMAT_1)
        entries: list[tuple[int, str, int | None, str | None, dict[str, object]]] = [
            (
                n,
                "record",
                None,
                f"u{n}",
                {"on": "2027-04-18", "action": "sow", "text": f"tray {n}", "count": n},
            )
            for n in range(1, 101)
        ]
        entries += [(101, "correct", 3, None, {"text": "tray three"}), (102, "undo", 4, None, {})]
        db.executemany(
            "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?)",
            [(n, kind, target, uid, WHEN, json.dumps(content)) for n, kind, target, uid, content in entries],
        )
        db.commit()
    return path


def test_it_is_read_as_it_stands(old: Path) -> None:
    before = old.read_bytes()
    told: list[str] = []
    with Journal(old, warn=told.append) as journal:
        found = {d.id: d.text for d in journal.everything()}
        assert journal.check() == []
    assert len(found) == 99
    assert found[3] == "tray three"
    assert 4 not in found
    assert told == []
    assert old.read_bytes() == before


def test_the_next_entry_brings_it_to_the_new_format(old: Path) -> None:
    before = old.read_bytes()
    told: list[str] = []
    with Journal(old, warn=told.append) as journal:
        journal.apply(NOTE, place="", answer=None, knowledge_version="")
        assert len(journal.everything()) == 100
        assert journal.keep([RedoDecision(4)])
        assert journal.entry(4) is not None
        assert journal.check() == []
    assert told == []
    assert old.with_name("journal.before-format-2-1.db").read_bytes() == before


@pytest.mark.parametrize("at", ["CREATE TABLE entry", "SQLite format 3"])
def test_a_damaged_one_is_read_page_by_page(old: Path, at: str) -> None:
    data = old.read_bytes()
    old.write_bytes(data.replace(at.encode(), b"#" * len(at)))
    told: list[str] = []
    with Journal(old, warn=told.append) as journal:
        assert len(journal.everything()) == 99
        journal.apply(NOTE, place="", answer=None, knowledge_version="")
        assert len(journal.everything()) == 100
    assert len(told) == 2
