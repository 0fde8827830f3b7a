"""What the words do: ask, tell, report, plan, correct, manage or talk; decided together with the topic.

An act and a topic go together or not (a report is kept in the log, a fact told in the garden), so the words are fitted
to the pairs, and the pair they speak for most is taken. What must never be misread stands in
knowledge/language/decisive.toml.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import cast

from gardenmate.core.question import TOPICS, Act
from gardenmate.language.intent.topics import Found, Heard
from gardenmate.language.text.spans import words
from gardenmate.language.values.asks_or_tells import only_asks
from gardenmate.records import NamedTuple

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


_WRITES = frozenset({"report", "plan", "tell"})  # a question never writes
_AUXILIARIES = words(
    "have has had do does did can could should shall will would is are was were am may might must"
)
_SUBJECTS = words("i we he she they it the my our there this that these those anyone")
_OPENS = words("when what which where who how why")
CAREFUL = 0.75  # what would be kept must be heard more clearly than what would be answered (design value)
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
    inverted = inverted or (len(said) == 2 and said[0] in _OPENS and said[1] in _AUXILIARIES)
    return inverted or (found.text.rstrip().endswith("?") and only_asks(found.text))


def choose(found: Found, heard: Heard, in_danger: bool = False) -> Chosen:
    """The act of a text with its topic: the pair its words, and what was said before, speak for most. One who tells of
    something that can hurt (``in_danger``) is answered, never only noted down."""
    asks = in_danger or _puts_a_question(found)
    may_be = {
        pair: share
        for pair, share in heard.shares.items()
        if not asks or pair.partition("/")[0] not in _WRITES
    }
    if in_danger:
        may_be = {
            pair: share for pair, share in may_be.items() if pair.partition("/")[2] not in ("log", "garden")
        }
    careful = {
        pair: share * (CAREFUL if pair.partition("/")[0] in _WRITES else 1.0)
        for pair, share in may_be.items()
    }
    act, _, topic = max(careful, key=lambda pair: careful[pair]).partition("/")
    told = sum(share for pair, share in may_be.items() if pair.startswith(f"{act}/")) / sum(may_be.values())
    return Chosen(cast(Act, act), topic, told, heard.spoke(topic))
