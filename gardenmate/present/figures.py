"""A figure of an answer as a grower reads it: rounded to what it is worth, in the grower's units."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Number
from gardenmate.core.text import harmless
from gardenmate.core.units import (
    FT_M,
    GALLON_L,
    INCH_CM,
    QUART_L,
    Units,
    show_date,
)

_TEMPERATURES = ("F", "C")
# Unit of the answer -> what a grower with US units reads, and how many of the one make one of the other.
_US: dict[str, tuple[str, float]] = {
    "m": ("ft", FT_M),
    "cm": ("in", INCH_CM),
    "litres": ("qt", QUART_L),
    "l": ("qt", QUART_L),
    "cm3": ("cu in", INCH_CM**3),
}
_SINGULAR = {
    "days": "day", "weeks": "week", "hours": "hour", "minutes": "minute", "plants": "plant",
    "seeds": "seed", "trays": "tray", "cells": "cell", "years": "year", "litres": "litre",
}  # fmt: skip
_COUNTED = ("days", "weeks", "hours", "minutes", "g", "kg")


def is_for(number: Number, units: Units) -> bool:
    """True for a figure to be shown in these units: of a temperature in both only one is."""
    if not number.shown or not number.label or number.value is None:
        return False
    return number.unit not in _TEMPERATURES or (number.unit == "F") == (units == "us")


def show_number(number: Number, units: Units, today: date) -> str:
    """A figure with its unit: "18 Apr", "50 F", "8 days", "40 ft", "80%"."""
    value, unit = number.value, number.unit
    if isinstance(value, date):
        return show_date(value, today)
    if isinstance(value, str) or value is None:
        unit = _SINGULAR.get(unit, unit) if value == "1" else unit
        return f"{harmless(str(value))} {'' if unit == 'date' else unit}".strip()
    if units == "us" and unit in _US:
        unit, size = _US[unit]
        value = value / size
        if unit == "qt" and value * QUART_L >= GALLON_L:
            unit, value = "gal", value * QUART_L / GALLON_L
    text = _rounded(float(value), unit)
    if unit == "%":
        return f"{text}%"
    if text == "1":
        unit = _SINGULAR.get(unit, unit)
    return f"{text} {unit}".strip()


def _rounded(value: float, unit: str) -> str:
    """The value with as many digits as help: whole F, half C, whole days from eight on, cents."""
    if unit == "C":
        value = round(2.0 * value) / 2.0
    if unit == "money":
        return f"{value:,.2f}"
    size = abs(value)
    whole = unit == "F" or size >= 100 or (size >= 8 and unit in _COUNTED)
    decimals = 0 if whole or value == int(value) else (1 if size >= 1 else 2)
    text = f"{value:,.{decimals}f}"
    if decimals:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
