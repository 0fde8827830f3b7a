"""A value with the kind it is. Decisions carry these; units, dates and plural forms are made where it is worded."""

from __future__ import annotations

from datetime import date
from typing import Literal

from gardenmate.records import NamedTuple

Kind = Literal[
    "temperature", "temperature_difference", "date", "days", "hours", "minutes", "length", "count", "percent",
    "money", "power", "weight", "angle", "word",
]  # fmt: skip
"""Held in degrees C, C degrees, dates, days, hours, minutes, cm, plain numbers, percent, the garden's money, watts,
kg and degrees of arc; a word is an id or a text that is the same in every unit."""


class Quantity(NamedTuple):
    """One value of a kind."""

    value: float | int | str | date
    kind: Kind

    @property
    def number(self) -> float:
        """The value of a kind that holds numbers. Raises TypeError for one that holds none."""
        if isinstance(self.value, int | float):
            return float(self.value)
        raise TypeError(f"{self.kind} holds no number: {self.value!r}")


def temperature(celsius: float) -> Quantity:
    """A temperature, degrees C."""
    return Quantity(celsius, "temperature")


def difference(celsius_degrees: float) -> Quantity:
    """A difference of temperatures, C degrees."""
    return Quantity(celsius_degrees, "temperature_difference")
