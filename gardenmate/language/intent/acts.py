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
from gardenmate.language.text.weights import shares, spoke, weigh

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


TOPIC_COUNTS = 0.3  # how much the topic's share counts beside the act's when the two are chosen together
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
        topic = decisive[2] or (read_as if read_as in fits else _USUAL.get(act, "log"))
        return Chosen(act, topic, 1.0)


_USUAL: Mapping[Act, str] = MappingProxyType({"tell": "garden", "talk": "out-of-scope", "manage": "explain"})


def act_shares(
    found: Found, lexicon: Lexicon
) -> tuple[dict[Act, float], Mapping[Act, tuple[tuple[str, float], ...]]]:
    """The share of every act (0..1), and the words that spoke for each."""
    totals, seen = weigh(shown(found, lexicon, lexicon.act_weights), lexicon.act_weights)
    share = shares(totals)
    words = {act: tuple(spoke(seen, act, 4)) for act in ACTS}
    return {act: share.get(act, 0.0) for act in ACTS}, words


def choose(found: Found, ranked: Sequence[Ranked], read_as: str, lexicon: Lexicon) -> Chosen:
    """The act of a text, and its topic: that of its reading, ``read_as``, unless a sure act has another."""
    acts, words = act_shares(found, lexicon)
    topics = {r.topic: r.share for r in ranked}

    def speaks(act: Act, topic: str) -> float:
        said = math.log(max(acts[act], LEAST_SHARE))
        return said + TOPIC_COUNTS * math.log(max(topics.get(topic, 0.0), LEAST_SHARE))

    pairs = [(act, topic) for act in ACTS for topic in sorted(TOPICS_OF[act])]
    act, topic = max(pairs, key=lambda pair: speaks(*pair))
    if read_as in TOPICS_OF[act]:
        topic = read_as
    elif act == "ask" and read_as in _NOT_ANSWERED:
        act, topic = "talk", read_as  # a question all the same, but none of this garden's
    elif acts[act] < SURE:
        fitting = [a for a in ACTS if read_as in TOPICS_OF[a]] or ["ask"]
        act, topic = max(fitting, key=lambda a: acts[a]), read_as
    return Chosen(act, topic, acts[act], words[act])
