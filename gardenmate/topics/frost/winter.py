"""Woody plants in winter cold: only where a figure is published, else an honest no-answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import F_DEGREE, f_to_c
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner
from gardenmate.knowledge.plants import name_of, section
from gardenmate.topics.frost.night import Night
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.subjects import plural_of


def winter_row(ref: CropRef, world: World) -> Mapping[str, Any] | None:
    """The published winter figures of a plant, if there are any."""
    return section(world.facts, ref.id, "winter", Manner(world.units))


def is_evergreen(ref: CropRef, world: World) -> bool:
    """True for a plant whose winter figures hold in leaf and in flower too: citrus is never dormant."""
    return "evergreen" in (winter_row(ref, world) or {})


def _kind_row(ref: CropRef, row: Mapping[str, Any]) -> Mapping[str, Any]:
    """The row with the figures of the kind that was named ("lemon tree"), where it has its own."""
    said = f"{ref.kind or ''} {ref.typed}".lower()
    own = next((span for kind, span in row.get("kinds", {}).items() if kind in said), None)
    if own is None:
        return row
    lost = {"lost_f": min(row["lost_f"], own[0] - 4)} if own[0] < row["hurt_f"][0] else {}
    return {**row, "hurt_f": own, **lost}


def answer_winter(question: Request, world: World, refs: Sequence[CropRef], tonight: Night | None) -> Answer:
    """Whether dormant, established plants stand this cold; without a temperature, what they stand."""
    care = cautions(world.facts, "frost", "forecast")
    rows = [(ref, _kind_row(ref, row)) for ref in refs if (row := winter_row(ref, world)) is not None]
    unknown = [ref for ref in refs if winter_row(ref, world) is None]
    if not rows:
        return Answer(
            question=question,
            verdict=None,
            headline=(
                f"I have no published figure for how much cold {_names(unknown, world)} can take, "
                f"and I won't guess{f' what {tonight.low_text(world.units)} does' if tonight else ''}."
            ),
            changes=("Ask your extension office or the nursery how hardy your variety is.",),
            cautions=care.texts,
            sources=care.sources,
        )
    details = [text for _, row in rows for text in _texts(row)]
    if unknown:
        details.append(f"No published figure here for {_names(unknown, world)}.")
    verdicts = [_verdict(row, tonight.low_c) for _, row in rows] if tonight else []
    numbers: list[Number] = list(temp_numbers("low", "low", tonight.low_c)) if tonight else []
    for ref, row in rows:
        crop = None if len(rows) == 1 else ref.id
        numbers += temp_numbers("hurt_below", "hurt begins near", _hurt_c(row)[1], crop)
        if "lost_f" in row:
            numbers += temp_numbers("killed_below", "mostly killed near", f_to_c(row["lost_f"]), crop)
    return Answer(
        question=question,
        verdict=verdicts[0] if len(set(verdicts)) == 1 else None,
        headline=_headline(rows, tonight, world),
        numbers=tuple(numbers),
        details=tuple(details),
        table=_table(rows, tonight, world) if len(rows) > 1 else None,
        steps=() if set(verdicts) <= {"yes"} else unique([row["do"] for _, row in rows if "do" in row]),
        cautions=care.texts,
        assumptions=unique(
            "Established and healthy; young trees and a sudden cold snap after warm weather fare worse."
            if "evergreen" in row
            else "Established, healthy and fully dormant; young plants and a sudden cold snap fare worse."
            for _, row in rows
        ),
        sources=unique(*(row["sources"] for _, row in rows), care.sources),
    )


def _texts(row: Mapping[str, Any]) -> list[str]:
    return [row[key] for key in ("after", "helps") if key in row]


def _hurt_c(row: Mapping[str, Any]) -> tuple[float, float]:
    low, high = row["hurt_f"]
    return f_to_c(low), f_to_c(high)


def _verdict(row: Mapping[str, Any], low_c: float) -> Verdict:
    """Published figures disagree: warn from the warmer one, call it no below the colder one."""
    cold, warm = _hurt_c(row)
    if low_c > warm + F_DEGREE:
        return "yes"
    return "tight" if low_c >= cold else "no"


def _names(refs: Sequence[CropRef], world: World) -> str:
    return listed(plural_of((ref.typed or name_of(world.facts, ref.id)).lower()) for ref in refs)


def _band(row: Mapping[str, Any], world: World) -> str:
    cold, warm = (frost_temp(t, world.units) for t in _hurt_c(row))
    return warm if cold == warm else f"{cold.split()[0]} to {warm}"


def _headline(rows: Sequence[tuple[CropRef, Mapping[str, Any]]], tonight: Night | None, world: World) -> str:
    parts = []
    for ref, row in rows:
        band = _band(row, world)
        lost = (
            f", and most are killed near {frost_temp(f_to_c(row['lost_f']), world.units)}"
            if "lost_f" in row
            else ""
        )
        name = _names([ref], world)
        if tonight is None:
            parts.append(f"the {row['what']} of {name} begin to be hurt at about {band}{lost}")
            continue
        low = tonight.low_text(world.units)
        verdict = _verdict(row, tonight.low_c)
        if verdict == "yes":
            parts.append(f"{name} should survive {low}: {row['what']} are hurt only at about {band}")
        elif verdict == "tight":
            care = "cover or bring in: " if "evergreen" in row else ""
            parts.append(
                f"{care}{name} at {low} are at their limit: {row['what']} begin to be hurt at about "
                f"{band}{lost}"
            )
        else:
            care = "No, cover them well or bring them in: " if "evergreen" in row else ""
            parts.append(
                f"{care}{low} is colder than {name} can take: {row['what']} are hurt at about {band}{lost}"
            )
    return f"{sentence('; '.join(parts))}."


def _table(rows: Sequence[tuple[CropRef, Mapping[str, Any]]], tonight: Night | None, world: World) -> Table:
    words = {"yes": "survives", "tight": "at the limit", "no": "hurt"}
    return Table(
        ("plant", "what", "hurt begins", "at this low"),
        tuple(
            (
                _names([r], world),
                row["what"],
                _band(row, world),
                words[_verdict(row, tonight.low_c)] if tonight else "-",
            )
            for r, row in rows
        ),
    )
