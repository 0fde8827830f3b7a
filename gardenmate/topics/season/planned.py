"""When does it go in, of what the grower has planned: their own day first, judged, and the good time beside it."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.plantings.jobs import PLANTING, SOWING, planned_for
from gardenmate.topics.season.case import Case, Reply, act
from gardenmate.topics.season.choose import judged
from gardenmate.topics.season.words import reply


def as_planned(question: Request, world: World, case: Case) -> Reply | None:
    """The plan told for this start and what is to be said of its day; None where none was told."""
    out = case.method == "setout" or question.cue("going_out") == "yes"
    deeds = PLANTING if out else SOWING
    day = planned_for(world.journal, case.terms.base, deeds, world.today) if world.home is None else None
    if day is None:
        return None
    then = case._replace(day=day, method="setout" if out else case.method, method_said=True)
    found = judged(then, "early")
    told, window = reply(then, found, asked_early=True), found.standing.open
    lead = f"You plan to {act(then.terms, then.method)} on {case.on(day)}"
    if found.verdict == "yes" and window is not None:
        good = case.between(window.best_from, window.best_to)
        return told._replace(headline=f"{lead}. That fits: the good time is {good}.")
    return told._replace(headline=f"{lead}. {told.headline}")
