"""A decision as the journal keeps it: what rules see, and what it rested on."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date
from math import isfinite
from typing import Any
from zlib import crc32

from gardenmate.core.answer import Answer
from gardenmate.core.effects import Changed, CorrectDecision, LogDecision, Value
from gardenmate.core.world import Decision
from gardenmate.journal.frames import Content
from gardenmate.records import dataclass, field

UNREADABLE = "unreadable"
"""The action of an entry whose bytes are damaged."""
GARDEN = "garden"
"""The action of an entry that keeps changes of the garden file."""


@dataclass(frozen=True, slots=True)
class KeptDecision(Decision):
    """A decision with everything that is exported.

    ``detail`` is what else was said (variety, temperature as typed ...). ``headline`` and ``numbers`` are of
    the answer it rests on, ``knowledge_version`` the facts that answer used. ``uid`` names the decision in
    every journal it is carried to; ``written_at`` is when it was last written, UTC, ISO 8601. ``changes`` are
    the keys of the garden file an entry of action "garden" changed.
    """

    detail: Mapping[str, str] = field(default_factory=dict, hash=False)
    headline: str = ""
    numbers: tuple[Mapping[str, Any], ...] = field(default=(), hash=False)
    knowledge_version: str = ""
    uid: str = ""
    written_at: str = ""
    changes: tuple[Changed, ...] = field(default=(), hash=False)


def content_of(effect: LogDecision, *, place: str, answer: Answer | None, knowledge_version: str) -> Content:
    """What is kept of a decision. ``answer`` is the answer it rests on, None when it rests on none."""
    content: Content = {
        "on": effect.on.isoformat(),
        "action": effect.action,
        "text": effect.text,
        "crops": list(effect.crops),
        "count": effect.count,
        "place": place,
        "detail": dict(effect.detail),
        "knowledge_version": knowledge_version,
    }
    if "temp_c" in effect.detail:
        content["temp_c"] = float(effect.detail["temp_c"])
    if answer is not None:
        content |= {
            "question": answer.question.text,
            "verdict": answer.verdict,
            "headline": answer.headline,
            "numbers": [_number(n.name, n.value, n.unit, n.crop) for n in answer.numbers],
        }
    return {key: value for key, value in content.items() if value not in (None, "", [], {})}


def garden_content(changes: Sequence[Changed], *, text: str, on: date) -> Content:
    """What is kept of changes of the garden file, made by one thing said."""
    kept = [[c.key, _plain(c.old), _plain(c.new)] for c in changes]
    return {"on": on.isoformat(), "action": GARDEN, "text": text, "changes": kept}


def changed_by(effect: CorrectDecision) -> Content:
    """The fields a correction replaces."""
    changes: Content = {
        "text": effect.text,
        "on": effect.on.isoformat() if effect.on is not None else None,
        "count": effect.count,
        "crops": list(effect.crops) if effect.crops is not None else None,
        "action": effect.action,
        "detail": dict(effect.detail) if effect.detail is not None else None,
    }
    return {key: value for key, value in changes.items() if value is not None}


def corrected(content: Content, changes: Content) -> Content:
    """The content with a correction laid over it."""
    merged = content | changes
    if "detail" in changes and isinstance(content.get("detail"), dict):
        both = content["detail"] | changes["detail"]
        merged["detail"] = {key: value for key, value in both.items() if value != ""}
    return merged


def decision_of(number: int, uid: str, written_at: str, content: Content) -> KeptDecision:
    """The decision a row's content describes. Raises ValueError, KeyError or TypeError when it is no such."""
    return KeptDecision(
        id=number,
        on=date.fromisoformat(content["on"]),
        action=str(content["action"]),
        text=str(content.get("text", "")),
        crops=tuple(str(c) for c in content.get("crops", ())),
        count=_finite(content.get("count")),
        place=str(content.get("place", "")),
        temp_c=_finite(content.get("temp_c")),
        question=str(content.get("question", "")),
        verdict=content.get("verdict"),
        detail={str(k): str(v) for k, v in content.get("detail", {}).items()},
        headline=str(content.get("headline", "")),
        numbers=tuple(n for n in content.get("numbers", ()) if isinstance(n, dict)),
        knowledge_version=str(content.get("knowledge_version", "")),
        uid=uid,
        written_at=written_at,
        changes=tuple(
            Changed(str(k), _value(old), _value(new)) for k, old, new in content.get("changes", ())
        ),
    )


def unreadable(number: int, on: date, uid: str = "", written_at: str = "") -> KeptDecision:
    """What is shown in the place of an entry whose bytes are damaged."""
    said = f"(entry {number} is damaged and cannot be read)"
    return KeptDecision(
        number, on, UNREADABLE, said, uid=uid or f"unreadable-{number}", written_at=written_at
    )


def pack(content: Content) -> str:
    """Content behind its checksum, as ASCII: any text comes back exactly, control signs and lone surrogates
    too."""
    body = json.dumps(content, separators=(",", ":"), sort_keys=True, allow_nan=False)
    return f"{crc32(body.encode()):08x} {body}"


def unpack(text: str) -> Content:
    """The content `pack` made a text of. Raises ValueError when the text has changed."""
    mark, _, body = text.partition(" ")
    if int(mark, 16) != crc32(body.encode("utf-8", "replace")):
        raise ValueError("its bytes have changed")
    content: Content = json.loads(body)
    return content


def _finite(value: Any) -> float | None:
    if value is None:
        return None
    number = float(value)
    if not isfinite(number):
        raise ValueError(f"{number} is no number")
    return number


def _plain(value: Value) -> Any:
    """A value of the garden file as JSON holds it: {"date": ...} for a date, {"section": ...} for a
    section."""
    if isinstance(value, date):
        return {"date": value.isoformat()}
    if isinstance(value, dict):
        return {"section": {key: _plain(each) for key, each in value.items()}}
    return value


def _value(plain: Any) -> Value:
    if not isinstance(plain, dict):
        value: Value = plain
        return value
    if "date" in plain:
        return date.fromisoformat(plain["date"])
    return {str(key): _value(each) for key, each in plain["section"].items()}


def _number(name: str, value: object, unit: str, crop: str | None) -> dict[str, Any]:
    number = {"name": name, "value": value.isoformat() if isinstance(value, date) else value, "unit": unit}
    return number | {"crop": crop} if crop else number
