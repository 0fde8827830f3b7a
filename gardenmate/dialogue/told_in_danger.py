"""What was done or is planned, told in one breath with a danger: it is kept, and said after the warning."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.records import replace


def with_kept(warned: Answer, kept: Answer) -> Answer:
    """The warning with what was kept beside it. The warning alone where nothing was kept (``kept`` asks, or needs a
    place); what was kept alone where it was only to be noted down and nothing was warned of."""
    if warned.question.topic == "log" and not warned.working:
        return kept
    if not kept.effects:
        return warned
    return replace(warned, also=(*warned.also, replace(kept, effects=())), effects=kept.effects)
