"""Make knowledge/language/leanings.toml from labelled questions (needs numpy).

    python tests/bench/fit_leanings.py [FILE...]

Multinomial logistic regression with an L2 penalty on words, pairs of words and signals, with the score of the
phrases as a fixed offset, so that only what the phrases miss is learned. Default files: the public questions
and the variants whose name begins with a_ (those that begin with b_ are kept for scoring), and always
knowledge/language/examples.toml and tests/language/training/*.txt.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import numpy as np
import numpy.typing as npt

from gardenmate.knowledge.facts import Facts
from gardenmate.language.leanings import LEAST_RULE, MOST_RULE, features
from gardenmate.language.lexicon import load_lexicon
from gardenmate.language.topics import phrase_scores
from gardenmate.language.understand import draft_of
from gardenmate.question import TOPICS

TODAY = date(2027, 4, 18)
HERE = Path(__file__).resolve().parent.parent / "language"
TARGET = Path(__file__).resolve().parents[2] / "knowledge" / "language" / "leanings.toml"
PENALTY, ALPHA, SEEN, STEPS, SMALLEST = 0.0005, 0.5, 3, 220, 0.08
NAMES = [t for t in TOPICS if t != "unclear"]
Array = npt.NDArray[np.float32]


def main(paths: list[Path]) -> None:
    """Fit and write."""
    facts = Facts()
    lexicon = load_lexicon(facts)
    rows = [
        json.loads(line) for path in paths for line in path.read_text("utf-8").splitlines() if line.strip()
    ]
    rows = [row for row in rows if not row.get("prev")]
    rows += [{"q": q, "topic": t} for t, lines in facts.table("language/examples").items() for q in lines]
    rows += [{"q": q, "topic": t} for t, q in told((HERE / "training").glob("*.txt"))]
    seen: list[dict[str, float]] = []
    offset = np.zeros((len(rows), len(NAMES)), np.float32)
    for i, row in enumerate(rows):
        draft = draft_of(row["q"], TODAY, "us", lexicon, None)
        seen.append(features(draft.found.units, draft.found.signals))
        scores, _ = phrase_scores(draft.found, lexicon)
        offset[i] = [scores.get(name, 0.0) for name in NAMES]
    counts = Counter(word for row in seen for word in row)
    words = sorted(word for word, n in counts.items() if n >= SEEN)
    place = {word: i for i, word in enumerate(words)}
    x = np.zeros((len(rows), len(words)), np.float32)
    for i, row in enumerate(seen):
        for word, value in row.items():
            if word in place:
                x[i, place[word]] = value
    y = np.array([NAMES.index(row["topic"]) for row in rows])
    weights, bias = fit(x, ALPHA * np.clip(offset, LEAST_RULE, MOST_RULE), y)
    TARGET.write_text(written(words, weights, bias, len(rows)), "utf-8")
    print(f"{len(rows)} questions, {len(words)} words -> {TARGET}")


def told(paths: Iterable[Path]) -> list[tuple[str, str]]:
    """(topic, question) of every line "topic<TAB>question" of the training files."""
    lines = [line for path in sorted(paths) for line in path.read_text("utf-8").splitlines()]
    pairs = [line.split("\t", 1) for line in lines if "\t" in line and not line.startswith("#")]
    return [(topic.strip(), question.strip()) for topic, question in pairs if topic.strip() in NAMES]


def fit(x: Array, offset: Array, y: npt.NDArray[np.int64]) -> tuple[Array, Array]:
    """Weights (words x topics) and bias by full-batch Adam; deterministic."""
    n, k = len(y), len(NAMES)
    weights, bias = np.zeros((x.shape[1], k), np.float32), np.zeros(k, np.float32)
    truth = np.eye(k, dtype=np.float32)[y]
    first, second = np.zeros_like(weights), np.zeros_like(weights)
    for step in range(1, STEPS + 1):
        z = x @ weights + bias + offset
        part = np.exp(z - z.max(1, keepdims=True))
        wrong = part / part.sum(1, keepdims=True) - truth
        slope = x.T @ wrong / n + PENALTY * weights
        first = 0.9 * first + 0.1 * slope
        second = 0.999 * second + 0.001 * slope * slope
        weights -= 0.05 * (first / (1 - 0.9**step)) / (np.sqrt(second / (1 - 0.999**step)) + 1e-8)
        bias -= 0.3 * wrong.mean(0)
    return weights, bias


def written(words: list[str], weights: Array, bias: Array, n: int) -> str:
    """The TOML file."""
    lines = [
        "# How words lean towards topics. Made by tests/bench/fit_leanings.py; do not edit by hand.",
        "# <crop>, <temp> ... stand for things found, +name for a signal of signals.toml. Weights: log odds.",
        f"questions = {n}",
        f"phrases = {ALPHA}",
        "",
        "[bias]",
        *(f"{name} = {b:.2f}" for name, b in zip(NAMES, bias, strict=True)),
        "",
        "[words]",
    ]
    for word, row in zip(words, weights, strict=True):
        told = [f"{name} {w:+.2f}" for name, w in zip(NAMES, row, strict=True) if abs(w) >= SMALLEST]
        if told:
            lines.append(f'{json.dumps(word)} = "{", ".join(told)}"')
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    given = [Path(p) for p in sys.argv[1:]]
    main(given or [HERE / "public_questions.jsonl", *sorted((HERE / "variants").glob("a_*.jsonl"))])
