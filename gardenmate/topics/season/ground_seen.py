"""Ground the grower sees is frozen, under snow or sodden: nothing is sown or set in it, whatever is usual."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.topics.season.case import Reply

_SEEN = {
    "frozen": ("the ground is still frozen", "it has thawed and crumbles in the hand"),
    "snow": ("there is snow on the ground", "the snow is gone and the soil crumbles in the hand"),
    "wet": ("the ground is sodden", "it has drained and a handful crumbles instead of balling"),
}


def in_ground_seen(found: Reply, question: Request) -> Reply:
    """The reply, a no where the ground seen today lets nothing be done in it; what is sown indoors is not touched,
    nor a day other than today."""
    case, seen = found.case, question.first("ground")
    if seen is None or found.verdict not in ("yes", "tight"):
        return found
    if case.method == "indoors" or case.day != case.today:
        return found
    why, until = _SEEN[str(seen.value)]
    harm = (
        "Seed rots in cold mud and treading packs the soil."
        if seen.value == "wet"
        else "What you see goes before the usual dates: seed neither takes up water nor roots in frozen soil."
    )
    return found._replace(
        verdict="no",
        headline=f"Not yet: {why}. Wait to {case.doing} until {until}; by the calendar its time is here.",
        details=(harm, *found.details),
        changes=(),
        told=True,
        do=f"once {until.split(' and ')[0]}",
        sources=(*found.sources, "common-practice"),
    )
