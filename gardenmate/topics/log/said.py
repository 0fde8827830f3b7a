"""What every reply of the log is made of: the plain answer, and an entry's details, words and numbers."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number
from gardenmate.core.effects import CorrectDecision, LogDecision, RedoDecision, UndoDecision
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.shared.plant_names import plant_names

RESTS_ON_PREVIOUS = {"rests_on": "previous"}


def plain(
    question: Request,
    headline: str,
    *,
    details: tuple[str, ...] = (),
    asks: tuple[str, ...] = (),
    effects: tuple[LogDecision | CorrectDecision | UndoDecision | RedoDecision, ...] = (),
) -> Answer:
    """A reply of one sentence; the log gives no verdict."""
    return Answer(
        question=question, verdict=None, headline=headline, details=details, asks=asks, effects=effects
    )


def detail_of(question: Request, count: float | None = None) -> dict[str, str]:
    """What else was said, as typed: kind, price, method, temperature; the number that is the ``count`` of a deed is no
    temperature."""
    slots = question.slots
    if any(t.value == count for t in slots.temps):
        slots = replace(slots, temps=(), temp_f=None, temp_c=None)
    kinds = ", ".join(dict.fromkeys(ref.kind for ref in question.crops if ref.kind)) or slots.kind
    found = {
        "kind": kinds,
        "method": slots.method,
        "price": None if slots.price is None else f"{slots.price:g}",
        "days_to_maturity": None if slots.days_to_maturity is None else str(slots.days_to_maturity),
    }
    if slots.temps:
        found["temperature"] = f"{slots.temps[0].value:g} {slots.temps[0].unit}"
    if slots.temperature_c is not None:
        found["temp_c"] = f"{slots.temperature_c:.2f}"
    return {name: value for name, value in found.items() if value is not None}


def told_deed(done: str, count: float | None, crops: Sequence[CropRef], world: World) -> str:
    """A deed as it is told: "potted up 24 tomatoes"."""
    names = plant_names(crops, world.facts)
    return " ".join(part for part in (done, f"{count:g}" if count is not None else "", names) if part)


def numbers_of(effect: LogDecision) -> tuple[Number, ...]:
    """The figures of an entry for the JSON line."""
    numbers = [Number("logged_on", effect.on, "date", "Date", shown=False)]
    if effect.count is not None:
        numbers.append(Number("logged_count", effect.count, "", "Count", shown=False))
    return tuple(numbers)
