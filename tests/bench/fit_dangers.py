"""Make knowledge/language/weights/danger.txt: which class of danger a line speaks of, or none (see fit_weights).

    python tests/bench/fit_dangers.py [--score]

Lines: tests/language/dangers (each class heard, and harmless lines that use the same words) and the training lines of
the topics, which speak of none unless a decisive line hears a danger in them. --score measures the lines held out.
"""

from __future__ import annotations

import sys
from collections import Counter
from datetime import date
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parents[1])]

import fit_weights as fits

from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent import dangers
from gardenmate.language.intent.topics import look
from gardenmate.language.intent.understand import board_of
from gardenmate.language.text.lexicon import Lexicon, load_lexicon
from gardenmate.language.text.spans import Board

LINES = HERE.parent / "language"
PENALTY, PAIR_SEEN = 0.7, 2
EVERY = 1  # of the topics' lines every one


def rows(lexicon: Lexicon) -> list[tuple[Board, str]]:
    """(annotated line, its class or none) of everything fitted to."""
    found: list[tuple[str, str]] = []
    for path in sorted((LINES / "dangers").glob("heard_*.tsv")):
        for row in path.read_text("utf-8").splitlines():
            kind, _, text = row.split("\t", 2)
            found.append((text, kind))
    for path in sorted((LINES / "dangers").glob("harmless_*.tsv")):
        found += [(row.split("\t", 1)[1], dangers.NONE) for row in path.read_text("utf-8").splitlines()]
    boards = [(board_of(text, fits.TODAY, "us", lexicon, None), kind) for text, kind in found]
    for line in fits.labelled()[::EVERY]:
        board = board_of(line.text, fits.TODAY, "us", lexicon, None)
        if dangers.heard(board, lexicon.danger_lines) is None:
            boards.append((board, dangers.NONE))
    return boards


def fit() -> None:
    """Fit and write."""
    lexicon = load_lexicon(Facts())
    lines = rows(lexicon)
    features = [dangers.shown(look(board, lexicon)) for board, _ in lines]
    kinds = tuple(sorted({kind for _, kind in lines}))
    model = fits.fitted(features, [kind for _, kind in lines], kinds, PAIR_SEEN, PENALTY)
    (fits.FOLDER / "danger.txt").write_text(model.written(), "utf-8")
    print(
        f"{len(lines)} lines, {len(model.keys)} features, scale {model.scale}, {model.right:.1%} right on folds"
    )


def score() -> None:
    """Caught, and false alarms, on the lines held out; neither list is read while mending."""
    lexicon = load_lexicon(Facts())
    today = date(2027, 4, 18)
    missed: Counter[str] = Counter()
    heard = told = 0
    for row in (LINES / "dangers_held_out.tsv").read_text("utf-8").splitlines():
        kind, _, text = row.split("\t", 2)
        board = board_of(text, today, "us", lexicon, None)
        caught = bool(dangers.cues_of(board, look(board, lexicon), lexicon, None))
        heard += caught
        told += 1
        missed[kind] += not caught
    alarms = harmless = 0
    for row in (LINES / "harmless_held_out.tsv").read_text("utf-8").splitlines():
        board = board_of(row.split("\t", 1)[1], today, "us", lexicon, None)
        alarms += bool(dangers.cues_of(board, look(board, lexicon), lexicon, None))
        harmless += 1
    print(
        f"caught {heard} of {told} ({heard / told:.1%}); false alarms {alarms} of {harmless} ({alarms / harmless:.1%})"
    )
    print("missed by class:", dict(+missed))


if __name__ == "__main__":
    score() if "--score" in sys.argv else fit()
