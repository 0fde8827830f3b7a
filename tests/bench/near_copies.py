"""Labelled lines that stand too close to a held-out one: a score on those would say nothing.

    python tests/bench/near_copies.py [--remove]

A line is a copy when it has the same words; a near copy when the characters of a line of four words or more match to
85 %. Shorter lines ("peas 24?") are alike by nature: of them only copies count. ``--remove`` takes them out of the
training files.
"""

from __future__ import annotations

import json
import re
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator
from difflib import SequenceMatcher
from math import ceil
from pathlib import Path

HERE = Path(__file__).resolve().parents[1] / "language"
NEAR, WORDS = 0.85, 4
_SHARED = 0.5  # of its words a near copy shares at least so many


def words_of(text: str) -> tuple[str, ...]:
    """The words of a line in small letters, without signs."""
    return tuple(re.findall(r"[a-z0-9]+", text.lower()))


def held_out() -> list[str]:
    """Every line that scores are taken on and nothing is fitted to."""
    lines = [json.loads(row)["q"] for path in HERE.glob("*held_out*.jsonl") for row in _rows(path)]
    return lines + [row.rsplit("\t", 1)[-1] for path in HERE.glob("*held_out*.txt") for row in _rows(path)]


def training_files() -> list[Path]:
    """The files of labelled lines that may lose a line."""
    return [*sorted((HERE / "training").glob("*.txt")), *sorted((HERE / "acts").glob("*.txt"))]


def _rows(path: Path) -> list[str]:
    return [row for row in path.read_text("utf-8").splitlines() if row.strip() and not row.startswith("#")]


def near_copies(lines: Iterable[str], held: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Each line that is a copy or near copy of a held-out one, with that one."""
    kept = [(text, words_of(text)) for text in held]
    sets = [frozenset(said) for _, said in kept]
    holding: defaultdict[str, list[int]] = defaultdict(list)
    for number, named in enumerate(sets):
        for word in named:
            holding[word].append(number)
    for line in lines:
        said = words_of(line)
        own = frozenset(said)
        # half its words are shared, so one of its rarer half (and one more) is: the common ones need no look
        rare = sorted(own, key=lambda word: len(holding.get(word, ())))[
            : len(own) - ceil(_SHARED * len(own)) + 1
        ]
        for number in {number for word in rare for number in holding.get(word, ())}:
            shared = len(own & sets[number])
            if shared >= _SHARED * max(len(own), len(sets[number])) and _alike(said, kept[number][1]):
                yield line, kept[number][0]
                break


def _alike(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    if one == other:
        return True
    if min(len(one), len(other)) < WORDS:
        return False
    match = SequenceMatcher(None, " ".join(one), " ".join(other), autojunk=False)
    return match.real_quick_ratio() >= NEAR and match.quick_ratio() >= NEAR and match.ratio() >= NEAR


def main(arguments: list[str]) -> None:
    """Count the near copies of every file; take them out when asked to."""
    held = held_out()
    for path in training_files():
        rows = _rows(path)
        found = {line for line, _ in near_copies((row.rsplit("\t", 1)[-1] for row in rows), held)}
        print(f"{path.name}: {len(found)} of {len(rows)}")
        if found and "--remove" in arguments:
            left = [r for r in path.read_text("utf-8").splitlines() if r.rsplit("\t", 1)[-1] not in found]
            path.write_text("\n".join(left) + "\n", "utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
