"""The usual cautions of a topic, read from knowledge/cautions.toml so that no rule words its own."""

from __future__ import annotations

from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple


class Cautions(NamedTuple):
    """Sentences to say with an answer, and the ids of their sources."""

    texts: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def cautions(facts: Facts, topic: str, *keys: str) -> Cautions:
    """The named cautions of a topic, in the order given; all of them when none is named.

    Raises KeyError when a name is not in the file: a caution must never drop out silently.
    """
    table = facts.table("cautions")[topic]
    chosen = [table[key] for key in (keys or tuple(table))]
    sources = tuple(dict.fromkeys(source for entry in chosen for source in entry["sources"]))
    return Cautions(tuple(entry["text"] for entry in chosen), sources)
