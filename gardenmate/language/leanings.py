"""How words lean towards topics: small weights counted from labelled questions, beside the phrases.

The phrases say what a gardener knows to matter; the leanings (knowledge/language/leanings.toml, made by
tests/bench/fit_leanings.py) say what the words of many questions have in common. Both are added up, so that a
turn of speech no phrase foresaw still counts for something.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from gardenmate.language.phrases import Unit

HALF = 0.5  # a word of the story counts half of a word of the question
LENGTH = 4.0  # a long text has no more say than this many words
LEAST_RULE, MOST_RULE = -6.0, 14.0  # how far the phrases can push a topic


@dataclass(frozen=True, slots=True)
class Leanings:
    """``words``: feature -> "topic +1.20, topic -0.40"; ``bias``: topic -> weight; ``phrases``: how much one
    point of the phrases counts beside them."""

    words: Mapping[str, str]
    bias: Mapping[str, float]
    phrases: float = 0.5

    def of(self, word: str) -> list[tuple[str, float]]:
        """The topics a word leans to, with the weight of each."""
        told = self.words.get(word)
        if told is None:
            return []
        return [
            (topic, float(weight)) for topic, _, weight in (part.partition(" ") for part in told.split(", "))
        ]


def features(units: Sequence[Unit], signals: Iterable[str]) -> dict[str, float]:
    """What a text shows: its words, pairs of words and signals, as numbers of a fixed total length."""
    found: dict[str, float] = {}
    before = ""
    for unit in units:
        word = unit.tag or unit.lemma
        weight = 1.0 if unit.weight == 1.0 else HALF
        found[word] = max(found.get(word, 0.0), weight)
        if before:
            pair = f"{before} {word}"
            found[pair] = max(found.get(pair, 0.0), weight)
        before = word
    for signal in signals:
        found["+" + signal] = 1.0
    length = math.sqrt(sum(v * v for v in found.values()))
    scale = LENGTH / max(length, LENGTH)
    return {k: scale * v for k, v in found.items()}


def weigh(
    ruled: Mapping[str, float], found: Mapping[str, float], leanings: Leanings
) -> tuple[dict[str, float], dict[str, list[tuple[str, float]]]]:
    """Total per topic (natural-log odds) and, per topic, the words that leaned to it most."""
    totals = {
        topic: bias + leanings.phrases * min(max(ruled.get(topic, 0.0), LEAST_RULE), MOST_RULE)
        for topic, bias in leanings.bias.items()
    }
    told: dict[str, list[tuple[str, float]]] = {topic: [] for topic in totals}
    for word, value in found.items():
        for topic, weight in leanings.of(word):
            totals[topic] += weight * value
            if abs(weight * value) >= 0.3:
                told[topic].append((word, round(weight * value, 2)))
    return totals, told


def shares(totals: Mapping[str, float]) -> dict[str, float]:
    """The totals as shares that add up to one."""
    if not totals:
        return {}
    top = max(totals.values())
    parts = {topic: math.exp(value - top) for topic, value in totals.items()}
    whole = sum(parts.values())
    return {topic: part / whole for topic, part in parts.items()}
