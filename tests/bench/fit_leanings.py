"""Make knowledge/language/leanings.txt from labelled questions (needs scikit-learn: the `peers` extra).

    python tests/bench/fit_leanings.py [--without FILE ...]

A linear support-vector classifier, one topic against the rest, on words and pairs of words (as typed and as
understood) and signals. How much the phrases count beside it, and how a sum becomes a share, are chosen on
questions the words have not seen (five folds). Files named after --without are left out, so that they can be
scored as new.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from datetime import date
from pathlib import Path

import numpy as np
from sklearn.feature_extraction import DictVectorizer
from sklearn.feature_extraction.text import TfidfTransformer
from sklearn.model_selection import StratifiedKFold
from sklearn.svm import LinearSVC

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.core.question import TOPICS
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.leanings import FILE, LEAST_RULE, MOST_RULE, features, strangers
from gardenmate.language.intent.topics import phrase_scores
from gardenmate.language.intent.understand import draft_of
from gardenmate.language.text.lexicon import load_lexicon

TODAY = date(2027, 4, 18)
HERE = ROOT / "tests" / "language"
TARGET = ROOT / "knowledge" / "language" / FILE
NAMES = [t for t in TOPICS if t != "unclear"]
PENALTY, PAIR_SEEN, SMALLEST, FOLDS = 0.9, 2, 0.05, 5
PHRASE_WEIGHTS = (0.01, 0.02, 0.03, 0.04, 0.06)
SCALES = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)


def labelled(without: list[str]) -> list[tuple[str, str, bool]]:
    """(question, topic, whether the phrases were written without having read it)."""
    rows: list[tuple[str, str, bool]] = []
    for path in [HERE / "public_questions.jsonl", *sorted((HERE / "variants").glob("*.jsonl"))]:
        if path.name in without:
            continue
        for line in path.read_text("utf-8").splitlines():
            row = json.loads(line)
            if not row.get("prev"):
                rows.append((row["q"], row["topic"], False))
    for path in sorted((HERE / "training").glob("*.txt")):
        if path.name in without:
            continue
        for line in path.read_text("utf-8").splitlines():
            if line.strip() and not line.startswith("#"):
                topic, _, question = line.partition("\t")
                rows.append((question, topic, True))
    examples = Facts().table("language/examples")
    rows += [(q, topic, False) for topic, lines in examples.items() for q in lines]
    return rows


def main(without: list[str]) -> None:
    """Fit and write."""
    lexicon = load_lexicon(Facts())
    rows = labelled(without)
    seen, ruled, units = [], [], []
    for question, _, _ in rows:
        found = draft_of(question, TODAY, "us", lexicon, None).found
        seen.append(features(question, found.units, found.signals))
        units.append(found.units)
        scores, _ = phrase_scores(found, lexicon)
        ruled.append([min(max(scores.get(t, 0.0), LEAST_RULE), MOST_RULE) for t in NAMES])
    counts = Counter(key for row in seen for key in row)
    for row, own in zip(seen, units, strict=True):  # a word only this question holds is new to all others
        row.update(strangers(own, lexicon.is_english, lambda lemma: counts[f"u:{lemma}"] > 1))
    kept = [
        {k: 1 + np.log(v) for k, v in row.items() if " " not in k or counts[k] >= PAIR_SEEN} for row in seen
    ]
    names = DictVectorizer()
    weighted = TfidfTransformer()
    x = weighted.fit_transform(names.fit_transform(kept))
    y = np.array([NAMES.index(topic) for _, topic, _ in rows])
    rules = np.array(ruled)
    phrases, scale, right = _chosen(x, y, rules, np.array([blind for _, _, blind in rows]))
    model = LinearSVC(C=PENALTY).fit(x, y)
    TARGET.write_text(_written(names.get_feature_names_out(), weighted.idf_, model, phrases, scale), "utf-8")
    print(f"{len(rows)} questions, {x.shape[1]} features, phrases {phrases}, scale {scale}")
    print(f"{right:.1%} right on questions not seen in fitting")


def _chosen(x, y, rules, blind):  # type: ignore[no-untyped-def]
    """Phrase weight and scale that do best on folds left out, among questions the phrases never saw."""
    sums = np.zeros((len(y), len(NAMES)))
    for fit, left in StratifiedKFold(FOLDS, shuffle=True, random_state=0).split(x, y):
        sums[left] = LinearSVC(C=PENALTY).fit(x[fit], y[fit]).decision_function(x[left])
    y, sums, rules = y[blind], sums[blind], rules[blind]

    def rate(weight: float) -> float:
        return float(np.mean((sums + weight * rules).argmax(1) == y))

    def loss(scale: float, total: np.ndarray) -> float:
        z = scale * total
        z = z - z.max(1, keepdims=True)
        return float(-np.mean(z[np.arange(len(y)), y] - np.log(np.exp(z).sum(1))))

    phrases = max(PHRASE_WEIGHTS, key=rate)
    total = sums + phrases * rules
    return phrases, min(SCALES, key=lambda s: loss(s, total)), rate(phrases)


def _written(keys, idf, model, phrases, scale) -> str:  # type: ignore[no-untyped-def]
    """The file: the head line, then the features sorted by their bytes."""
    head = " ".join(f"{t}={b:.3f}" for t, b in zip(NAMES, model.intercept_, strict=True))
    lines = []
    for key, telling, row in zip(keys, idf, model.coef_.T, strict=True):
        told = " ".join(f"{i}:{round(100 * w)}" for i, w in enumerate(row) if abs(w) >= SMALLEST)
        lines.append(f"{key}\t{round(100 * telling)}\t{told}")
    lines.sort(key=str.encode)
    return f"# phrases={phrases} scale={scale} {head}\n" + "\n".join(lines) + "\n"


if __name__ == "__main__":
    main([a for a in sys.argv[1:] if not a.startswith("--")])
