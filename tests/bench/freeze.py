"""What some 3,000 labelled questions are answered: recorded once, compared after every change.

    python tests/bench/freeze.py record [FILE]    (writes one JSON object a line, packed)
    python tests/bench/freeze.py compare [FILE]   (counts and lists what differs; exit code 1 when anything does)

Verdict, topic, crops, chance, numbers and windows are recorded; headlines may change. Public questions and variants are
asked at several places and days, and every tenth line of the training lines at one.
"""

from __future__ import annotations

import gzip
import json
import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.json_out import to_dict

TESTS = Path(__file__).resolve().parent.parent / "language"
SITES = (("Duluth", date(2027, 4, 18)), ("Portland, OR", date(2027, 2, 20)), ("Hobart", date(2027, 10, 9)))
KEPT = ("topic", "crops", "verdict", "chance", "numbers", "windows")


def asked() -> Iterator[tuple[str, date, str]]:
    """(place, day, question) of everything asked."""
    rows = []
    for path in (TESTS / "public_questions.jsonl", *sorted((TESTS / "variants").glob("*.jsonl"))):
        rows += [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]
    alone = [row["q"] for row in rows if not row.get("prev")]
    for number, question in enumerate(alone):
        place, day = SITES[number % len(SITES)]
        yield place, day, question
    for path in sorted((TESTS / "training").glob("*.txt")):
        for line in path.read_text("utf-8").splitlines()[::10]:
            if "\t" in line:
                yield (*SITES[0], line.split("\t", 1)[1])


def answers() -> Iterator[dict[str, Any]]:
    """One record a question."""
    facts = Facts()
    talks = {
        place: Conversation(facts, lambda day=day: day, PlaceOptions(place=place), remembers=False)  # type: ignore[misc]
        for place, day in SITES
    }
    for place, day, question in asked():
        try:
            found = to_dict(talks[place].ask(question), facts)
            kept = {name: found[name] for name in KEPT}
        except Exception as error:  # a crash is recorded as what it is, and compared like any answer
            kept = {"crash": type(error).__name__}
        yield {"place": place, "on": day.isoformat(), "q": question, **kept}


def main() -> int:
    """Record or compare; the first release is in frozen.jsonl.gz."""
    how = sys.argv[1]
    path = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(__file__).with_name("frozen.jsonl.gz")
    if how == "record":
        path.write_bytes(
            gzip.compress("".join(json.dumps(row) + "\n" for row in answers()).encode(), mtime=0)
        )
        return 0
    before = {
        (r["place"], r["q"]): r for r in map(json.loads, gzip.decompress(path.read_bytes()).splitlines())
    }
    differ: Counter[str] = Counter()
    for row in answers():
        old = before.get((row["place"], row["q"]))
        if old is None:
            differ["new"] += 1
            continue
        for name in ("crash", *KEPT):
            if old.get(name) != row.get(name):
                differ[name] += 1
                if name in ("crash", "topic", "crops", "verdict"):
                    print(f"{name}: {old.get(name)} -> {row.get(name)}  {row['q'][:120]}")
    print(len(before), "recorded;", dict(differ) or "nothing differs")
    return 1 if differ else 0


if __name__ == "__main__":
    raise SystemExit(main())
