"""A crop and frost, but no temperature: what it stands, and what a frost of the kind named would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frost.crops import answer_crops
from gardenmate.topics.frost.outlook import Outlook, outlook
from gardenmate.topics.frost.sky import Night, night_at
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.protection import cover_for, cover_of, frost_temp
from gardenmate.topics.shared.raising import Named

_WORDS = {"light": "a light frost", "hard": "a hard frost", "winter": "a winter freeze"}


def answer_limits(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """Limits of the crops named, judged for the kind of frost named (light unless said)."""
    kind = question.cue("freeze") or "light"
    kind = kind if kind in _WORDS else "light"
    tonight, taken = _taken(kind, question, world)
    cover = cover_for(world.facts, cover_of(question))
    under = f" under {cover.name}" if cover is not None else ""
    found = [outlook(named, tonight, question, world) for named in crops]
    full = answer_crops(question, world, crops, tonight)
    details = full.details
    if kind == "winter" and world.site is not None:
        coldest = frost_temp(min(world.site.normal_min_c), world.units)
        details = (
            *details,
            f"At {world.site.label} an ordinary midwinter night is {coldest}; the coldest night of "
            "most winters "
            "is far below that.",
        )
    table = world.facts.table("protection")["frosts"]
    return replace(
        full,
        headline=f"{sentence('; '.join(_limits_text(o, kind, under, world) for o in found))}.",
        numbers=tuple(n for n in full.numbers if n.name.startswith(("hurt_", "killed_"))),
        details=details,
        changes=("Type tonight's low for an answer with the margin, such as 'peas 24?'.",),
        assumptions=unique((f"No temperature was given: judged for {taken}.",), full.assumptions),
        sources=unique(full.sources, table["sources"]),
    )


def _taken(kind: str, question: Request, world: World) -> tuple[Night, str]:
    """The night a frost of this kind stands for, and how it is told."""
    taken_c = f_to_c(world.facts.table("protection")["frosts"][f"{kind}_f"])
    said = _WORDS[kind]
    if kind == "winter" and world.site is not None:
        taken_c = min(world.site.normal_min_c)
        said = f"the coldest normal night at {world.site.label}"
    return night_at(taken_c, question, world), f"{said}, {frost_temp(taken_c, world.units)}"


def _limits_text(o: Outlook, kind: str, under: str, world: World) -> str:
    hurt, killed = (frost_temp(t, world.units) for t in (o.limits.hurt_c, o.limits.killed_c))
    p = o.plants
    does = {
        "fine": f"{_WORDS[kind]} does {p.them} no harm{under}",
        "cover": f"{'add a layer' if under else f'cover {p.them}'} for {_WORDS[kind]}",
        "cool": f"{_WORDS[kind]} does {p.them} no harm{under}, though cold nights set {p.them} back",
        "chilled": f"{p.they} {p.are} chilled long before {_WORDS[kind]}",
        "tips": f"{_WORDS[kind]} may mark {p.them}{under} if it is clear",
        "burnt": f"{_WORDS[kind]} may mark {p.them}{under}",
        "lost": f"{_WORDS[kind]} takes {p.them}{under or ' uncovered'}",
    }[o.outcome]
    return f"{p.word} {p.are} hurt below {hurt} and lost near {killed}, so {does}"
