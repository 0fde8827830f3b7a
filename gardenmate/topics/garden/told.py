"""What a statement tells of the garden apart from place and frost: people, gear, frame, plants, crops, units.

Each reader looks for one thing and returns what it found as `Told`: the changes of the garden file, and the
words that confirm them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from gardenmate.core.effects import GardenChange
from gardenmate.core.pattern import Pattern
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural, show_length_cm
from gardenmate.core.world import World
from gardenmate.language.values.sizes import SPELLED, number_of, size_in
from gardenmate.topics.garden.numbers import elevation_in
from gardenmate.topics.shared.plant_names import plant_names


@dataclass(frozen=True, slots=True)
class Told:
    """One thing understood: the changes that keep it, how it is told back, what was assumed."""

    changes: tuple[GardenChange, ...]
    said: str
    assumed: tuple[str, ...] = ()


Reader = Callable[[Request, World], Told | None]


def told(question: Request, world: World) -> list[Told]:
    """Everything the statement tells, in the order it is confirmed."""
    readers: tuple[Reader, ...] = (
        _coordinates, _elevation, _low_spot, _risk, _people, _units, _frame, _gear, _plants, _wanted, _prices,
        _beds,
    )  # fmt: skip
    return [found for reader in readers if (found := reader(question, world)) is not None]


# -- place and people ---------------------------------------------------------------------------------
def _elevation(question: Request, world: World) -> Told | None:
    found = elevation_in(question.text)
    if found is None:
        return None
    metres, typed = found
    return Told((GardenChange("place.elevation_m", metres),), f"{typed} above the sea")


_LOW = Pattern(
    r"\b(?:frost pocket|low spot|frost hollow|in a (?:dip|hollow)|valley bottom|"
    r"where (?:it|the cold) pools)\b"
)
_ANOTHERS = Pattern(
    r"\b(?:mum|mom|dad|friend|neighbou?r|sister|brother|\w+)'s (?:plot|garden|place)\b[^.;]*$"
)
_HIGH = Pattern(r"\b(?:not|never|no longer) (?:in )?a (?:frost pocket|low spot)\b")


def _low_spot(question: Request, world: World) -> Told | None:
    text = question.text.lower()
    match = _LOW.search(text)
    if match is None or _ANOTHERS.search(text[: match.start()]):
        return None
    if _HIGH.search(text):
        return Told((GardenChange("place.low_spot_c", None),), "not a low spot")
    radiation = world.facts.table("protection")["radiation"]
    colder_f = radiation["low_spot_f_per_100ft"] * radiation["low_spot_assumed_ft"] / 100.0
    colder_c = round(colder_f / 1.8, 1)
    assumed = f"A low spot is about {colder_f:.1f} F ({colder_c:g} C) degrees colder on clear, calm nights."
    return Told(
        (GardenChange("place.low_spot_c", colder_c),), "a low spot where cold air gathers", (assumed,)
    )


_SPOT = Pattern(
    r"(-?\d{1,2}\.\d+)\s{0,3}°?\s{0,3}([ns])?[,;\s]{1,3}(-?\d{1,3}\.\d+)\s{0,3}°?\s{0,3}([ew])?\b",
    ignore_case=True,
)


def _coordinates(question: Request, world: World) -> Told | None:
    """A spot in decimal degrees: "46.8, -92.1" or "46.8 N 92.1 W"."""
    match = _SPOT.search(question.text)
    if match is None:
        return None
    lat = float(match[1]) * (-1 if (match[2] or "").lower() == "s" else 1)
    lon = float(match[3]) * (-1 if (match[4] or "").lower() == "w" else 1)
    if abs(lat) > 90 or abs(lon) > 180:
        return None
    said = f"your garden is at {abs(lat):g} {'S' if lat < 0 else 'N'}, {abs(lon):g} {'W' if lon < 0 else 'E'}"
    return Told((GardenChange("place.lat", lat), GardenChange("place.lon", lon)), said)


_RISK = Pattern(
    r"\b(\d{1,2})\s*(?:%|percent|per cent)\s+(?:frost )?(?:risk|chance of frost)\b",
    r"\brisk of (\d{1,2})\s*(?:%|percent|per cent)",
)


def _risk(question: Request, world: World) -> Told | None:
    """How likely a frost the grower puts up with when planting out."""
    match = _RISK.search(question.text.lower())
    percent = int(match[1] or match[2]) if match else 0
    if not percent:
        return None
    return Told((GardenChange("frost.risk", percent / 100),), f"planting out at {percent}% frost risk")


_HOUSEHOLD = Pattern(
    r"\b(?:household|family|people)\s{0,3}(?:size\s{0,3})?(?:to|is|of|=|:|now|are)?\s{0,3}(?:now\s{1,3})?(\d{1,4})\b(?!\s{0,3}(?:ft|m|f|c|%))"
)


def _people(question: Request, world: World) -> Told | None:
    people = question.slots.people
    if people is None:
        match = _HOUSEHOLD.search(question.text.lower())
        people = int(match[1]) if match else None
    if people is None or not 1 <= people <= _MOST_PEOPLE:
        return None
    return Told((GardenChange("household.people", people),), plural(people, "person", "people") + " to feed")


_MOST_PEOPLE = 1000  # more is not a household
_METRIC = Pattern(r"\b(?:celsius|celcius|centigrade|metric)\b")
_US = Pattern(r"\b(?:fahrenheit|farenheit|imperial|us units|feet and inches)\b")
_NOT = Pattern(r"\b(?:not|no|don'?t|do not|never|stop|instead of|rather than)\b[^.,;]{0,40}$")


def _units(question: Request, world: World) -> Told | None:
    text = question.text.lower().replace("’", "'")
    wanted: list[str] = []
    for units, other, pattern in (("metric", "us", _METRIC), ("us", "metric", _US)):
        match = pattern.search(text)
        if match is not None:
            wanted.append(other if _NOT.search(text[: match.start()]) else units)
    if not wanted or len(set(wanted)) > 1:
        return None
    said = "Celsius and metres" if wanted[0] == "metric" else "Fahrenheit, feet and inches"
    return Told((GardenChange("preferences.units", wanted[0]),), said)


# -- gear and frame -----------------------------------------------------------------------------------
_WITHOUT = (
    r"(?:\b(?:no|without|sold|lost|lose|lent|scrapped|broke|forget|remove|delete|returned)\b|\bgot rid of\b|"
    r"\bgave away\b|\b(?:don'?t|do not|haven'?t|have not|no longer)\b(?:\s+\w+){0,3})"
)
_BROKEN_AFTER = Pattern(
    r"^\s{0,3}(?:is|are|has|have|just|got|was|were)?\s{0,3}(?:broke|broken|died|gone|collapsed|blew away)\b"
)


def _gear(question: Request, world: World) -> Told | None:
    """Gear owned, with how many, and gear there is no longer (kept as 0, so that no answer counts on it)."""
    text = question.text.lower().replace("’", "'")
    changes: list[GardenChange] = []
    have: list[str] = []
    gone: list[str] = []
    for gear, entry in world.facts.table("gear").items():
        forms = sorted(entry["words"].split("|"), key=len, reverse=True)
        match = re.search(rf"(?<![\w-])(?:{'|'.join(map(re.escape, forms))})(?![\w-])", text)
        if match is None or (gear == "frame" and text[match.end() :].startswith(" window")):
            continue
        before, after = text[: match.start()], text[match.end() :]
        if re.search(rf"{_WITHOUT}(?:\s+(?:a|an|any|the|my|our|more|old|\w+ed))*\s*(?:\w+\s+)?$", before) or (
            _BROKEN_AFTER.match(after)
        ):
            changes.append(GardenChange(f"gear.{gear}", 0))
            gone.append(f"no {entry['name']}")
            continue
        count = _count_before(before)
        if _MORE.search(before):
            count += world.garden.gear.get(gear, 0.0)
        changes.append(GardenChange(f"gear.{gear}", int(count) if count == int(count) else count))
        if gear == "frame" and count == 1 and size_in(text, metric=False):
            continue  # already told with its size
        now = entry["name"] if count == 1 else f"{count:g} {entry['names']}"
        before_now = world.garden.gear.get(gear, 0.0)
        if before_now > count:  # never fewer without a word: it may be one more of another sort
            total = count + before_now
            now += (
                f" (not {before_now:g} any more; if it is one more, say 'I have {total:g} {entry['names']}')"
            )
        have.append(now)
    if any(c.key == "gear.opener" for c in changes):
        opens = next(c.value for c in changes if c.key == "gear.opener")
        changes.append(GardenChange("frame.opener", bool(opens)))
    return Told(tuple(changes), ", ".join((*have, *gone)) or "kept with your gear") if changes else None


_MORE = Pattern(r"\b(?:another|an extra|extra|more|also|additional)\b(?:\s+[\w-]+){0,3}\s*$")


def _count_before(before: str) -> float:
    """How many, from the number that stands up to three words before the thing; one when none does."""
    match = re.search(rf"(?<![\w.])(\d+|{SPELLED})(?:\s+(?:of\s+)?(?!by\b|x\b)[a-z-]+){{0,3}}\s*$", before)
    if match is None:
        return 1.0
    count = number_of(match[1])
    return count if count is not None and 0 < count <= 10_000 else 1.0


_LONGEST_FRAME_M = 15.0  # anything longer is another thing's size
_FRAME = Pattern(r"\b(?:cold ?frames?|frames?|lid)\b")
_GLAZING = (
    (Pattern(r"\b(?:twin|double|multi)[- ]?wall|polycarbonate\b"), "twin-wall", "twin-wall lid"),
    (Pattern(r"\bdouble[- ]glaz|\bstorm windows?\b"), "double-glass", "double-glass lid"),
    (Pattern(r"\bglass\b|\bold windows?\b|\bsash"), "glass", "glass lid"),
    (Pattern(r"\b(?:plastic|polythene|film)\b"), "film", "plastic film lid"),
)


def _frame(question: Request, world: World) -> Told | None:
    """Size, lid and insulation of the cold frame, when the statement is about it."""
    text = question.text.lower()
    if not _FRAME.search(text) or re.search(
        r"\b(?:no|sold|lost|without) (?:a |the |my )?(?:cold )?frames?\b", text
    ):
        return None
    frame_first = _FRAME.search(text)
    assert frame_first is not None
    house = re.search(r"\b(?:greenhouse|glasshouse|tunnel)\b", text)
    if house is not None and house.start() < frame_first.start():
        text = text[frame_first.start() :]  # the size before it is the greenhouse's
    changes: list[GardenChange] = []
    said: list[str] = []
    assumed: list[str] = []
    size = size_in(text, world.units == "metric")
    if size is not None and size[0] >= 0.1 and size[1] <= _LONGEST_FRAME_M:
        width, length, typed = size[:3]
        changes += [GardenChange("frame.width_m", width), GardenChange("frame.length_m", length)]
        shown = f"{show_length_cm(width * 100, world.units)} by {show_length_cm(length * 100, world.units)}"
        said.append(f"a cold frame of {shown}")
        if not typed:
            assumed.append(f"I read the size of the frame as {shown}.")
    for pattern, glazing, words in _GLAZING:
        if pattern.search(text):
            changes.append(GardenChange("frame.glazing", glazing))
            said.append(f"a {words}")
            break
    if re.search(r"\b(?:insulated|insulation|foam|straw bales?)\b", text):
        changes.append(GardenChange("frame.insulated", True))
        said.append("insulated sides")
    return Told(tuple(changes), " with ".join(said), tuple(assumed)) if changes else None


# -- plants and crops ---------------------------------------------------------------------------------
_YEAR = Pattern(r"(?<![\d$£€.])((?:19|20)\d\d)(?!\s*(?:feet|foot|ft|m|metres|meters)\b)\b")
_NOT_GROWN = Pattern(r"\b(?:don'?t|do not|no longer|stopped|never|won'?t|hate|forget|not)\b")


def _plants(question: Request, world: World) -> Told | None:
    """Woody and perennial plants with the year they were planted (from the year or the age told)."""
    woody = {name.split("-")[0] for name in world.facts.ids("woody")} | set(world.facts.ids("woody"))
    refs = [ref for ref in question.crops if ref.id in woody]
    if not refs:
        return None
    text = question.text.lower().replace("’", "'")
    year = _YEAR.search(text)
    age = question.slots.plant_age_years
    planted = int(year[1]) if year else (None if age is None else world.today.year - round(age))
    if planted is not None and not 1600 <= planted <= world.today.year + 1:
        planted = None
    if planted is None and not _OWNED.search(text):
        return None
    changes: list[GardenChange] = []
    if _GONE.search(text):
        changes = [GardenChange(f"plants.{ref.id}", None) for ref in refs]
        return Told(tuple(changes), f"no {plant_names(refs, world.facts)} any more")
    count = question.slots.count
    for ref in refs:
        key = f"plants.{ref.id}"
        if planted is not None:
            changes.append(GardenChange(f"{key}.planted", planted))
        if ref.kind:
            changes.append(GardenChange(f"{key}.kind", ref.kind))
        if len(refs) == 1 and count is not None and 1 <= count <= 100_000:
            changes.append(GardenChange(f"{key}.count", int(count)))
        elif planted is None:
            changes.append(GardenChange(f"{key}.count", 1))
    names = plant_names(refs, world.facts)
    return Told(tuple(changes), f"{names} planted in {planted}" if planted else f"{names} in the garden")


_OWNED = Pattern(
    r"\b(?:have|got|own|there'?s|there is|there are|planted|put in|our|my|cut down|dug up|removed|lost)\b"
)
_GONE = Pattern(
    r"\b(?:cut down|dug up|took out|removed?|lost|died|dead|sold|forget|no longer|don'?t have|got rid of)\b"
)


def _wanted(question: Request, world: World) -> Told | None:
    """Crops the grower grows or wants: added to the list, or taken off it."""
    text = question.text.lower().replace("’", "'")
    if not re.search(r"\b(?:grow|growing|want|like|love|eat|plant|hate|sow|wish)\b", text):
        return None
    woody = set(world.facts.ids("woody"))
    refs: list[CropRef] = [ref for ref in question.crops if ref.id not in woody]
    if not refs:
        return None
    named = [ref.id for ref in refs]
    names = plant_names(refs, world.facts)
    if _NOT_GROWN.search(text):
        left = [crop for crop in world.garden.wanted if crop not in named]
        return Told((GardenChange("crops.wanted", left or None),), f"not growing {names}")
    wanted = list(dict.fromkeys((*world.garden.wanted, *named)))
    return Told((GardenChange("crops.wanted", wanted),), f"growing {names}")


# -- prices and beds ----------------------------------------------------------------------------------
def _prices(question: Request, world: World) -> Told | None:
    price = question.slots.price
    if price is None:
        return None
    text = question.text.lower()
    if re.search(r"\b(?:electric\w*|power|kwh|kilowatt|tariff|unit)\b", text):
        return Told((GardenChange("preferences.tariff", price),), f"electricity at {price:g} a kWh")
    if re.search(r"\b(?:time|hour|labou?r)\b", text):
        return Told((GardenChange("preferences.time_rate", price),), f"your time at {price:g} an hour")
    return None


_BEDS = Pattern(
    rf"(?<!\d)(\d{{1,6}}|{SPELLED})\s{{1,3}}(?:raised\s{{1,3}}|long\s{{1,3}}|new\s{{1,3}}|garden\s{{1,3}})*beds?\b",
    ignore_case=True,
)


def _beds(question: Request, world: World) -> Told | None:
    match = _BEDS.search(question.text)
    size = size_in(question.text, world.units == "metric")
    if match is None or size is None:
        return None
    count = number_of(match[1])
    if count is None:
        return None
    each = " x ".join(show_length_cm(metres * 100, world.units) for metres in size[:2])
    said = f"{plural(count, 'bed')} of {each}"
    return Told((GardenChange("preferences.beds", said),), said)
