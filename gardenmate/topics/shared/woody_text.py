"""Wording shared by the pruning and propagation rules: fact texts in the grower's units, dates, lists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar

from gardenmate.core.units import INCH_CM, LB_PER_KG, Units, f_to_c, show_date

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

F = TypeVar("F", bound="DataclassInstance")
_FT_M = 0.3048
_SQ_FT_M2 = 0.092903
_NUMBER = r"\d{1,7}/\d{1,7}|\d{1,7}(?:\.\d{1,7})?"
_AMOUNT = re.compile(
    rf"({_NUMBER})(?:(\s?-\s?| to )({_NUMBER}))?([ -])(inches|inch|feet|foot|sq ft|lb|F\b)", re.IGNORECASE
)
_ONE = re.compile(r"\ban? (inch|foot)\b")


def in_units(text: str, units: Units) -> str:
    """A fact text (written in inches, feet, pounds and degrees F) in the grower's units."""
    if units == "us":
        return text
    return _AMOUNT.sub(_metric, _ONE.sub("1 \\1", text))


def _metric(found: re.Match[str]) -> str:
    first, joint, second, gap, unit = found.groups()
    if unit == "f":
        return found.group(0)
    values = [_value(first)] + ([_value(second)] if second else [])
    shown, metric = _converted(values, unit.lower())
    return (joint or "").join(shown) + gap + metric


def _value(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom) if bottom else float(top)


def _converted(values: list[float], unit: str) -> tuple[list[str], str]:
    if unit in ("inch", "inches"):
        cm = [v * INCH_CM for v in values]
        if max(cm) < 2.0:
            return [f"{v * 10:.0f}" for v in cm], "mm"
        return [f"{_rounded(v):g}" for v in cm], "cm"
    if unit in ("foot", "feet"):
        return [f"{v * _FT_M:.1f}" for v in values], "m"
    if unit == "sq ft":
        return [f"{v * _SQ_FT_M2:.1f}" for v in values], "square metres"
    if unit == "lb":
        return [f"{v / LB_PER_KG:.1f}" for v in values], "kg"
    return [f"{f_to_c(v):.0f}" for v in values], "C"


def _rounded(cm: float) -> float:
    if cm < 10:
        return round(2 * cm) / 2
    return round(cm) if cm < 20 else 5 * round(cm / 5)


_MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_MONTH_WORD = re.compile(r"\b(" + "|".join(_MONTH_NAMES) + r")\b")
# Months told of one region stay as told.
_REGIONAL = re.compile(
    r"Pennsylvania|Northwest|Arkansas|Florida|Carolina|California|Ontario|Maryland|Texas|Britain|Virginia|Valley|Costa"
)


def in_season(text: str, southern: bool) -> str:
    """A fact text with its (northern) month names moved half a year for a southern garden."""
    if not southern:
        return text
    parts = text.split(";")
    return ";".join(p if _REGIONAL.search(p) else _MONTH_WORD.sub(_opposite, p) for p in parts)


_AS_IS = frozenset(
    {"id", "base", "kind", "names", "generic_names", "botanical", "sources", "finish_by", "phase", "method"}
)


def in_south(fact: F) -> F:
    """A fact record (dataclass) with every text of it told for the southern half of the year; names, ids and
    sources stay."""
    changes = {f.name: _turned(getattr(fact, f.name)) for f in fields(fact) if f.name not in _AS_IS}
    return replace(fact, **changes)


def _turned(value: Any) -> Any:
    if isinstance(value, str):
        return in_season(value, southern=True)
    if isinstance(value, tuple):
        return tuple(_turned(v) for v in value)
    if isinstance(value, Mapping):
        return {key: _turned(v) for key, v in value.items()}
    return in_south(value) if is_dataclass(value) and not isinstance(value, type) else value


def _opposite(found: re.Match[str]) -> str:
    return _MONTH_NAMES[(_MONTH_NAMES.index(found.group(1)) + 6) % 12]


def span_text(start: date, end: date, today: date) -> str:
    """ "20 Feb to 5 Apr", with years where they are not this one's."""
    return f"{show_date(start, today)} to {show_date(end, today)}"


def joined(parts: Iterable[str], last: str = "and") -> str:
    """ "a, b and c"."""
    items = [part for part in parts if part]
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def sentence(text: str) -> str:
    """Text as one sentence: a capital first and a stop at the end."""
    text = text.strip()
    if not text:
        return ""
    text = text[0].upper() + text[1:]
    return text if text[-1] in ".?!" else f"{text}."


def clause(text: str) -> str:
    """Text to stand after a colon: no capital (but for names) and no stop."""
    text = text.strip().rstrip(".")
    keep = not text or text[1:2].isupper() or text.split()[0] in _PROPER
    return text if keep else text[0].lower() + text[1:]


_PROPER = frozenset({"Illinois", "Group", "August", "July", "June", "Japanese", "European", "I"})
