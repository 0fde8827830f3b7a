"""What is said of cold nights: lows in a row with their days, lying snow, heights and shoots."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from gardenmate.core.pattern import Pattern
from gardenmate.core.question import Typed
from gardenmate.core.units import INCH_CM
from gardenmate.language.said import Said

_WORDS = {
    "half": 0.5, "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "twelve": 12,
}  # fmt: skip


def _either(*alternatives: str) -> tuple[Pattern, ...]:
    """A pattern for each wording: every one names the number and unit of a size."""
    return tuple(Pattern(one) for one in alternatives)


def _first(patterns: tuple[Pattern, ...], text: str) -> re.Match[str] | None:
    return next((found for one in patterns if (found := one.search(text)) is not None), None)


_SIZE = (
    r"(?P<n>(?<!\d)\d+(?:\.\d+)?|half|an?|one|two|three|four|five|six|seven|eight|nine|ten|twelve)"
    r"(?: an?)?[ -]?(?P<u>in|inch|inches|\"|ft|foot|feet|cm)(?:\b|(?<=\"))"
)
_SNOW = _either(
    rf"{_SIZE}(?: deep)?(?: of)? snow",
    rf"\bsnow\b(?: \w+){{0,6}},?(?: about| is| lies| lying| maybe| some)? {_SIZE}(?! (?:tall|high|plants?|seedlings?))",
)
_LIES = Pattern(
    r"\bsnow (?:is |lying |lies |still )*(?:on|over|covers|covering)\b|\bunder (?:the |deep |a foot of )?snow\b",
    r"\bof snow (?:on|over)\b|\b(?:covered|buried)(?: in| with| by| under)? (?:\w+ ){0,4}?snow\b|\bsnow[ -]covered\b",
)
_SHOOTS = _either(
    rf"{_SIZE}(?: long)?(?: of)?(?: (?:new|red|green|soft|fresh))* (?:shoots?|growth|canes?)\b",
    # "half-inch green" is a stage of a fruit tree's buds, not the length of its shoots
    rf"{_SIZE} of green\b",
    rf"\b(?:shoots?|growth)\b(?: \w+){{0,3}}? {_SIZE}",
)
_TALL = _either(
    rf"{_SIZE} (?:tall|high|plants?|seedlings?)\b",
    rf"\b(?:up|about|only|are|is|at) {_SIZE}(?=[\s,.?!]|$)(?! the\b| my\b| our\b| green\b|(?<=in) )",
)
_IN_FLOWER = Pattern(
    r"\b(?:flow(?:e?rs|res)|bloss?oms?|blooms)\b(?! ?(?:beds?|pots?))",
    r"\b(?:in (?:full )?(?:flower|bloom)|flowering|blooming|blossoming|open (?:\w+ )?(?:flowers?|blossoms?|blooms?)"
    r"|(?:flowers?|blossoms?|blooms?) (?:are |is |have |has |all )*open\w*)\b",
)
_NOT_YET = Pattern(
    r"\b(?:not|n't|no|without|before)(?: \w+){0,2} (?:flower|bloom|blossom)\w*"
    r"|\b(?:flower|blossom|bloom)?s? ?buds? (?:are |still |all |tight\w* )*closed\b"
)
_GROUND = r"(?:ground|soil|earth|beds?|plots?|garden|allotment|field)"
_START = Pattern(
    r"\b(?:can|could|should|may|is it (?:ok|time)) (?:i |we |you )?(?:still |to )?(?:plant|sow|seed|set out|put in)\b"
)
_NO_GROUND = Pattern(
    rf"\b{_GROUND} (?:is |are |was |still |all |quite |too |so |rock |solid |full of |in |with |under )*"
    r"(?:frozen|snow\w*|sodden|soggy|waterlogged|flooded|muddy|saturated)\b",
    rf"\b(?:frozen|sodden|soggy|waterlogged|flooded|muddy)(?: solid)? {_GROUND}\b",
    rf"\bsnow (?:is |still |lying )*(?:on|over|covering) (?:the |my |our )*{_GROUND}\b",
)
_GROUND_LATER = Pattern(
    rf"\b(?:before|until|till|unless|once|when|after|if|as soon as) (?:the |my |our )*(?:{_GROUND}|snow|it)\b",
    r"\b(?:not|isn't|no longer|no) (?:\w+ )?(?:frozen|snow|soggy|sodden|muddy|waterlogged)\b",
    r"\b(?:melted|thawed)\b",
)
_LOWS = Pattern(r"\b(?:lows?|nights?|overnight|mins?|forecast|minimums?|this week|next week)\b")
_ROW = Pattern(
    r"(?:(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\W+)?(?<![\d.])-?\d{1,2}(?![\d.%])"
)
_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_BURIED = Pattern(
    r"\b(?:tubers?|undug|underground|below ground|still in the (?:ground|soil|bed)|(?:ready )?to (?:dig|lift)"
    r"|not (?:yet )?(?:dug|lifted)|(?:haven't|have not) (?:dug|lifted))\b"
)
_NIGHTS_F, _NIGHTS_C = (5.0, 55.0), (-25.0, 12.0)  # design values: what a night someone asks about may be
_FIGURE = Pattern(
    r"(?<![\w.,$#/:-])(-?\d{1,2})(?=\s*(?:[?.!,;]|$)|\s+(?:tonight|overnight|under|clear|cloudy|calm|windy|hurt\w*|kill\w*"
    r"|ok|okay|too|forecast|coming|predicted|with|in the|and (?:clear|windy|calm|cloudy|rain))\b)"
)
_LEAST_LOWS = 2  # lows from which a row of nights is told
_WEIGHT = Pattern(
    r"\b(\d{2,3}) ?-?(?:gsm|gm2|g ?(?:/|per) ?(?:m|sq)\w*|gram(?:me)?s?|g)\b(?! of)",
)
_DAY_AIR = _either(
    r"(?<![\w.$-])(?P<n>-?\d{1,2})(?: ?°)? ?[fc]?,? (?:and |with )?(?:sun(?:ny)?|clear|bright|hazy|overcast|cloudy)\b"
    r"(?=.*\b(?:tonight|overnight|night|low)\b)",
    r"(?<![\w.$-])(?P<n>-?\d{1,2})(?: ?°)? ?[fc]? (?:today|this afternoon|by day|at noon|in the (?:day|afternoon))\b",
)
_HOTTEST_C = 45.0  # design value: a day told hotter is in Fahrenheit
_KEEPS = Pattern(
    r"\b(?:how many|how much|what|which) (?:\w+ )?(?:degrees?|frost|protection|warmer|warmth|cold)\b",
    r"\bdegrees? (?:of (?:frost )?)?(?:protect\w*|does|will|from)\b|\bdown to what\b",
)
_UNIT_AFTER = Pattern(r"\s{0,3}(?:°|deg\w{0,6})?\s{0,3}([cf])\b")


def read(said: Said) -> Iterator[Typed]:
    """snow (cm, lying), size (cm; shoots or plants), stage (bloom, buds), temperature and night (lows in a row, or the
    one bare figure), part (below-ground), cover-by-weight, asks (cover-gain), day-air,
    start (ground-seen: frozen, snowy or sodden ground), percent (humidity), unit-assumed."""
    for needs, reader in _READERS:  # a pattern is compiled only where its word stands
        if any(piece in said.plain for piece in needs):
            yield from reader(said)
    yield from _assumed(said)
    if not said.request.slots.temps and not said.request.carried.temps:
        row = tuple(_row(said))
        yield from row or _bare(said)


def _snow(said: Said) -> Iterator[Typed]:
    if _LIES.search(said.plain) is not None:
        deep = _first(_SNOW, said.plain)
        if deep is None:
            yield Typed("snow", 0.0, "cm", "lying")
        else:
            yield Typed("snow", _cm(deep), "cm", "lying", deep.group(), deep.start("n"), deep.end("u"))


def _sizes(said: Said) -> Iterator[Typed]:
    shoots = _first(_SHOOTS, said.plain)
    snow = _first(_SNOW, said.plain) if "snow" in said.plain else None
    tall = _first(_TALL, said.plain) if shoots is None else None
    if snow is not None and tall is not None and tall.start("n") == snow.start("n"):
        tall = None
    for role, match in (("shoots", shoots), ("plants", tall)):
        if match is not None:
            yield Typed("size", _cm(match), "cm", role, match.group(), match.start(), match.end())


def _flower(said: Said) -> Iterator[Typed]:
    closed = _NOT_YET.search(said.plain)
    flower = closed or _IN_FLOWER.search(said.plain)
    if flower is not None and (closed or said.request.cue("stage") is None):
        yield Typed("stage", "buds" if closed else "bloom", text=flower.group())


def _ground(said: Said) -> Iterator[Typed]:
    asked = _START.search(said.plain) and _NO_GROUND.search(said.plain)
    if asked and not _GROUND_LATER.search(said.plain):
        yield Typed("start", "ground-seen")


def _fleece(said: Said) -> Iterator[Typed]:
    """cover-by-weight (the id of the fleece nearest to the weight typed), asks (cover-gain)."""
    weight = _WEIGHT.search(said.plain)
    if weight is not None:
        grams = float(weight[1])
        rows = [row for row in said.facts.table("protection")["cover"] if "weight_g_m2" in row]
        nearest = min(rows, key=lambda row: max(row["weight_g_m2"][0] - grams, grams - row["weight_g_m2"][1]))
        yield Typed("cover-by-weight", nearest["id"], text=weight.group())
    if _KEEPS.search(said.plain) is not None:
        yield Typed("asks", "cover-gain")


def _by_day(said: Said) -> Iterator[Typed]:
    """day-air: a bare figure told of the day beside a low of the night, in the unit of that low."""
    temps, found = said.request.ask.temps, _first(_DAY_AIR, said.plain)
    if found is not None and temps and all(t.role == "low" for t in temps):
        value = float(found["n"])
        yield Typed("day-air", value, "F" if value > _HOTTEST_C else temps[0].unit, text=found.group())


def _buried(said: Said) -> Iterator[Typed]:
    if _BURIED.search(said.plain) is not None:
        yield Typed("part", "below-ground")


_HUMIDITY = _either(
    r"\b(?P<n>\d{1,3}) ?(?:%|percent|per cent) (?:relative )?(?:humidity|rh)\b",
    r"\b(?:humidity|rh)(?: \w+){0,2}? (?P<n>\d{1,3}) ?(?:%|percent|per cent)",
)


def _humidity(said: Said) -> Iterator[Typed]:
    found = _first(_HUMIDITY, said.plain)
    if found is not None and 0 < int(found["n"]) <= 100:
        yield Typed("percent", float(found["n"]), "%", "humidity", found.group(), found.start(), found.end())


_READERS = (
    (("humid", "rh"), _humidity),
    (("snow",), _snow),
    ((" in", "inch", '"', "ft", "foot", "feet", "cm"), _sizes),
    (("flow", "bloom", "blos"), _flower),
    (("snow", "frozen", "sod", "sog", "water", "flood", "mud", "satur"), _ground),
    (("frame", "cloche", "greenhouse", "tunnel"), _by_day),
    (("fleece", "row cover", "frost cloth", "sheet", "blanket"), _fleece),
    (("tuber", "dug", "dig", "lift", "ground", "still in"), _buried),
)


def _cm(match: re.Match[str]) -> float:
    """The length of a size that was found."""
    groups = match.groupdict()
    number = _WORDS.get(groups["n"])
    value = float(groups["n"]) if number is None else float(number)
    unit = groups["u"]
    return value * (1.0 if unit == "cm" else 12.0 * INCH_CM if unit in ("ft", "foot", "feet") else INCH_CM)


def _assumed(said: Said) -> Iterator[Typed]:
    """Every temperature whose unit was taken, as the request says."""
    for temp in said.request.ask.temps:
        if any(f"{temp.value:g}" in text and f"as {temp.unit}" in text for text in said.request.assumptions):
            yield Typed("unit-assumed", temp.value, temp.unit)


def _row(said: Said) -> Iterator[Typed]:
    """Bare lows in a row ("lows this week 29 34 38"), each with its weekday when that stands before it."""
    lead = _LOWS.search(said.plain)
    if lead is None:
        return
    found = [m for m in _ROW.finditer(said.plain) if m.start() >= lead.start()]
    if len(found) < _LEAST_LOWS:
        return
    unit = _UNIT_AFTER.match(said.plain[found[-1].end() :])
    named = unit[1].upper() if unit is not None else ("C" if said.metric else "F")
    for match in found:
        day = next((i for i, d in enumerate(_DAYS) if match.group().startswith(d)), None)
        digits = match.group().split()[-1]
        start = match.end() - len(digits)
        if day is not None:
            yield Typed("night", _coming(day, said.today), text=match.group(), start=match.start(), end=start)
        value = float("".join(c for c in digits if c.isdigit() or c == "-").lstrip("-") or 0)
        negative = "-" in digits
        yield Typed("temperature", -value if negative else value, named, "low", digits, start, match.end())


def _bare(said: Said) -> Iterator[Typed]:
    """The one bare figure of a question about a cold night: "tomatoes 33 clear?"."""
    found = list(_FIGURE.finditer(said.plain))
    low, high = _NIGHTS_C if said.metric else _NIGHTS_F
    if len(found) == 1 and low <= float(found[0][1]) <= high:
        one = found[0]
        yield Typed(
            "temperature", float(one[1]), "C" if said.metric else "F", "low", one[1], one.start(1), one.end(1)
        )


def _coming(weekday: int, today: date) -> date:
    """The next such weekday, today included."""
    return today + timedelta(days=(weekday - today.weekday()) % 7)
