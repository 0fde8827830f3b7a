"""Wording shared by the pruning and propagation rules: fact texts in the grower's units, dates, lists."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from gardenmate.units import INCH_CM, LB_PER_KG, Units, f_to_c, show_date

_FT_M = 0.3048
_SQ_FT_M2 = 0.092903
_NUMBER = r"\d+/\d+|\d+(?:\.\d+)?"
_AMOUNT = re.compile(
    rf"({_NUMBER})(?:(\s?-\s?| to )({_NUMBER}))?([ -])(inches|inch|feet|foot|sq ft|lb|F\b)", re.IGNORECASE
)


def in_units(text: str, units: Units) -> str:
    """A fact text (written in inches, feet, pounds and degrees F) in the grower's units."""
    return text if units == "us" else _AMOUNT.sub(_metric, text)


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
    return round(cm) if cm < 20 else 5 * round(cm / 5)


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


def month_names(months: Iterable[int]) -> str:
    """ "Nov, Dec and Mar" from month numbers."""
    names = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    return joined(names[(m - 1) % 12] for m in months)
