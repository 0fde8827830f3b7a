"""Frost coming and a crop on the plants: pick today, or leave it?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.records import replace
from gardenmate.topics.frost.decide import CropNight
from gardenmate.topics.frost.outlook import Outlook
from gardenmate.topics.frost.words import crop_night
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.subjects import plants


def pick_before(question: Request, world: World, found: CropNight) -> Answer:
    """Yes where this night hurts the crop as it stands, else it can wait; what to pick and why."""
    base = crop_night(question, world, found)
    low = found.night.low_text(world.units)
    if found.verdict == "no":
        names = listed(plants(o.named).word for o in found.fate)
        return replace(base, headline=f"No need to pick for {low}: {names} can stay out.")
    hurt = [o for o in found.fate if o.outcome not in ("fine", "cool", "tips")]
    rows = {o.crop_id: row for o in hurt if (row := _row(o, world)) is not None}
    what = listed(dict.fromkeys(worded(row["text"], Manner(world.units)) for row in rows.values()))
    names = listed(plants(o.named).word for o in hurt)
    return replace(
        base,
        headline=f"Yes, pick the {names} today, before {low}: {what or 'what is fit to use'}.",
        details=(*(_or_cover(o, world) for o in hurt), *base.details),
        sources=unique(base.sources, *(row["sources"] for row in rows.values())),
    )


def _or_cover(o: Outlook, world: World) -> str:
    """Whether a cover would do instead of picking, and what this night does to the plant."""
    p = plants(o.named)
    hurt, killed = (frost_temp(t, world.units) for t in (o.limits.hurt_c, o.limits.killed_c))
    bare = f"{sentence(p.word)} {p.are} hurt below {hurt} and killed near {killed}"
    if o.remedy is None:
        return f"{bare}, and no cover laid over {p.them} is enough tonight."
    more = "" if o.unhurt else ", though some leaves may be hurt"
    return f"{bare}; {o.remedy.name} would carry what you leave on the plants through tonight{more}."


def _row(o: Outlook, world: World) -> Mapping[str, Any] | None:
    return world.facts.group_of(o.named.crop, "pick")
