"""The garden profile as it is shown: every fact that is kept, one line each."""

from __future__ import annotations

from datetime import date

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.errors import NeedPlaceError
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import (
    FT_M,
    plural,
    show_date,
    show_length_cm,
)
from gardenmate.core.world import World
from gardenmate.garden.profile import Garden, OtherGarden, Variety
from gardenmate.knowledge.plants import name_of
from gardenmate.plantings.current import batches_of
from gardenmate.records import replace
from gardenmate.topics.garden.where import where
from gardenmate.topics.plantings.own_frosts import own_frosts_line
from gardenmate.topics.shared.plant_names import plant_names

_OWN_BOOKKEEPING = frozenset({"first_questions"})  # kept for the bench, no fact about the garden
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
TELL_ME = (
    "Tell me for example: 'I garden in Duluth', 'my last frost is May 12', 'I have a heat mat and two "
    "lamps', 'household of three', 'elderberry planted 2022', 'I use Celsius'."
)


def shown(question: Request, world: World) -> Answer:
    """What is known of the garden, with the part asked for in the headline."""
    garden = world.garden
    frosts = question.has("profile", "frosts")
    rows = _rows(garden, world)
    if question.has("profile", "zone"):
        return _zone(question, world)
    if frosts and world.site is not None and not (garden.last_frost or garden.first_frost):
        on_record = dates_on_record(world.site, world.today)
        return Answer(
            question=question,
            verdict=None,
            headline=f"Weather records for {world.site.label} give {on_record}."
            if on_record
            else f"Freezes are too rare {world.site.where} to date.",
            details=world.site.notes,
            sources=world.site.source_ids,
        )
    if not rows:
        return Answer(
            question=question,
            verdict=None,
            headline="I know nothing about your garden yet.",
            changes=(TELL_ME,),
        )
    headline = "Here is what I know about your garden."
    details: tuple[str, ...] = ()
    if question.has("profile", "where") and world.site is not None:
        return where(question, world, world.site)
    if frosts and (garden.last_frost or garden.first_frost):
        parts = [f"last {shown_month_day(garden.last_frost)}"] if garden.last_frost else []
        parts += [f"first {shown_month_day(garden.first_frost)}"] if garden.first_frost else []
        headline = f"Your own average frost dates: {', '.join(parts)}."
    if garden.place is None and garden.lat is None:
        details = ("No place is known yet; say 'I garden in ...'.",)
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        details=details,
        table=Table(("what", "kept", "to take it back"), tuple(rows)),
        numbers=_garden_numbers(garden),
    )


def where_is(question: Request, world: World) -> Answer:
    """Where the garden is, with the stations and the grower's own years behind its dates, and the other gardens.
    Raises NeedPlaceError while no place is known."""
    if world.site is None:
        raise NeedPlaceError("I don't know where you garden.")
    others = [f"{g.name} ({g.place})" if g.place else g.name for g in world.garden.gardens.values()]
    more = (f"Your other gardens: {', '.join(others)}.",) if others else ()
    found = where(question, world, world.site)
    return replace(found, details=(*found.details, *more))


def _zone(question: Request, world: World) -> Answer:
    """No zone is kept: a zone needs the coldest night of many winters, which monthly normals do not tell."""
    on_record = dates_on_record(world.site, world.today) if world.site is not None else None
    return Answer(
        question=question,
        verdict=None,
        headline="I go by frost dates, not by hardiness zones.",
        details=(
            *(
                (f"Weather records for {world.site.label} give {on_record}.",)
                if world.site and on_record
                else ()
            ),
            str(world.facts.table("glossary")["term"]["hardiness-zone"]["text"]),
            "I can't work out a zone: it takes the coldest night of each of many winters, and my records are"
            " monthly averages. Look it up on your country's official map.",
        ),
        changes=() if world.site is not None else ("Say 'I garden in ...' for the frost dates there.",),
        sources=(*(world.site.source_ids if world.site is not None else ()), "common-practice"),
    )


def dates_on_record(site: Site, today: date) -> str | None:
    """The average frost dates of a place in words, None where freezes are too rare to date."""
    freeze = site.freezes[32]
    if freeze.last_spring is None or freeze.first_autumn is None:
        return None
    anchor = site.anchor(today)
    last, first = freeze.last_spring.day(anchor), freeze.first_autumn.day(anchor)
    return (
        f"an average last frost about {show_date(last)} and an average first frost about {show_date(first)}"
    )


def _rows(garden: Garden, world: World) -> list[tuple[str, str, str]]:
    """What is kept, as (what, value, how to take it back) lines; nothing unknown is listed."""
    place = garden.place or ""
    if garden.lat is not None and garden.lon is not None:
        place = f"{place} ({garden.lat:g}, {garden.lon:g})".strip()
    gear = world.facts.table("gear")
    have = [
        (gear[g]["name"] if n == 1 else f"{n:g} {gear[g]['names']}") if g in gear else g
        for g, n in garden.gear.items()
        if n > 0
    ]
    without = [gear[g]["name"] if g in gear else g for g, n in garden.gear.items() if n == 0]
    rows = [
        ("Place", place, "forget my place"),
        (
            "Height",
            "" if garden.elevation_m is None else _height(garden.elevation_m, world),
            "forget the height",
        ),
        (
            "Low spot",
            f"{garden.low_spot_c:g} degrees C colder" if garden.low_spot_c else "",
            "not a frost pocket",
        ),
        (
            "Last frost",
            shown_month_day(garden.last_frost) if garden.last_frost else "",
            "forget my last frost",
        ),
        (
            "First frost",
            shown_month_day(garden.first_frost) if garden.first_frost else "",
            "forget my first frost",
        ),
        ("Own frosts", own_frosts_line(world), "'log', then 'delete note 3'"),
        ("Frost risk", f"{garden.frost_risk:.0%}" if garden.frost_risk is not None else "", "tell another"),
        ("People", "" if garden.people is None else str(garden.people), "forget the household"),
        ("Gear", ", ".join((*have, *(f"no {name}" for name in without))), "'sold the mat'"),
        ("Frame", _frame_line(garden, world), "forget the frame size"),
        (
            "Plants",
            ", ".join(_plant_line(p.id, p.kind, p.planted_year, p.count) for p in garden.plants),
            "'the plum died'",
        ),
        (
            "Growing",
            ", ".join(crop.replace("-", " ") for crop in garden.wanted),
            f"'not growing {plant_names((CropRef(garden.wanted[-1]),), world.facts)}'"
            if garden.wanted
            else "",
        ),
        (
            "Units",
            {"us": "Fahrenheit, feet", "metric": "Celsius, metres"}.get(garden.units or "", ""),
            "forget the units",
        ),
        *((v.name, _variety_line(v, world), f"forget {v.name}") for v in garden.varieties.values()),
        *((b.name.capitalize(), b.note, f"forget {b.name}") for b in garden.beds.values()),
        *((g.name.capitalize(), shown_garden(g), f"forget {g.name}") for g in garden.gardens.values()),
        *(
            (name.replace("_", " ").capitalize(), value, "tell another")
            for name, value in garden.prefs.items()
            if name not in _OWN_BOOKKEEPING
        ),
        ("Log", _log_line(world), "'log', then 'delete note 3'"),
    ]
    return [(what, value, back) for what, value, back in rows if value]


def _variety_line(variety: Variety, world: World) -> str:
    name = name_of(world.facts, variety.crop)
    return f"{name}, {variety.days} days" if variety.days is not None else name


def _log_line(world: World) -> str:
    """How much the log holds, and how many batches are growing."""
    if world.journal is None or not world.journal.latest(1):
        return ""
    entries = len(world.journal.search(limit=_MOST_COUNTED))
    growing = sum(b.alive for b in batches_of(world.journal))
    notes = f"{entries} or more notes" if entries >= _MOST_COUNTED else plural(entries, "note")
    return f"{notes}; {plural(growing, 'batch', 'batches')} growing"


_MOST_COUNTED = 1000  # notes counted; beyond, "or more" is said
_UNITS = {"us": "Fahrenheit, feet", "metric": "Celsius, metres"}


def _height(metres: float, world: World) -> str:
    return f"{metres / FT_M:,.0f} ft" if world.units == "us" else f"{metres:,.0f} m"


def shown_garden(garden: OtherGarden) -> str:
    """One other garden in a line."""
    parts = [p for p in (garden.place, f"{garden.elevation_m:.0f} m" if garden.elevation_m else None) if p]
    for role, day in (("last frost", garden.last_frost), ("first frost", garden.first_frost)):
        if day is not None:
            parts.append(f"{role} {shown_month_day(day)}")
    return ", ".join(parts) or "place not told yet"


def _frame_line(garden: Garden, world: World) -> str:
    frame = garden.frame
    parts = []
    if frame.width_m and frame.length_m:
        sides = (show_length_cm(side * 100, world.units) for side in (frame.width_m, frame.length_m))
        parts.append(" by ".join(sides))
    if frame.glazing:
        parts.append(f"{frame.glazing} lid")
    if frame.insulated:
        parts.append("insulated")
    if frame.opener:
        parts.append("with a vent opener")
    return ", ".join(parts)


def _plant_line(name: str, kind: str | None, year: int | None, count: int | None) -> str:
    shown = f"{kind} {name}" if kind else name
    many = f"{count} x " if count and count > 1 else ""
    return f"{many}{shown.replace('-', ' ')}" + (f" ({year})" if year else "")


def _garden_numbers(garden: Garden) -> tuple[Number, ...]:
    numbers = []
    if garden.people is not None:
        numbers.append(Number("people", garden.people, "people", "People", shown=False))
    if garden.elevation_m is not None:
        numbers.append(Number("elevation_m", garden.elevation_m, "m", "Height", shown=False))
    return tuple(numbers)


def shown_month_day(month_day: tuple[int, int]) -> str:
    """A day of the average year: "12 May"."""
    return f"{month_day[1]} {_MONTHS[month_day[0] - 1]}"
