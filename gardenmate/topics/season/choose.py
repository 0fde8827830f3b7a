"""Which job a season question is about, when the grower did not say how the crop is begun.

"Plant" tomatoes is to put plants in, "sow" them is seed, "start" them either. Where the first reading is too
late or too early and another way of the same job fits the day, that one is answered, and the first told
beside.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from gardenmate.topics.season.case import Case, Reply
from gardenmate.topics.season.decide import late
from gardenmate.topics.season.early import early
from gardenmate.topics.season.finding import StartFinding, Why
from gardenmate.topics.season.terms import Terms
from gardenmate.topics.season.words import read_of, reply

IN_PLACE = ("direct", "seed-potatoes", "cloves")
Question = Literal["late", "early"]
_TOO_LATE = (Why.TOO_LATE, Why.BETWEEN, Why.CLOSED)


def ways_of_starting(terms: Terms, verb: str | None, topic: str, usual: str) -> tuple[str, ...]:
    """The methods a question may mean, the likeliest first.

    ``verb`` is the cue start_verb (sow | plant | setout | start) or None; ``usual`` what is taken without it.
    """
    seed = [m for m, can in (("outdoors", terms.can_sow_outdoors), ("indoors", terms.can_raise)) if can]
    plants = ["setout"] if terms.can_set_out else []
    in_place = terms.crop.methods[0] in IN_PLACE
    if verb == "setout" and plants:
        return ("setout",)
    if verb == "plant":
        found = ["outdoors", *plants] if in_place else plants
        return tuple(found) or (usual,)
    if not in_place:
        seed.reverse()
    if verb in ("sow", "start") and seed:
        return tuple(sorted(seed, key=lambda m: m != usual))
    if topic == "early-start":
        return (usual,)
    return tuple(dict.fromkeys((usual, *plants, *seed)))


def judged(case: Case, question: Question) -> StartFinding:
    """What is decided of the case: whether it is too late, or too early."""
    if question == "early":
        return early(case.season, case.method, case.day, read_of(case))
    return late(case.season, case.method, case.day, read_of(case), case.wanted_by)


def worded(case: Case, question: Question) -> Reply:
    """The same in words."""
    return reply(case, judged(case, question), asked_early=question == "early")


def best_way(case: Case, ways: Sequence[str], question: Question) -> Reply:
    """The reply for the first way that may be done; for the first one of all when none may."""
    tried = [case._replace(method=way) for way in ways]
    first = judged(tried[0], question)
    if first.verdict == "no":
        for other in tried[1:]:
            found = judged(other, question)
            if found.verdict != "no":
                told = reply(other, found, asked_early=question == "early")
                return told._replace(details=(_beside(tried[0], first), *told.details))
    told = reply(tried[0], first, asked_early=question == "early")
    return told if first.verdict == "no" else _seed_beside(tried[0], told, question)


def _seed_beside(case: Case, told: Reply, question: Question) -> Reply:
    """Plants may still go in: say so when seed of the crop no longer may."""
    if case.method_said or case.method != "setout" or not case.terms.can_raise:
        return told
    seed = judged(case._replace(method="indoors"), question)
    if seed.verdict != "no" or seed.why not in _TOO_LATE:
        return told
    note = "That is for plants bought or already raised: from seed it is too late now."
    return told._replace(details=(note, *told.details))


def _beside(case: Case, first: StartFinding) -> str:
    """The way that does not do, in one sentence."""
    when = "too early yet" if first.why in (Why.TOO_EARLY, Why.COLD_SOIL, Why.FROST) else "too late from now"
    return f"Not this time: to {case.doing}; that is {when}."
