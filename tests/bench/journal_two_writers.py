"""Two processes write 2,000 decisions each (unless told) to one journal at the same time.

python tests/bench/journal_two_writers.py [each]
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gardenmate.journal.store import Journal
from tests.journal.writers import start_writer


def main() -> int:
    """Print how it went; 1 when a decision is missing."""
    each = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        start = time.perf_counter()
        writers = [start_writer(path, each, name) for name in ("ann", "bo")]
        told = {line for writer in writers for line in writer.communicate()[0].splitlines()}
        taken = time.perf_counter() - start
        with Journal(path) as journal:
            kept = {d.text for d in journal.everything()}
            problems = journal.check()
    lost = told - kept
    print(f"{len(told)} acknowledged, {len(lost)} lost, {len(problems)} problems; {taken:.1f} s")
    return 1 if lost or problems or len(told) != 2 * each else 0


if __name__ == "__main__":
    sys.exit(main())
