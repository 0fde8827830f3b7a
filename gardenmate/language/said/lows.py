"""Lows in a row, night by night from tonight on, and plants that stand in the ground already."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said

_ABOUT_NIGHTS = Pattern(r"\b(?:lows?|nights?|overnight|mins?|minimums?|forecast)\b")
_FIGURE = r"(?:minus |-)?\d{1,2}(?!\d|:\d)(?: ?°)?(?: ?[cf]\b)?"
_ROW = Pattern(
    rf"(?<![\w.$/-])-?{_FIGURE}(?:(?: ?[,;/] ?(?:then |and )?| then | and | ){_FIGURE}){{2,}}(?!\.\d| ?%)"
)
_RANGE = Pattern(r"(?<![\w.$/-])-?\d{1,2}(?: ?°)?(?: ?[cf])?(?: to | ?[-\u2013] ?)-?\d{1,2}(?!\d|:\d| ?%)")
_ONE = Pattern(r"(minus |-)?(\d{1,2})(?: ?°)? ?([cf])?")
_FROM_TOMORROW = Pattern(r"\b(?:from|starting) tomorrow\b|\btomorrow on(?:ward)?s?\b")
_CELSIUS_MOST, _COLDEST = (
    25.0,
    -40.0,
)  # design values: a night above is no Celsius; no colder night is asked about
_IN_GROUND = Pattern(
    r"\b(?:in|into) (?:the |my |our |a )?(?:open |cold |veg\w* |raised |garden )*"
    r"(?:ground|beds?|garden|plot|border|allotment|soil)\b",
    r"\bplanted (?:them |it |out |just )*(?:yesterday|today|last|this|on|two|three|a|\d)\b|\bplanted out\b",
)
_POTTED = Pattern(r"\b(?:pots?|potted|trays?|containers?|cells?|modules?)\b")
_TO_START = Pattern(
    r"\b(?:can|could|should|may|shall|when|ok(?:ay)?|safe|time|early|late|ready|want|going|hoping|like)\b"
    r"(?: \w+){0,4}? (?:plant|sow|seed|set|put|go|move|transplant)\b"
)
_COVER_ASKED = Pattern(r"(?:^|[.?!,;:] ?)(?:so |and )?(?:cover|protect)(?: them| it| up| tonight)* ?\?")
NIGHTS_TOLD = ("night-low", "stand")
"""What this reader finds that holds for a question behind it in the line."""
_NEW_DAYS = 10  # design value: roots are not away sooner


def read(said: Said) -> Iterator[Typed]:
    """night-low (value and unit, its night as role), range (of one night), stand (planted), needs (cover) and stage
    (just-set-out)."""
    yield from _row(said)
    between = _RANGE.search(said.plain)
    if between is not None:
        yield Typed("range", "one-night", text=between.group())
    if _IN_GROUND.search(said.plain) and not _POTTED.search(said.plain) and not _TO_START.search(said.plain):
        yield Typed("stand", "planted")
    if _COVER_ASKED.search(said.plain):
        yield Typed("needs", "cover")
    begun, by = said.request.cue("begun_on"), said.request.cue("begun_by")
    days = (said.today - date.fromisoformat(begun)).days if begun and by in ("plant", "setout") else -1
    if 0 <= days <= _NEW_DAYS and said.request.cue("stage") is None:
        yield Typed("stage", "just-set-out")


def _row(said: Said) -> Iterator[Typed]:
    """Three or more bare lows in a row, the first of them tonight's."""
    if _ABOUT_NIGHTS.search(said.plain) is None:
        return
    row = _ROW.search(said.plain)
    if row is None:
        return
    each = list(_ONE.finditer(row.group()))
    values = [(-1.0 if one[1] else 1.0) * float(one[2]) for one in each]
    if min(values) < _COLDEST:
        return
    unit = _unit(said, each, values)
    first = said.today + timedelta(days=1 if _FROM_TOMORROW.search(said.plain) else 0)
    for number, (one, value) in enumerate(zip(each, values, strict=True)):
        night = (first + timedelta(days=number)).isoformat()
        yield Typed(
            "night-low", value, unit, night, one.group(), row.start() + one.start(), row.start() + one.end()
        )


def _unit(said: Said, each: list[re.Match[str]], values: list[float]) -> str:
    """The unit typed beside any of them, else the one those read already have, else that of the place."""
    typed = next((one[3] for one in reversed(each) if one[3]), None)
    if typed is not None:
        return typed.upper()
    if max(values) > _CELSIUS_MOST:
        return "F"
    heard = next((t.unit for t in said.request.ask.temps if t.value in values), None)
    return heard or ("C" if said.metric else "F")
