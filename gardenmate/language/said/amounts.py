"""What is said of amounts: a bed's size, the distance between plants, each crop's count, stock and its yield."""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.core.units import FT_M
from gardenmate.language.said import Said
from gardenmate.language.values.sizes import SPELLED, number_of, size_in, spacing_in

_STOCK = Pattern(
    r"\d\s?(?:lbs?|pounds?|kgs?|kilos?|kilograms?|oz|ounces?|g|grams?)\.?\s+(?:of\s+)?(?:\w+\s+)?"
    r"(?:seed|sets?|cloves?|tubers?)\b(?!\s*(?:lings?|packets?))"
)
_GIVES = Pattern(
    r"\b(?:give|gives|yields?|produces?|get|harvest|return|make|crop|grow into|come (?:of|from))\b"
)
_FROM = Pattern(r"\b(?:harvest|yield|crop|get|pounds|kilos|kg|lb)\b.*\bfrom\s+(?:about\s+)?\d")
_TRAYS_OF = Pattern(
    r"\b(\d{1,3}|two|three|four|five|six|eight|ten|a dozen)\s+(?:trays|flats)\s+(?:of|with)\s+(\d{2,3})\b"
)
_NUMBER = rf"(?<![\w.,$£€-])(\d{{1,4}}|{SPELLED}|a|an)"
_PACKETS = Pattern(
    rf"{_NUMBER} (?:\w+ )?(?:packets?|pkts?)\b|{_NUMBER} (?:\w+ )?packs?(?= (?:of )?(?:\w+ )?seeds?\b| (?:has|holds))"
)
_PER_PACKET = Pattern(
    r"\b(?:packets?|pkts?|packs?)(?: of [a-z]+)? (?:of|has|have|holds?|contains?|with|says|is) (?:about |only )?"
    r"(\d{1,4}) (?:\w+ )?seeds?\b",
    r"(?<![\w.,$£€-])(\d{1,4}) seeds? (?:in|to|per|a) (?:a |the |each |my )?(?:packet|pkt|pack)\b",
)
_WANTED = Pattern(
    rf"\b(?:i|we)(?: only| just)? (?:need|want) (?:about |only |just )?(\d{{1,4}}|{SPELLED})\b"
    r"(?! (?:packet|pack|tray|ft))",
    r"\bfor (?:about )?(\d{1,4}) (?:\w+ )?(?:plants|seedlings)\b",
)
_ROW_LONG = Pattern(
    r"(?<![\w.,$£€-])(\d{1,3}(?:\.\d)?)[- ]?(ft|feet|foot|m|metres?|meters?)[- ](?:\w+ )?(?:rows?|beds?)\b"
)
_ROWS = Pattern(r"\bin (\d{1,2}|two|three|four|five|six|eight|ten) rows\b")
_LACKS = Pattern(
    r"\b(?:no|without|(?:don't|do not|dont|haven't|havent|haven't got|lack) (?:have |got |own )?)\s*"
    r"(?:any |a |an |the )?((?:(?:heat|heated|grow|growing|led|warm)\s+)?(?:lights?|lamps?|mats?)"
    r"(?:\s*(?:,|or|nor|and|no|any|a|/)+\s*(?:(?:heat|heated|grow|growing|led|warm)\s+)?(?:lights?|lamps?|mats?))*)\b"
)
_GEAR = (("lamp", Pattern(r"\b(?:lights?|lamps?)\b")), ("mat", Pattern(r"\bmats?\b")))
_KG = {"k": 1.0, "l": 0.45359237, "p": 0.45359237}  # by the first letter of the unit; a pound is exactly that
_PRODUCE = Pattern(r"(?<![\d.$£€])(\d{1,4}(?:\.\d+)?)\s?(kgs?|kilos?|lbs?|pounds?)\b")
_COUNTED = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10, "a dozen": 12}
_GUESSES = Pattern(
    rf"(?<![\w.,$£€-])(\d{{1,3}}|{SPELLED}) (?:[a-z]+ )?or (\d{{1,3}}|{SPELLED})\b(?! (?:so|more|twice))"
)
_JUDGED = Pattern(
    r"\b(?:enough|too (?:many|much|few)|overkill|plenty|silly|sane|excessive|overdo(?:ing)?|about right)\b"
    r"|\b(?:right$|ok for)\b"
    r"|\b(?:do|does|will|would)\b.{0,30}\b(?:do|feed)\b|\bfeeds?\b"
)
_BARE_JUDGED = Pattern(
    r"^\d{1,3} (?:[a-z]+ ){1,3}for (?:\d+|us|two|three|four|five|six)\s?\?$"
)  # "10 asparagus for 3?"
_PERCENT = Pattern(
    r"(\d{1,3}(?:\.\d+)?)\s?(?:%|percent|per cent)\s+(?:of (?:it|them|the seeds?|seeds?) )?(?:to |will |usually )?"
    r"(?:germinat\w*|come up|comes up|up|viable)",
    r"germination(?: rate)?(?: is| of| at)?\s+(?:about |around )?(\d{1,3})\s?(?:%|percent|per cent)",
    r"(\d{1,3}(?:\.\d+)?)\s?(?:%|percent|per cent)\s+(?:germ|rate)\b",
)


def _packets(said: Said) -> Iterator[Typed]:
    """Packets counted, the seeds in one, the plants wanted of them, and the length of the row they are for."""
    packs, inside = _PACKETS.search(said.plain), _PER_PACKET.search(said.plain)
    if packs is None and inside is None:
        return
    found = (("packets", packs), ("in-packet", inside), ("plants-wanted", _WANTED.search(said.plain)))
    for kind, match in found:
        if match is not None:
            i = 1 if match[1] is not None else 2
            amount = 1.0 if match[i] in ("a", "an") else number_of(match[i]) or 1.0
            yield Typed(kind, amount, "", None, match.group(), match.start(i), match.end(i))
    row = _ROW_LONG.search(said.plain)
    if row is not None:
        metres = float(row[1]) * (FT_M if row[2].startswith("f") else 1.0)
        yield Typed("row", round(metres, 3), "m", None, row.group(), row.start(1), row.end(2))


def _guesses(said: Said) -> Iterator[Typed]:
    """Two numbers of plants put to choose from, where people are to be fed: "1 zucchini or 2 for four people"."""
    match = _GUESSES.search(said.plain)
    if match is None or said.request.ask.people is None:
        return
    for i in (1, 2):
        amount = number_of(match[i])
        if amount:
            yield Typed("guess", amount, "plants", None, match[i], match.start(i), match.end(i))


def read(said: Said) -> Iterator[Typed]:
    """size (width, length, spacing: metres), figure (of a size), count (role: crop id), percent (germination),
    weight (produce), asks (yield-of-stock, right-number), count of trays and of cells in each, gear (lamp, mat:
    lacking), packets, in-packet (seeds), plants-wanted, row (m), guess (of plants, two to choose from)."""
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
    trays = _TRAYS_OF.search(said.plain)
    if trays is not None:
        yield Typed("count", _COUNTED.get(trays[1]) or int(trays[1]), "trays", "trays", trays.group())
        yield Typed("count", int(trays[2]), "cells", "cells", trays.group())
    yield from _packets(said)
    yield from _guesses(said)
    rows = _ROWS.search(said.plain)
    if rows is not None:
        yield Typed("count", _COUNTED.get(rows[1]) or int(rows[1]), "rows", "rows", rows.group())
    weight = _PRODUCE.search(said.plain)
    if weight is not None:
        yield Typed("weight", float(weight[1]) * _KG[weight[2][0]], "kg", "produce", weight.group())
    lacks = _LACKS.search(said.plain)
    if lacks is not None:
        yield from (
            Typed("gear", piece, role="lacking", text=lacks.group())
            for piece, pattern in _GEAR
            if pattern.search(lacks[1]) is not None
        )
    judged = _JUDGED.search(said.plain)
    bare = said.request.sense.polar or _BARE_JUDGED.search(said.plain) is not None
    if judged is not None or (bare and said.request.ask.people is not None):
        yield Typed("asks", "right-number", text=judged.group() if judged is not None else "")
    percent = _PERCENT.search(said.plain)
    if percent is not None:
        yield Typed("percent", float(percent[1] or percent[2]), "%", "germination", percent.group())
