"""A writer is killed outright at random moments: what it acknowledged is there, and the file is sound."""

from __future__ import annotations

import random
import sqlite3
import time
from contextlib import closing
from pathlib import Path

from gardenmate.journal.store import Journal
from tests.journal.writers import start_writer

MOMENTS = 25  # tests/bench/journal_crash.py does 300


def crash_once(path: Path, after_s: float, from_start: bool = False) -> int:
    """Start a writer, kill it ``after_s`` after its first acknowledged entry (or, ``from_start``, after the
    process began); how many it acknowledged. A writer prints the text of an entry once `apply` has returned.
    """
    with start_writer(path, most=100_000) as writer:
        assert writer.stdout is not None
        first = "" if from_start else writer.stdout.readline()
        time.sleep(after_s)
        writer.kill()  # SIGKILL: nothing is run, flushed or closed
        rest = writer.stdout.read()
    told = [line for line in (first + rest).split("\n")[:-1] if line]  # a line cut short was not told
    if not path.exists():
        assert told == []
        return 0
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    with Journal(path) as journal:
        kept = {d.text for d in journal.everything()}
        missing = [text for text in told if text not in kept]
        assert missing == []
        assert journal.check() == []
    return len(told)


def test_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    chance = random.Random(2027)
    path = tmp_path / "journal.db"
    acknowledged = sum(crash_once(path, chance.uniform(0.0, 0.06)) for _ in range(MOMENTS))
    assert acknowledged >= MOMENTS


def test_a_journal_killed_in_the_making_is_usable(tmp_path: Path) -> None:
    chance = random.Random(2028)
    for number in range(6):
        crash_once(tmp_path / f"{number}" / "journal.db", chance.uniform(0.05, 0.2), from_start=True)
