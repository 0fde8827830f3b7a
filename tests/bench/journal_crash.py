"""Kills a writing process at random moments (300 unless told) and checks the journal after each.

python tests/bench/journal_crash.py [moments]
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.journal.test_crash import crash_once


def main() -> int:
    """Every acknowledged decision must be there after every kill; an AssertionError names what is missing."""
    moments = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    chance = random.Random()
    acknowledged = 0
    start = time.perf_counter()
    for number in range(moments):
        if number % 10 == 0:  # a fresh journal now and then, so that its making is hit too
            folder = tempfile.TemporaryDirectory()
        acknowledged += crash_once(
            Path(folder.name) / "home" / "journal.db", chance.uniform(0.0, 0.25), from_start=number % 10 < 3
        )
    taken = time.perf_counter() - start
    print(
        f"{moments} kills, {acknowledged} acknowledged decisions, none lost, every file sound; {taken:.0f} s"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
