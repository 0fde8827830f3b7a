"""What is done with each act: answered, kept, put right, shown, or met with a short word."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.question import Part
from gardenmate.core.world import World
from gardenmate.dialogue.commands import command
from gardenmate.dialogue.talk import small_talk
from gardenmate.topics.log import correct, keep


def respond(part: Part, world: World, last: Answer | None) -> Answer:
    """The reply to a part whose act is not a question; ``last`` is the answer shown last."""
    if part.act in ("report", "plan", "tell"):
        return keep.answer(part, world)
    if part.act == "correct":
        return correct.answer(part, world)
    if part.act == "manage":
        return command(part, world, last)
    return small_talk(part, world)
