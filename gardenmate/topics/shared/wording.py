"""Quantities in words: the one place where a finding's values get their units, and its figures their labels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from gardenmate.core.answer import Number
from gardenmate.core.finding import Figure
from gardenmate.core.quantity import Kind, Quantity
from gardenmate.core.units import F_DEGREE, Units, c_to_f, plural, show_date
from gardenmate.topics.shared.protection import (
    frost_span,
    frost_temp,
)

_UNITS: Mapping[Kind, str] = {
    "date": "date", "days": "days", "hours": "hours", "minutes": "minutes", "percent": "%", "money": "money",
    "power": "W", "length": "cm", "weight": "kg", "angle": "degrees",
}  # fmt: skip


def in_words(quantity: Quantity, units: Units, today: date | None = None) -> str:
    """A quantity inside a sentence: "34 F", "4 degrees F", "18 Apr", "5 days", "30%"."""
    value = quantity.value
    if isinstance(value, date):
        return show_date(value, today)
    if isinstance(value, str):
        return value
    if quantity.kind == "temperature":
        return frost_temp(value, units)
    if quantity.kind == "temperature_difference":
        return frost_span(value, units)
    if quantity.kind in ("days", "hours", "minutes"):
        return plural(round(value), quantity.kind.removesuffix("s"))
    return f"{round(value)}%" if quantity.kind == "percent" else f"{value:g}"


def numbers(figures: Iterable[Figure], labels: Mapping[str, str]) -> tuple[Number, ...]:
    """The figures as an answer carries them, temperatures in F and in C. Raises KeyError for one without a label."""
    made: list[Number] = []
    for name, quantity, crop, shown in figures:
        label, value = labels[name], quantity.value
        if quantity.kind in ("temperature", "temperature_difference"):
            celsius = quantity.number
            fahrenheit = c_to_f(celsius) if quantity.kind == "temperature" else celsius / F_DEGREE
            made.append(Number(f"{name}_f", round(fahrenheit, 1), "F", label, crop, shown))
            made.append(Number(f"{name}_c", round(celsius, 1), "C", label, crop, shown))
        else:
            made.append(Number(name, value, _UNITS.get(quantity.kind, ""), label, crop, shown))
    return tuple(made)
