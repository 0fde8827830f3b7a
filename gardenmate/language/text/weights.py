"""Linear weights: how much every word of a text speaks for each label (topic, act, in scope or not).

The weights (knowledge/language/weights) are fitted to labelled lines by tests/bench/fit_weights.py, one label
against the rest. A file is sorted text, one feature a line: key, how telling it is (idf x 100), and the labels
it speaks for or against (weight x 100). It is searched where it lies, never parsed whole: a line looks up some
hundred features.
"""

from __future__ import annotations

import math
import mmap
import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from gardenmate.core.errors import DamagedFileError
from gardenmate.language.text.phrases import Unit
from gardenmate.records import NamedTuple, dataclass, field

LONGEST = 300  # words
FEW, SHORT = 5, 9  # units of a very short and of a short text, for the words out of vocabulary in it
MOST_KEPT = 20_000  # lines found are kept for the next question, in a bounded store
BLOCK = 16_384  # bytes between two posts: few enough to make at every start, near enough to search between
LINE = 1_000  # bytes; longer than any line
LEANS = 10  # units: in a longer text the turn before is no longer weighed word by word (design value)
BEHIND = 0.74  # what was said before counts 1 + ln(0.74) = 0.7 of a word of the text itself (chosen on lines left out)
_LENGTHS = ((3, "few"), (6, "short"), (LEANS, "some"))  # units
GRAMS = (3, 4, 5)  # characters of the pieces of a word the scope is decided on
LONGEST_TEXT = 2_000  # characters the pieces are taken from
_TOLD = 0.02  # a word that moved a label less than this is not named in the trace

Features = dict[str, float]


class FeatureShown(NamedTuple):
    """A feature of a text: how much it counts, and the labels it speaks for."""

    key: str
    value: float
    speaks: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Weights:
    """``labels`` in the order of the file, ``bias`` per label, ``scale`` turns a sum into natural-log odds;
    ``file`` holds the sorted lines; ``posts`` are keys along it and ``starts`` where their lines begin."""

    labels: tuple[str, ...]
    bias: Mapping[str, float]
    scale: float
    file: bytes | mmap.mmap
    posts: Sequence[bytes]
    starts: Sequence[int]
    _kept: dict[str, tuple[float, dict[str, float]] | None] = field(default_factory=dict)

    def of(self, key: str) -> tuple[float, dict[str, float]] | None:
        """How telling a feature is and the labels it speaks for, None when no line held it."""
        if key not in self._kept:
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            self._kept[key] = self._search(key)
        return self._kept[key]

    def _search(self, key: str) -> tuple[float, dict[str, float]] | None:
        wanted, data = key.encode(), self.file
        post = bisect_right(self.posts, wanted)
        if not post:
            return None
        low, high = self.starts[post - 1], self.starts[post] if post < len(self.starts) else len(data)
        while low < high:
            middle = (low + high) // 2
            start = data.rfind(b"\n", low, middle) + 1 or low
            end = data.find(b"\n", start, high)
            end = high if end < 0 else end
            tab = data.find(b"\t", start, end)
            if data[start:tab] == wanted:
                return self._read(data[tab + 1 : end].decode())
            if data[start:tab] < wanted:
                low = end + 1
            else:
                high = start
        return None

    def _read(self, rest: str) -> tuple[float, dict[str, float]]:
        idf, _, told = rest.partition("\t")
        pairs = (part.split(":") for part in told.split())
        return int(idf) / 100, {self.labels[int(t)]: int(w) / 100 for t, w in pairs}


def load_weights(path: Path) -> Weights:
    """The weights of one file, whose first line tells scale and bias.

    Raises DamagedFileError for a file that is missing or without that line.
    """
    try:
        with path.open("rb") as file:
            head = file.readline()
            begin = file.tell()
            # mapped, not read: a question looks at some hundred lines of it
            lines = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) if head else b""
    except FileNotFoundError as error:
        raise DamagedFileError(f"{path} is missing: the words cannot be weighed without it.") from error
    try:
        bias = {t: float(b) for t, b in (p.split("=") for p in head.decode().lstrip("# ").split())}
        scale = bias.pop("scale")
    except (ValueError, KeyError) as error:
        raise DamagedFileError(f"{path} is damaged: its first line does not tell bias and scale.") from error
    starts = [begin, *(lines.find(b"\n", at) + 1 for at in range(begin + BLOCK, len(lines) - LINE, BLOCK))]
    posts = [lines[start : lines.find(b"\t", start)] for start in starts]
    return Weights(tuple(bias), bias, scale, lines, posts, starts)


# -- features ------------------------------------------------------------------------------------------
def features(text: str, units: Sequence[Unit], signals: Iterable[str]) -> Features:
    """What a text shows, with how often: words and pairs of words as typed ("r:"), as understood, with
    <crop>, <temp> ... for what was found ("u:", here three together as well, and which open and end the text: "^",
    "$"), and signals ("s:")."""
    typed = re.findall(r"[a-z0-9']+", text.lower())
    if len(typed) > LONGEST:  # the middle of an endless text tells nothing new
        typed = typed[: LONGEST // 2] + typed[-LONGEST // 2 :]
    found: Features = {}
    _count(found, "r:", typed)
    understood = [u.tag or u.lemma for u in units]
    _count(found, "u:", understood)
    for three in zip(understood, understood[1:], understood[2:], strict=False):
        found["u:" + " ".join(three)] = 1.0
    if understood:
        found[f"u:^ {understood[0]}"] = found[f"u:{understood[-1]} $"] = 1.0
    for signal in signals:
        found["s:" + signal] = 1.0
    return found


def behind(units: Sequence[Unit], said_before: Iterable[tuple[str, str]], names: str) -> Features:
    """What the turns before add to a text: every thing ``said_before`` (kind, value: "b" act and topic of the turn
    before, "c" its act, "a" topic asked last, "d" deed told last) alone, with how long the text is, with the plants it
    ``names``, and in a text of `LEANS` units at most with each of its words and with the one it opens with."""
    understood = [u.tag or u.lemma for u in units]
    length = next((name for most, name in _LENGTHS if len(understood) <= most), "long")
    found = dict.fromkeys((f"n:{length}", f"n:{names}", f"n:{length} {names}"), BEHIND)
    words = {*understood, f"^{understood[0]}"} if 0 < len(understood) <= LEANS else set()
    for kind, value in said_before:
        key = f"{kind}:{value}"
        found[key] = BEHIND
        for beside in (f"/{length}", f"/{names}", f"/{length}/{names}", *words):
            found[f"{key} {beside}"] = BEHIND
    return found


def staying(found: Features, units: Sequence[Unit], act: str, asked: str, names: str) -> Features:
    """What a text shows of whether it goes on with what was ``asked`` last: its own words (``found``), with how long it
    is and the plants it ``names``, behind a turn of that ``act`` (see `behind`)."""
    understood = [u.tag or u.lemma for u in units]
    length = next((name for most, name in _LENGTHS if len(understood) <= most), "long")
    words = set(understood) if len(understood) <= LEANS else set()
    told = (f"n:{length}", f"n:{names}", f"n:{length} {names}", f"c:{act}", f"c:{act} {length} {names}", f"a:{asked}",
            f"a:{asked} {names}", f"a:{asked} {length} {names}", *(f"c:{act} {word}" for word in words))  # fmt: skip
    return found | dict.fromkeys(told, 1.0)


def out_of_vocabulary(
    units: Sequence[Unit], real: Callable[[str], bool], counted: Callable[[str], bool]
) -> Features:
    """A feature ("x:") for plain English words no labelled line held ("famine"): a garden question rarely
    has one in a short text, and the shorter the text the more it says.

    ``real`` tells a word from a slip of the thumb, ``counted`` whether any line held the lemma.
    """
    words = {u.lemma: u.word for u in units if not u.tag and len(u.lemma) > 2 and u.lemma.isalpha()}
    unheard = sum(1 for lemma, word in words.items() if not counted(lemma) and real(word))
    if not unheard:
        return {}
    length = "few" if len(units) <= FEW else "short" if len(units) <= SHORT else "long"
    crop = " <crop>" if any(u.tag == "<crop>" for u in units) else ""
    return {f"x:{length} {min(unheard, 2)}{crop}": 1.0}


def pieces(text: str) -> Features:
    """Pieces of three to five characters within each word of a text ("h:"), with how often: what a text is
    about shows in them through slips of the thumb and words never heard."""
    found: Features = {}
    for word in re.findall(r"[a-z0-9']+", text[:LONGEST_TEXT].lower()):
        padded = f" {word} "
        for size in GRAMS:
            for i in range(max(1, len(padded) - size + 1)):
                key = "h:" + padded[i : i + size].replace(" ", "_")
                found[key] = found.get(key, 0.0) + 1.0
    return found


def _count(found: Features, prefix: str, words: Sequence[str]) -> None:
    """Add words and pairs of neighbours."""
    before = None
    for word in words:
        found[prefix + word] = found.get(prefix + word, 0.0) + 1.0
        if before is not None:
            pair = f"{prefix}{before} {word}"
            found[pair] = found.get(pair, 0.0) + 1.0
        before = word


# -- decisions -----------------------------------------------------------------------------------------
def weigh(found: Mapping[str, float], weights: Weights) -> tuple[dict[str, float], list[FeatureShown]]:
    """Natural-log odds per label, and how much each feature counts (see `spoke`).

    Words are weighed as usual for text: 1 + ln(count), times how telling the word is, at unit length.
    """
    seen: list[FeatureShown] = []
    length = 0.0
    for key, count in found.items():
        known = weights.of(key)
        if known is not None:
            value = known[0] if count == 1.0 else (1.0 + math.log(count)) * known[0]
            length += value * value
            seen.append(FeatureShown(key, value, known[1]))
    length = math.sqrt(length) or 1.0
    totals = dict(weights.bias)
    for _, value, pairs in seen:
        share = value / length
        for label, weight in pairs.items():
            totals[label] += weight * share
    return {label: weights.scale * total for label, total in totals.items()}, seen


def spoke(seen: Sequence[FeatureShown], label: str, most: int) -> list[tuple[str, float]]:
    """The words that spoke for a label most, strongest first."""
    length = math.sqrt(sum(s.value * s.value for s in seen)) or 1.0
    parts = ((s.key[2:], s.speaks[label] * s.value / length) for s in seen if label in s.speaks)
    told = sorted((p for p in parts if p[1] > _TOLD), key=lambda part: -part[1])
    return [(words, round(part, 2)) for words, part in told[:most]]


def shares(totals: Mapping[str, float]) -> dict[str, float]:
    """The totals as shares that add up to one."""
    if not totals:
        return {}
    top = max(totals.values())
    parts = {label: math.exp(value - top) for label, value in totals.items()}
    whole = sum(parts.values())
    return {label: part / whole for label, part in parts.items()}
