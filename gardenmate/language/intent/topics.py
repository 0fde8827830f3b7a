"""What a text shows, and which act and topic it is together: the linear weights of its words, added up.

Nothing is hidden: `Ranked.spoke` says which words spoke for a topic and how much.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from gardenmate.core.question import TOPICS
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.phrases import Hit, Unit, find
from gardenmate.language.text.spans import Board
from gardenmate.language.text.weights import (
    Features,
    FeatureShown,
    Weights,
    behind,
    features,
    out_of_vocabulary,
    pieces,
    shares,
    spoke,
    staying,
    weigh,
)
from gardenmate.records import NamedTuple

STORY = 0.6  # what is told before the question counts this much of what is asked
TOLD = 6  # words named when a reading is explained
REFUSED = (
    -0.2
)  # so far outside lie 2 % of the questions answered here and 84 % of the others (750 and 514 lines left out)
GOES_ON = 0.5  # what the words for going on with the question before count of those for a topic
GOES_ON_ANYWAY = 0.2  # and what going on has ahead (both chosen on conversations left out)
_OUTSIDE, _TALK = "out-of-scope", "talk/out-of-scope"
_IN_SCOPE = tuple(t for t in TOPICS if t != "unclear")


class Ranked(NamedTuple):
    """A topic, its share of all (0..1), and the words that spoke for it most."""

    topic: str
    share: float = 0.0
    spoke: tuple[tuple[str, float], ...] = ()


class Heard(NamedTuple):
    """The share of every act with its topic ("report/log"; 0..1, together 1), and the words that spoke for them."""

    shares: Mapping[str, float]
    seen: Sequence[FeatureShown] = ()

    def ordered(self) -> list[Ranked]:
        """Every topic with the shares of its acts together, best first."""
        share = dict.fromkeys(_IN_SCOPE, 0.0)
        for pair, part in self.shares.items():
            share[pair.partition("/")[2]] += part
        ranked = [Ranked(topic, round(share[topic], 4)) for topic in _IN_SCOPE]
        return sorted(ranked, key=lambda r: -r.share)  # equal ones stay as they stand in TOPICS

    def ranked(self) -> list[Ranked]:
        """The topics in order, the first three with the words that spoke for them."""
        ranked = self.ordered()
        return [r._replace(spoke=self.spoke(r.topic)) for r in ranked[:3]] + ranked[3:]

    def spoke(self, topic: str) -> tuple[tuple[str, float], ...]:
        """The words that spoke most for a topic, under the act it has most likely."""
        pair = max(
            (p for p in self.shares if p.endswith(f"/{topic}")), key=lambda p: self.shares[p], default=""
        )
        return tuple(spoke(self.seen, pair, TOLD))


class Before(NamedTuple):
    """What tells what the next turn does: act and topic of the turn before it ("ask/frost"), the topic asked last, the
    deed told last (an action of knowledge/deeds.toml), the ids of the plants spoken of last, and of others before."""

    pair: str
    asked: str | None = None
    deed: str | None = None
    crops: frozenset[str] = frozenset()
    earlier: frozenset[str] = frozenset()

    def then(self, pair: str, deed: str | None = None, crops: Iterable[str] = ()) -> Before:
        """What the turn after next has before it, once ``pair`` was said with a ``deed`` about ``crops``."""
        act, _, topic = pair.partition("/")
        if act == "talk":
            return self
        named = frozenset(crops) or self.crops
        earlier = self.earlier if named == self.crops else self.crops
        return Before(pair, topic if act == "ask" else self.asked, deed or self.deed, named, earlier)


NOTHING_SAID = Before("")


class Found(NamedTuple):
    """Everything the phrases found: the cues, the signals, and the units they lie on. ``masked`` is the text with
    "crop" for every crop named, for what must not hang on which crop it is."""

    units: tuple[Unit, ...]
    cue_hits: tuple[Hit, ...]
    signals: frozenset[str]
    asking_from: int
    text: str = ""
    decisive: tuple[str, str, str] | None = None  # act, verb, topic of the decisive line that claims the text
    note: str | None = None  # the note of knowledge/notes.toml the words may ask for
    masked: str = ""
    crops: frozenset[str] = frozenset()  # ids of the crops named


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
    cue_hits: list[Hit] = []
    signals = {s.tag for s in board.spans}
    asks: list[Hit] = []
    claims: dict[int, int] = {}
    denied: set[int] = set()
    notes: dict[str, bool] = {}  # name -> still meant
    for hit in find(units, lexicon.index, lexicon.elements):
        phrase = lexicon.phrase(hit.phrase)
        if phrase.kind == "cue":
            cue_hits.append(hit)
        elif phrase.kind == "act":
            claims[int(phrase.target)] = max(claims.get(int(phrase.target), 0), hit.end - hit.start)
        elif phrase.kind == "unless":
            denied.add(int(phrase.target))
        elif phrase.kind in ("note", "no-note"):
            notes.setdefault(phrase.target, phrase.kind == "note")
            notes[phrase.target] = notes[phrase.target] and phrase.kind == "note"
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
        tuple(cue_hits),
        frozenset(signals),
        _asking_from(weighted),
        board.text.typed,
        _decisive(claims, denied, lexicon),
        next((name for name, meant in notes.items() if meant), None),
        _masked(board),
        frozenset(ref.id for s in board.of("crop") for ref in s.value.refs),
    )


def _masked(board: Board) -> str:
    """The text as typed, with every name of a crop or of crops together replaced by "crop"."""
    text = board.text.typed
    named = (s for tag in ("crop", "family") for s in board.of(tag) if s.end > s.start)
    for span in sorted(named, key=lambda s: -s.start):
        start, end = board.tokens[span.start].start, board.tokens[span.end - 1].end
        text = f"{text[:start]}crop{text[end:]}"
    return text


def _decisive(claims: Mapping[int, int], denied: set[int], lexicon: Lexicon) -> tuple[str, str, str] | None:
    """Act, verb and topic of the decisive line that claims most of the text, None when none does."""
    left = {line: length for line, length in claims.items() if line not in denied}
    return lexicon.decisive[max(left, key=lambda line: (left[line], -line))] if left else None


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


def leans(found: Found, before: Before) -> Features:
    """The features a text has from the turns ``before``; none behind nothing."""
    if not before.pair:
        return {}
    act = before.pair.partition("/")[0]
    said = (("b", before.pair), ("c", act), ("a", before.asked), ("d", before.deed))
    return behind(
        found.units, ((kind, value) for kind, value in said if value is not None), _names(found, before)
    )


def stays(found: Found, before: Before) -> Features:
    """The features that tell whether a text goes on with what was asked last; none where nothing was."""
    if before.asked not in _IN_SCOPE or before.asked == _OUTSIDE:
        return {}
    known = features(found.text, found.units, found.signals)
    act = before.pair.partition("/")[0]
    return staying(known, found.units, act, before.asked, _names(found, before))


def doings(found: Found, act: str, before: Before) -> Features:
    """The features that tell which deed a report or a plan (``act``) is about."""
    return features(found.text, found.units, found.signals) | leans(found, before) | {f"act:{act}": 1.0}


def doing(found: Found, act: str, before: Before, lexicon: Lexicon) -> str:
    """The deed a report or a plan speaks for most by its words and what was said before: an action of
    knowledge/deeds.toml, "note", or the kind of a plan. A deed named outright goes before it."""
    totals, _ = weigh(doings(found, act, before), lexicon.doing_weights)
    return max(totals, key=lambda action: totals[action])


def abouts(found: Found, pair: str, before: Before) -> Features:
    """The features that tell which plants a turn that names none is about: its words, what it does (``pair``: act and
    topic), and what was said before; none behind turns without a plant."""
    if not before.crops:
        return {}
    several = "several" if len(before.crops) > 1 else "one"
    of_them = (f"p:{pair}", f"p:{pair} {several}", f"p:{several}", f"p:{pair} {before.pair}")
    return (
        features(found.text, found.units, found.signals) | leans(found, before) | dict.fromkeys(of_them, 1.0)
    )


def about(found: Found, pair: str, before: Before, lexicon: Lexicon) -> str:
    """Which plants a turn that names none is about: "none", the "last" spoken of, or those and the ones before them
    ("both")."""
    told = abouts(found, pair, before)
    totals, _ = weigh(told, lexicon.about_weights)
    return max(totals, key=lambda label: totals[label]) if told else "none"


def _names(found: Found, before: Before) -> str:
    """Which plants a text names: none, the same as were spoken of, or others."""
    return "none" if not found.crops else "same" if found.crops <= before.crops else "other"


def shown(found: Found, lexicon: Lexicon, weights: Weights, before: Before = NOTHING_SAID) -> Features:
    """The features of a text that ``weights`` are looked up for."""
    known = features(found.text, found.units, found.signals) | leans(found, before)
    return known | out_of_vocabulary(
        found.units, lexicon.is_english, lambda lemma: weights.of(f"u:{lemma}") is not None
    )


def hear(found: Found, lexicon: Lexicon, before: Before = NOTHING_SAID) -> Heard:
    """How much the words speak for every act with its topic behind the turns ``before``; out of scope comes first from
    `REFUSED` on, wherever its words alone put it."""
    weights = lexicon.turn_weights
    totals, seen = weigh(shown(found, lexicon, weights, before), weights)
    told = stays(found, before)
    if told:
        on, _ = weigh(told, lexicon.stays_weights)
        own = on["stays"] / lexicon.stays_weights.scale
        totals[f"ask/{before.asked}"] += weights.scale * (GOES_ON * own + GOES_ON_ANYWAY)
    inside = max(total for pair, total in totals.items() if pair != _TALK)
    apart = outside(found, totals, lexicon)
    return Heard(shares({**totals, _TALK: inside + weights.scale * (apart - REFUSED)}), seen)


def outside(found: Found, totals: Mapping[str, float], lexicon: Lexicon) -> float:
    """How far a text lies outside what is answered (see `REFUSED`): the lead of "out of scope" among acts and topics,
    and what the pieces of its words say, each in the units of its own weights."""
    inside = max(total for pair, total in totals.items() if pair != _TALK)
    lead = (totals[_TALK] - inside) / lexicon.turn_weights.scale
    pieces_say, _ = weigh(pieces(found.text), lexicon.scope_weights)
    return lead + pieces_say["out"] / lexicon.scope_weights.scale
