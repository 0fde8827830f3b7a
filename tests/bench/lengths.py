"""How long answers are: the share of short forms within 10 lines at 80 columns and 13 at 50.

    python tests/bench/lengths.py [--show] [FILE.jsonl ...]

Every labelled question is asked in a new session (its `prev` turns first), so that cautions stand in full. A table of
several crops may take more; those are counted apart. `--show` prints the long ones.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, layout, text_of
from gardenmate.present.so_far import SoFar

TODAY = date(2027, 4, 18)
LIMITS = {80: 10, 50: 13}
FOLDER = Path(__file__).resolve().parent.parent / "language"
DEFAULT = (FOLDER / "public_questions.jsonl", FOLDER / "held_out.jsonl")


def answered(paths: tuple[Path, ...], facts: Facts) -> Iterator[tuple[str, Answer, Conversation]]:
    """Each question, its answer, and the conversation it was asked in."""
    for path in paths:
        for line in path.read_text("utf-8").splitlines():
            row = json.loads(line)
            talk = Conversation(facts, lambda: TODAY, PlaceOptions(place="Duluth"))
            for text in row.get("prev", ()):
                talk.ask(text)
            yield row["q"], talk.ask(row["q"]), talk


def many_crops(answer: Answer) -> bool:
    """True for a table of several crops, which may take more lines."""
    return answer.table is not None and len({ref.id for ref in answer.question.crops}) > 1


def main(words: list[str]) -> None:
    """Print the shares."""
    show = "--show" in words
    paths = tuple(Path(w) for w in words if w != "--show") or DEFAULT
    facts = Facts()
    within, whole, lengths = Counter[int](), Counter[int](), {width: list[int]() for width in LIMITS}
    asked = several = 0
    for question, answer, talk in answered(paths, facts):
        asked += 1
        several += many_crops(answer)
        for width, limit in LIMITS.items():
            look = Look(width, talk.shown_units(), TODAY)
            lines = SoFar(facts, hints=1).first(answer, look)
            lengths[width].append(len(lines))
            whole[width] += len(layout(answer, look)) <= limit
            within[width] += len(lines) <= limit
            if show and len(lines) > limit:
                print(
                    f"== {width}: {len(lines)} lines [{answer.question.topic}]\n> {question}\n{text_of(lines)}"
                )
    print(f"{asked} questions, {several} with a table of several crops")
    for width, limit in LIMITS.items():
        ordered = sorted(lengths[width])
        print(
            f"{width} columns: {within[width] / asked:.1%} within {limit} lines "
            f"(whole answers {whole[width] / asked:.1%}); median {ordered[asked // 2]}, "
            f"nine in ten {ordered[asked * 9 // 10]}, longest {ordered[-1]}"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
