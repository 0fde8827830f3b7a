"""How listing, searching and adding cost in journals of a thousand to a million decisions.

    python tests/bench/journal_size.py [largest]

Each journal is made in a temporary folder from invented entries, opened afresh for every measurement.
Limits: the last 20 within 50 ms, any search within 300 ms, at a million decisions.
"""

from __future__ import annotations

import platform
import random
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from gardenmate.core.effects import LogDecision
from gardenmate.journal.decision import Content
from gardenmate.journal.store import Journal

LIST_LIMIT_MS, SEARCH_LIMIT_MS = 50.0, 300.0
CROPS = ("pepper", "tomato", "leek", "onion", "kale", "garlic", "pea", "hot-pepper", "lettuce", "bush-bean")
DEEDS = (("sow", "sowed"), ("pot-up", "potted up"), ("set-out", "set out"), ("harvest", "picked"))
PLACES = ("in the frame", "by the north fence", "under the lamp", "in the second bed", "beside the shed")


def contents(count: int) -> Iterator[tuple[None, str, Content]]:
    """Invented decisions spread over forty years."""
    chance = random.Random(count)
    first = date(1987, 1, 1)
    for number in range(count):
        crop = chance.choice(CROPS)
        action, done = chance.choice(DEEDS)
        plants = chance.randint(1, 200)
        rare = " marker zebra" if number % 100_003 == 7 else ""
        day = first + timedelta(days=chance.randrange(14_600))
        plant = crop.replace("-", " ")
        yield (
            None,
            "",
            {
                "on": day.isoformat(),
                "action": action,
                "text": f"{done} {plants} {plant}s {chance.choice(PLACES)}, no. {number}{rare}",
                "crops": [crop],
                "count": plants,
                "place": "Larch Hollow",
                "knowledge_version": "bench",
            },
        )


def measure(path: Path, work: Callable[[Journal], object], times: int = 7) -> tuple[float, float]:
    """(first, median of the rest) milliseconds; the first opens the file."""
    taken = []
    with Journal(path) as journal:
        for _ in range(times):
            start = time.perf_counter()
            work(journal)
            taken.append((time.perf_counter() - start) * 1000)
    return taken[0], sorted(taken[1:])[len(taken) // 2 - 1]


def add(journal: Journal) -> None:
    """One decision, durable."""
    effect = LogDecision("sow", "sowed 48 peppers", date(2027, 4, 18), ("pepper",), 48)
    journal.apply(effect, place="Larch Hollow", answer=None, knowledge_version="bench")


TASKS: tuple[tuple[str, float, Callable[[Journal], object]], ...] = (
    ("last 20", LIST_LIMIT_MS, lambda j: j.latest(20)),
    ("word in every entry", SEARCH_LIMIT_MS, lambda j: j.search(text="no")),
    ("frequent word", SEARCH_LIMIT_MS, lambda j: j.search(text="fence")),
    ("rare word", SEARCH_LIMIT_MS, lambda j: j.search(text="zebra")),
    ("word nobody wrote", SEARCH_LIMIT_MS, lambda j: j.search(text="quince")),
    ("beginning of a word", SEARCH_LIMIT_MS, lambda j: j.search(text="zeb")),
    ("crop and deed", SEARCH_LIMIT_MS, lambda j: j.search(crop="leek", action="harvest")),
    ("crop, deed, word, one month", SEARCH_LIMIT_MS, lambda j: j.search(
        crop="leek", action="sow", text="frame", since=date(2001, 3, 1), until=date(2001, 3, 31))),
    ("old year", SEARCH_LIMIT_MS, lambda j: j.search(since=date(1990, 1, 1), until=date(1990, 12, 31))),
    ("next undo", SEARCH_LIMIT_MS, lambda j: j.would_undo(1)),
    ("add one, durable", SEARCH_LIMIT_MS, add),
)  # fmt: skip


def main() -> int:
    """Print the table; 1 when a limit is passed at any size."""
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    print(f"{platform.platform()}, Python {platform.python_version()}")
    failed = 0
    size = 1000
    while size <= largest:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "journal.db"
            start = time.perf_counter()
            with Journal(path) as journal:
                journal.add_all(contents(size))
            made = time.perf_counter() - start
            print(f"\n{size:,} decisions: made in {made:.1f} s, {path.stat().st_size / 1e6:.0f} MB")
            for name, limit_ms, work in TASKS:
                first, warm = measure(path, work)
                over = "  OVER THE LIMIT" if first > limit_ms else ""
                failed += bool(over)
                print(f"  {name:<30} first {first:8.2f} ms   then {warm:8.2f} ms{over}")
        size *= 10
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
