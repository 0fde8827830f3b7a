"""Ground the grower sees is frozen, under snow or sodden: nothing is sown or set in it, whatever is usual."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gardenmate.core.pattern import Pattern

if TYPE_CHECKING:
    from gardenmate.topics.season.case import Reply

_GROUND = r"(?:ground|soil|earth|beds?|plots?|gardens?|allotment|fields?|dirt|yard|raised beds?)"
_STILL = (
    r"(?:is|are|was|'s|still|all|quite|too|so|very|completely|totally|rock|solid|full|of|in|with|under|a|bit"
    r"|has|have|got|some|deep|foot|feet|inch|inches|\d+)"
)
_LATER = Pattern(
    rf"\b(?:before|until|till|unless|once|when|after|if|as soon as) (?:the |my |our |all )*"
    rf"(?:{_GROUND}|snow|it|that)\b"
    r"|\b(?:not|isn't|no longer|never|no|nor|isnt|aren't|arent) (?:\w+ )?"
    r"(?:frozen|snow|soggy|sodden|muddy|wet|waterlogged)\b"
    r"|\bsnow (?:is|has|was|'s)? ?(?:all )?(?:gone|melted|off)\b|\b(?:thawed|has thawed|dried out)\b"
)
_FROZEN = Pattern(
    rf"\b{_GROUND} (?:{_STILL} )*(?:frozen|frost in)\b|\bfrozen (?:solid )?{_GROUND}\b"
    rf"|\b(?:frost|ice) (?:is |still )*in the {_GROUND}\b"
)
_SNOW = Pattern(
    rf"\bsnow (?:is |still |lying |left |all )*(?:on|over|covering|across) (?:the |my |our )*{_GROUND}\b"
    rf"|\b{_GROUND} (?:{_STILL} )*(?:snow\b|snowy\b|snow-covered|covered (?:in|with|by) snow)"
    r"|\bsnow on the ground\b|\bthere(?:'s| is) still (?:some |a lot of |deep )?snow\b"
)
_WET = Pattern(
    rf"\b{_GROUND} (?:{_STILL} )*(?:sodden|soggy|waterlogged|water-logged|flooded|muddy|mud|sopping|saturated"
    rf"|soaking(?: wet)?|standing water|under water|(?<=too )wet)\b"
    rf"|\b(?:sodden|soggy|waterlogged|flooded|saturated|muddy) {_GROUND}\b"
    rf"|\bstanding water (?:on|in) (?:the |my |our )*{_GROUND}\b"
)
_TO_START = Pattern(
    r"\b(?:can|could|should|may|is it (?:ok|time)) (?:i |we |you )?(?:still |to )?"
    r"(?:plant|sow|seed|set out|put in)\b"
)
_SAID = {
    "frozen": (_FROZEN, "the ground is still frozen", "it has thawed and crumbles in the hand"),
    "snow": (_SNOW, "there is snow on the ground", "the snow is gone and the soil crumbles in the hand"),
    "wet": (_WET, "the ground is sodden", "it has drained and a handful crumbles instead of balling"),
}


def ground_seen(text: str) -> str | None:
    """ "frozen", "snow" or "wet" where the grower says so of the ground today; None otherwise."""
    said = text.lower().replace("\u2019", "'")
    if _LATER.search(said) is not None:
        return None
    return next((state for state, (pattern, _, _) in _SAID.items() if pattern.search(said) is not None), None)


def starts_in_ground_seen(text: str) -> bool:
    """True for "the ground is frozen, can I plant garlic?": a start is asked about, not a frost on plants."""
    return _TO_START.search(text.lower()) is not None and ground_seen(text) is not None


def in_ground_seen(found: Reply, text: str) -> Reply:
    """The finding, a no where the ground seen today lets nothing be done in it; what is sown indoors is not
    touched, nor a day other than today."""
    case = found.case
    if found.verdict not in ("yes", "tight") or case.method == "indoors" or case.day != case.today:
        return found
    state = ground_seen(text)
    if state is None:
        return found
    from gardenmate.topics.season.case import act

    _, why, until = _SAID[state]
    what = act(case.terms, case.method)
    harm = (
        "Seed rots in cold mud and treading packs the soil."
        if state == "wet"
        else "What you see goes before the usual dates: seed neither takes up water nor roots in frozen soil."
    )
    return found._replace(
        verdict="no",
        headline=f"Not yet: {why}. Wait to {what} until {until}; by the calendar its time is here.",
        details=(harm, *found.details),
        changes=(),
        told=True,
        do=f"once {until.split(' and ')[0]}",
        sources=(*found.sources, "common-practice"),
    )
