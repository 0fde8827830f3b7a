"""What a line does with the garden: asks, shows, forgets; another garden, a bed, the region beside a place."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.climate.place_names import normalise
from gardenmate.climate.places import gazetteer
from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.knowledge.facts import Facts
from gardenmate.language.said import Said
from gardenmate.language.values.asks_or_tells import only_asks

_LONGEST = 2000  # characters read of a statement (design value)
_SHOW = Pattern(
    r"^\W*(?:(?:and|so|hey|ok|hi|please)\W+)*(?:what|where|do you|does it|show|list|who|which|tell me|zone|"
    r"remind|have you|can you (?:remind|tell|show))\b|\bwhere'?s my\b|"
    r"\bwhat (?:you've got|have you got|you know|do you know)\b"
)

_OTHER = Pattern(
    r"\b(?:second|2nd|other|another|third|extra) (?:vegetable |veg |little |small )?(?:garden|plot|allotment|patch)\b"
)
_NAME = Pattern(
    r"\b(?:called|named) (?:the )?([a-z][a-z'-]+)",
    r"\bat (?:the |our |my |a )?(camp|cottage|cabin|lake|farm|allotment|church|school|work|mum's|mom's|dad's|gran's)\b",
    r"\b(?:garden|plot|allotment|patch),? (?:up |down |out |over )?(?:at|by) (?:the |our |my )?([a-z][a-z'-]+)",
)
_USUAL = "second garden"
_BED = Pattern(
    r"^\W*(?:the |my |our )?((?:bed|tray|frame|tunnel|plot) ?\d*|(?:top|bottom|back|front|raised|old|new) bed) "
    r"(?:is|gets|has|faces|sits|lies) (?!there\b)(.{2,80}?)\W*$"
)
_FORGET = Pattern(r"\b(?:forget|remove|delete|clear|erase|drop|wipe)\b")
_NOT_FORGET = Pattern(r"\b(?:before i|don'?t|never|i always|i'll|lest i) forget\b")

_FORGOTTEN = (
    (
        "everything",
        Pattern(
            r"\b(?:everything|all of it|the old (?:one|garden|place)|my (?:whole )?(?:garden|profile|setup))\b"
        ),
    ),
    ("frost.first", Pattern(r"\bfirst (?:\w+ )?(?:frost|freeze)")),
    ("frost.last", Pattern(r"\blast (?:\w+ )?(?:frost|freeze)")),
    ("frost", Pattern(r"\b(?:frost|freeze)")),
    ("place.elevation_m", Pattern(r"\b(?:elevation|altitude|height)\b")),
    (
        "place",
        Pattern(r"\b(?:place|location|where (?:i|we) (?:live|am|are|garden)|town|address)\b"),
    ),
    ("household", Pattern(r"\b(?:household|family|people)\b")),
    ("preferences.units", Pattern(r"\b(?:units|celsius|fahrenheit)\b")),
    ("frame", Pattern(r"\bframe size\b")),
)


def read(said: Said) -> Iterator[Typed]:
    """reads-as (question: nothing is told; show: it asks to see; asked: it ends in a question mark), new-garden (its
    name), bed (its name, ``text`` what it is like), forget (the garden key, "everything", or True), region."""
    text = said.plain[:_LONGEST]
    if only_asks(said.text[:_LONGEST]):
        yield Typed("reads-as", "question")
    if _SHOW.search(text):
        yield Typed("reads-as", "show")
    if text.endswith("?"):
        yield Typed("reads-as", "asked")
    if _OTHER.search(said.plain):
        name = _NAME.search(said.plain)
        found = next((g for g in name.groups() if g), _USUAL) if name is not None else _USUAL
        yield Typed("new-garden", found)
    bed = _BED.search(said.plain)
    if bed is not None:
        yield Typed("bed", bed[1].strip(), text=bed[2].strip())
    if _FORGET.search(text) and not _NOT_FORGET.search(text):
        yield Typed("forget", next((key for key, pattern in _FORGOTTEN if pattern.search(text)), True))
    if said.request.slots.place is not None:
        yield from _regions(said.request.slots.place, said.text[:_LONGEST], said.facts)


def _regions(place: str, text: str, facts: Facts) -> Iterator[Typed]:
    """region: states, provinces and countries named outside the place itself, the longest names first."""
    areas = gazetteer(facts).areas
    words = re.findall(r"[A-Za-z][A-Za-z.'-]*", re.sub(re.escape(place), " ", text, flags=re.IGNORECASE))
    found = []
    for length in (3, 2, 1):
        for i in range(len(words) - length + 1):
            typed = " ".join(words[i : i + length])
            name = normalise(typed)
            # "in", "or", "me" are states only in capitals
            if name in areas and (len(name) > 3 or typed.isupper()) and normalise(place) != name:
                found.append(typed)
    return (Typed("region", name) for name in dict.fromkeys(found))
