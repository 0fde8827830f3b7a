"""What a grower may have done (knowledge/deeds.toml): its id, and how it is told."""

from __future__ import annotations

from gardenmate.knowledge.facts import Facts
from gardenmate.records import NamedTuple

NOTE = "note"
"""An entry that tells no deed."""
FROST = "frost"
"""A frost seen in the garden, or a morning's reading of its thermometer."""


class DeedKind(NamedTuple):
    """A kind of thing done: its id, and how it is told when done ("potted up")."""

    id: str
    done: str


def deed_named(name: str, facts: Facts) -> DeedKind:
    """A deed by id; an unknown one is told by its id."""
    entry = facts.table("deeds").get(name)
    return DeedKind(name, str(entry["done"]) if entry and "done" in entry else name)


def deed_of_topic(topic: str, method: str | None, asks: str | None, facts: Facts) -> str | None:
    """What "did it" means after an answer of ``topic``; None where it is no deed."""
    table = facts.table("deeds")
    if topic == "propagation" and asks in ("divide", "suckers", "move"):
        return "move" if asks == "move" else "divide"
    found = table["topics"].get(topic)
    if found == "sow" and method in ("setout", "starts"):
        return "set-out"
    return None if found is None else str(found)
