"""How much of what is typed is dropped: figures and days whose absence changes nothing of the answer.

    python tests/bench/unused.py [-v] [public held_out variants training]

Every labelled question is answered, then answered again without each value typed in it (the story around a
question aside). The share of values that
change nothing is printed for each set, with the topics and kinds that drop most. ``held_out`` is only scored: its
lines are never printed. Of the training lines every tenth is asked.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date
from itertools import islice
from pathlib import Path

from gardenmate.dialogue.conversation import NEEDS_NO_PLACE, Conversation, PlaceOptions
from gardenmate.dialogue.unused import asked_with
from gardenmate.knowledge.facts import Facts

FOLDER = Path(__file__).resolve().parent.parent / "language"
SITE, TODAY = "Duluth", date(2027, 4, 18)
NEVER_SHOWN = frozenset({"held_out"})


def asked(name: str) -> Iterator[str]:
    """The questions of one set that stand on their own."""
    if name == "training":
        for path in sorted((FOLDER / "training").glob("*.txt")):
            for line in path.read_text("utf-8").splitlines()[::10]:
                if "\t" in line:
                    yield line.split("\t", 1)[1]
        return
    paths = {
        "public": [FOLDER / "public_questions.jsonl"],
        "held_out": sorted(FOLDER.glob("held_out*.jsonl")),
        "variants": sorted((FOLDER / "variants").glob("*.jsonl")),
    }[name]
    for path in paths:
        rows = (json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip())
        yield from (row["q"] for row in rows if not row.get("prev"))


def counted(
    name: str, facts: Facts, show: bool = False, every: int = 1
) -> tuple[int, int, Counter[tuple[str, str]]]:
    """(values typed, values unused, unused by topic and kind) of one set, or of ``every`` so-many-th line of it."""
    talk = Conversation(facts, lambda: TODAY, PlaceOptions(place=SITE), remembers=False)
    typed = unused = 0
    where: Counter[tuple[str, str]] = Counter()
    for text in islice(asked(name), 0, None, every):
        answer = talk.ask(text)
        for one in (answer, *answer.also):
            if one.act != "ask" or one.question.topic in NEEDS_NO_PLACE:
                continue
            typed += len(asked_with(one.question, TODAY))
            unused += len(one.unused)
            for value in one.unused:
                where[one.question.topic, value.kind] += 1
                if show and name not in NEVER_SHOWN:
                    print(f"{one.question.topic:14} {value.kind}={value.value} {value.unit}: {text[:230]}")
    return typed, unused, where


def main() -> int:
    """Print the counts."""
    sets = [a for a in sys.argv[1:] if a != "-v"] or ["public", "held_out", "variants", "training"]
    facts = Facts()
    total = dropped = 0
    for name in sets:
        typed, unused, where = counted(name, facts, "-v" in sys.argv)
        total, dropped = total + typed, dropped + unused
        most = ", ".join(f"{topic} {kind} {n}" for (topic, kind), n in where.most_common(8))
        print(f"{name}: {unused} of {typed} values unused ({unused / max(1, typed):.1%}): {most}")
    print(f"all: {dropped} of {total} values unused ({dropped / max(1, total):.1%})")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
