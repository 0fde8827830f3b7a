"""Frost coming and a crop on the plants: pick today, or leave it?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.frost.crops import answer_crops
from gardenmate.topics.frost.outlook import Outlook, outlook
from gardenmate.topics.frost.sky import Night
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import frost_temp, note_in_units
from gardenmate.topics.shared.raising import Named


def answer_pick(question: Request, world: World, crops: Sequence[Named], tonight: Night) -> Answer:
    """Yes where this night hurts the crop as it stands, else it can wait; what to pick and why.

    "Pick them or cover them?" is judged bare: the cover is the other choice, not yet on.
    """
    asked = _uncovered(question) if question.cue("pick_or_cover") is not None else question
    base = replace(answer_crops(asked, world, crops, tonight), question=question)
    found = [outlook(n, tonight, asked, world) for n in crops]
    hurt = [o for o in found if o.outcome not in ("fine", "cool", "tips")]
    low = tonight.low_text(world.units)
    if not hurt:
        names = listed(o.plants.word for o in found)
        return replace(base, verdict="no", headline=f"No need to pick for {low}: {names} can stay out.")
    rows = {o.named.id: row for o in hurt if (row := _row(o.named, world)) is not None}
    what = listed(dict.fromkeys(note_in_units(row["text"], world.units) for row in rows.values()))
    names = listed(o.plants.word for o in hurt)
    return replace(
        base,
        verdict="yes",
        headline=f"Yes, pick the {names} today, before {low}: {what or 'what is fit to use'}.",
        details=(*(_or_cover(o, world) for o in hurt), *base.details),
        steps=(),
        sources=unique(base.sources, *(row["sources"] for row in rows.values())),
    )


def _uncovered(question: Request) -> Request:
    """The question without the cover that is only thought of."""
    cues = {name: value for name, value in question.cues.items() if name not in ("cover", "cover_weight")}
    return replace(question, cues=MappingProxyType(cues))


def _or_cover(o: Outlook, world: World) -> str:
    """Whether a cover would do instead of picking, and what this night does to the plant."""
    p = o.plants
    hurt, killed = (frost_temp(t, world.units) for t in (o.limits.hurt_c, o.limits.killed_c))
    bare = f"{sentence(p.word)} {p.are} hurt below {hurt} and killed near {killed}"
    if o.remedy is None:
        return f"{bare}, and no cover laid over {p.them} is enough tonight."
    more = "" if o.unhurt else ", though some leaves may be hurt"
    return f"{bare}; {o.remedy.name} would carry what you leave on the plants through tonight{more}."


def _row(named: Named, world: World) -> Mapping[str, Any] | None:
    return world.facts.group_of(named.crop, "pick")
