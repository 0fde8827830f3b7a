"""Questions about a word of the trade: "what does determinate mean", "why harden off", the difference of two.

Only a question that is about the word itself is taken; one about one's own plants is a question of its topic.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace

_LONGEST = 120  # characters; a story is about more than a word
_MOST_WORDS = 5  # a term has no more, with "plants" or "seedlings" behind it
_POLITE = r"^\W*(?:(?:so|and|ok|okay|hi|hey|please|sorry|but|well|can you|could you|tell me|i wonder)\W+)*"
_WHAT = Pattern(
    _POLITE + r"(?:what(?:'s| is) meant by|what do you mean by|what(?:'s| is| are| was| does| do)?|"
    r"define|explain|whats|meaning of)\s+"
    r"(?:the meaning of\s+|the term\s+|you mean by\s+|it means? (?:when|to|if)\s+"
    r"(?:(?:you say|they say|a plant is|a tomato is|seedlings are)\s+)?)?"
    r"(?:an?\s+|the\s+|it mean to\s+)?(.+?)"
    r"(?:\s+(?:mean|means|stand for|stands for|refer to|exactly|actually|in gardening|please))*\W*$"
)
_WHY = Pattern(
    _POLITE
    + r"(?:why|what for|what is the point of|what's the point of|what is the use of|is there any point in)"
    r"\s+(?:(?:do|does|should|must|would|bother(?: to)?|is it (?:necessary|needed) to)\s+)?"
    r"(?:(?:i|you|we|one|people|gardeners|they|it)\s+)?(?:(?:need|have|want|ought|bother)\s+)?(?:to\s+)?(.+?)\W*$"
)
_DIFFERENCE = Pattern(
    r"(?:difference|differences)\s{1,3}between\s{1,3}(?:an?\s{1,3})?(.{1,60}?)\s{1,3}"
    r"(?:and|or|vs\.?)\s{1,3}(?:an?\s{1,3})?(.{1,60}?)\W{0,12}$|"
    r"how (?:do|does|are|is)\s{1,3}(?:an?\s{1,3})?(.{1,60}?)\s{1,3}"
    r"differ(?:ent)?\s{1,3}from\s{1,3}(?:an?\s{1,3})?(.{1,60}?)\W{0,12}$"
)
_OPENS = Pattern(
    r"\b(?:what|whats|define|explain|why|meaning|difference|differ\w*|point of)\b", ignore_case=True
)


_ZONE = Pattern(
    r"\b(?:what|which|what's|whats)\b.{0,40}\bzone\b.{0,20}\b(?:am i|are we|is (?:it|this|here|my|our)|"
    r"do i|i am|i'm|we're)\b|\b(?:what|which|what's|whats)\b(?: is| are)? (?:my|our)(?: \w+){0,2} zone\b|"
    r"\b(?:what|which) (?:\w+ ){0,2}zone (?:is|would|does)\b",
    ignore_case=True,
)


def as_asked(question: Request, facts: Facts) -> Request:
    """The question under the topic that explains words, or the garden's, when it asks for a word or a zone,
    whatever its words lean to."""
    if question.topic in ("log", "garden") or question.cue("danger") or _OPENS.search(question.text) is None:
        return question
    if not question.crops and zone_asked(question.text):
        return replace(question, topic="garden")
    return replace(question, topic="explain", crops=()) if terms_asked(question.text, facts) else question


def zone_asked(text: str) -> bool:
    """True when the hardiness zone of a place is asked for, which is a question of the garden's record."""
    return len(text) <= _LONGEST and _ZONE.search(text) is not None


def terms_asked(text: str, facts: Facts) -> tuple[str, ...]:
    """The ids of the terms a text asks the meaning (or the reason) of; empty when it asks something else."""
    if len(text) > _LONGEST or _OPENS.search(text) is None:
        return ()
    plain = " ".join(text.lower().replace("’", "'").replace('"', " ").split())
    pair = _DIFFERENCE.search(plain)
    if pair is not None:
        names = _names(facts)
        found = tuple(_term(g, names) for g in pair.groups() if g)
        return tuple(dict.fromkeys(t for t in found if t)) if all(found) else ()
    why = _WHY.match(plain)
    what = None if why is not None else _WHAT.match(plain)
    said = why or what
    if said is None or len(said[1].split()) > _MOST_WORDS:
        return ()
    term = _term(said[1], _names(facts))
    return (term,) if term and (what is not None or "why" in _entries(facts)[term]) else ()


def asks_why(text: str) -> bool:
    """True when the reason is asked for, not the meaning: "why harden off"."""
    return _WHY.match(text.lower()) is not None


def _entries(facts: Facts) -> Mapping[str, Any]:
    table: Mapping[str, Any] = facts.table("glossary")["term"]
    return table


def _names(facts: Facts) -> dict[str, str]:
    return {_plain(name): term for term, entry in _entries(facts).items() for name in entry["names"]}


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", " ", name).strip()


def _term(said: str, names: Mapping[str, str]) -> str | None:
    """The term a piece of text names, also in the plural or with "plants", "seedlings" behind it."""
    plain = _plain(said)
    short = re.sub(r"\s+(?:plants?|seedlings?|seeds?|tomatoes|varieties|them|off them|mean)$", "", plain)
    for name in (plain, short, plain.removesuffix("s"), short.removesuffix("s")):
        if name in names:
            return names[name]
    return None
