"""How words lean towards topics: small weights counted from labelled questions, beside the phrases.

The phrases say what a gardener knows to matter; the leanings (knowledge/language/leanings.txt, made by
tests/bench/fit_leanings.py) say what the words of many questions have in common. Both are added up, so that a
turn of speech no phrase foresaw still counts for something.

The file is sorted text, one feature a line: key, how telling it is (idf x 100), and the topics it leans to
(weight x 100). It is searched where it lies, never parsed whole: a question looks up some hundred lines.
"""

from __future__ import annotations

import math
import mmap
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from gardenmate.core.errors import DamagedFileError
from gardenmate.language.text.phrases import Unit

LEAST_RULE, MOST_RULE = -6.0, 14.0  # how far the phrases can push a topic
LONGEST = 300  # words
END = 12  # units at the end of a text that are counted by themselves
FEW, SHORT = 5, 9  # units of a very short and of a short text, for the strangers in it
MOST_KEPT = 20_000  # lines found are kept for the next question, in a bounded store
_TOLD = 0.02  # a word that moved a topic less than this is not named when a reading is explained
FILE = "leanings.txt"


Shown = tuple[str, float, tuple[tuple[str, float], ...]]
"""A feature of a text, how much it counts, and the topics it leans to."""


@dataclass(frozen=True, slots=True)
class Leanings:
    """``file`` holds the sorted lines from ``begin`` on; ``bias`` per topic; ``phrases`` what one point of
    the phrases counts beside the words; ``scale`` turns the sum into natural-log odds."""

    topics: tuple[str, ...]
    bias: Mapping[str, float]
    phrases: float
    scale: float
    file: bytes | mmap.mmap
    begin: int = 0
    _kept: dict[str, tuple[float, tuple[tuple[str, float], ...]] | None] = field(default_factory=dict)

    def of(self, key: str) -> tuple[float, tuple[tuple[str, float], ...]] | None:
        """How telling a feature is and the topics it leans to, None when it was never counted."""
        if key not in self._kept:
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            self._kept[key] = self._search(key)
        return self._kept[key]

    def _search(self, key: str) -> tuple[float, tuple[tuple[str, float], ...]] | None:
        wanted, data = key.encode(), self.file
        low, high = self.begin, len(data)
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

    def _read(self, rest: str) -> tuple[float, tuple[tuple[str, float], ...]]:
        idf, _, told = rest.partition("\t")
        pairs = (part.split(":") for part in told.split())
        return int(idf) / 100, tuple((self.topics[int(t)], int(w) / 100) for t, w in pairs)


def load_leanings(path: Path) -> Leanings:
    """The leanings of one file, whose first line tells bias, phrase weight and scale.

    Without a file every topic is as likely and only the phrases speak. Raises DamagedFileError for a file
    without that line.
    """
    try:
        with path.open("rb") as file:
            head = file.readline()
            begin = file.tell()
            # mapped, not read: a question looks at some hundred lines of it
            lines = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) if head else b""
    except FileNotFoundError:
        return Leanings((), {}, 1.0, 1.0, b"")
    try:
        parts = {t: float(b) for t, b in (p.split("=") for p in head.decode().lstrip("# ").split())}
        phrases, scale = parts.pop("phrases"), parts.pop("scale")
    except (ValueError, KeyError) as error:
        raise DamagedFileError(f"{path} is damaged: its first line does not tell bias and scale.") from error
    return Leanings(tuple(parts), parts, phrases, scale, lines, begin)


def features(text: str, units: Sequence[Unit], signals: Iterable[str]) -> dict[str, float]:
    """What a text shows, with how often: words and pairs of words as typed ("r:"), as understood, with
    <crop>, <temp> ... for what was found ("u:"), those of the question clause where there is a story beside
    it ("c:"), those at the end, where a vague ask tends to stand ("e:"), and signals ("s:")."""
    typed = re.findall(r"[a-z0-9']+", text.lower())
    if len(typed) > LONGEST:  # the middle of an endless text tells nothing new
        typed = typed[: LONGEST // 2] + typed[-LONGEST // 2 :]
    meant = [u.tag or u.lemma for u in units]
    asked = [u.tag or u.lemma for u in units if u.weight == 1.0]
    found: dict[str, float] = {}
    _count(found, "r:", typed)
    _count(found, "u:", meant)
    if len(asked) < len(meant):
        _count(found, "c:", asked)
    _count(found, "e:", meant[-END:])
    for signal in signals:
        found["s:" + signal] = 1.0
    return found


def strangers(
    units: Sequence[Unit], real: Callable[[str], bool], counted: Callable[[str], bool]
) -> dict[str, float]:
    """A feature ("x:") for plain English words no question ever held ("famine"): a garden question rarely
    has one in a short text, and the shorter the text the more it says.

    ``real`` tells a word from a slip of the thumb, ``counted`` whether any question held the lemma.
    """
    words = {u.lemma: u.word for u in units if not u.tag and len(u.lemma) > 2 and u.lemma.isalpha()}
    unheard = sum(1 for lemma, word in words.items() if not counted(lemma) and real(word))
    if not unheard:
        return {}
    length = "few" if len(units) <= FEW else "short" if len(units) <= SHORT else "long"
    crop = " <crop>" if any(u.tag == "<crop>" for u in units) else ""
    return {f"x:{length} {min(unheard, 2)}{crop}": 1.0}


def _count(found: dict[str, float], prefix: str, words: Sequence[str]) -> None:
    """Add words and pairs of neighbours."""
    before = None
    for word in words:
        found[prefix + word] = found.get(prefix + word, 0.0) + 1.0
        if before is not None:
            pair = f"{prefix}{before} {word}"
            found[pair] = found.get(pair, 0.0) + 1.0
        before = word


def weigh(
    ruled: Mapping[str, float], found: Mapping[str, float], leanings: Leanings
) -> tuple[dict[str, float], list[Shown]]:
    """Total per topic (natural-log odds), and how much each feature counts and leans (see `leaned`).

    Words are weighed as usual for text: 1 + ln(count), times how telling the word is, at unit length.
    """
    seen: list[Shown] = []
    length = 0.0
    for key, count in found.items():
        leaning = leanings.of(key)
        if leaning is not None:
            value = leaning[0] if count == 1.0 else (1.0 + math.log(count)) * leaning[0]
            length += value * value
            seen.append((key, value, leaning[1]))
    length = math.sqrt(length) or 1.0
    totals = {
        topic: leanings.bias.get(topic, 0.0) + leanings.phrases * min(max(score, LEAST_RULE), MOST_RULE)
        for topic, score in ruled.items()
    }
    for _, value, pairs in seen:
        share = value / length
        for topic, weight in pairs:
            totals[topic] += weight * share
    return {topic: leanings.scale * total for topic, total in totals.items()}, seen


def leaned(seen: Sequence[Shown], topic: str, most: int) -> list[tuple[str, float]]:
    """The words that leaned to a topic most, strongest first."""
    length = math.sqrt(sum(value * value for _, value, _ in seen)) or 1.0
    parts = (
        (key[2:], weight * value / length)
        for key, value, pairs in seen
        for of, weight in pairs
        if of == topic
    )
    told = sorted((p for p in parts if p[1] > _TOLD), key=lambda part: -part[1])
    return [(words, round(part, 2)) for words, part in told[:most]]


def shares(totals: Mapping[str, float]) -> dict[str, float]:
    """The totals as shares that add up to one."""
    if not totals:
        return {}
    top = max(totals.values())
    parts = {topic: math.exp(value - top) for topic, value in totals.items()}
    whole = sum(parts.values())
    return {topic: part / whole for topic, part in parts.items()}
