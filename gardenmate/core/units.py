"""Units at the edges: Celsius, metres and dates inside; what the grower uses outside."""

from __future__ import annotations

from datetime import date
from typing import Literal

Units = Literal["us", "metric"]

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
# Exact by definition, but for pound and ounce, which are rounded (NIST Handbook 44, Appendix C).
INCH_CM = 2.54
FT_M, FT_CM = 0.3048, 30.48
MILE_KM = 1.609344
LB_PER_KG = 2.20462
OZ_G = 28.3495
QUART_L = 0.946352946
GALLON_L = 4 * QUART_L
F_DEGREE = 1.0 / 1.8
"""One F degree as a difference in C degrees."""


def f_to_c(temp_f: float) -> float:
    """Degrees F to degrees C."""
    return (temp_f - 32.0) / 1.8


def c_to_f(temp_c: float) -> float:
    """Degrees C to degrees F."""
    return temp_c * 1.8 + 32.0


def span_c_to_f(span_c: float) -> float:
    """A temperature difference in C degrees to F degrees."""
    return span_c * 1.8


def show_temp(temp_c: float, units: Units, decimals: int = 0) -> str:
    """A temperature as text in the grower's units: "45 F" or "7 C"."""
    value = c_to_f(temp_c) if units == "us" else temp_c
    rounded = round(value, decimals)
    if rounded == 0:
        rounded = 0.0  # no "-0"
    return f"{rounded:.{decimals}f} {'F' if units == 'us' else 'C'}"


def show_span(span_c: float, units: Units) -> str:
    """A temperature difference as text: "5 degrees F" or "3 degrees C"."""
    value = f"{span_c_to_f(span_c) if units == 'us' else span_c:.0f}"
    return f"{value} degree{'' if value == '1' else 's'} {'F' if units == 'us' else 'C'}"


def show_length_cm(length_cm: float, units: Units) -> str:
    """A garden length: "18 in" or "45 cm"."""
    if units == "us":
        inches = length_cm / INCH_CM
        return f"{inches:.2g} in" if inches < 1 else f"{inches:.0f} in"
    if length_cm < 1:
        return f"{10 * length_cm:.0f} mm"
    return f"{length_cm:.1f} cm" if length_cm < 5 else f"{length_cm:.0f} cm"


def show_date(day: date, today: date | None = None) -> str:
    """A date a grower reads: "18 Apr", with the year when it is not the year of ``today``."""
    text = f"{day.day} {_MONTHS[day.month - 1]}"
    return text if today is None or today.year == day.year else f"{text} {day.year}"


def plural(count: float, noun: str, nouns: str | None = None) -> str:
    """ "1 day", "3 days": a count with its noun."""
    shown = f"{count:g}"
    return f"{shown} {noun}" if shown == "1" else f"{shown} {nouns or noun + 's'}"
