"""Plants that are pruned, moved or split and not sown: what is done with them decides the topic."""

from __future__ import annotations

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import SEASON_TOPICS, Request
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.plants import plant_files, ways_of
from gardenmate.language.said import plain
from gardenmate.language.said.plants import sees_growth
from gardenmate.records import replace

_CUT = Pattern(r"\b(?:prun\w+|mow\w*|coppic\w+|cut(?:ting)? (?:\w+ ){0,3}?(?:back|down))\b")
_TO_COME = Pattern(
    r"\b(?:will|going to|gonna|might|could|may|forecast\w*|calling|says?|saying|giving|tonight|drops?|dropping"
    r"|down to)\b"
    r"[^.?!]{0,20}?(?<![\d.])(?:minus |-)?\d{1,2}(?!\d|%)"
)
_BALL = Pattern(r"\broot[- ]?balls?\b")
_PIECE = Pattern(r"\b(?:runner|sucker|offset|pup)s?\b")
_PIECES = ("runners", "suckers", "offsets")


def as_woody(request: Request, facts: Facts) -> Request:
    """The request under the topic its plants ask for, or as it is."""
    topic = _topic(request, facts)
    return request if topic is None else replace(request, topic=topic)


def _topic(request: Request, facts: Facts) -> str | None:
    """Bare-root plants are planted, which is told with making new plants, and so are root balls and runners; bushes
    and trees seen in bud or leaf, or spoken of with a cut, are pruned."""
    text, season = plain(request.text), request.topic in SEASON_TOPICS
    if request.cue("bare_root") and season and (_woody(request, facts) or not request.crops):
        return "propagation"
    if request.topic == "potting-up" and request.crops and _pieces(request, facts, text):
        return "propagation"
    if not request.crops or not _woody(request, facts):
        return None
    if season and not request.cue("start_verb") and sees_growth(text):
        return "pruning"
    if (
        request.topic == "unclear"
        and request.cue("bud_stage")
        and _TO_COME.search(text)
        and not _CUT.search(text)
    ):
        return "frost"  # "my apple is at half-inch green and it will be 24"
    cold = bool(request.ask.temps) or request.cue("freeze") is not None
    return "pruning" if request.topic == "frost" and not cold and _CUT.search(text) is not None else None


def _pieces(request: Request, facts: Facts, text: str) -> bool:
    """Runners or suckers of plants that make them are to be moved, or a shrub with its ball of roots."""
    if _BALL.search(text) is not None:
        return _woody(request, facts)
    ways = {way["method"] for ref in request.crops for way in ways_of(facts, ref.id)}
    return _PIECE.search(text) is not None and not ways.isdisjoint(_PIECES)


def _woody(request: Request, facts: Facts) -> bool:
    """True when every plant named is one that is never sown or planted out here."""
    return bool(request.crops) and all(
        facts.crop_for(ref) is None and plant_files(facts, ref.id) for ref in request.crops
    )
