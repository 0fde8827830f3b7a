"""Which topic a text asks about: evidence from phrases and from what stands together, added up.

Every topic collects the weights of its phrases (knowledge/language/topics), the question clause counting
more than the story before it, and of the situations that hold (knowledge/language/situations.toml).
The leanings of single words are added (see `leanings`). Nothing is hidden: `Ranked.evidence` says what spoke
for a topic and how much.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from gardenmate.core.question import TOPICS
from gardenmate.language.intent.leanings import Shown, features, leaned, shares, strangers, weigh
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.phrases import Hit, Unit, find
from gardenmate.language.text.spans import Board

STORY = 0.6  # what is told before the question counts this much of what is asked
ASIDE = 0.4  # a pest or a feed in the story is an aside; only asked about it is out of scope
TOLD = 3  # words named when a reading is explained
ECHO = 0.2  # a phrase inside one already counted adds only this much
STRANGER = 0.3  # a text without any garden word: its garden phrases count this much
_STATED = frozenset(
    {"garden", "log"}
)  # these are told, not asked: their weaker phrases say little in a question
_NEEDS_NO_GARDEN = frozenset({"out-of-scope", "log", "garden", "explain", "agenda"})
STATED_SURE = 6.0
ASKED_STATEMENT = 0.2
_IN_SCOPE = tuple(t for t in TOPICS if t != "unclear")


class Ranked(NamedTuple):
    """A topic: its score from the phrases, its share of all evidence (0..1), and what spoke for it."""

    topic: str
    score: float
    share: float = 0.0
    evidence: tuple[tuple[str, float], ...] = ()


class Found(NamedTuple):
    """Everything the phrases found: hits by kind, the signals, and the units they lie on."""

    units: tuple[Unit, ...]
    topic_hits: tuple[Hit, ...]
    cue_hits: tuple[Hit, ...]
    signals: frozenset[str]
    asking_from: int
    text: str = ""


_TAG_OF = {
    "crop": "<crop>", "family": "<crop>", "temp": "<temp>", "date": "<date>", "money": "<money>",
    "span": "<span>",
    "age": "<age>", "place": "<place>", "people": "<people>", "people_part": "<people>", "dtm": "<dtm>",
    "count": "<n>", "cells": "<cells>",
}  # fmt: skip


def units_of(board: Board) -> tuple[Unit, ...]:
    """The text as phrases see it: words, and one unit for every thing found."""
    starts = {s.start: s for s in board.spans if s.end > s.start and s.tag in _TAG_OF}
    out: list[Unit] = []
    i = 0
    while i < len(board.tokens):
        token, span = board.tokens[i], starts.get(i)
        if span is not None:
            tag = _TAG_OF[span.tag]
            if span.tag == "people" and span.end - span.start == 1:
                tag = "<n>"
            out.append(Unit("", "", tag, token.sentence))
            i = span.end
            continue
        out.append(Unit(token.word, token.lemma, "<n>" if token.number is not None else "", token.sentence))
        i += 1
    return tuple(out)


def look(board: Board, lexicon: Lexicon) -> Found:
    """Find every phrase, and the signals that hold."""
    units = units_of(board)
    topic_hits: list[Hit] = []
    cue_hits: list[Hit] = []
    signals = {s.tag for s in board.spans}
    asks: list[Hit] = []
    for hit in find(units, lexicon.index, lexicon.elements):
        phrase = lexicon.phrase(hit.phrase)
        if phrase.kind == "topic":
            topic_hits.append(hit)
        elif phrase.kind == "cue":
            cue_hits.append(hit)
        else:
            signals.add(phrase.target)
            if phrase.target == "ask":
                asks.append(hit)
    if "family" in signals:
        signals.add("crop")
    if "garden" in signals:
        signals.add("plot")
    if "crop" in signals or ("temp" in signals and "weather" in signals):
        signals.add("garden")
    if board.text.questions:
        signals.add("ask")
    if "ask" not in signals:
        signals.add("statement")
    if len(board.tokens) <= 6:
        signals.add("short")
    for span in board.of("temp"):
        if span.value.role:
            signals.add(f"temp-{span.value.role}")
    if len(board.of("temp")) > 1:
        signals.add("temps")
    if len(board.of("crop")) + len(board.of("family")) > 1:
        signals.add("crops")
    weighted = _weigh(units, board, asks)
    return Found(
        weighted,
        tuple(topic_hits),
        tuple(cue_hits),
        frozenset(signals),
        _asking_from(weighted),
        board.text.typed,
    )


def _weigh(units: tuple[Unit, ...], board: Board, asks: Sequence[Hit]) -> tuple[Unit, ...]:
    """Units outside the question clause weigh less; without a question all weigh the same."""
    asked = {units[h.start].sentence for h in asks} | set(board.text.questions)
    if not asked or len(units) < 8:
        return units
    starts: dict[int, int] = {}
    for hit in asks:
        sentence = units[hit.start].sentence
        left = sum(1 for u in units[hit.end :] if u.sentence == sentence)
        if left >= 2 and sum(1 for u in units[: hit.start] if u.sentence == sentence) >= 6:
            starts[sentence] = max(starts.get(sentence, 0), hit.start)
    return tuple(
        Unit(
            u.word,
            u.lemma,
            u.tag,
            u.sentence,
            1.0 if u.sentence in asked and i >= starts.get(u.sentence, 0) else STORY,
        )
        for i, u in enumerate(units)
    )


def _asking_from(units: Sequence[Unit]) -> int:
    return next((i for i, u in enumerate(units) if u.weight == 1.0), 0)


def weights_at(board: Board, found: Found) -> dict[int, float]:
    """Token -> the weight of its clause, for the first token of every unit."""
    starts = {s.start: s.end for s in board.spans if s.end > s.start and s.tag in _TAG_OF}
    out: dict[int, float] = {}
    i = 0
    for unit in found.units:
        out[i] = unit.weight
        i = starts.get(i, i + 1)
    return out


def phrase_scores(
    found: Found, lexicon: Lexicon, *, conversing: bool = False
) -> tuple[dict[str, float], dict[str, list[tuple[str, float]]]]:
    """What the phrases and situations give every topic, and which they were.

    ``conversing``: a turn before makes garden words unnecessary.
    """
    totals: dict[str, float] = dict.fromkeys(_IN_SCOPE, 0.0)
    evidence: dict[str, list[tuple[str, float]]] = {t: [] for t in _IN_SCOPE}
    by_topic: dict[str, list[tuple[float, Hit]]] = {}
    for hit in found.topic_hits:
        phrase = lexicon.phrase(hit.phrase)
        strength = max(u.weight for u in found.units[hit.start : hit.end])
        if phrase.target == "out-of-scope" and strength < 1.0:
            strength = ASIDE
        if phrase.target in _STATED and "ask" in found.signals and 0 < phrase.weight < STATED_SURE:
            strength *= ASKED_STATEMENT
        by_topic.setdefault(phrase.target, []).append((phrase.weight * strength, hit))
    for topic, hits in by_topic.items():
        covered: set[int] = set()
        for weight, hit in sorted(
            hits, key=lambda row: (-abs(row[0]), -(row[1].end - row[1].start), row[1].start)
        ):
            own = set(range(hit.start, hit.end))
            counted = weight * ECHO if 2 * len(own & covered) >= len(own) else weight
            covered |= own
            totals[topic] += counted
            evidence[topic].append((lexicon.phrase(hit.phrase).text, round(counted, 2)))
    for s in lexicon.situations:
        if all(h in found.signals for h in s.has) and not any(n in found.signals for n in s.lacks):
            totals[s.topic] += s.weight
            evidence[s.topic].append((s.why or " + ".join(s.has), s.weight))
    if "garden" not in found.signals and not conversing:
        for topic in _IN_SCOPE:
            if topic not in _NEEDS_NO_GARDEN and totals[topic] > 0:
                totals[topic] *= STRANGER
    return totals, evidence


def rank(found: Found, lexicon: Lexicon, *, conversing: bool = False) -> list[Ranked]:
    """Every topic, best first: phrases and leanings together."""
    ruled, evidence = phrase_scores(found, lexicon, conversing=conversing)
    totals, _ = _weighed(found, lexicon, ruled)
    share = shares(totals)
    ranked = [
        Ranked(topic, round(ruled[topic], 3), round(share.get(topic, 0.0), 4), tuple(evidence[topic]))
        for topic in _IN_SCOPE
    ]
    ranked.sort(key=lambda r: (-r.share, -r.score, _IN_SCOPE.index(r.topic)))
    return ranked


def _weighed(found: Found, lexicon: Lexicon, ruled: dict[str, float]) -> tuple[dict[str, float], list[Shown]]:
    leanings = lexicon.leanings
    shown = features(found.text, found.units, found.signals)
    shown |= strangers(found.units, lexicon.is_english, lambda lemma: leanings.of(f"u:{lemma}") is not None)
    return weigh(dict.fromkeys(_IN_SCOPE, 0.0) | ruled, shown, leanings)


def leaning_words(found: Found, lexicon: Lexicon, topic: str) -> list[tuple[str, float]]:
    """The words that lean to a topic most, for whoever asks how a text was read."""
    return leaned(_weighed(found, lexicon, {})[1], topic, TOLD)
