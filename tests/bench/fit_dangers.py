"""Make knowledge/language/weights/danger.txt: which class of danger a line speaks of, or none (see fit_weights).

    python tests/bench/fit_dangers.py            fit and write
    python tests/bench/fit_dangers.py --folds    what each limit catches on lines the words have not seen (five folds)
    python tests/bench/fit_dangers.py --score    the same on the lines held out, with the limits as they are

Lines: tests/language/dangers (each class heard, and harmless lines that use the same words) and the training lines of
the topics, which speak of none unless a decisive line hears a danger in them. The limits of intent/dangers.py are
chosen on the folds; the lines held out are scored and never read.
"""

from __future__ import annotations

import sys
from collections import Counter
from datetime import date
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

import fit_weights as fits
import numpy as np
from sklearn.feature_extraction import DictVectorizer
from sklearn.feature_extraction.text import TfidfTransformer
from sklearn.model_selection import StratifiedKFold
from sklearn.svm import LinearSVC

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent import dangers
from gardenmate.language.intent.topics import Found, Ranked, hear, look
from gardenmate.language.intent.understand import board_of
from gardenmate.language.text.lexicon import Lexicon, load_lexicon

LINES = HERE.parent / "language"
PENALTY, PAIR_SEEN = 1.5, 2
HELD_OUT = ("held_out", "held_out_2", "held_out_3")
TOLD, REFUSED = ("log", "garden"), ("out-of-scope",)


class Row(NamedTuple):
    """A line, the class it speaks of or none, the kind of list it comes from, and whether a decisive line hears it."""

    found: Found
    kind: str
    source: str
    decided: bool


def rows(lexicon: Lexicon) -> list[Row]:
    """Everything fitted to. A topic's line in which a decisive line hears a danger is left out."""
    told: list[tuple[str, str, str]] = []
    for path in sorted((LINES / "dangers").glob("*.tsv")):
        for row in path.read_text("utf-8").splitlines():
            fields = row.split("\t")
            heard = path.name.startswith("heard")
            told.append((fields[-1], fields[0] if heard else dangers.NONE, path.stem))
    for line in fits.labelled():
        usual = (
            "asked" if line.topic not in (*TOLD, *REFUSED) else "told" if line.topic in TOLD else "refused"
        )
        told.append((line.text, dangers.NONE, usual))
    found: list[Row] = []
    for text, kind, source in told:
        board = board_of(text, fits.TODAY, "us", lexicon, None)
        decided = dangers.heard(board, lexicon.danger_lines) is not None
        if not decided or source not in ("asked", "told", "refused"):
            found.append(Row(look(board, lexicon), kind, source, decided))
    return found


def fit() -> None:
    """Fit and write."""
    lines = rows(load_lexicon(Facts()))
    kinds = tuple(sorted({row.kind for row in lines}))
    features = [dangers.shown(row.found) for row in lines]
    model = fits.fitted(features, [row.kind for row in lines], kinds, PAIR_SEEN, PENALTY)
    (fits.FOLDER / "danger.txt").write_text(model.written(), "utf-8")
    print(
        f"{len(lines)} lines, {len(model.keys)} features, scale {model.scale}, {model.right:.1%} right on folds"
    )


def folds() -> None:
    """What limits would catch of each list, by words that have not seen the line; the margin from "none" as `class_of`
    has it. A topic's line was seen by the topic weights, so that what it is read as is surer than in use."""
    lexicon = load_lexicon(Facts())
    lines = rows(lexicon)
    counts = Counter(key for row in lines for key in dangers.shown(row.found))
    kept = [
        {
            k: 1 + np.log(v)
            for k, v in dangers.shown(row.found).items()
            if " " not in k or counts[k] >= PAIR_SEEN
        }
        for row in lines
    ]
    x = TfidfTransformer().fit_transform(DictVectorizer().fit_transform(kept))
    y = np.array([row.kind != dangers.NONE for row in lines])
    lead = np.zeros(len(y))
    split = StratifiedKFold(fits.FOLDS, shuffle=True, random_state=fits.SEED)
    for fitted, left in split.split(x, [row.source for row in lines]):
        model = LinearSVC(C=PENALTY, random_state=fits.SEED).fit(x[fitted], y[fitted])
        lead[left] = model.decision_function(x[left])
    own = np.array([dangers.least(hear(row.found, lexicon).ranked()[0]) for row in lines])
    decided = np.array([row.decided for row in lines])
    source = np.array([row.source for row in lines])
    for name, limit in (("as they are", own), *((f"{at:+.1f}", at) for at in (-0.6, -0.4, -0.2, 0.0, 0.2))):
        hit = decided | (lead >= limit)
        print(f"{name:12}", *(f"{s} {hit[source == s].mean():.1%}" for s in sorted(set(source))))


def score() -> None:
    """Caught, and false alarms, on the lines held out; neither list is read while mending."""
    lexicon = load_lexicon(Facts())
    for name in HELD_OUT:
        missed: Counter[str] = Counter()
        for which in ("dangers", "harmless"):
            lines = [
                row.split("\t") for row in (LINES / f"{which}_{name}.tsv").read_text("utf-8").splitlines()
            ]
            heard = [cues(row[-1], lexicon) for row in lines]
            said = sum(map(bool, heard))
            first = sum("danger" in cue for cue in heard)
            print(
                f"{which}_{name}: said to {said} of {len(lines)} ({said / len(lines):.1%}), first to {first}"
            )
            if which == "dangers":
                missed.update(row[0] for row, cue in zip(lines, heard, strict=True) if not cue)
        print("missed by class:", dict(missed))


def cues(text: str, lexicon: Lexicon) -> dict[str, str]:
    """What is heard in a line: a danger that is answered first, one said with the answer, or nothing."""
    board = board_of(text, date(2027, 4, 18), "us", lexicon, None)
    found = look(board, lexicon)
    read: Ranked = hear(found, lexicon).ranked()[0]
    return dangers.cues_of(board, found, lexicon, None, read)


if __name__ == "__main__":
    {"--score": score, "--folds": folds}.get(sys.argv[-1], fit)()
