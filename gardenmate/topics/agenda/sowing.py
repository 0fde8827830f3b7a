"""What can still be started, for who asks what to sow when no job is due."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.agenda.item import wanted_crops
from gardenmate.topics.season.answer import answer as season_answer


def still_to_start(question: Request, world: World) -> Answer | None:
    """What can still be started, where somebody asks what to sow or plant and no job is due; None else."""
    asked = question.cue("start_verb") in ("sow", "plant", "start") or question.cue("season") == "autumn"
    if not asked or question.crops or world.site is None or wanted_crops(world)[1]:
        return None
    found = season_answer(replace(question, topic="late-start"), world)
    return None if found.verdict == "no" else replace(found, question=question)
