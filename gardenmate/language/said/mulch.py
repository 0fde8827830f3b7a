"""What is said of a mulch over winter: how deep, when it goes on and comes off, shoots through it."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_MULCH = r"(?:mulch\w*|straw\b|leaves over|winter cover)"
_NEEDS = ("mulch", "straw", "leaves over", "winter", "uncover")
_AFTER = ".{0,80}"  # a wording reaches about this far (design value)
_BED = r"\bin (?:the |my )?(?:ground|soil|beds?|garden)\b"
_STAY = r"\b(?:stay|leave|left|keep|store|overwinter)\b"
_MULCHED: tuple[tuple[str, Pattern], ...] = (
    ("shoots", Pattern(
        rf"\b(?:shoots?|sprout\w*|green|growth|tips?|up|coming|came|poked?|poking)\b{_AFTER}\bthrough\b{_AFTER}{_MULCH}",
        rf"\b{_MULCH}{_AFTER}\b(?:shoots?|sprout\w*)\b",
    )),
    ("stay", Pattern(
        rf"{_STAY}{_AFTER}{_BED}{_AFTER}\bwinter\b", rf"{_STAY}{_AFTER}\bwinter\b{_AFTER}{_BED}",
        rf"{_BED}{_AFTER}\bunder (?:\w+ )?{_MULCH}",
        rf"\bunder (?:\w+ )?{_MULCH}{_AFTER}\bwinter\b", rf"\bwinter\b{_AFTER}\bunder (?:\w+ )?{_MULCH}",
    )),
    ("off", Pattern(
        rf"\b(?:take|pull|rake|remove|lift|get|clear|push)\b{_AFTER}\b{_MULCH}",
        rf"\b{_MULCH}\b{_AFTER}\b(?:off|back|away)\b", r"\buncover\b",
    )),
    ("on", Pattern(
        rf"\bwhen\b{_AFTER}\b{_MULCH}", rf"\b(?:too (?:early|late|soon)|time)\b{_AFTER}\b{_MULCH}",
    )),
    ("depth", Pattern(
        rf"\bhow (?:deep|thick|much)\b{_AFTER}\b{_MULCH}", rf"\b{_MULCH}\b{_AFTER}\bhow (?:deep|thick|much)\b",
        rf"\b(?:do|does|should|need)\b{_AFTER}\b{_MULCH}",
    )),
)  # fmt: skip


def read(said: Said) -> Iterator[Typed]:
    """mulch (depth, on, off, shoots, stay)."""
    if not any(piece in said.plain for piece in _NEEDS):
        return
    for value, pattern in _MULCHED:
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed("mulch", value, text=match.group())
