"""What is said of amounts: a bed's size, the distance between plants, each crop's count, stock and its yield."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import size_in, spacing_in

_STOCK = Pattern(
    r"\d\s?(?:lbs?|pounds?|kgs?|kilos?|kilograms?|oz|ounces?|g|grams?)\.?\s+(?:of\s+)?(?:\w+\s+)?"
    r"(?:seed|sets?|cloves?|tubers?)\b(?!\s*(?:lings?|packets?))"
)
_GIVES = Pattern(
    r"\b(?:give|gives|yields?|produces?|get|harvest|return|make|crop|grow into|come (?:of|from))\b"
)
_FROM = Pattern(r"\b(?:harvest|yield|crop|get|pounds|kilos|kg|lb)\b.*\bfrom\s+(?:about\s+)?\d")
_PERCENT = Pattern(
    r"(\d{1,3}(?:\.\d+)?)\s?(?:%|percent|per cent)\s+(?:of (?:it|them|the seed) )?"
    r"(?:germinat\w*|come up|comes up|up|viable)",
    r"germination(?: rate)?(?: is| of| at)?\s+(?:about |around )?(\d{1,3})\s?(?:%|percent|per cent)",
)


def read(said: Said) -> Iterator[Typed]:
    """size (width, length, spacing: metres), figure (of a size), count (role: crop id), percent (germination),
    asks (yield-of-stock)."""
    size = size_in(said.text, said.metric)
    if size is not None:
        typed = said.text[size.start : size.end].strip()
        yield Typed("size", size.width_m, "m", "width", typed, size.start, size.end)
        yield Typed("size", size.length_m, "m", "length", typed, size.start, size.end)
        yield from (Typed("figure", figure, role="size", text=typed) for figure in size.figures)
    apart = spacing_in(said.text)
    if apart is not None:
        metres, start, end = apart
        yield Typed("size", metres, "m", "spacing", said.text[start:end], start, end)
    for ref in said.request.crops:
        word = re.escape((ref.typed or ref.id).lower())
        counted = re.search(rf"(?<![\d.])(\d{{1,4}})\s+(?:[a-z]+\s+)?{word}", said.plain)
        if counted is not None:
            yield Typed("count", float(counted[1]), "plants", ref.id, counted.group())
    if (_STOCK.search(said.plain) and _GIVES.search(said.plain)) or _FROM.search(said.plain):
        yield Typed("asks", "yield-of-stock")
    percent = _PERCENT.search(said.plain)
    if percent is not None:
        yield Typed("percent", float(percent[1] or percent[2]), "%", "germination", percent.group())
