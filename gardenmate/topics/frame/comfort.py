"""Are these crops happy at this temperature inside: growing, standing still, or being hurt."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import Units, f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frame.box import Readings
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, unique
from gardenmate.topics.shared.protection import F_DEGREE, Limits, frost_span, frost_temp, limits
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_MARGIN_C = 0.9 * F_DEGREE
_Judged = Sequence[tuple[Named, Mapping[str, Any], Limits, Verdict]]


def answer_comfort(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> Answer:
    """Are these crops happy at this temperature inside: growing, standing still, or being chilled."""
    assert read.inside_c is not None
    units = world.units
    stage = question.cue("stage")
    rows = [(n, night_row(world, n), limits(world.facts, n.crop, stage, units)) for n in crops]
    judged = [(n, row, b, _comfort(row, b, read.inside_c)) for n, row, b in rows]
    verdicts = {v for *_, v in judged}
    care = cautions(world.facts, "cold-frame")
    numbers: list[Number] = list(temp_numbers("inside", "inside", read.inside_c))
    for named, row, _, _ in judged:
        crop = None if len(judged) == 1 else named.id
        numbers += temp_numbers("comfort_low", "grows on nights of", f_to_c(row["comfort_f"][0]), crop)
        numbers += temp_numbers("stall_below", "stops growing below", f_to_c(row["stall_f"]), crop)
    details = []
    if read.outside_c is not None and read.inside_c > read.outside_c:
        held = read.inside_c - read.outside_c
        numbers += temp_numbers("outside", "outside", read.outside_c)
        freezing = frost_temp(0.0 + held, units)
        details.append(
            f"It stays {frost_span(held, units)} warmer than outside; with the same heat a night of "
            f"{frost_temp(0.0, units)} outside means about {freezing} inside."
        )
    worst = _worst(v for *_, v in judged)
    changes = ["Read it at plant height at dawn, the coldest moment."]
    if worst != "yes" and read.outside_c is not None and read.inside_c > read.outside_c:
        goal = max(f_to_c(row["comfort_f"][0]) for _, row, _, _ in judged)
        times = (goal - read.outside_c) / (read.inside_c - read.outside_c)
        changes.append(
            f"For {frost_temp(goal, units)} inside on such a night it takes about {times:.1f} times the heat."
        )
    if worst != "yes":
        changes.append(
            "A second layer of fleece or bubble film inside saves more than a bigger heater costs."
        )
    return Answer(
        question=question,
        verdict=verdicts.pop() if len(verdicts) == 1 else None,
        headline=_comfort_headline(judged, read.inside_c, units),
        numbers=tuple(numbers),
        details=tuple(details),
        table=_comfort_table(judged, units) if len(judged) > 1 else None,
        changes=tuple(changes),
        cautions=care.texts,
        assumptions=read.assumed,
        sources=unique(*(row["sources"] for _, row, _, _ in judged), care.sources),
    )


def night_row(world: World, named: Named) -> Mapping[str, Any]:
    """Night temperatures of a crop; one without its own row is judged by its season's."""
    found = world.facts.group_of(named.crop, "night")
    if found is not None:
        return found
    table = world.facts.table("protection")
    usual: Mapping[str, Any] = table["night"][table["night_default"][named.crop.season]]
    return usual


def _comfort(row: Mapping[str, Any], bound: Limits, inside_c: float) -> Verdict:
    if inside_c >= f_to_c(row["comfort_f"][0]) - 0.3:
        return "yes"
    floor = max(bound.killed_c, min(bound.hurt_c, f_to_c(row["stall_f"])))
    return "tight" if inside_c >= floor + 0.01 or inside_c >= bound.hurt_c + _MARGIN_C else "no"


def _worst(verdicts: Iterable[Verdict]) -> Verdict:
    found = list(verdicts)
    return "no" if "no" in found else ("tight" if "tight" in found else "yes")


def _state(row: Mapping[str, Any], verdict: Verdict, inside_c: float) -> str:
    if verdict == "yes":
        return "happy"
    if verdict == "no":
        return "hurt"
    return "growing slowly" if inside_c >= f_to_c(row["stall_f"]) - 0.01 else "not growing"


def _comfort_headline(judged: _Judged, inside_c: float, units: Units) -> str:
    groups: dict[str, list[Named]] = {}
    for named, row, _, verdict in judged:
        groups.setdefault(_state(row, verdict, inside_c), []).append(named)
    parts = []
    for state, names in groups.items():
        many = len(names) > 1 or plants(names[0]).plural
        parts.append(f"{listed(plants(n).word for n in names)} {'are' if many else 'is'} {state}")
    worst = _worst(v for *_, v in judged)
    start = {"yes": "Yes", "tight": "Unharmed, but growing little", "no": "No"}[worst]
    goal = max(row["comfort_f"][0] for _, row, _, _ in judged)
    want = "" if worst == "yes" else f"; nights of {frost_temp(f_to_c(goal), units)} or more suit them"
    return f"{start} at {frost_temp(inside_c, units)}: {'; '.join(parts)}{want}."


def _comfort_table(judged: _Judged, units: Units) -> Table:
    words = {"yes": "grows", "tight": "alive, slow", "no": "hurt"}
    return Table(
        ("crop", "grows on nights of", "stops growing below", "hurt below", "here"),
        tuple(
            (
                plants(n).word,
                frost_temp(f_to_c(row["comfort_f"][0]), units),
                frost_temp(f_to_c(row["stall_f"]), units),
                frost_temp(b.hurt_c, units),
                words[v],
            )
            for n, row, b, v in judged
        ),
    )
