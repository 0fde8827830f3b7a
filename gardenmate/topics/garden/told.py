"""What a statement tells of the garden apart from place and frost: people, gear, frame, plants, crops, units.

Each teller takes the facts of one thing and returns what it found as `Told`: the changes of the garden file, and the
words that confirm them.
"""

from __future__ import annotations

from collections.abc import Callable

from gardenmate.core.effects import GardenChange
from gardenmate.core.question import CropRef, Request, Typed
from gardenmate.core.units import plural, show_length_cm
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.shared.grammar import listed
from gardenmate.topics.shared.plant_names import plant_names
from gardenmate.topics.shared.subjects import many_named


@dataclass(frozen=True, slots=True)
class Told:
    """One thing understood: the changes that keep it, how it is told back, what was assumed."""

    changes: tuple[GardenChange, ...]
    said: str
    assumed: tuple[str, ...] = ()


Teller = Callable[[Request, World], Told | None]


def fact(question: Request, key: str) -> Typed | None:
    """What the statement tells under a key of the garden."""
    return question.first("fact", key)


def _is_told(question: Request, key: str) -> bool:
    """True when the statement says so of a key that is only told or not."""
    typed = fact(question, key)
    return typed is not None and typed.value is True


def told(question: Request, world: World) -> list[Told]:
    """Everything the statement tells, in the order it is confirmed."""
    tellers: tuple[Teller, ...] = (
        _coordinates, _elevation, _low_spot, _risk, _people, _units, _frame, _gear, _plants, _wanted, _prices,
        _beds,
    )  # fmt: skip
    return [found for teller in tellers if (found := teller(question, world)) is not None]


# -- place and people ---------------------------------------------------------------------------------
def _elevation(question: Request, world: World) -> Told | None:
    height = fact(question, "place.elevation_m")
    if height is None:
        return None
    return Told((GardenChange("place.elevation_m", height.number),), f"{height.text} above sea level")


def _low_spot(question: Request, world: World) -> Told | None:
    low = fact(question, "place.low_spot")
    if low is None:
        return None
    if not low.value:
        return Told((GardenChange("place.low_spot_c", None),), "not a low spot")
    radiation = world.facts.table("protection")["radiation"]
    colder_f = radiation["low_spot_f_per_100ft"] * radiation["low_spot_assumed_ft"] / 100.0
    colder_c = round(colder_f / 1.8, 1)
    assumed = f"A low spot is about {colder_f:.1f} F ({colder_c:g} C) degrees colder on clear, calm nights."
    return Told(
        (GardenChange("place.low_spot_c", colder_c),), "a low spot where cold air gathers", (assumed,)
    )


def _coordinates(question: Request, world: World) -> Told | None:
    """A spot in decimal degrees."""
    north, east = fact(question, "place.lat"), fact(question, "place.lon")
    if north is None or east is None:
        return None
    lat, lon = north.number, east.number
    said = f"your garden is at {abs(lat):g} {'S' if lat < 0 else 'N'}, {abs(lon):g} {'W' if lon < 0 else 'E'}"
    return Told((GardenChange("place.lat", lat), GardenChange("place.lon", lon)), said)


def _risk(question: Request, world: World) -> Told | None:
    """How likely a frost the grower puts up with when planting out."""
    percent = fact(question, "frost.risk")
    if percent is None:
        return None
    said = f"planting out at {percent.number:g}% frost risk"
    return Told((GardenChange("frost.risk", percent.number / 100),), said)


def _people(question: Request, world: World) -> Told | None:
    people, told_people = question.slots.people, fact(question, "household.people")
    if people is None and told_people is not None:
        people = int(told_people.number)
    if people is None or not 1 <= people <= _MOST_PEOPLE:
        return None
    return Told((GardenChange("household.people", people),), plural(people, "person", "people") + " to feed")


_MOST_PEOPLE = 1000  # more is not a household


def _units(question: Request, world: World) -> Told | None:
    units = fact(question, "preferences.units")
    if units is None:
        return None
    said = "Celsius and metres" if units.value == "metric" else "Fahrenheit, feet and inches"
    return Told((GardenChange("preferences.units", str(units.value)),), said)


# -- gear and frame -----------------------------------------------------------------------------------
def _gear(question: Request, world: World) -> Told | None:
    """Gear owned, with how many, and gear there is no longer (kept as 0, so that no answer counts on it)."""
    changes: list[GardenChange] = []
    have: list[str] = []
    gone: list[str] = []
    for gear, entry in world.facts.table("gear").items():
        typed = fact(question, f"gear.{gear}")
        if typed is None:
            continue
        if not typed.value:
            changes.append(GardenChange(f"gear.{gear}", 0))
            gone.append(f"no {entry['name']}")
            continue
        before = world.garden.gear.get(gear, 0.0)
        count = typed.number + (before if typed.unit == "more" else 0.0)
        changes.append(GardenChange(f"gear.{gear}", int(count) if count == int(count) else count))
        if gear == "frame" and count == 1 and _is_told(question, "frame.sized"):
            continue  # already told with its size
        now = entry["name"] if count == 1 else f"{count:g} {entry['names']}"
        if before > count:  # never fewer without a word: it may be one more of another sort
            total = count + before
            now += f" (not {before:g} any more; if it is one more, say 'I have {total:g} {entry['names']}')"
        have.append(now)
    if any(c.key == "gear.opener" for c in changes):
        opens = next(c.value for c in changes if c.key == "gear.opener")
        changes.append(GardenChange("frame.opener", bool(opens)))
    return Told(tuple(changes), ", ".join((*have, *gone)) or "kept with your gear") if changes else None


_LIDS = {
    "twin-wall": "twin-wall lid",
    "double-glass": "double-glass lid",
    "glass": "glass lid",
    "film": "plastic film lid",
}


def _frame(question: Request, world: World) -> Told | None:
    """Size, lid and insulation of the cold frame."""
    changes: list[GardenChange] = []
    said: list[str] = []
    assumed: list[str] = []
    width, length = fact(question, "frame.width_m"), fact(question, "frame.length_m")
    if width is not None and length is not None:
        changes += [
            GardenChange("frame.width_m", width.number),
            GardenChange("frame.length_m", length.number),
        ]
        shown = " by ".join(show_length_cm(side.number * 100, world.units) for side in (width, length))
        said.append(f"a cold frame of {shown}")
        if not width.unit:
            assumed.append(f"I read the size of the frame as {shown}.")
    glazing = fact(question, "frame.glazing")
    if glazing is not None:
        changes.append(GardenChange("frame.glazing", str(glazing.value)))
        said.append(f"a {_LIDS[str(glazing.value)]}")
    if _is_told(question, "frame.insulated"):
        changes.append(GardenChange("frame.insulated", True))
        said.append("insulated sides")
    return Told(tuple(changes), " with ".join(said), tuple(assumed)) if changes else None


# -- plants and crops ---------------------------------------------------------------------------------
def _plants(question: Request, world: World) -> Told | None:
    """Woody and perennial plants with the year they were planted (from the year or the age told)."""
    woody = {name.split("-")[0] for name in world.facts.ids("woody")} | set(world.facts.ids("woody"))
    refs = [ref for ref in question.crops if ref.id in woody]
    if not refs:
        return None
    year = fact(question, "plants.planted")
    age = question.slots.plant_age_years
    planted = (
        int(year.number) if year is not None else (None if age is None else world.today.year - round(age))
    )
    if planted is not None and not 1600 <= planted <= world.today.year + 1:
        planted = None
    if planted is None and not _is_told(question, "plants.owned"):
        return None
    changes: list[GardenChange] = []
    if _is_told(question, "plants.gone"):
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


def _wanted(question: Request, world: World) -> Told | None:
    """Crops the grower grows or wants: added to the list, or taken off it."""
    grown = fact(question, "crops.wanted")
    if grown is None:
        return None
    woody = set(world.facts.ids("woody"))
    refs: list[CropRef] = [ref for ref in question.crops if ref.id not in woody]
    if not refs:
        return None
    named = [ref.id for ref in refs]
    names = listed(dict.fromkeys(many_named(ref, world.facts) for ref in refs))
    if not grown.value:
        left = [crop for crop in world.garden.wanted if crop not in named]
        return Told((GardenChange("crops.wanted", left or None),), f"not growing {names}")
    wanted = list(dict.fromkeys((*world.garden.wanted, *named)))
    return Told((GardenChange("crops.wanted", wanted),), f"growing {names}")


# -- prices and beds ----------------------------------------------------------------------------------
_PRICED = {"tariff": "electricity at {price:g} a kWh", "time_rate": "your time at {price:g} an hour"}


def _prices(question: Request, world: World) -> Told | None:
    price, of = question.slots.price, fact(question, "preferences.price")
    if price is None or of is None:
        return None
    said = _PRICED[str(of.value)].format(price=price)
    return Told((GardenChange(f"preferences.{of.value}", price),), said)


def _beds(question: Request, world: World) -> Told | None:
    count = fact(question, "beds.count")
    width, length = fact(question, "beds.width_m"), fact(question, "beds.length_m")
    if count is None or width is None or length is None:
        return None
    each = " x ".join(show_length_cm(side.number * 100, world.units) for side in (width, length))
    said = f"{plural(count.number, 'bed')} of {each}"
    return Told((GardenChange("preferences.beds", said),), said)
