"""Requests built by hand for the rules, with what language would have read in their text."""

from __future__ import annotations

from datetime import date
from typing import Any

from gardenmate.core.question import Request
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent.dangers import manner
from gardenmate.language.said import Said, plain, said_of
from gardenmate.records import replace

_FACTS = Facts()


def spoken(*args: Any, today: date = date(2027, 4, 18), metric: bool = False, **fields: Any) -> Request:
    """A `Request` of these fields, with the typed values of its text, and how a danger in it is spoken of."""
    return heard(Request(*args, **fields), today, metric)


def heard(request: Request, today: date = date(2027, 4, 18), metric: bool = False) -> Request:
    """The request with the typed values of its text."""
    read = said_of(request.topic, Said(request.text, plain(request.text), request, today, _FACTS, metric))
    cues = dict(request.cues)
    if "danger" in cues:
        cues.setdefault("danger_said", manner(request.text))
    return replace(request, typed=(*request.typed, *read), cues=cues)
