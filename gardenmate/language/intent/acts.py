"""What the words do: ask, tell, report, plan, correct, manage or talk; decided together with the topic.

An act and a topic go together or not (a report is kept in the log, a fact told in the garden), so the pair is chosen
for which the words speak most. What must never be misread stands in knowledge/language/decisive.toml.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple, cast

from gardenmate.core.question import ACTS, TOPICS, Act
from gardenmate.language.intent.topics import Found, Ranked, shown
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.text.spans import words
from gardenmate.language.text.weights import shares, spoke, weigh
from gardenmate.language.values.asks_or_tells import only_asks

_NOT_ANSWERED = frozenset({"out-of-scope", "unclear"})
LEAST_SHARE = 0.001  # no act or topic counts for less, so that one strong word never rules alone
_ASKED = frozenset(TOPICS) - {"out-of-scope", "unclear"}
TOPICS_OF: Mapping[Act, frozenset[str]] = MappingProxyType(
    {
        "ask": _ASKED,
        "tell": frozenset({"garden"}),
        "report": frozenset({"log"}),
        "plan": frozenset({"log"}),
        "correct": frozenset({"log"}),
        "manage": frozenset({"log", "garden", "agenda", "explain"}),
        "talk": frozenset({"out-of-scope"}),
    }
)


TOPIC_COUNTS = 1.0  # how much the topic's share counts beside the act's when the two are chosen together
_WORKED = _ASKED - {"log", "garden"}
_WRITES = frozenset({"report", "plan", "tell"})  # a question never writes
_AUXILIARIES = words(
    "have has had do does did can could should shall will would is are was were am may might must"
)
_SUBJECTS = words("i we he she they it the my our there this that these those anyone")
_LEANT = 0.6  # the share of a topic that is taken over from the turn before
SURE = 0.6  # from this share an act takes its own topic, whatever topic the words speak for


class Chosen(NamedTuple):
    """The act and topic taken, the share of the act (0..1), and the words that spoke for it."""

    act: Act
    topic: str
    share: float
    spoke: tuple[tuple[str, float], ...] = ()

    def decided(self, decisive: tuple[str, str, str], read_as: str) -> Chosen:
        """The act of a decisive line, under its topic, else the one read where they go together, else the usual."""
        act = cast(Act, decisive[0])
        fits = TOPICS_OF[act]
        usual = "log" if decisive[1] == "show" else _USUAL.get(act, "log")
        topic = decisive[2] or (read_as if read_as in fits else usual)
        return Chosen(act, topic, 1.0)


_USUAL: Mapping[Act, str] = MappingProxyType({"tell": "garden", "talk": "out-of-scope", "manage": "explain"})


def _puts_a_question(found: Found) -> bool:
    """True for a text that only asks and ends so, or opens as only a question does: "have I ..."."""
    said = [unit.word for unit in found.units[:2]]
    inverted = len(said) == 2 and said[0] in _AUXILIARIES and said[1] in _SUBJECTS
    return inverted or (found.text.rstrip().endswith("?") and only_asks(found.text))


def _only_tells(found: Found, best: Ranked) -> bool:
    """True for a text that asks nothing and whose words speak for the log: it leans on no question before it."""
    asks = "ask" in found.signals or "?" in found.text
    return not asks and best.topic == "log" and best.share >= SURE


def act_shares(
    found: Found, lexicon: Lexicon
) -> tuple[dict[Act, float], Mapping[Act, tuple[tuple[str, float], ...]]]:
    """The share of every act (0..1), and the words that spoke for each."""
    totals, seen = weigh(shown(found, lexicon, lexicon.act_weights), lexicon.act_weights)
    share = shares(totals)
    told = {act: tuple(spoke(seen, act, 4)) for act in ACTS}
    return {act: share.get(act, 0.0) for act in ACTS}, told


def choose(
    found: Found, ranked: Sequence[Ranked], read_as: str, lexicon: Lexicon, in_danger: bool = False
) -> Chosen:
    """The act of a text, and its topic: that of its reading, ``read_as``, where the act goes with it. One who tells of
    something that can hurt (``in_danger``) is answered, never only noted down."""
    acts, told = act_shares(found, lexicon)
    topics = {r.topic: r.share for r in ranked}
    if read_as in _WORKED and ranked and read_as != ranked[0].topic and not _only_tells(found, ranked[0]):
        topics[read_as], acts["ask"] = max(topics.get(read_as, 0.0), _LEANT), max(acts["ask"], _LEANT)

    def speaks(act: Act) -> float:
        topic = max(topics.get(t, 0.0) for t in TOPICS_OF[act])
        return math.log(max(acts[act], LEAST_SHARE)) + TOPIC_COUNTS * math.log(max(topic, LEAST_SHARE))

    if in_danger:
        topics = {t: share for t, share in topics.items() if t not in ("log", "garden")}
        read_as = read_as if read_as in topics else next(iter(topics), "unclear")
    may_be = [act for act in ACTS if act not in _WRITES] if in_danger or _puts_a_question(found) else ACTS
    act = max(may_be, key=speaks)
    if read_as in _NOT_ANSWERED and act == "ask":
        return Chosen("talk", read_as, acts["talk"], told["talk"])  # a question, but none of this garden's
    fits = TOPICS_OF[act]
    topic = read_as if read_as in fits else max(sorted(fits), key=lambda t: topics.get(t, 0.0))
    return Chosen(act, topic, acts[act], told[act])
