"""Varieties, beds and other gardens: what a statement tells of them, as changes of the garden file."""

from __future__ import annotations

from gardenmate.core.effects import GardenChange
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.garden.frost import FrostDates
from gardenmate.topics.garden.shown import shown_month_day
from gardenmate.topics.garden.told import Told
from gardenmate.topics.shared.subjects import plants_named


def slug(name: str) -> str:
    """A name as a key of the garden file: "King of the North" -> "king-of-the-north"."""
    kept = "".join(c if c.isalnum() else " " for c in name.casefold())
    return "-".join(kept.split()) or "unnamed"


def varieties_told(question: Request, world: World) -> Told | None:
    """Varieties with their crop and days: "my tomatoes are Glacier, 55 days"."""
    changes: list[GardenChange] = []
    said: list[str] = []
    for typed in question.all("grows-variety"):
        name, crop = str(typed.value), typed.unit
        key = f"varieties.{slug(name)}"
        changes += [GardenChange(f"{key}.name", name), GardenChange(f"{key}.crop", crop)]
        days = int(typed.role) if typed.role else None
        if days is not None:
            changes.append(GardenChange(f"{key}.days", days))
        if typed.text:
            changes.append(GardenChange(f"{key}.kind", typed.text))
        ref = next((r for r in question.crops if r.id == crop), CropRef(crop))
        shown = f"{name}, {plural(days, 'day')}" if days is not None else name
        crop_words = plants_named(ref, world.facts)
        said.append(f"your {crop_words.word} {crop_words.are} {shown}")
    return Told(tuple(changes), "; ".join(said)) if changes else None


def varieties_forgotten(question: Request, world: World) -> Told | None:
    """Varieties to be forgotten, by name."""
    named = {str(t.value).casefold() for t in question.all("variety")}
    gone = [(key, v) for key, v in world.garden.varieties.items() if v.name.casefold() in named]
    if not question.has("forget") or not gone:
        return None
    said = " and ".join(v.name for _, v in gone)
    return Told(tuple(GardenChange(f"varieties.{key}", None) for key, _ in gone), f"I've forgotten {said}")


def beds_told(question: Request, world: World) -> Told | None:
    """What a bed is like: "bed 2 is a bog"; a bed to be forgotten."""
    typed = question.first("bed")
    if typed is not None:
        name = str(typed.value)
        key = f"beds.{slug(name)}"
        return Told(
            (GardenChange(f"{key}.name", name), GardenChange(f"{key}.note", typed.text)),
            f"{name}: {typed.text}",
        )
    where = question.first("where")
    key = slug(str(where.value)) if where is not None else ""
    if question.has("forget") and key in world.garden.beds:
        return Told(
            (GardenChange(f"beds.{key}", None),),
            f"what you said of {world.garden.beds[key].name} is forgotten",
        )
    return None


@dataclass(frozen=True, slots=True)
class Meant:
    """The other garden a statement is about: its key and name, and whether it is new."""

    key: str
    name: str
    new: bool


def garden_meant(question: Request, world: World) -> Meant | None:
    """The other garden a statement tells of or names ("at camp"); None for the main one."""
    new = question.first("new-garden")
    if new is not None:
        return Meant(slug(str(new.value)), str(new.value), slug(str(new.value)) not in world.garden.gardens)
    named = question.first("garden")
    key = slug(str(named.value)) if named is not None else ""
    return Meant(key, world.garden.gardens[key].name, False) if key in world.garden.gardens else None


def garden_told(
    meant: Meant, place: str | None, height_m: float | None, frost: FrostDates | None, question: Request
) -> Told:
    """What is told of another garden: its place, height and own frost dates; or that it is given up."""
    key = f"gardens.{meant.key}"
    if question.has("forget"):
        return Told((GardenChange(key, None),), f"your garden at {meant.name} is forgotten")
    changes = [GardenChange(f"{key}.name", meant.name)]
    parts: list[str] = []
    if place is not None:
        changes.append(GardenChange(f"{key}.place", place))
        parts.append(f"in {place}")
    if height_m is not None:
        changes.append(GardenChange(f"{key}.elevation_m", height_m))
        parts.append(f"{height_m:.0f} m up")
    for role, day in (("last", frost.last), ("first", frost.first)) if frost is not None else ():
        if day is not None:
            changes.append(GardenChange(f"{key}.{role}", f"{day[0]:02}-{day[1]:02}"))
            parts.append(f"{role} frost {shown_month_day(day)}")
    told = f" ({', '.join(parts)})" if parts else ""
    opening = "a second garden" if meant.new else f"your garden, {meant.name}"
    if meant.new and meant.name != "second garden":
        opening += f", {meant.name}"
    return Told(tuple(changes), f"{opening}{told}; say 'at {meant.name}' to ask about it")
