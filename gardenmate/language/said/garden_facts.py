"""What a statement tells of the garden apart from place and frost: one `fact` for each thing told.

``role`` is the key of the garden file it belongs to ("gear.mat", "frame.width_m"), or the part of it ("plants.gone").
Lengths and heights are metres.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.knowledge.facts import Facts
from gardenmate.language.said import Said
from gardenmate.language.values.heights import height_told
from gardenmate.language.values.sizes import SPELLED, number_of, size_in

LONGEST = 2000  # characters read of a statement (design value)


def read(said: Said) -> Iterator[Typed]:
    """fact (role = garden key): place.lat, place.lon, place.elevation_m (``text`` as typed), place.low_spot, frost.risk
    (percent), household.people, preferences.units (metric, us), preferences.price (what it is the price of), frame.*
    (unit "" where a bare figure was read), gear.ID (0: no longer had; unit "more": beside those had), plants.planted,
    plants.owned, plants.gone, crops.wanted (False: not grown), beds.count, beds.width_m, beds.length_m."""
    text = said.plain[:LONGEST]
    yield from _spot(text)
    height = height_told(said.text[:LONGEST])
    if height is not None:
        yield Typed("fact", height[0], "m", "place.elevation_m", text=height[1])
    yield from _low_spot(text)
    yield from _numbers(text)
    yield from _units(text)
    yield from _frame(text, said.metric)
    yield from _gear(text, said.facts)
    yield from _plants(text)
    yield from _price(text)
    yield from _beds(text, said.metric)


# -- place and people ---------------------------------------------------------------------------------
_SPOT = Pattern(
    r"(-?\d{1,2}\.\d+)\s{0,3}°?\s{0,3}([ns])?[,;\s]{1,3}(-?\d{1,3}\.\d+)\s{0,3}°?\s{0,3}([ew])?\b",
    ignore_case=True,
)


def _spot(text: str) -> Iterator[Typed]:
    """A spot in decimal degrees: "46.8, -92.1" or "46.8 N 92.1 W"."""
    match = _SPOT.search(text)
    if match is None:
        return
    lat = float(match[1]) * (-1 if match[2] == "s" else 1)
    lon = float(match[3]) * (-1 if match[4] == "w" else 1)
    if abs(lat) <= 90 and abs(lon) <= 180:
        yield Typed("fact", lat, role="place.lat")
        yield Typed("fact", lon, role="place.lon")


_LOW = Pattern(
    r"\b(?:frost pocket|low spot|frost hollow|in a (?:dip|hollow)|valley bottom|"
    r"where (?:it|the cold) pools)\b"
)
_ANOTHERS = Pattern(
    r"\b(?:mum|mom|dad|friend|neighbou?r|sister|brother|\w+)'s (?:plot|garden|place)\b[^.;]*$"
)
_HIGH = Pattern(r"\b(?:not|never|no longer) (?:in )?a (?:frost pocket|low spot)\b")


def _low_spot(text: str) -> Iterator[Typed]:
    match = _LOW.search(text)
    if match is not None and not _ANOTHERS.search(text[: match.start()]):
        yield Typed("fact", _HIGH.search(text) is None, role="place.low_spot")


_RISK = Pattern(
    r"\b(\d{1,2})\s*(?:%|percent|per cent)\s+(?:frost )?(?:risk|chance of frost)\b",
    r"\brisk of (\d{1,2})\s*(?:%|percent|per cent)",
)
_HOUSEHOLD = Pattern(
    r"\b(?:household|family|people)\s{0,3}(?:size\s{0,3})?(?:to|is|of|=|:|now|are)?\s{0,3}(?:now\s{1,3})?(\d{1,4})\b(?!\s{0,3}(?:ft|m|f|c|%))"
)


def _numbers(text: str) -> Iterator[Typed]:
    """The frost risk put up with, and the people to feed."""
    risk = _RISK.search(text)
    if risk is not None and int(risk[1] or risk[2]):
        yield Typed("fact", int(risk[1] or risk[2]), "%", "frost.risk")
    people = _HOUSEHOLD.search(text)
    if people is not None:
        yield Typed("fact", int(people[1]), role="household.people")


_METRIC = Pattern(r"\b(?:celsius|celcius|centigrade|metric)\b")
_US = Pattern(r"\b(?:fahrenheit|farenheit|imperial|us units|feet and inches)\b")
_NOT = Pattern(r"\b(?:not|no|don'?t|do not|never|stop|instead of|rather than)\b[^.,;]{0,40}$")


def _units(text: str) -> Iterator[Typed]:
    wanted: set[str] = set()
    for units, other, pattern in (("metric", "us", _METRIC), ("us", "metric", _US)):
        match = pattern.search(text)
        if match is not None:
            wanted.add(other if _NOT.search(text[: match.start()]) else units)
    if len(wanted) == 1:
        yield Typed("fact", wanted.pop(), role="preferences.units")


# -- frame and gear -----------------------------------------------------------------------------------
_LEAST_FRAME_M, _LONGEST_FRAME_M = 0.1, 15.0  # anything else is another thing's size (design values)
_FRAME = Pattern(r"\b(?:cold ?frames?|frames?|lid)\b")
_NO_FRAME = Pattern(r"\b(?:no|sold|lost|without) (?:a |the |my )?(?:cold )?frames?\b")
_HOUSE = Pattern(r"\b(?:greenhouse|glasshouse|tunnel)\b")
_GLAZING = (
    ("twin-wall", Pattern(r"\b(?:twin|double|multi)[- ]?wall|polycarbonate\b")),
    ("double-glass", Pattern(r"\bdouble[- ]glaz|\bstorm windows?\b")),
    ("glass", Pattern(r"\bglass\b|\bold windows?\b|\bsash")),
    ("film", Pattern(r"\b(?:plastic|polythene|film)\b")),
)
_INSULATED = Pattern(r"\b(?:insulated|insulation|foam|straw bales?)\b")


def _frame(text: str, metric: bool) -> Iterator[Typed]:
    """Size, lid and insulation of the cold frame, when the statement is about it."""
    frame = _FRAME.search(text)
    if frame is None or _NO_FRAME.search(text):
        return
    house = _HOUSE.search(text)
    if house is not None and house.start() < frame.start():
        text = text[frame.start() :]  # the size before it is the greenhouse's
    size = size_in(text, metric)
    if size is not None and size.width_m >= _LEAST_FRAME_M and size.length_m <= _LONGEST_FRAME_M:
        unit = "m" if size.unit_typed else ""
        yield Typed("fact", size.width_m, unit, "frame.width_m")
        yield Typed("fact", size.length_m, unit, "frame.length_m")
    glazing = next((name for name, pattern in _GLAZING if pattern.search(text)), None)
    if glazing is not None:
        yield Typed("fact", glazing, role="frame.glazing")
    if _INSULATED.search(text):
        yield Typed("fact", True, role="frame.insulated")


_WITHOUT = Pattern(
    r"(?:\b(?:no|without|sold|lost|lose|lent|scrapped|broke|forget|remove|delete|returned)\b|\bgot rid of\b|"
    r"\bgave away\b|\b(?:don'?t|do not|haven'?t|have not|no longer)\b(?:\s+\w+\b){0,3})"
    r"(?:\s+(?:a|an|any|the|my|our|more|old|\w+ed))*\s*(?:\w+\s+)?$"
)
_BROKEN_AFTER = Pattern(
    r"^\s{0,3}(?:is|are|has|have|just|got|was|were)?\s{0,3}(?:broke|broken|died|gone|collapsed|blew away)\b"
)
_MORE = Pattern(r"\b(?:another|an extra|extra|more|also|additional)\b(?:\s+[\w-]+){0,3}\s*$")
_COUNT = Pattern(rf"(?<![\w.])(\d+|{SPELLED})(?:\s+(?:of\s+)?(?!\by\b|x\b)[a-z-]+){{0,3}}\s*$")
_MOST_GEAR = 10_000  # pieces; more is no count of gear; design value


def _gear(text: str, facts: Facts) -> Iterator[Typed]:
    """Gear owned, with how many, and gear there is no longer."""
    sized = size_in(text, metric=False) is not None
    for gear, entry in facts.table("gear").items():
        forms = sorted(entry["words"].split("|"), key=len, reverse=True)
        match = re.search(rf"(?<![\w-])(?:{'|'.join(map(re.escape, forms))})(?![\w-])", text)
        if match is None or (gear == "frame" and text[match.end() :].startswith(" window")):
            continue
        before, after = text[: match.start()], text[match.end() :]
        if _PLANTS_AT.search(before):
            continue  # "20 tomatoes under lights" tells where plants stand
        if _WITHOUT.search(before) or _BROKEN_AFTER.match(after):
            yield Typed("fact", 0, role=f"gear.{gear}")
            continue
        yield Typed("fact", _count_before(before), "more" if _MORE.search(before) else "", f"gear.{gear}")
        if gear == "frame" and sized:
            yield Typed("fact", True, role="frame.sized")


_PLANTS_AT = Pattern(
    r"\b\d{1,4} [a-z]+(?: [a-z]+){0,2} (?:under|beneath|on|in)(?: the| my| our)?\s*$", ignore_case=True
)


def _count_before(before: str) -> float:
    """How many, from the number that stands up to three words before the thing; one when none does."""
    match = _COUNT.search(re.split(r",|;|\band\b", before)[-1])  # "a mat and two lamps": two of the last
    count = number_of(match[1]) if match is not None else None
    return count if count is not None and 0 < count <= _MOST_GEAR else 1.0


# -- plants, prices and beds --------------------------------------------------------------------------
_YEAR = Pattern(r"(?<![\d$£€.])((?:19|20)\d\d)(?!\s*(?:feet|foot|ft|m|metres|meters)\b)\b")
_OWNED = Pattern(
    r"\b(?:have|got|own|there'?s|there is|there are|planted|put in|our|my|cut down|dug up|removed|lost)\b"
)
_GONE = Pattern(
    r"\b(?:cut down|dug up|took out|removed?|lost|died|dead|sold|forget|no longer|don'?t have|got rid of)\b"
)
_GROWN = Pattern(r"\b(?:grow|growing|want|like|love|eat|plant|hate|sow|wish)\b")
_NOT_GROWN = Pattern(r"\b(?:don'?t|do not|no longer|stopped|never|won'?t|hate|forget|not)\b")


def _plants(text: str) -> Iterator[Typed]:
    """How the plants named stand to the garden: planted in a year, there, gone; grown, or not."""
    year = _YEAR.search(text)
    if year is not None:
        yield Typed("fact", int(year[1]), role="plants.planted")
    if _OWNED.search(text):
        yield Typed("fact", True, role="plants.owned")
    if _GONE.search(text):
        yield Typed("fact", True, role="plants.gone")
    if _GROWN.search(text):
        yield Typed("fact", _NOT_GROWN.search(text) is None, role="crops.wanted")


_PRICED = (
    ("tariff", Pattern(r"\b(?:electric\w*|power|kwh|kilowatt|tariff|unit)\b")),
    ("time_rate", Pattern(r"\b(?:time|hour|labou?r)\b")),
)


def _price(text: str) -> Iterator[Typed]:
    of = next((name for name, pattern in _PRICED if pattern.search(text)), None)
    if of is not None:
        yield Typed("fact", of, role="preferences.price")


_BEDS = Pattern(
    rf"(?<!\d)(\d{{1,6}}|{SPELLED})\s{{1,3}}(?:raised\s{{1,3}}|long\s{{1,3}}|new\s{{1,3}}|garden\s{{1,3}})*beds?\b"
)


def _beds(text: str, metric: bool) -> Iterator[Typed]:
    match, size = _BEDS.search(text), size_in(text, metric)
    count = number_of(match[1]) if match is not None else None
    if size is not None and count is not None:
        yield Typed("fact", count, role="beds.count")
        yield Typed("fact", size.width_m, "m", "beds.width_m")
        yield Typed("fact", size.length_m, "m", "beds.length_m")
