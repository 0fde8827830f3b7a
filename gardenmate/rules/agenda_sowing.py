"""What can still be started, for who asks what to sow when no job is due."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.answer import Answer
from gardenmate.question import Question
from gardenmate.rules.agenda_items import wanted_crops
from gardenmate.world import World


def still_to_start(question: Question, world: World) -> Answer | None:
    """What can still be started, where somebody asks what to sow or plant and no job is due; None else."""
    asked = question.cue("start_verb") in ("sow", "plant", "start") or question.cue("season") == "autumn"
    if not asked or question.crops or world.site is None or wanted_crops(world)[1]:
        return None
    from gardenmate.rules.season_questions import answer as season_answer

    found = season_answer(replace(question, topic="late-start"), world)
    return None if found.verdict == "no" else replace(found, question=question)
