"""What is told of the garden's parts: another garden, a bed and what it is like; what is to be forgotten."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

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


def read(said: Said) -> Iterator[Typed]:
    """new-garden (its name), bed (its name, ``text`` what it is like), forget."""
    if _OTHER.search(said.plain):
        name = _NAME.search(said.plain)
        found = next((g for g in name.groups() if g), _USUAL) if name is not None else _USUAL
        yield Typed("new-garden", found)
    bed = _BED.search(said.plain)
    if bed is not None:
        yield Typed("bed", bed[1].strip(), text=bed[2].strip())
    if _FORGET.search(said.plain) and not _NOT_FORGET.search(said.plain):
        yield Typed("forget", True)
