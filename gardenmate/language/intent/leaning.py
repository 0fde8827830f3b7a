"""What a short question leans on: the plants of the turn before, and the question behind a look at the log."""

from __future__ import annotations

from gardenmate.core.question import Request
from gardenmate.language.intent.elliptic import both_spoken_of, still_spoken_of, they_and_named
from gardenmate.language.intent.reading import Context, Draft
from gardenmate.language.text.spans import words
from gardenmate.records import replace

_OWN_QUESTION = 0.5  # share its own words must give a question to leave a look at the log behind
ABOUT_PLANTS = frozenset(
    {
        "late-start", "early-start", "when-start", "harvest-date", "germination", "potting-up", "hardening-off",
        "frost", "cold-frame", "pruning", "propagation", "buy-or-sow", "how-many", "heat-and-light",
    }
)  # fmt: skip
KEPT = frozenset({"log", "garden", "unclear", "out-of-scope"})
_GENERAL = words(
    "what which who whats anything everything week month garden year lows night nights frost freeze"
)
_POINTS = words("them they those these em")
_MOST_POINTING = 14  # words; one that points back may be longer (design value)
_MOST_ELLIPTIC = 10  # words; a longer question that names no plant is about none (design value)


def of_a_night(context: Context) -> bool:
    """True behind a question about a night of frost: "it hit 29" tells how it went."""
    before = context.asked or context.previous
    return before is not None and before.topic == "frost"


def still_about(draft: Draft, request: Request, topic: str, context: Context) -> Request:
    """A short question that names no plant is about those of the turn before: "buy 2 more or sow"."""
    before = context.asked or context.previous
    tokens = draft.board.tokens
    if topic == "frost" and context.told and draft.slots.temps and not draft.crops:
        pointed = {t.word for t in tokens} & (_POINTS | {"it", "all", "both"})
        if not pointed:
            return replace(request, crops=())  # a night behind a report is about all that stands outside
    both = both_spoken_of(draft, context.spoken) if len(request.crops) < 2 and topic in ABOUT_PLANTS else ()
    named = they_and_named(draft, before)
    if before is not None and not before.crops and not request.crops and topic in ABOUT_PLANTS:
        both = both or still_spoken_of(draft, context.spoken)
    if both or named:
        return replace(request, crops=both or named)
    if (
        request.crops
        or draft.crops
        or before is None
        or draft.cues.get("asks") == "dates"  # the usual frost dates are the place's, not a plant's
        or topic not in (*ABOUT_PLANTS, "log")
        or not before.crops
    ):
        return request
    points = bool({t.word for t in tokens} & _POINTS)
    most = _MOST_POINTING if points else _MOST_ELLIPTIC
    general = bool({t.word for t in tokens[:3]} & _GENERAL) and not points
    if len(tokens) > most or general or request.slots.place is not None:
        return request
    names = " and ".join(ref.typed or ref.id.replace("-", " ") for ref in before.crops)
    said = f"still about {names}"
    return replace(request, crops=before.crops, reading="; ".join(r for r in (request.reading, said) if r))


def only_carried(draft: Draft, request: Request, context: Context) -> bool:
    """True for a question under "log" or "garden" only because the turn before was kept there."""
    before = context.previous
    if context.asked is None or before is None or request.topic not in ("log", "garden"):
        return False
    if before.topic != request.topic or (draft.ranked and draft.ranked[0].topic == request.topic):
        return False
    own = not draft.ranked or (
        draft.ranked[0].share >= _OWN_QUESTION and "follows" not in draft.found.signals
    )
    return context.told or own
