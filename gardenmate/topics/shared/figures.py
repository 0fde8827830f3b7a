"""Figures of an answer: temperatures in both units, ranges, and how many of them are drawn."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number
from gardenmate.core.units import c_to_f
from gardenmate.records import replace
from gardenmate.topics.shared.grammar import span


def temp_numbers(name: str, label: str, temp_c: float, crop: str | None = None) -> tuple[Number, Number]:
    """One temperature as two numbers, ``name_f`` and ``name_c``."""
    return (
        Number(f"{name}_f", round(c_to_f(temp_c), 1), "F", label, crop),
        Number(f"{name}_c", round(temp_c, 1), "C", label, crop),
    )


def range_numbers(
    name: str, label: str, low: float, high: float, unit: str, crop: str | None = None
) -> tuple[Number, ...]:
    """A range: ``name_min`` and ``name_max`` for the machine, ``name`` as text for the grower."""
    return (
        Number(name, span(tidied(low), tidied(high)), unit, label, crop),
        Number(f"{name}_min", tidied(low), unit, label, crop, shown=False),
        Number(f"{name}_max", tidied(high), unit, label, crop, shown=False),
    )


def temp_range_numbers(
    name: str, label: str, low_c: float, high_c: float, crop: str | None = None
) -> tuple[Number, ...]:
    """A temperature range in both units: ``name_f`` / ``name_c`` as text, ``name_min_f`` ... as numbers."""
    made: list[Number] = []
    for unit, low, high in (("F", c_to_f(low_c), c_to_f(high_c)), ("C", low_c, high_c)):
        key = unit.lower()
        made += (
            Number(f"{name}_{key}", span(round(low), round(high)), unit, label, crop),
            Number(f"{name}_min_{key}", tidied(round(low, 1)), unit, label, crop, shown=False),
            Number(f"{name}_max_{key}", tidied(round(high, 1)), unit, label, crop, shown=False),
        )
    return tuple(made)


def finished(answer: Answer) -> Answer:
    """The answer with its figures drawn plainly: only answers about several crops tell whose each is."""
    if len({n.crop for n in answer.numbers if n.crop}) > 1:
        return answer
    return at_most_shown(replace(answer, numbers=tuple(n._replace(crop=None) for n in answer.numbers)))


_MOST_SHOWN = 7  # figures shown; design value


def at_most_shown(answer: Answer) -> Answer:
    """The answer with its first figures drawn and the rest kept for the JSON line: more only hides the one
    that matters. A temperature in F and in C, or a range's two ends, count by their label."""
    if len({n.crop for n in answer.numbers if n.crop}) > 1:
        return answer
    labels = list(dict.fromkeys(n.label for n in answer.numbers if n.shown and n.label))
    if len(labels) <= _MOST_SHOWN:
        return answer
    drawn = set(labels[:_MOST_SHOWN])
    return replace(
        answer, numbers=tuple(n._replace(shown=n.shown and n.label in drawn) for n in answer.numbers)
    )


def tidied(value: float) -> float | int:
    rounded = round(value, 2)
    return int(rounded) if rounded == int(rounded) else rounded
