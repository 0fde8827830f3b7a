"""Fact texts with quantities and months marked by braces: ``{6-12 inches}``, ``{25 F}``, ``{4 degrees F}``, ``{May}``.

A text is taken apart once, when its file is read for a manner of speaking: the grower's units, and the half of the
year. Everything behind the readers sees finished words. Months are marked only where they move with the hemisphere;
those told of one region stay as published.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar, cast

from gardenmate.core.pattern import Pattern
from gardenmate.core.units import (
    F_DEGREE,
    FT_M,
    INCH_CM,
    LB_PER_KG,
    Units,
    f_to_c,
)
from gardenmate.records import NamedTuple

T = TypeVar("T")
_SMALL_CM = 2.0  # under this a length is told in mm
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
_VALUE = r"-?\d{1,7}/\d{1,7}|-?\d{1,7}(?:\.\d{1,7})?|an?"
_MARKED = Pattern(
    rf"^(?P<low>{_VALUE})(?:(?P<joint>-| to )(?P<high>{_VALUE}))?(?P<gap>[ -])"
    r"(?P<unit>inches|inch|feet|foot|sq ft|lb|degrees F|degree F|F)$"
)


class Manner(NamedTuple):
    """How facts are told: in which units, and whether for the southern half of the year."""

    units: Units = "us"
    southern: bool = False


PLAIN = Manner()
"""As published: inches and Fahrenheit, northern months."""


class Marked(NamedTuple):
    """A quantity as published: one value or a range, with the signs between it and its unit."""

    values: tuple[float, ...]
    joint: str
    gap: str
    unit: str
    published: str


@cache
def parts(text: str) -> tuple[str | Marked | int, ...]:
    """A text taken apart: words, quantities, and months as their index 0-11. Raises ValueError for a mark that is
    neither a quantity nor a month, or has no end."""
    head, *rest = text.split("{")
    found: list[str | Marked | int] = [head]
    for piece in rest:
        inside, end, after = piece.partition("}")
        if not end:
            raise ValueError(f"{{{piece} has no closing brace")
        found += [MONTHS.index(inside) if inside in MONTHS else _quantity(inside), after]
    return tuple(part for part in found if part != "")


def _quantity(inside: str) -> Marked:
    found = _MARKED.match(inside)
    if found is None:
        raise ValueError(f"{{{inside}}} is no quantity and no month")
    values = tuple(_number(v) for v in (found["low"], found["high"]) if v)
    return Marked(values, found["joint"] or "", found["gap"], found["unit"], inside)


def _number(text: str) -> float:
    if text in ("a", "an"):
        return 1.0
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom) if bottom else float(top)


def worded(text: str, manner: Manner = PLAIN) -> str:
    """A marked text as it is read in a manner."""
    if "{" not in text:
        return text
    return "".join(part if isinstance(part, str) else _said(part, manner) for part in parts(text))


def _said(part: Marked | int, manner: Manner) -> str:
    if isinstance(part, int):
        return MONTHS[(part + 6) % 12 if manner.southern else part]
    if manner.units == "us":
        return part.published
    shown, unit = _metric(part.values, part.unit)
    joint = " to " if part.joint == "-" and any(v.startswith("-") for v in shown) else part.joint
    return joint.join(shown) + part.gap + unit


def _metric(values: tuple[float, ...], unit: str) -> tuple[list[str], str]:
    if unit in ("inch", "inches"):
        cm = [v * INCH_CM for v in values]
        if max(cm) < _SMALL_CM:
            return [f"{v * 10:.0f}" for v in cm], "mm"
        return [f"{_rounded(v):g}" for v in cm], "cm"
    if unit in ("foot", "feet"):
        return [f"{v * FT_M:.1f}" for v in values], "m"
    if unit == "sq ft":
        return [f"{v * FT_M**2:.1f}" for v in values], "square metres"
    if unit == "lb":
        return [f"{v / LB_PER_KG:.1f}" for v in values], "kg"
    if unit == "F":
        return [_half(f_to_c(v)) for v in values], "C"
    return [_half(v * F_DEGREE) for v in values], "degrees C"


def _half(celsius: float) -> str:
    """To half a degree: "-1.5", "4"."""
    half = round(celsius * 2.0) / 2.0
    return f"{half + 0.0:g}"


def _rounded(cm: float) -> float:
    if cm < 10:
        return round(2 * cm) / 2
    return round(cm) if cm < 20 else 5 * round(cm / 5)


def told(value: T, manner: Manner = PLAIN) -> T:
    """A table of facts with every text of it worded; everything else as it is."""
    return cast(T, _told(value, manner))


def _told(value: Any, manner: Manner) -> Any:
    if isinstance(value, str):
        return worded(value, manner)
    if isinstance(value, Mapping):
        return {key: _told(item, manner) for key, item in value.items()}
    return [_told(item, manner) for item in value] if type(value) is list else value
