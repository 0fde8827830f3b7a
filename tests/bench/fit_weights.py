"""Make knowledge/language/weights from labelled lines (needs scikit-learn: the `peers` extra).

    python tests/bench/fit_weights.py [turn] [scope] [stays] [doing] [about] [--without FILE ...]

turn: a linear support-vector classifier of acts with their topics ("report/log"), one pair against the rest, on words
and pairs of words as typed and as understood, signals, and in a conversation what was said before. A line labelled by
topic alone has the act its topic suggests. scope: the same, in or out of scope, on pieces of words. stays: whether a
turn of a conversation goes on with what was asked last. doing: which deed a report or plan is about. about: which
plants a turn that names none is about. How a sum becomes a share is chosen on lines the words have not seen (three
folds). Everything is seeded: the same lines give the same files, byte for byte (with one version of the library;
manifest.toml names it). Files named after --without are left out, so that they can be scored as new.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import sklearn
from sklearn.feature_extraction import DictVectorizer
from sklearn.feature_extraction.text import TfidfTransformer
from sklearn.model_selection import StratifiedKFold
from sklearn.svm import LinearSVC

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from gardenmate.core.question import TOPICS
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.acts import TOPICS_OF
from gardenmate.language.intent.topics import NOTHING_SAID, Before, Found, abouts, doings, leans, look, stays
from gardenmate.language.intent.understand import board_of
from gardenmate.language.text.lexicon import Lexicon, load_lexicon
from gardenmate.language.text.weights import Features, features, out_of_vocabulary, pieces
from tests.bench.spoken import behind, evenings, wanted

TODAY = date(2027, 4, 18)
HERE = ROOT / "tests" / "language"
FOLDER = ROOT / "knowledge" / "language" / "weights"
PENALTY, PAIR_SEEN, SMALLEST, FOLDS, SEED = 1.5, 2, 0.05, 3, 20270418
MANIFEST = FOLDER / "manifest.json"
PIECE_SEEN, SCOPE_PENALTY, STAYS_PENALTY = 3, 0.5, 0.5
SCALES = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
OUTSIDE = "out-of-scope"


@dataclass(frozen=True)
class Line:
    """A labelled line. ``topic`` and ``act`` are None where nobody labelled them."""

    text: str
    topic: str | None
    act: str | None
    before: Before = NOTHING_SAID
    spoken: bool = False  # a turn of a whole conversation
    deed: str | None = None  # what a report or plan of it tells, where that is one kind of deed
    crops: frozenset[str] = frozenset()  # the plants a turn is about, named or not


def labelled(without: Sequence[str] = ()) -> list[Line]:
    """Every labelled line but those of held_out files; follow-ups are left out, which mean little alone."""
    lines: list[Line] = []
    for path in [HERE / "public_questions.jsonl", *sorted((HERE / "variants").glob("*.jsonl"))]:
        rows = () if path.name in without else map(json.loads, path.read_text("utf-8").splitlines())
        lines += [Line(row["q"], row["topic"], row.get("act")) for row in rows if not row.get("prev")]
    for path in sorted((HERE / "training").glob("*.txt")):
        for row in () if path.name in without else path.read_text("utf-8").splitlines():
            if row.strip() and not row.startswith("#"):
                topic, _, text = row.partition("\t")
                lines.append(Line(text, topic, None))
    for path in sorted((HERE / "acts").glob("*.txt")):
        for row in () if path.name in without else path.read_text("utf-8").splitlines():
            if row.strip() and not row.startswith("#"):
                act, topic, text = row.split("\t", 2)
                lines.append(Line(text, topic or None, act))
    told = [*(HERE / "conversations").glob("*.txt"), *(ROOT / "tests" / "bench" / "data").glob("*.jsonl")]
    for path in sorted(p for p in told if "unread" not in p.name):
        for evening in () if path.name in without else evenings(path):
            for turn, before in behind(evening["turns"]):
                deeds = {deed["action"] for deed in wanted(turn)} if turn["act"] in DEEDS_TOLD else set()
                deed = deeds.pop() if len(deeds) == 1 else None
                if deed == "note" and path.suffix == ".jsonl":
                    deed = None  # those files file under it what their list of deeds has no name for
                crops = frozenset(turn["crops"])
                lines.append(Line(turn["say"], turn["topic"], turn["act"], before, True, deed, crops))
    examples = Facts().table("language/examples")
    return lines + [Line(q, topic, None) for topic, asked in examples.items() for q in asked]


# -- fitting -------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Fitted:
    """One model: its label names, features in the order of the columns, and what the file holds."""

    labels: tuple[str, ...]
    keys: Sequence[str]
    idf: Any
    coefficients: Any
    bias: Any
    scale: float
    right: float

    def written(self) -> str:
        """The file: the head line, then the features sorted by their bytes; weights too small to tell are left out."""
        head = " ".join(f"{t}={b:.3f}" for t, b in zip(self.labels, self.bias, strict=True))
        lines = []
        for key, telling, row in zip(self.keys, self.idf, self.coefficients.T, strict=True):
            told = " ".join(f"{i}:{round(100 * w)}" for i, w in enumerate(row) if abs(w) >= SMALLEST)
            lines.append(f"{key}\t{round(100 * telling)}\t{told}")
        lines.sort(key=str.encode)
        return f"# scale={self.scale} {head}\n" + "\n".join(lines) + "\n"


def fitted(
    rows: list[Features],
    answers: list[str],
    labels: tuple[str, ...],
    seen: int,
    penalty: float,
    count_for: Any = None,
) -> Fitted:
    """One label against the rest; features of several words or of pieces count from ``seen`` lines on. ``count_for``:
    what each line counts (1 each when not given)."""
    counts = Counter(key for row in rows for key in row)
    kept = [
        {k: 1 + np.log(v) for k, v in row.items() if counts[k] >= (seen if " " in k or k[:2] == "h:" else 1)}
        for row in rows
    ]
    names, weighted = DictVectorizer(), TfidfTransformer()
    x = weighted.fit_transform(names.fit_transform(kept))
    y = np.array([labels.index(a) for a in answers])
    sums = np.zeros((len(y), len(labels)))
    whole = np.ones(len(y)) if count_for is None else count_for
    for fit, left in StratifiedKFold(FOLDS, shuffle=True, random_state=SEED).split(x, y):
        sums[left] = _sums(_model(penalty).fit(x[fit], y[fit], whole[fit]), x[left])
    scale = min(SCALES, key=lambda s: _loss(s * sums, y))
    model = _model(penalty).fit(x, y, whole)
    two = len(labels) == 2  # the library keeps one row for two labels
    coefficients = np.vstack([-model.coef_, model.coef_]) if two else model.coef_
    bias = np.concatenate([-model.intercept_, model.intercept_]) if two else model.intercept_
    right = float(np.mean(sums.argmax(1) == y))
    return Fitted(labels, names.get_feature_names_out(), weighted.idf_, coefficients, bias, scale, right)


def _model(penalty: float) -> LinearSVC:
    return LinearSVC(C=penalty, random_state=SEED)


def _sums(model: LinearSVC, x: Any) -> Any:
    found = model.decision_function(x)
    return np.stack([-found, found], axis=1) if found.ndim == 1 else found


def _loss(z: Any, y: Any) -> float:
    z = z - z.max(1, keepdims=True)
    return float(-np.mean(z[np.arange(len(y)), y] - np.log(np.exp(z).sum(1))))


def word_rows(found: list[Found], lexicon: Lexicon) -> list[Features]:
    """Words and signals of every line; a word only one line holds is new to all others."""
    rows = [features(f.text, f.units, f.signals) for f in found]
    counts = Counter(key for row in rows for key in row)
    for row, one in zip(rows, found, strict=True):
        row.update(out_of_vocabulary(one.units, lexicon.is_english, lambda lemma: counts[f"u:{lemma}"] > 1))
    return rows


def fit_turn(lines: list[Line], found: list[Found], lexicon: Lexicon) -> Fitted:
    """Which act, with which topic."""
    own = [(f, line, pair) for f, line in zip(found, lines, strict=True) if (pair := _pair_of(line, f))]
    rows = word_rows([f for f, _, _ in own], lexicon)
    for row, (f, line, _) in zip(rows, own, strict=True):
        row.update(leans(f, line.before))
    counts = np.array([share for _, _, (_, share) in own])
    return fitted(rows, [pair for _, _, (pair, _) in own], PAIRS, PAIR_SEEN, PENALTY, counts)


PAIRS = tuple(f"{act}/{topic}" for act in TOPICS_OF for topic in TOPICS if topic in TOPICS_OF[act])
_BY_ACT = 0.6
"""What a line labelled by act counts of one labelled by topic: half of them lean on a turn before and tell less."""
_SPOKEN = 1.5  # what a turn of a whole conversation counts (chosen on conversations left out)
_SUGGESTS = {"log": "report", "garden": "tell", "out-of-scope": "talk"}


def _pair_of(line: Line, found: Found) -> tuple[str, float] | None:
    """The act and topic of a line and how much it counts; None where its topic leaves the act open. What corrects a
    fact told of the garden tells it anew; a question outside what is answered is talk."""
    if line.topic is None:
        return None
    if line.act is not None:
        pair = f"{line.act}/{line.topic}"
        known = (
            pair
            if pair in PAIRS
            else {"garden": "tell/garden", "out-of-scope": f"talk/{OUTSIDE}"}.get(line.topic)
        )
        return (known, _SPOKEN if line.spoken else _BY_ACT) if known else None
    act = _SUGGESTS.get(line.topic, "ask")
    if act in ("report", "tell") and "ask" in found.signals:
        return None
    return f"{act}/{line.topic}", 1.0


def fit_scope(lines: list[Line], found: list[Found], lexicon: Lexicon) -> Fitted:
    """In or out of scope, on pieces of words."""
    del found, lexicon
    own = [line for line in lines if line.topic is not None]
    answers = ["out" if line.topic == OUTSIDE else "in" for line in own]
    return fitted([pieces(line.text) for line in own], answers, ("in", "out"), PIECE_SEEN, SCOPE_PENALTY)


def fit_stays(lines: list[Line], found: list[Found], lexicon: Lexicon) -> Fitted:
    """Whether a turn of a conversation goes on with what was asked last."""
    del lexicon
    own = [(told, line, f) for line, f in zip(lines, found, strict=True) if (told := stays(f, line.before))]
    answers = [
        "stays" if f"{line.act}/{line.topic}" == f"ask/{line.before.asked}" else "leaves"
        for _, line, _ in own
    ]
    return fitted([told for told, _, _ in own], answers, ("leaves", "stays"), PAIR_SEEN, STAYS_PENALTY)


DEEDS_TOLD = ("report", "plan")


def fit_doing(lines: list[Line], found: list[Found], lexicon: Lexicon) -> Fitted:
    """Which deed a report or a plan is about."""
    del lexicon
    own = [
        (doings(f, line.act or "", line.before), line.deed)
        for line, f in zip(lines, found, strict=True)
        if line.deed
    ]
    seen = Counter(deed for _, deed in own)
    kept = [(row, deed) for row, deed in own if deed and seen[deed] > FOLDS]
    labels = tuple(sorted({deed for _, deed in kept}))
    return fitted([row for row, _ in kept], [deed for _, deed in kept], labels, PAIR_SEEN, PENALTY)


ABOUT = ("none", "last", "both")


def fit_about(lines: list[Line], found: list[Found], lexicon: Lexicon) -> Fitted:
    """Which plants a turn of a conversation that names none is about."""
    del lexicon
    rows, answers = [], []
    for line, f in zip(lines, found, strict=True):
        named = bool(f.crops) or "family" in f.signals
        told = {} if named else abouts(f, f"{line.act}/{line.topic}", line.before)
        of_them = (frozenset(), line.before.crops, line.before.crops | line.before.earlier)
        if told and line.act != "talk" and line.crops in of_them:
            rows.append(told)
            answers.append(ABOUT[of_them.index(line.crops)])
    return fitted(rows, answers, ABOUT, PAIR_SEEN, STAYS_PENALTY)


FITS: dict[str, Callable[[list[Line], list[Found], Lexicon], Fitted]] = {
    "turn": fit_turn,
    "scope": fit_scope,
    "stays": fit_stays,
    "doing": fit_doing,
    "about": fit_about,
}


def main(words: list[str]) -> None:
    """Fit what is named (everything when nothing is) and write it with its manifest."""
    without = words[words.index("--without") + 1 :] if "--without" in words else []
    names = [w for w in words if w in FITS and w not in without] or list(FITS)
    lexicon, lines = load_lexicon(Facts()), labelled(without)
    found = [look(board_of(line.text, TODAY, "us", lexicon, None), lexicon) for line in lines]
    manifest = json.loads(MANIFEST.read_text("utf-8")) if MANIFEST.exists() else {}
    FOLDER.mkdir(exist_ok=True)
    for name in names:
        model = FITS[name](lines, found, lexicon)
        text = model.written()
        (FOLDER / f"{name}.txt").write_text(text, "utf-8")
        print(
            f"{name}: {len(model.keys)} features, scale {model.scale}, {model.right:.1%} right on lines left out"
        )
        manifest[name] = {
            "sha256": hashlib.sha256(text.encode()).hexdigest(),
            "features": len(model.keys),
            "right_on_lines_left_out": round(model.right, 4),
        }
    manifest["lines"] = {"sha256": lines_hash(lines), "count": len(lines)}
    manifest["library"] = {"scikit-learn": sklearn.__version__}
    MANIFEST.write_text(json.dumps(manifest, indent=1, sort_keys=True) + "\n", "utf-8")


def lines_hash(lines: list[Line]) -> str:
    """The hash of every labelled line, in order."""
    told = [(x.text, x.topic, x.act, x.before.pair, x.before.asked, x.before.deed) for x in lines]
    return hashlib.sha256(repr(told).encode()).hexdigest()


if __name__ == "__main__":
    main(sys.argv[1:])
