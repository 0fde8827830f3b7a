"""Frost coming and a crop on the plants: pick today, or leave it?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from gardenmate.answer import Answer
from gardenmate.question import Question
from gardenmate.rules.frost_crops import answer_crops, outlook
from gardenmate.rules.frost_sky import Night
from gardenmate.rules.frost_words import plants
from gardenmate.rules.protection import note_in_units
from gardenmate.rules.raising import Named, listed, unique
from gardenmate.world import World


def answer_pick(question: Question, world: World, crops: Sequence[Named], tonight: Night) -> Answer:
    """Yes where this night hurts the crop as it stands, else it can wait; what to pick and why."""
    base = answer_crops(question, world, crops, tonight)
    hurt = [n for n in crops if outlook(n, tonight, question, world).outcome not in ("fine", "cool")]
    low = tonight.low_text(world.units)
    if not hurt:
        names = listed(plants(n).word for n in crops)
        return replace(base, verdict="no", headline=f"No need to pick for {low}: {names} can stay out.")
    rows = {n.id: row for n in hurt if (row := _row(n, world)) is not None}
    what = listed(dict.fromkeys(note_in_units(row["text"], world.units) for row in rows.values()))
    names = listed(plants(n).word for n in hurt)
    return replace(
        base,
        verdict="yes",
        headline=f"Yes, pick the {names} today, before {low}: {what or 'what is fit to use'}.",
        details=(base.headline, *base.details),
        sources=unique(base.sources, *(row["sources"] for row in rows.values())),
    )


def _row(named: Named, world: World) -> Mapping[str, Any] | None:
    rows: list[Mapping[str, Any]] = world.facts.table("protection")["pick"]
    return next((row for row in rows if named.crop.id in row["crops"]), None)
