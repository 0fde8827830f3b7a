"""Two benches write at the same time, from the very first entry on: none is lost."""

from __future__ import annotations

from pathlib import Path

from gardenmate.journal.store import Journal
from tests.journal.writers import start_writer

EACH = 60  # tests/bench/journal_two_writers.py has each write 2,000


def test_two_processes_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "home" / "journal.db"
    writers = [start_writer(path, EACH, name) for name in ("ann", "bo")]
    told = [line for writer in writers for line in writer.communicate(timeout=120)[0].splitlines()]
    assert [writer.returncode for writer in writers] == [0, 0]
    with Journal(path) as journal:
        kept = [d.text for d in journal.everything()]
        assert sorted(kept) == sorted(told)
        assert len(set(kept)) == 2 * EACH
        assert journal.check() == []
