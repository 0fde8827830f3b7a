"""What stands in the files of a plant for all its kinds: under crops/ or woody/, the default kind first.

A plant that is both (asparagus, sage) has one base id; its crop file is read first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.knowledge.crop_uses import Amounts
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.marked import PLAIN, Manner, told
from gardenmate.knowledge.reader import build


def plant_files(facts: Facts, base: str) -> tuple[Mapping[str, Any], ...]:
    """The parsed files of a base id ("cherry": sweet, tart), crops before woody, the default kind first."""
    found: list[Mapping[str, Any]] = []
    for folder in ("crops", "woody"):
        ids = [i for i in facts.ids(folder) if i == base or i.startswith(f"{base}-")]
        tables = [t for t in (facts.table(f"{folder}/{i}") for i in ids) if t["base"] == base]
        found += sorted(tables, key=lambda t: (not t.get("default", False), t["id"]))
    return tuple(found)


def name_of(facts: Facts, base: str) -> str:
    """The plain trade name of a plant whatever its kind ("blueberry"); the id in words for none on file."""
    for table in plant_files(facts, base):
        known: Sequence[str] = table.get("generic_names") or table["names"]
        return known[0]
    return base.replace("-", " ")


def section(facts: Facts, base: str, key: str, manner: Manner = PLAIN) -> Mapping[str, Any] | None:
    """A section that one kind states for all, ("winter", "stop_cutting" ...), its texts in a manner; None when no file
    has it."""
    return next((told(table[key], manner) for table in plant_files(facts, base) if key in table), None)


def amounts(facts: Facts, base: str) -> Amounts | None:
    """The usual amounts of a plant. None when no file states any."""
    for table in plant_files(facts, base):
        if "amounts" in table:
            folder = "crops" if "groups" in table else "woody"
            return build(Amounts, table["amounts"], facts.root / folder / f"{table['id']}.toml", "amounts.")
    return None


def ways_of(facts: Facts, base: str, manner: Manner = PLAIN) -> Sequence[Mapping[str, Any]]:
    """The ways a plant is multiplied ([[propagation]]), best first, their texts in a manner."""
    return next(
        (told(table["propagation"], manner) for table in plant_files(facts, base) if "propagation" in table),
        (),
    )


def bud_kills(facts: Facts, base: str) -> tuple[Mapping[str, Any], ...]:
    """The kill tables of a fruit ([bud_kill]) with its id, base and kind: one for each kind that has one."""
    return tuple(_named(t) for t in plant_files(facts, base) if "bud_kill" in t)


def _named(table: Mapping[str, Any]) -> Mapping[str, Any]:
    kind, base = table.get("kind"), table["base"]
    head = {"id": f"{kind}-{base}" if kind else base, "base": base, "kind": kind, "name": table["names"][0]}
    return {**head, **table["bud_kill"]}


def caution_keys(facts: Facts, base: str, topic: str) -> tuple[str, ...]:
    """Keys of cautions.toml that belong to a plant in a topic."""
    found = [k for table in plant_files(facts, base) for k in table.get("caution_keys", {}).get(topic, ())]
    return tuple(dict.fromkeys(found))
