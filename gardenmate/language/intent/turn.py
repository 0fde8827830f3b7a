"""One line to a `Turn`: its parts, what each does, and why it was read so. Nothing behind this reads the text."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from types import MappingProxyType

from gardenmate.core.question import Act, Part, Request, Turn, Typed
from gardenmate.core.units import Units
from gardenmate.knowledge.facts import Facts
from gardenmate.language.intent import done, terms
from gardenmate.language.intent.followups import resolve
from gardenmate.language.intent.lost import begun_again
from gardenmate.language.intent.reading import Context
from gardenmate.language.intent.sense import sense_of
from gardenmate.language.intent.understand import LONGEST, draft_of, weighed
from gardenmate.language.said import Said, plain, said_of
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.values.typed import typed_on

_ACTS: MappingProxyType[str, Act] = MappingProxyType(
    {"log": "report", "garden": "tell", "out-of-scope": "talk", "explain": "manage"}
)


def read_turn(
    text: str, *, today: date, units: Units, facts: Facts, lexicon: Lexicon, context: Context | None = None
) -> Turn:
    """The turn ``text`` is, on the day ``today``, in the light of the turns before. Total: any text gives one."""
    context = context or Context(units=units, today=today)
    draft = draft_of(text[:LONGEST], today, units, lexicon, context)
    reading = begun_again(resolve(draft, lexicon, context), draft)
    request, why = _routed(reading.question, facts)
    request = replace(request, typed=(*typed_on(draft.board), *_said(request, text[:LONGEST], today, facts)))
    before = context.previous.sense if context.previous is not None else None
    request = replace(request, sense=sense_of(draft.board, before))
    part = Part(_ACTS.get(request.topic, "ask"), request, text=text)
    return Turn(text, (part,), (*weighed(draft), *why, *_traced(part)))


def understand(
    text: str, *, today: date, units: Units, facts: Facts, lexicon: Lexicon, context: Context | None = None
) -> Request:
    """The request of the first thing said in ``text``."""
    turn = read_turn(text, today=today, units=units, facts=facts, lexicon=lexicon, context=context)
    return turn.parts[0].request


def _routed(request: Request, facts: Facts) -> tuple[Request, tuple[str, ...]]:
    """The request under the topic it is answered under, and why where that is not the one the words lean to."""
    entry = done.as_entry(request, facts)
    if entry is not request:
        return entry, ("topic log: a deed told as done",)
    asked = terms.as_asked(request, facts)
    if asked is not request and asked.topic != request.topic:
        return asked, (f"topic {asked.topic}: asks for a word of the trade, or the zone",)
    return asked, ()


def _said(request: Request, text: str, today: date, facts: Facts) -> tuple[Typed, ...]:
    return said_of(request.topic, Said(text, plain(text), request, today, facts))


def _traced(part: Part) -> tuple[str, ...]:
    request = part.request
    crops = (
        ", ".join(f"{c.id}{'/' + c.kind if c.kind else ''} ('{c.typed}')" for c in request.crops) or "none"
    )
    lines = [f"act {part.act}, topic {request.topic}", f"crops: {crops}"]
    if request.sense.polar:
        lines.append(f"wants yes or no{', the other way round' if request.sense.turned else ''}")
    lines += [
        f"{t.kind}{f' ({t.role})' if t.role else ''}: {t.value} {t.unit}".rstrip() for t in request.typed
    ]
    lines += [f"{name}: {value}" for name, value in sorted(request.cues.items())]
    return (*lines, *((request.reading,) if request.reading else ()), *request.assumptions)
