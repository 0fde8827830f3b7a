"""The machine form of an answer: one JSON object, keys as in the machine contract, always all present."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from gardenmate.core.answer import Answer, Table, Window
from gardenmate.core.place import PlaceNote
from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts

_PLAIN_SLOTS = (
    "method", "date", "temp_f", "temp_c", "count", "people", "price", "weeks", "days", "days_to_maturity",
    "percent",     "cultivar_class", "kind", "place", "plant_age_years", "when",
)  # fmt: skip


def to_json_line(answer: Answer, facts: Facts) -> str:
    """The answer as one line of ASCII JSON: safe in any locale and on any terminal."""
    return json.dumps(to_dict(answer, facts))


def to_dict(answer: Answer, facts: Facts) -> dict[str, Any]:
    """The answer as the JSON object of the machine contract."""
    question = answer.question
    readings = [r for r in (question.reading, answer.reading, answer.place_reading) if r]
    return {
        "question": question.text,
        "topic": question.topic,
        "crops": _unique(ref.id for ref in question.crops),
        "slots": slots_dict(question),
        "verdict": answer.verdict,
        "headline": answer.headline,
        "numbers": [_number(n) for n in answer.numbers],
        "chance": None if answer.chance is None else round(answer.chance, 3),
        "windows": [window_dict(w) for w in answer.windows],
        "cautions": list(answer.cautions),
        "assumptions": _unique((*question.assumptions, *answer.assumptions)),
        "sources": [_source(i, facts) for i in _unique(answer.sources)],
        "reading": "; ".join(_unique(readings)) or None,
        "act": answer.act,
        "also": [to_dict(part, facts) for part in answer.also],
        "details": list(answer.details),
        "steps": list(answer.steps),
        "changes": list(answer.changes),
        "table": _table(answer.table),
        "unused": [{"kind": t.kind, "value": _plain(t.value), "text": t.text} for t in answer.unused],
        "place": None if answer.place is None else place_dict(answer.place),
        "kept": [{"store": k.store, "id": k.id, "text": k.text} for k in answer.kept],
    }


def slots_dict(question: Request) -> dict[str, Any]:
    """Only the slots that were found, with numbers as typed and dates as YYYY-MM-DD."""
    slots = question.as_stated
    found: dict[str, Any] = {}
    for name in _PLAIN_SLOTS:
        value = getattr(slots, name)
        if value is not None:
            found[name] = _plain(value)
    if slots.temps:
        found["temps"] = [{"value": _plain(t.value), "unit": t.unit, "role": t.role} for t in slots.temps]
    return found


def window_dict(window: Window) -> dict[str, Any]:
    """One window; ``kind`` is there only when the crop has kinds. After ``sure_to`` it is tight (null: all of it is);
    ``days_to_maturity`` and ``cover`` are those it takes where a middling variety does not ripen in the open."""
    entry: dict[str, Any] = {
        "crop": window.crop,
        "activity": window.activity,
        "earliest": window.earliest.isoformat(),
        "best_from": window.best_from.isoformat(),
        "best_to": window.best_to.isoformat(),
        "latest": window.latest.isoformat(),
    }
    if window.kind:
        entry["kind"] = window.kind
    entry["sure_to"] = None if window.sure_to is None else window.sure_to.isoformat()
    if window.days_to_maturity is not None:
        entry["days_to_maturity"] = round(window.days_to_maturity)
    if window.cover:
        entry["cover"] = window.cover
    return entry


def place_dict(place: PlaceNote) -> dict[str, Any]:
    """The place an answer was worked for: distances in km, heights in m, the usual error of its dates in days."""
    climb = place.height_difference_m
    return {
        "name": place.name,
        "station": place.station,
        "km": round(place.km, 1),
        "height_difference_m": None if climb is None else round(climb),
        "spread_days": round(place.spread_days, 1),
        "own": place.own,
    }


def _number(number: Any) -> dict[str, Any]:
    entry = {"name": number.name, "value": _plain(number.value), "unit": number.unit}
    if number.crop:
        entry["crop"] = number.crop
    return entry


def _table(table: Table | None) -> dict[str, Any] | None:
    if table is None:
        return None
    return {"head": list(table.heads), "rows": [list(row) for row in table.rows]}


def _plain(value: Any) -> Any:
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return int(value) if value == int(value) and abs(value) < 1e15 else round(value, 4)
    return value


def _source(source_id: str, facts: Facts) -> dict[str, str]:
    return {"id": source_id, "title": facts.source(source_id).title}


def _unique(items: Any) -> list[Any]:
    return list(dict.fromkeys(items))
