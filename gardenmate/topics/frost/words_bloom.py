"""Fruit buds and blossom on a cold night, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import Units
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.frost.buds import BudStage, killed_share, second_crop, stage_at, stages
from gardenmate.topics.frost.decide_bloom import Bloom, Buds, decide_bloom, heavy, safe_stages
from gardenmate.topics.frost.night import Night
from gardenmate.topics.frost.night_words import night_details
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.subjects import plural_of
from gardenmate.topics.shared.wording import numbers

_LABELS = {
    "low": "low",
    "kill_10": "10% of buds killed near",
    "losses_begin": "losses begin near",
    "kill_90": "90% killed near",
    "killed_pct": "killed at this low, about",
}
_ONE_STAGE = "All of them are at the stage you named; ask for each on its own where they differ."
_BUD_AIR = (
    "The air near the buds is as cold as the forecast low; on a clear, calm night exposed buds can be a degree or two "
    "colder."
)


_STEPS = (
    "Cover small trees and bushes to the ground before dusk with dry cloth kept off the blossom, and take it "
    "off in the morning.",
    "Keep the ground beneath bare, short and moist: it gives heat back at night.",
    "The next day open a few flowers: a brown or black centre is dead, a green one lives.",
)


def answer_bloom(question: Request, world: World, refs: Sequence[CropRef], tonight: Night | None) -> Answer:
    """What this night does to the buds of the fruits named; without a low, the figures by stage."""
    found = decide_bloom(question, world, refs, tonight)
    safe = tonight is None or found.verdict == "yes"
    care = cautions(world.facts, "frost", "forecast", *(() if safe else ("no_flame",)))
    several = found.phase is not None and len({b.fruit["base"] for b in found.buds}) > 1
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=_headline(found, world),
        numbers=numbers(found.figures, _LABELS),
        details=_details(found, world),
        table=_table(found, world),
        steps=() if found.verdict in (None, "yes") else _STEPS,
        changes=_changes(found.phase, tonight),
        cautions=care.texts,
        assumptions=(*((_BUD_AIR,) if tonight else ()), *((_ONE_STAGE,) if several else ())),
        sources=unique(found.sources, care.sources),
        working=tuple(_working(b, tonight, world.units) for b in found.known) if tonight else (),
        key_figures=found.key,
    )


def _details(found: Bloom, world: World) -> tuple[str, ...]:
    units, notes = world.units, world.facts.table("bud_kill")["notes"]
    keys = ("second_crop_note", "caution", "disagreement", *(("rabbiteye_note",) if found.rabbiteye else ()))
    said = [notes["crop_loss_note"], notes["exposure_note"]]
    said += [b.fruit[key] for b in found.buds for key in keys if key in b.fruit]
    if found.missing:
        said.append(f"I know of no published figures for {_names(found.missing)}, so I won't guess.")
    night = night_details(found.night, None, world) if found.night is not None else ()
    return (*(worded(text, Manner(units)) for text in said), *night)


def answer_no_table(
    question: Request, world: World, refs: Sequence[CropRef], tonight: Night | None
) -> Answer:
    """In bloom, but no kill table is published for it: say so, whatever its winter figures are."""
    care = cautions(world.facts, "frost", "forecast")
    return Answer(
        question=question,
        verdict=None,
        headline=f"I have no published kill temperatures for {_names(refs)} at that stage, so I won't guess"
        + (f" what {tonight.low_text(world.units)} does." if tonight is not None else "."),
        details=(
            "Open blossom of most orchard fruit begins to be hurt near 28 F (-2 C), but that is not measured for this "
            "plant; cover what you can when frost is forecast.",
        ),
        changes=("Ask your extension office or the nursery how hardy your variety is.",),
        cautions=care.texts,
        sources=("msu-table", *care.sources),
    )


def _changes(phase: str | None, tonight: Night | None) -> tuple[str, ...]:
    changes = []
    if tonight is None:
        changes.append("Type tonight's low for the share that would be killed.")
    if phase is None:
        changes.append("Tell me the stage: swelling, green tip, tight cluster, pink, bloom or petal fall.")
    return tuple(changes)


def _headline(found: Bloom, world: World) -> str:
    units, known = world.units, found.known
    if found.night is None:
        if known:
            return f"{sentence('; '.join(_stage_limits(b, units) for b in known))}."
        fruits = listed(dict.fromkeys(str(b.fruit["name"]) for b in found.buds))
        return f"{sentence(fruits)} buds: here is what each stage survives. Tell me tonight's low as well."
    low_c, low = found.night.low_c, found.night.low_text(units)
    if not known:
        return f"It depends on the stage: at {low} {_by_stage(found.buds[0].fruit, low_c)}."
    start = {"yes": "Safe enough", "tight": "Expect some loss", "no": "Expect heavy loss"}[
        found.verdict or "tight"
    ]
    if found.verdict == "tight" and all(b.share == 0.0 for b in known):
        start = "Expect little loss, but with nothing to spare"
        if any(b.stage is not None and b.stage.tender_half_c is not None for b in known):
            start = "Expect little loss in hardy kinds"
    parts = [f"{_at_stage(b)}{'' if b.share is None else f' ({_share_text(b.stage, low_c)})'}" for b in known]
    ends = _ends(known[0].stage, units)
    return (
        f"{start} at {low} for {listed(parts)}.{f' {sentence(ends)}.' if ends else ''}"
        f"{_tender(found, world)}{_second_crop(found)}"
    )


def _by_stage(fruit: Mapping[str, Any], low_c: float) -> str:
    fine = safe_stages(fruit, low_c)
    if not fine:
        return f"every stage of {fruit['name']} past swelling is at risk"
    return f"{fruit['name']} buds come through up to {fine[-1].name}"


def _ends(stage: BudStage | None, units: Units) -> str:
    if stage is None or stage.hurt_c is None:
        return ""
    ends = f"losses begin near {frost_temp(stage.hurt_c, units)}"
    if stage.lost_c is None or stage.figures != "kill":
        return ends
    return f"{ends} and nearly all are gone near {frost_temp(stage.lost_c, units)}"


def _tender(found: Bloom, world: World) -> str:
    """What kills half the shoots of tender kinds, where that is warmer than the table's figures."""
    told = next((b for b in found.known if b.stage is not None and b.stage.tender_half_c is not None), None)
    if told is None or told.stage is None or told.stage.tender_half_c is None or found.verdict == "yes":
        return ""
    half = frost_temp(told.stage.tender_half_c, world.units)
    return f" {told.fruit['tender_kind']} lose half their shoots near {half}."


def _second_crop(found: Bloom) -> str:
    """What shoots from secondary buds still bear, of fruits that have them, where some are lost."""
    fruit = next((b.fruit for b in found.known if "second_crop" in b.fruit), None)
    if fruit is None or found.verdict == "yes":
        return ""
    return second_crop(fruit)


def _share_text(stage: BudStage | None, low_c: float) -> str:
    if stage is None or stage.hurt_c is None:
        return "no figure published"
    share = killed_share(stage, low_c)
    if share is None and low_c >= stage.hurt_c:
        return "little or none hurt"
    if share is None:
        return "heavy losses" if heavy(stage, low_c) else "some losses"
    if share == 0.0:
        return "under 10% killed"
    return "over 90% killed" if share == 1.0 else f"about {round(share * 20) * 5:.0f}% killed"


def _stage_limits(buds: Buds, units: Units) -> str:
    return f"{_at_stage(buds)}: {_ends(buds.stage, units)}"


def _at_stage(buds: Buds) -> str:
    """ "apple at full bloom", "apricot in the shuck"."""
    assert buds.stage is not None
    joint = "" if buds.stage.name.startswith("in ") else "at "
    return f"{buds.fruit['name']} {joint}{buds.stage.name}"


def _names(refs: Sequence[CropRef]) -> str:
    return listed(plural_of((r.typed or r.id).lower().removesuffix("'s")) for r in refs)


def _table(found: Bloom, world: World) -> Table | None:
    several = len(found.buds) > 1
    if found.phase is not None and found.night is not None and not several:
        return None
    units, rows = world.units, []
    for fruit in (b.fruit for b in found.buds):
        chosen = stage_at(fruit, found.phase) if found.phase is not None and several else None
        for stage in stages(fruit):
            if stage.hurt_c is None or (found.phase is not None and several and stage != chosen):
                continue
            kill = stage.lost_c is not None and stage.figures == "kill"
            rows.append(
                (
                    f"{fruit['name']}, {stage.name}" if several else stage.name,
                    frost_temp(stage.hurt_c, units),
                    frost_temp(stage.lost_c or 0.0, units) if kill else "-",
                    *((_share_text(stage, found.night.low_c),) if found.night else ()),
                )
            )
    heads = (
        "stage",
        "losses begin",
        "nearly all lost",
        *((f"at {found.night.low_text(world.units)}",) if found.night else ()),
    )
    return Table(heads, tuple(rows))


def _working(buds: Buds, tonight: Night, units: Units) -> str:
    stage = buds.stage
    assert stage is not None
    where = f"{sentence(str(buds.fruit['name']))}, {stage.name}"
    hurt = frost_temp(stage.hurt_c or 0.0, units)
    result = f"at {frost_temp(tonight.low_c, units)} {_share_text(stage, tonight.low_c)}"
    if stage.figures != "kill":
        return f"{where}: tolerated to about {hurt}; {result}."
    lost = frost_temp(stage.lost_c, units) if stage.lost_c is not None else "not published"
    return f"{where}: 10% killed at {hurt}, 90% at {lost}; {result} (straight line between)."
