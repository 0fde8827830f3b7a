"""What is said of a mulch over winter: how deep, when it goes on and comes off, shoots through it."""

from __future__ import annotations

from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_MULCH = r"(?:mulch\w*|straw|leaves over|winter cover)"
_MULCHED: tuple[tuple[str, Pattern], ...] = (
    ("shoots", Pattern(
        rf"\b(?:shoots?|sprout\w*|green|growth|tips?|up|coming|came|poked?|poking)\b.*\bthrough\b.*\b{_MULCH}",
        rf"\b{_MULCH}.*\b(?:shoots?|sprout\w*)\b",
    )),
    ("off", Pattern(
        rf"\b(?:take|pull|rake|remove|lift|get|clear|push)\b.*\b{_MULCH}", rf"\b{_MULCH}\b.*\b(?:off|back|away)\b",
        r"\buncover\b",
    )),
    ("on", Pattern(
        rf"\bwhen\b.*\b{_MULCH}", rf"\b(?:too (?:early|late|soon)|time)\b.*\b{_MULCH}",
    )),
    ("depth", Pattern(
        rf"\bhow (?:deep|thick|much)\b.*\b{_MULCH}", rf"\b{_MULCH}\b.*\bhow (?:deep|thick|much)\b",
        rf"\b(?:do|does|should|need)\b.*\b{_MULCH}",
    )),
)  # fmt: skip


def read(said: Said) -> Iterator[Typed]:
    """mulch (depth, on, off, shoots)."""
    for value, pattern in _MULCHED:
        match = pattern.search(said.plain)
        if match is not None:
            yield Typed("mulch", value, text=match.group())
