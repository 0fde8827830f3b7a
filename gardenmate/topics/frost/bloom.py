"""Fruit buds and blossom on a cold night: how many are killed at the stage they are in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import INCH_CM, Units, f_to_c
from gardenmate.core.world import World
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import bud_kills
from gardenmate.topics.frost.night import Night
from gardenmate.topics.frost.night_words import night_details
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import F_DEGREE, frost_temp, note_in_units, stage_of
from gardenmate.topics.shared.subjects import plural_of

_STAGE_CUES = {"bloom": "bloom", "fruit": "fruit"}
# A stage a grower names, and the phases of the table that stand for it, nearest first.
_NEAREST = {
    "bud_swell": ("bud_swell",),
    "green_tip": ("green_tip", "bud_swell"),
    "tight_cluster": ("tight_cluster", "leafed_out", "green_tip"),
    "pink": ("pink", "tight_cluster"),
    "bloom": ("bloom", "leafed_out"),
    "petal_fall": ("petal_fall", "leafed_out"),
    "leafed_out": ("leafed_out", "petal_fall"),
    "fruit": ("fruit", "petal_fall", "leafed_out"),
}
_CLEAR_C = 1.0 * F_DEGREE  # this far above the first losses: nothing to fear
_HALF = 0.5
_TOLERANCE_C = 2.0 * F_DEGREE  # below a published tolerance by this much: heavy losses


@dataclass(frozen=True, slots=True)
class BudStage:
    """One row of a kill table, degrees C. ``hurt_c`` is where losses begin (10% of buds), ``lost_c`` where
    most are gone (90%); either may be unpublished. ``figures`` tells which kind of figure it is,
    ``shoots_cm`` how long green shoots are at that stage, where a grower goes by them."""

    id: str
    name: str
    phase: str
    hurt_c: float | None
    lost_c: float | None
    old_standard_c: float | None
    figures: str
    shoots_cm: tuple[float, float] | None = None


def has_table(ref: CropRef, facts: Facts) -> bool:
    """True when kill temperatures are published for this plant's buds."""
    return bool(_fruits(ref, facts))


def phase_of(question: Request) -> str | None:
    """The bud stage the question names, as a phase of the kill tables; None when none was said."""
    said = question.cue("bud_stage") or _STAGE_CUES.get(stage_of(question) or "")
    return said or ("leafed_out" if question.first("size", "shoots") is not None else None)


def killed_share(stage: BudStage, temp_c: float) -> float | None:
    """Share of buds killed (0-1) by about half an hour at this temperature; None where none is published.

    A straight line between 10% and 90%, as the published tables are usually read; 0 and 1 beyond them stand
    for "less than 10%" and "more than 90%".
    """
    if stage.hurt_c is None or stage.lost_c is None or stage.figures != "kill":
        return None
    if temp_c > stage.hurt_c:
        return 0.0
    if temp_c < stage.lost_c:
        return 1.0
    if stage.hurt_c == stage.lost_c:
        return _HALF
    return 0.1 + 0.8 * (stage.hurt_c - temp_c) / (stage.hurt_c - stage.lost_c)


def answer_bloom(question: Request, world: World, refs: Sequence[CropRef], tonight: Night | None) -> Answer:
    """What this night does to the buds of the fruits named; without a low, the figures by stage."""
    fruits = [f for ref in refs for f in _fruits(ref, world.facts)]
    table = world.facts.table("bud_kill")
    care = cautions(world.facts, "frost")
    notes = table["notes"]
    phase = phase_of(question)
    shoots = question.first("size", "shoots")
    chosen = [(f, _pick(f, phase, None if shoots is None else shoots.number)) for f in fruits]
    units = world.units
    missing = [r for r in refs if not _fruits(r, world.facts)]
    details = [note_in_units(notes["crop_loss_note"], units), note_in_units(notes["exposure_note"], units)]
    for fruit in fruits:
        for key in ("second_crop_note", "caution", "disagreement", "rabbiteye_note"):
            if key in fruit and (key != "rabbiteye_note" or any(r.kind == "rabbiteye" for r in refs)):
                details.append(note_in_units(fruit[key], units))
    if missing:
        details.append(f"No kill table is published here for {_names(missing)}; I do not guess one.")
    if tonight is not None:
        details += night_details(tonight, None, world)
    known = [(f, s) for f, s in chosen if s is not None]
    verdict = _judge(known, tonight.low_c, world.facts) if tonight and known else None
    numbers: list[Number] = []
    if tonight is not None:
        numbers += temp_numbers("low", "low", tonight.low_c)
    for fruit, stage in known:
        crop = None if len(known) == 1 else fruit["id"]
        if stage.hurt_c is not None:
            name, label = ("kill_10", "10% of buds killed near") if stage.figures == "kill" else _BEGIN
            numbers += temp_numbers(name, label, stage.hurt_c, crop)
        if stage.lost_c is not None and stage.figures == "kill":
            numbers += temp_numbers("kill_90", "90% killed near", stage.lost_c, crop)
        share = killed_share(stage, tonight.low_c) if tonight else None
        if share is not None:
            numbers.append(Number("killed_pct", round(100 * share), "%", "killed at this low, about", crop))
    return Answer(
        question=question,
        verdict=verdict,
        headline=_headline(fruits, known, phase, tonight, world),
        numbers=tuple(numbers),
        details=tuple(details),
        table=_table(fruits, phase, tonight, world),
        steps=() if verdict in (None, "yes") else _STEPS,
        changes=_changes(phase, tonight),
        cautions=care.texts,
        assumptions=(
            *((_BUD_AIR,) if tonight else ()),
            *((_ONE_STAGE,) if phase and len({f["base"] for f in fruits}) > 1 else ()),
        ),
        sources=unique(*(f["sources"] for f in fruits), notes["sources"], ("common-practice",), care.sources),
        working=tuple(_working(f, s, tonight, world) for f, s in known) if tonight else (),
    )


def answer_no_table(question: Request, world: World, refs: Sequence[CropRef]) -> Answer:
    """In bloom, but no kill table is published for it: say so, whatever its winter figures are."""
    care = cautions(world.facts, "frost", "forecast")
    return Answer(
        question=question,
        verdict=None,
        headline=f"I have no published kill temperatures for {_names(refs)} at that stage, so I won't guess.",
        details=(
            "Open blossom of most orchard fruit begins to be hurt near 28 F (-2 C), but that is not measured for this "
            "plant; cover what you can when frost is forecast.",
        ),
        changes=(
            "Ask your county extension office or the nursery for the hardiness of the variety you have.",
        ),
        cautions=care.texts,
        sources=("msu-table", *care.sources),
    )


_ONE_STAGE = "All of them taken at the stage you named; ask for each on its own where they differ."
_BEGIN = ("losses_begin", "losses begin near")
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


def _changes(phase: str | None, tonight: Night | None) -> tuple[str, ...]:
    changes = []
    if tonight is None:
        changes.append("Type tonight's low for the share that would be killed.")
    if phase is None:
        changes.append("Tell me the stage: swelling, green tip, tight cluster, pink, bloom or petal fall.")
    return tuple(changes)


def _fruits(ref: CropRef, facts: Facts) -> list[Mapping[str, Any]]:
    """The tables that fit a plant: both kinds when the kind was not said."""
    rows = list(bud_kills(facts, ref.id))
    exact = [f for f in rows if ref.kind and f.get("kind") == ref.kind]
    return exact or rows


def stages(fruit: Mapping[str, Any]) -> list[BudStage]:
    """The rows of one fruit's table, in the order of the season."""
    return [_stage(row) for row in fruit["stage"]]


def _stage(row: Mapping[str, Any]) -> BudStage:
    def c(key: str) -> float | None:
        return f_to_c(row[key]) if key in row else None

    hurt_c, lost_c, figures = c("kill10_f"), c("kill90_f"), "kill"
    if hurt_c is None:
        figures = "tolerance"
        if "tolerates_f" in row:
            lost_c, hurt_c = (f_to_c(f) for f in row["tolerates_f"])
        else:
            hurt_c, lost_c = c("damage_begins_f"), c("economic_loss_below_f")
    shoots = row.get("shoots_in")
    long = (shoots[0] * INCH_CM, shoots[1] * INCH_CM) if shoots else None
    return BudStage(
        row["id"], row["names"][0], row["phase"], hurt_c, lost_c, c("old_standard_f"), figures, long
    )


def _pick(fruit: Mapping[str, Any], phase: str | None, shoots_cm: float | None = None) -> BudStage | None:
    """The row for the length of the shoots, else for a phase: the most tender of those that fit."""
    if phase is None:
        return None
    rows = stages(fruit)
    if shoots_cm is not None:
        by_length = [s for s in rows if s.shoots_cm and s.shoots_cm[0] < shoots_cm <= s.shoots_cm[1]]
        if by_length:
            return by_length[-1]
    for near in _NEAREST.get(phase, (phase,)):
        fitting = [s for s in rows if s.phase == near and s.hurt_c is not None]
        if fitting:
            return fitting[-1]
    return None


def _spare(fruit: Mapping[str, Any], facts: Facts) -> float:
    """Share of buds that may die before the year's crop is in real danger."""
    usual = facts.table("protection")["blossom"]["crop_lost_from_share"]
    return float(fruit.get("crop_lost_from_share", usual))


def _verdict(stage: BudStage, low_c: float, spare: float) -> Verdict:
    assert stage.hurt_c is not None
    if low_c >= stage.hurt_c + _CLEAR_C:
        return "yes"
    share = killed_share(stage, low_c)
    if share is not None:
        return "no" if share >= spare else "tight"
    return "no" if stage.lost_c is not None and low_c < stage.lost_c - _TOLERANCE_C else "tight"


def _judge(known: Sequence[tuple[Mapping[str, Any], BudStage]], low_c: float, facts: Facts) -> Verdict:
    """The worst of the fruits named."""
    verdicts = [_verdict(stage, low_c, _spare(fruit, facts)) for fruit, stage in known]
    return "no" if "no" in verdicts else ("tight" if "tight" in verdicts else "yes")


def _share_text(stage: BudStage, low_c: float) -> str:
    share = killed_share(stage, low_c)
    if share is None:
        if stage.hurt_c is None:
            return "no figure published"
        if low_c >= stage.hurt_c:
            return "little or none hurt"
        lost = stage.lost_c is not None and low_c < stage.lost_c - _TOLERANCE_C
        return "heavy losses" if lost else "some losses"
    if share == 0.0:
        return "under 10% killed"
    if share == 1.0:
        return "over 90% killed"
    return f"about {round(share * 10) * 10:.0f}% killed"


def _headline(
    fruits: Sequence[Mapping[str, Any]],
    known: Sequence[tuple[Mapping[str, Any], BudStage]],
    phase: str | None,
    tonight: Night | None,
    world: World,
) -> str:
    units = world.units
    if tonight is None:
        if known:
            return f"{sentence('; '.join(_stage_limits(f, s, units) for f, s in known))}."
        low = listed(dict.fromkeys(_fruit_name(f) for f in fruits))
        return f"{sentence(low)} buds: the table shows what each stage survives; type tonight's low as well."
    low = tonight.low_text(units)
    if not known:
        first = _fruit_name(fruits[0])
        fine = [
            s.name for s in stages(fruits[0]) if s.hurt_c is not None and tonight.low_c >= s.hurt_c + _CLEAR_C
        ]
        end = (
            f"up to {fine[-1]} {first} buds come through"
            if fine
            else f"every stage of {first} past swelling is at risk"
        )
        return f"It depends on the stage: at {low} {end}; see the table."
    parts = []
    for fruit, stage in known:
        assert stage.hurt_c is not None
        parts.append(f"{_at_stage(fruit, stage)} {_share_text(stage, tonight.low_c)}")
    verdict = _judge(known, tonight.low_c, world.facts)
    start = {"yes": "Safe enough", "tight": "Some loss", "no": "Heavy loss"}[verdict]
    if all(killed_share(s, tonight.low_c) == 0.0 for _, s in known) and verdict == "tight":
        start = "Little loss, with no margin"
    stage = known[0][1]
    ends = f"; losses begin near {frost_temp(stage.hurt_c or 0.0, units)}"
    if stage.lost_c is not None and stage.figures == "kill":
        ends += f" and nearly all are gone near {frost_temp(stage.lost_c, units)}"
    text = f"{start} at {low}: {listed(parts)}{ends}."
    again = next((f for f, _ in known if "second_crop" in f), None)
    if again is None or verdict == "yes":
        return text
    least, most = again["second_crop"]
    return (
        f"{text} Shoots from secondary buds can still bear {least} to {most}% of a crop (about "
        f"{again['second_crop_usual']}% in hardy American kinds)."
    )


def _stage_limits(fruit: Mapping[str, Any], stage: BudStage, units: Units) -> str:
    begins = f"{_at_stage(fruit, stage)}: losses begin near {frost_temp(stage.hurt_c or 0.0, units)}"
    if stage.lost_c is None or stage.figures != "kill":
        return begins
    return f"{begins}, nearly all are gone near {frost_temp(stage.lost_c, units)}"


def _at_stage(fruit: Mapping[str, Any], stage: BudStage) -> str:
    """ "apple at full bloom", "apricot in the shuck"."""
    joint = "" if stage.name.startswith("in ") else "at "
    return f"{_fruit_name(fruit)} {joint}{stage.name}"


def _fruit_name(fruit: Mapping[str, Any]) -> str:
    return str(fruit["name"])


def _names(refs: Sequence[CropRef]) -> str:
    return listed(plural_of((r.typed or r.id).lower()) for r in refs)


def _table(
    fruits: Sequence[Mapping[str, Any]], phase: str | None, tonight: Night | None, world: World
) -> Table | None:
    if phase is not None and tonight is not None and len(fruits) == 1:
        return None
    units = world.units
    rows = []
    for fruit in fruits:
        for stage in stages(fruit):
            if stage.hurt_c is None or (
                phase is not None and len(fruits) > 1 and stage != _pick(fruit, phase)
            ):
                continue
            kill = stage.figures == "kill"
            row = [
                f"{_fruit_name(fruit)}, {stage.name}" if len(fruits) > 1 else stage.name,
                frost_temp(stage.hurt_c, units),
                frost_temp(stage.lost_c, units) if stage.lost_c is not None and kill else "-",
            ]
            if tonight is not None:
                row.append(_share_text(stage, tonight.low_c))
            rows.append(tuple(row))
    heads = ("stage", "losses begin", "nearly all lost", *(("this night",) if tonight else ()))
    return Table(heads, tuple(rows))


def _working(fruit: Mapping[str, Any], stage: BudStage, tonight: Night | None, world: World) -> str:
    assert tonight is not None
    units = world.units
    where = f"{sentence(_fruit_name(fruit))}, {stage.name}"
    hurt = frost_temp(stage.hurt_c or 0.0, units)
    result = f"at {frost_temp(tonight.low_c, units)} {_share_text(stage, tonight.low_c)}"
    if stage.figures != "kill":
        return f"{where}: tolerated to about {hurt}; {result}."
    lost = frost_temp(stage.lost_c, units) if stage.lost_c is not None else "not published"
    return f"{where}: 10% killed at {hurt}, 90% at {lost}; {result} (straight line between)."
