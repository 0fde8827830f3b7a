"""Plants cut by group (clematis): the group's own answer when it was said, else all groups in a table."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table
from gardenmate.knowledge.marked import worded
from gardenmate.knowledge.woody import PruningGroup
from gardenmate.records import replace
from gardenmate.topics.pruning.decide import Pruning, verdict_of, worst
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_text import clause, sentence


def with_group(answer: Answer, found: Pruning, case: WoodyCase) -> Answer:
    """The answer for the group said, else one that asks which group it is."""
    plant = found.plant
    chosen = _group(found, case)
    rows = tuple((f"group {g.id}", g.blooms, g.when, g.cut) for g in plant.pruning_groups)
    table = Table(("group", "blooms", "when to cut", "cut"), rows, "Clematis groups")
    if chosen is None:
        return replace(
            answer,
            verdict=None,
            headline=f"It depends on when your {plant.name} blooms: before {worded('{June}', case.manner)} it is"
            " group 1 or 2, after that group 3. When unsure, wait for the bloom.",
            table=table,
            asks=tuple(f"It blooms in {g.blooms}" for g in plant.pruning_groups),
        )
    verdict = verdict_of(chosen.verdicts.get(found.phase.stage, "no"))
    return replace(
        answer,
        verdict=worst(verdict, found.verdict) if found.seen else verdict,
        headline=sentence(f"Group {chosen.id} {plant.name}: {clause(chosen.when)}; {chosen.cut}"),
        table=table,
        details=(sentence(chosen.late), sentence(f"It blooms {chosen.blooms}")),
    )


def _group(found: Pruning, case: WoodyCase) -> PruningGroup | None:
    question = case.question
    said = (question.ask.kind or next((r.kind for r in question.crops if r.kind), "") or "").lower()
    cued = question.cue("clematis_group")
    for group in found.plant.pruning_groups:
        if str(group.id) == cued or (said and any(said in name.lower() for name in group.names)):
            return group
    return None
