"""Which job a season question is about, when the grower did not say how the crop is begun.

"Plant" tomatoes is to put plants in, "sow" them is seed, "start" them either. Where the first reading is too
late or too early and another way of the same job fits the day, that one is answered, and the first told
beside.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from gardenmate.topics.season.case import Case, Finding, act
from gardenmate.topics.season.terms import Terms

IN_PLACE = ("direct", "seed-potatoes", "cloves")


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


def best_way(case: Case, ways: Sequence[str], judge: Callable[[Case], Finding]) -> Finding:
    """The finding of the first way that may be done; the first one of all when none may."""
    first = judge(case._replace(method=ways[0]))
    if first.verdict != "no":
        return _seed_beside(first, judge)
    if len(ways) == 1:
        return first
    for way in ways[1:]:
        other = judge(case._replace(method=way))
        if other.verdict in ("yes", "tight"):
            return other._replace(details=(_beside(first), *other.details))
    return first


def _seed_beside(found: Finding, judge: Callable[[Case], Finding]) -> Finding:
    """Plants may still go in: say so when seed of the crop no longer may."""
    case = found.case
    if case.method_said or case.method != "setout" or not case.terms.can_raise:
        return found
    seed = judge(case._replace(method="indoors"))
    if seed.verdict != "no" or not seed.headline.lower().startswith("too late"):
        return found
    note = "That is for plants bought or already raised: from seed it is too late now."
    return found._replace(details=(note, *found.details))


def _beside(first: Finding) -> str:
    """The way that does not do, in one sentence."""
    return f"Not this time: to {act(first.case.terms, first.case.method)}; that is {_when_words(first)}."


def _when_words(first: Finding) -> str:
    head = first.headline.lower()
    return "too early yet" if head.startswith("too early") else "too late from now"
