"""A decision as the journal keeps it: what rules see, and what it rested on."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from gardenmate.core.answer import Answer
from gardenmate.core.effects import CorrectDecision, LogDecision
from gardenmate.core.world import Decision


@dataclass(frozen=True, slots=True)
class KeptDecision(Decision):
    """A decision with everything that is exported.

    ``detail`` is what else was said (variety, temperature as typed ...). ``headline`` and ``numbers`` are of
    the answer it rests on, ``knowledge_version`` the facts that answer used. ``uid`` names the decision in
    every journal it is carried to; ``written_at`` is when it was last written, UTC, ISO 8601.
    """

    detail: Mapping[str, str] = field(default_factory=dict, hash=False)
    headline: str = ""
    numbers: tuple[Mapping[str, Any], ...] = field(default=(), hash=False)
    knowledge_version: str = ""
    uid: str = ""
    written_at: str = ""


Content = dict[str, Any]
"""The JSON object of one journal row: ``on``, ``action``, ``text``, ``crops``, ``count``, ``place``,
``temp_c``, ``detail``, ``question``, ``verdict``, ``headline``, ``numbers``, ``knowledge_version``."""


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


def changed_by(effect: CorrectDecision) -> Content:
    """The fields a correction replaces."""
    changes: Content = {}
    if effect.text is not None:
        changes["text"] = effect.text
    if effect.on is not None:
        changes["on"] = effect.on.isoformat()
    if effect.count is not None:
        changes["count"] = effect.count
    if effect.crops is not None:
        changes["crops"] = list(effect.crops)
    return changes


def decision_of(number: int, uid: str, written_at: str, content: Content) -> KeptDecision:
    """The decision a row's content describes. Raises ValueError, KeyError or TypeError when it is no such."""
    count = content.get("count")
    temp_c = content.get("temp_c")
    return KeptDecision(
        id=number,
        on=date.fromisoformat(content["on"]),
        action=str(content["action"]),
        text=str(content.get("text", "")),
        crops=tuple(str(c) for c in content.get("crops", ())),
        count=None if count is None else float(count),
        place=str(content.get("place", "")),
        temp_c=None if temp_c is None else float(temp_c),
        question=str(content.get("question", "")),
        verdict=content.get("verdict"),
        detail={str(k): str(v) for k, v in content.get("detail", {}).items()},
        headline=str(content.get("headline", "")),
        numbers=tuple(content.get("numbers", ())),
        knowledge_version=str(content.get("knowledge_version", "")),
        uid=uid,
        written_at=written_at,
    )


def pack(content: Content) -> str:
    """Content as ASCII JSON: any text comes back exactly, control signs and lone surrogates too."""
    return json.dumps(content, separators=(",", ":"), sort_keys=True)


def unpack(text: str) -> Content:
    """The content of one row. Raises ValueError when it is not a JSON object."""
    content = json.loads(text)
    if not isinstance(content, dict):
        raise ValueError("not an object")
    return content


def _number(name: str, value: object, unit: str, crop: str | None) -> dict[str, Any]:
    number = {"name": name, "value": value.isoformat() if isinstance(value, date) else value, "unit": unit}
    return number | {"crop": crop} if crop else number
