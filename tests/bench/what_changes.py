"""What labelled or decisive lines just added change over all labelled questions.

    python tests/bench/what_changes.py before    keep how every question is read now
    ... add the line; run fit_weights.py (a labelled line) or `python -m gardenmate.language` (a decisive one) ...
    python tests/bench/what_changes.py after     each question read otherwise than before, better or worse

Held-out questions are counted, not shown: whoever mends must not read them.
"""

from __future__ import annotations

import json
import sys
import tempfile
from datetime import date
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).resolve().parent)]

from fit_weights import labelled

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.turn import read_turn
from gardenmate.language.text.lexicon import load_lexicon

TODAY = date(2027, 4, 18)
HERE = ROOT / "tests" / "language"
KEPT = Path(tempfile.gettempdir()) / "gardenmate-readings.json"


def questions() -> list[tuple[str, str, bool]]:
    """Text, topic labelled, and whether it may be shown."""
    shown = [(line.text, line.topic, True) for line in labelled() if line.topic]
    rows = [
        json.loads(r)
        for path in sorted(HERE.glob("held_out*.jsonl"))
        for r in path.read_text("utf-8").splitlines()
    ]
    return shown + [(row["q"], row["topic"], False) for row in rows if not row.get("prev")]


def readings() -> dict[str, str]:
    """Text -> "act topic" of the first thing said in it."""
    facts = Facts()
    lexicon = load_lexicon(facts)
    read: dict[str, str] = {}
    for text, _, _ in questions():
        part = read_turn(text, today=TODAY, units="us", facts=facts, lexicon=lexicon).parts[0]
        read[text] = f"{part.act} {part.request.topic}"
    return read


def main(arguments: list[str]) -> None:
    """Keep the readings, or compare them with those kept."""
    now = readings()
    if arguments != ["after"]:
        KEPT.write_text(json.dumps(now), "utf-8")
        print(f"{len(now)} readings kept")
        return
    before = json.loads(KEPT.read_text("utf-8"))
    better = worse = 0
    for text, topic, shown in questions():
        was, is_now = before.get(text, ""), now[text]
        if was == is_now:
            continue
        gain = (is_now.split()[1] == topic) - (was.endswith(f" {topic}"))
        better, worse = better + (gain > 0), worse + (gain < 0)
        print(
            f"{'+' if gain > 0 else '-' if gain < 0 else ' '} {was} -> {is_now} | {text if shown else '(held out)'}"
        )
    print(f"{better} better, {worse} worse")


if __name__ == "__main__":
    main(sys.argv[1:])
