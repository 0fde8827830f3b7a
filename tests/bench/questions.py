"""How well questions are understood: topic, crops, slots, confidently wrong, out-of-scope false accepts.

    python tests/bench/questions.py [-v] [FILE.jsonl ...]

One JSON object a line: id, q, topic, crops, slots, and prev (the turns before, asked first). Default: the
public questions and every variant file. "Confidently wrong" is an answer under a wrong in-scope topic; a
question back or a refusal is not. Slots must be exactly those labelled; "labelled
slots" counts those found among others. "Each" counts slot by slot: how many labelled are found, how many found are
labelled.
"""

from __future__ import annotations

import json
import sys
import time
from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.reading import Context
from gardenmate.language.intent.turn import understand
from gardenmate.language.text.lexicon import Lexicon, load_lexicon
from gardenmate.records import dataclass, field, fields

TODAY = date(2027, 4, 18)
FOLDER = Path(__file__).resolve().parent.parent / "language"
NOT_ANSWERED = ("unclear", "out-of-scope")
NOT_IN_JSON = ("temps", "place_within", "height_m", "container")
"""Slots the scored contract has not; temperatures are scored by the one that governs, and all where labelled."""


@dataclass
class Score:
    """Counts over one file."""

    asked: int = 0
    topic: int = 0
    crops: int = 0
    slots: int = 0
    slots_found: int = 0
    right: int = 0
    read: int = 0
    labelled: int = 0
    wrong: int = 0
    unclear: int = 0
    out_of_scope: int = 0
    accepted: int = 0
    seconds: float = 0.0
    confused: Counter[tuple[str, str]] = field(default_factory=Counter)

    def share(self, name: str) -> float:
        """A count as a share of the questions asked."""
        return float(getattr(self, name)) / max(1, self.asked)

    @property
    def false_accepts(self) -> float:
        """Share of the out-of-scope questions that were answered."""
        return self.accepted / max(1, self.out_of_scope)

    def line(self) -> str:
        """One line for the terminal."""
        return (
            f"{self.asked:5d} questions  topic {self.share('topic'):6.1%}  crops {self.share('crops'):6.1%}  "
            f"slots {self.share('slots'):6.1%} (labelled ones {self.share('slots_found'):6.1%}, each: recall "
            f"{self.right / max(1, self.labelled):.1%}, precision {self.right / max(1, self.read):.1%})  "
            f"confidently wrong {self.share('wrong'):5.1%}  asked back {self.share('unclear'):5.1%}  "
            f"out-of-scope accepted {self.accepted}/{self.out_of_scope} ({self.false_accepts:.1%})  "
            f"{1000 * self.seconds / max(1, self.asked):.1f} ms each"
        )


def load(path: Path) -> list[dict[str, Any]]:
    """The labelled questions of one file."""
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]


def ask(row: Mapping[str, Any], lexicon: Lexicon) -> Request:
    """The reading of one question, the turns before it asked first, as the conversation does."""
    context: Context | None = None
    facts = Facts()
    for text in (*row.get("prev", ()), row["q"]):
        asked = understand(text, today=TODAY, units="us", facts=facts, lexicon=lexicon, context=context)
        context = Context(previous=asked, units="us", today=TODAY)
    return asked


def slots_of(question: Request) -> dict[str, Any]:
    """The slots as the machine contract writes them, without the list of temperatures and the region of a place."""
    out: dict[str, Any] = {}
    for f in fields(question.as_stated):
        value = getattr(question.as_stated, f.name)
        if f.name not in NOT_IN_JSON and value is not None:
            out[f.name] = value.isoformat() if isinstance(value, date) else value
    return out


def temps_of(question: Request) -> dict[str, Any]:
    """Every temperature in order, as the contract lists them: scored where they are labelled."""
    return {"temps": [{"value": t.value, "unit": t.unit, "role": t.role} for t in question.as_stated.temps]}


def score(rows: Iterable[Mapping[str, Any]], lexicon: Lexicon, verbose: bool = False) -> Score:
    """Score labelled questions."""
    total = Score()
    for row in rows:
        start = time.perf_counter()
        question = ask(row, lexicon)
        total.seconds += time.perf_counter() - start
        wanted = row["slots"]
        slots = slots_of(question) | (temps_of(question) if "temps" in wanted else {})
        total.right += sum(1 for name, value in wanted.items() if slots.get(name) == value)
        total.read, total.labelled = total.read + len(slots), total.labelled + len(wanted)
        right = question.topic == row["topic"]
        total.asked += 1
        total.topic += right
        total.crops += {c.id for c in question.crops} == set(row["crops"])
        total.slots += slots == wanted
        total.slots_found += all(slots.get(k) == v for k, v in wanted.items())
        total.unclear += not right and question.topic == "unclear"
        total.wrong += not right and question.topic not in NOT_ANSWERED
        if row["topic"] == "out-of-scope":
            total.out_of_scope += 1
            total.accepted += question.topic not in NOT_ANSWERED
        if not right:
            total.confused[row["topic"], question.topic] += 1
            if verbose:
                print(f"  {row['id']}: {row['topic']} read as {question.topic}: {row['q']}")
    return total


def main(arguments: list[str]) -> None:
    """Print one line a file, and what is confused most."""
    verbose = "-v" in arguments
    paths = [Path(a) for a in arguments if a != "-v"]
    paths = paths or [FOLDER / "public_questions.jsonl", *sorted((FOLDER / "variants").glob("*.jsonl"))]
    lexicon = load_lexicon(Facts())
    for path in paths:
        total = score(load(path), lexicon, verbose)
        print(f"{path.name:28s} {total.line()}")
        worst = ", ".join(f"{a} as {b} {n}" for (a, b), n in total.confused.most_common(6))
        if worst:
            print(f"{'':28s} most confused: {worst}")


if __name__ == "__main__":
    main(sys.argv[1:])
