"""What is asked of the log: which deed, which days, which words; when, how many, how it went."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said
from gardenmate.language.said.periods import period_in
from gardenmate.language.values.deeds import asking_part, deed_in
from gardenmate.language.values.impossible_days import impossible_day

_ASKS = (
    (
        "course",
        Pattern(r"\bhow (?:did|has) (?:it|they|that)(?: all)? (?:go|gone|do|turn out)\b|\bhow it went\b"),
    ),
    ("how-long", Pattern(r"\bhow (?:long|many days)\b")),
    ("how-many", Pattern(r"\bhow many\b")),
    ("when", Pattern(r"\bwhen\b")),
    ("latest", Pattern(r"\b(?:last|latest|newest) (?:entry|note|thing|one)\b")),
    ("spent", Pattern(r"\b(?:spent|spend|paid|cost me)\b")),
)
_NOT_DEEDS = Pattern(r"\b(?:put|write|wrote|note|noted) (?:anything|something|it|that|this|down)\b")
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "couple": 2, "both": 2}
_STEPS = Pattern(
    r"\blast (\d+|two|three|four|five|six|couple)\b",
    r"\b(\d+|two|three|four|five|six) (?:entries|things|notes|steps)\b",
    r"\b(both)\b",
)
_EVERYTHING = Pattern(r"\b(?:everything|all of (?:it|them)|all (?:the |my )?(?:entries|notes)|whole log)\b")
_FORMATS = (
    ("spreadsheet", "csv"), ("csv", "csv"), ("excel", "csv"), ("calendar", "ics"), ("ics", "ics"),
    ("json", "json"), ("markdown", "md"),
)  # fmt: skip


def read(said: Said) -> Iterator[Typed]:
    """asks, deed, since and until (or season), words, steps, all, format, impossible-day."""
    text = asking_part(said.text)
    yield from (Typed("asks", name) for name, pattern in _ASKS if pattern.search(text))
    deed = deed_in(_NOT_DEEDS.sub(" ", text), said.facts)
    if deed is not None:
        yield Typed("deed", deed.id)
    yield from period_in(text, said.request.slots.date, said.today)
    words = _content_words(text, said)
    if words:
        yield Typed("words", " ".join(words))
    steps = _STEPS.search(text)
    if steps is not None:
        word = next(group for group in steps.groups() if group)
        yield Typed("steps", _NUMBERS.get(word) or max(1, min(100, int(word))))
    if _EVERYTHING.search(text):
        yield Typed("all", True)
    yield from (Typed("format", form) for word, form in _FORMATS if word in text)
    wrong = impossible_day(said.text)
    if wrong is not None and said.request.slots.date is None:
        yield Typed("impossible-day", wrong)


def _content_words(text: str, said: Said) -> tuple[str, ...]:
    """The words of a short request that an entry may hold; of a long one none, it would be guessing."""
    asking = frozenset(said.facts.table("deeds")["asking"]["words"].split())
    words = [w for w in re.findall(r"[^\W\d_]{3,}", text) if w not in asking]
    return tuple(dict.fromkeys(words)) if len(words) <= 4 else ()
