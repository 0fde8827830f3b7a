"""Words a neighbour would not say, over the whole answers to every labelled question.

    python tests/bench/voice.py [--each N] [FILE.jsonl ...]

Counts each pattern of tests/present/not_said.txt and prints the first places where it stands. The suite walks a sample
of the same questions (tests/present/test_voice.py).
"""

from __future__ import annotations

import json
import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, plain

TESTS = Path(__file__).resolve().parent.parent
NOT_SAID = TESTS / "present" / "not_said.txt"
DEFAULT = tuple(TESTS / "language" / name for name in ("public_questions.jsonl", "held_out.jsonl"))
PLACES = (("Duluth", date(2027, 4, 18)), ("Norwich", date(2027, 4, 18)), ("Christchurch", date(2027, 10, 9)))


def patterns(path: Path = NOT_SAID) -> dict[str, re.Pattern[str]]:
    """Each line of the file is a pattern, a tab, and what to say instead; # begins a remark."""
    lines = [line for line in path.read_text("utf-8").splitlines() if line.strip() and line[0] != "#"]
    return {line.split("\t")[0]: re.compile(line.split("\t")[0], re.IGNORECASE) for line in lines}


def own_words(answer: Answer, text: str) -> str:
    """What is shown, without what the grower typed."""
    return " ".join(text.replace(answer.question.text, "").split())


def shown(paths: tuple[Path, ...], each: int = 1) -> Iterator[tuple[str, str]]:
    """Every ``each``-th question and the whole answer to it, at the places in turn."""
    facts = Facts()
    rows = [json.loads(line) for path in paths for line in path.read_text("utf-8").splitlines()][::each]
    for number, row in enumerate(rows):
        place, day = PLACES[number % len(PLACES)]
        talk = Conversation(facts, lambda day=day: day, PlaceOptions(place=place))  # type: ignore[misc]
        for text in row.get("prev", ()):
            talk.ask(text)
        answer = talk.ask(row["q"])
        yield row["q"], own_words(answer, plain(answer, Look(200, talk.shown_units(), day)))


def main(words: list[str]) -> None:
    """Print the counts."""
    each = int(words[words.index("--each") + 1]) if "--each" in words else 1
    paths = tuple(Path(w) for w in words if w.endswith(".jsonl")) or DEFAULT
    counts, where = Counter[str](), defaultdict[str, list[str]](list)
    for question, text in shown(paths, each):
        for name, pattern in patterns().items():
            for match in pattern.finditer(text):
                counts[name] += 1
                where[name].append(
                    f"{text[max(0, match.start() - 40) : match.end() + 40]}   <- {question[:50]}"
                )
    for name, count in counts.most_common():
        print(f"{count:4d} {name}")
        for line in where[name][:4]:
            print(f"       {line}")
    print(f"{sum(counts.values())} in all")


if __name__ == "__main__":
    main(sys.argv[1:])
