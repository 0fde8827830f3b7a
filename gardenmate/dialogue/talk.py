"""Small talk: one short line, and never the answer before."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from gardenmate.core.answer import Answer
from gardenmate.core.question import Part
from gardenmate.core.world import World
from gardenmate.topics.safety import out_of_scope

_LINES: Mapping[str, str] = MappingProxyType(
    {
        "hello": "Hello. What's happening in the garden?",
        "thanks": "You're welcome.",
        "bye": "Good night. Your notes are kept.",
        "agree": "All right.",
    }
)


def small_talk(part: Part, world: World) -> Answer:
    """The reply to what is neither a question nor something to keep."""
    verb = part.command.verb if part.command is not None else ""
    request = part.request
    if verb in _LINES:
        return Answer(question=request, verdict=None, headline=_LINES[verb])
    if request.topic == "unclear" or request.cue("other_plant"):
        return out_of_scope.answer(request, world)
    return out_of_scope.declined(request, world.facts)
