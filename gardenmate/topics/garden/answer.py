"""The garden profile: keeps what the grower tells of the garden, shows it, and forgets it again.

A question leaves it as it is: it is answered, for the place it names.

What was understood is confirmed in one sentence before anything else is done with it; a place nobody knows,
or one of several of that name, is asked back and not kept.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from gardenmate.climate.places import find_place, resolve_site
from gardenmate.core.answer import Answer, Number
from gardenmate.core.effects import GardenChange
from gardenmate.core.errors import UsageError
from gardenmate.core.question import Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.garden.compare import asked
from gardenmate.topics.garden.frost import FrostDates, frost_dates
from gardenmate.topics.garden.kept import (
    Meant,
    beds_told,
    garden_meant,
    garden_told,
    varieties_forgotten,
    varieties_told,
)
from gardenmate.topics.garden.place import Settled, settle
from gardenmate.topics.garden.shown import TELL_ME, dates_on_record, shown, shown_month_day
from gardenmate.topics.garden.told import Told, told
from gardenmate.topics.shared.kept import noted

if TYPE_CHECKING:
    from gardenmate.climate.places import Place


def answer(question: Request, world: World) -> Answer:
    """Keep, show or forget what a statement or question about the garden is about."""
    if not question.has("act", "tell") and question.has("reads-as", "question"):
        return asked(question, world)
    forgotten = _forgotten(question) or varieties_forgotten(question, world)
    if forgotten is not None and not _tells(question):
        return _forget(question, forgotten)
    statement = _statement(question, world, forgotten)
    if statement is not None:
        return statement
    if forgotten is not None:
        return _forget(question, forgotten)
    asks = question.has("reads-as", "show") or question.has("reads-as", "asked")
    if asks or question.cue("action") in ("show", "list"):
        return shown(question, world)
    return Answer(
        question=question,
        verdict=None,
        headline="Sorry, I couldn't tell what to note from that.",
        changes=(TELL_ME,),
    )


def _tells(question: Request) -> bool:
    """True when the statement also tells something new ("forget the old one, we're at Twizel now")."""
    slots = question.slots
    return any(v is not None for v in (slots.place, slots.date, slots.people))


# -- keeping ------------------------------------------------------------------------------------------
def _statement(question: Request, world: World, forgotten: Told | None) -> Answer | None:
    asking = not question.has("act", "tell") and question.has("reads-as", "show")
    meant = None if asking else garden_meant(question, world)
    if meant is not None:
        return _other_garden(question, meant, world)
    found = [] if asking else told(question, world)
    place = settle(question, world)
    frost = frost_dates(question, world) if not asking or question.slots.date else None
    if place is not None and place.problem:
        others = [*([_frosts(frost)] if frost is not None and not frost.problem else []), *found]
        return _ask_back(question, place.problem, place.candidates, others)
    if frost is not None and frost.problem:
        return _ask_back(question, frost.problem, frost.choices, found)
    facts: list[Told] = []
    details: list[str] = []
    numbers: list[Number] = []
    if forgotten is not None:
        facts.append(forgotten)
    if place is not None and place.place is not None:
        facts.append(_placed(place, world, said_already=forgotten is not None))
        details += _about_place(_at_height(place, found, world), world, own=frost is not None)
    if frost is not None:
        facts.append(_frosts(frost))
        numbers += _frost_numbers(frost, world)
    if not asking:
        found += [f for f in (varieties_told(question, world), beds_told(question, world)) if f is not None]
    facts += found
    if not facts:
        return None
    changes = _last_word(change for fact in facts for change in fact.changes)
    problem = _unfit(changes, world)
    if problem:
        return _ask_back(question, problem, (), [])
    return Answer(
        question=question,
        verdict=None,
        headline=noted("; ".join(fact.said for fact in facts), world),
        numbers=tuple(numbers),
        details=tuple(details),
        assumptions=tuple(a for fact in facts for a in fact.assumed),
        effects=changes,
        reading=place.place.reading if place is not None and place.place is not None else None,
    )


def _other_garden(question: Request, meant: Meant, world: World) -> Answer:
    """What is told of another garden is kept there; a place in doubt is asked back, the rest kept all the same."""
    place = settle(question, world)
    frost = frost_dates(question, replace(world, site=None))
    known = place is not None and place.place is not None
    name = _lasting_name(place, world) if place is not None and known else None
    changes = {c.key: c.value for fact in told(question, world) for c in fact.changes}
    height = changes.get("place.elevation_m")
    fact = garden_told(
        meant,
        name,
        height if isinstance(height, float) else None,
        frost if frost is not None and not frost.problem else None,
        question,
    )
    if place is not None and place.problem:
        return _ask_back(question, place.problem, place.candidates, [fact])
    return Answer(
        question=question,
        verdict=None,
        headline=noted(fact.said, world),
        effects=fact.changes,
        assumptions=fact.assumed,
    )


def _placed(settled: Settled, world: World, said_already: bool) -> Told:
    """A new place; what belonged to the old one is let go and, unless said already, told."""
    assert settled.place is not None
    site = settled.place.site
    label = site.label if site is not None else settled.place.region or settled.name
    changes = [GardenChange("place.name", _lasting_name(settled, world))]
    garden = world.garden
    same = world.site is not None and site is not None and world.site.label == site.label
    moved = garden.place is not None and garden.place.lower() != settled.name.lower() and not same
    said = f"your garden is {site.where}" if site is not None else f"your garden is in {label}"
    if moved or garden.lat is not None:
        changes += [
            GardenChange(key, None)
            for key, value in (
                ("place.lat", garden.lat),
                ("place.lon", garden.lon),
                ("place.elevation_m", garden.elevation_m),
                ("place.low_spot_c", garden.low_spot_c or None),
                ("frost.last", garden.last_frost),
                ("frost.first", garden.first_frost),
            )
            if value is not None
        ]
        if len(changes) > 1 and not said_already:
            old = (garden.place or "the old place").partition(",")[0]
            said += f" (I've cleared the frost dates and height that belonged to {old})"
    return Told(tuple(changes), said)


def _lasting_name(settled: Settled, world: World) -> str:
    """The name to keep: the place as it is written ("Duluth, MN"), so that no slip is kept with it;
    as typed where the written name would not lead to the same place again."""
    assert settled.place is not None
    site = settled.place.site
    written = site.label if site is not None else settled.place.region
    slip = settled.place.reading is not None
    plain_town = (written or "").casefold().startswith(f"{settled.name.casefold()},")
    if not written or not (slip or plain_town):
        return settled.name
    try:
        again = find_place(written, world.facts)
    except UsageError:
        return settled.name
    same = (
        again.site.label == written
        if again.site is not None and site is not None
        else again.region == written
    )
    return written if same and again.reading is None else settled.name


def _at_height(settled: Settled, found: list[Told], world: World) -> Place:
    """The place at the height told with it."""
    assert settled.place is not None
    heights = [c.value for told_ in found for c in told_.changes if c.key == "place.elevation_m"]
    if not heights or settled.place.site is None or not isinstance(heights[0], float):
        return settled.place
    return resolve_site(place=settled.name, elevation_m=heights[0], facts=world.facts)


def _about_place(place: Place, world: World, own: bool) -> list[str]:
    """The frost dates on record there, and how the record was come by."""
    site = place.site
    if site is None:
        return [
            f"I have records for {plural(len(place.sites), 'place')} in {place.region}; name a town for closer dates."
        ]
    lines = list(site.notes)
    on_record = dates_on_record(site, world.today)
    if on_record is None:
        return [*lines, "Freezes are rare there, so no frost date is on record."]
    if not own:
        lines.append(
            f"Weather records there give {on_record}. If you tell me your own dates, I'll use those."
        )
    if site.asks_height:
        height = "6,800 feet" if world.units == "us" else "450 m"
        lines.append(
            f"Stations nearby lie at very different heights: tell me yours ('my garden is at {height}')."
        )
    return lines


def _frosts(frost: FrostDates) -> Told:
    changes: list[GardenChange] = []
    said: list[str] = []
    for role, month_day in (("last", frost.last), ("first", frost.first)):
        if month_day is not None:
            changes.append(GardenChange(f"frost.{role}", f"{month_day[0]:02}-{month_day[1]:02}"))
            said.append(f"your average {role} frost is {shown_month_day(month_day)}")
    return Told(tuple(changes), " and ".join(said), frost.assumed)


def _frost_numbers(frost: FrostDates, world: World) -> list[Number]:
    return [
        Number(
            f"{role}_frost",
            f"{month_day[0]:02}-{month_day[1]:02}",
            "month-day",
            f"{role.capitalize()} frost",
            shown=False,
        )
        for role, month_day in (("last", frost.last), ("first", frost.first))
        if month_day is not None
    ]


def _last_word(changes: Iterable[GardenChange]) -> tuple[GardenChange, ...]:
    """One change a key: what was told counts over what was let go."""
    found: dict[str, GardenChange] = {}
    for change in changes:
        if change.value is not None or change.key not in found:
            found.pop(change.key, None)
            found[change.key] = change
    whole = [c for c in found.values() if c.value is None]
    return (*whole, *(c for c in found.values() if c.value is not None))


def _unfit(changes: tuple[GardenChange, ...], world: World) -> str:
    """Why the garden would make no sense with these changes: frost dates that cannot be, at its place."""
    values = {c.key: c.value for c in changes}
    if not any(key in values for key in ("frost.last", "frost.first")):
        return ""

    def date_of(key: str) -> tuple[int, int] | None:
        value = values.get(key)  # what was told before may be what this puts right: it is not held against it
        return (int(value[:2]), int(value[3:])) if isinstance(value, str) else None

    place = values.get("place.name", world.garden.place)
    try:
        resolve_site(
            place=place if isinstance(place, str) else None,
            last_frost=date_of("frost.last"),
            first_frost=date_of("frost.first"),
            facts=world.facts,
        )
    except UsageError as error:
        return str(error)
    return ""


def _ask_back(question: Request, problem: str, choices: tuple[str, ...], others: list[Told]) -> Answer:
    """Nothing doubtful is kept; what else was told is."""
    changes = tuple(change for fact in others for change in fact.changes)
    kept = (f"Noted so far: {'; '.join(fact.said for fact in others)}.",) if others else ()
    return Answer(
        question=question,
        verdict=None,
        headline=problem,
        details=kept,
        asks=choices,
        assumptions=tuple(a for fact in others for a in fact.assumed),
        effects=changes,
    )


# -- forgetting ---------------------------------------------------------------------------------------
_CLEARED = {
    "frost.first": "your own first frost",
    "frost.last": "your own last frost",
    "frost": "your own frost dates",
    "place.elevation_m": "the height above sea level",
    "place": "your place",
    "household": "your household size",
    "preferences.units": "the units",
    "frame": "the frame",
    "everything": "everything about the old garden",
}
_KEYS = {
    "frost": ("frost.last", "frost.first"),
    "everything": ("place", "frost", "gear", "frame", "plants", "household", "crops"),
}


def _forgotten(question: Request) -> Told | None:
    """What is to be forgotten, None when nothing is; gear that is gone is told with the gear."""
    typed = question.first("forget")
    name = str(typed.value) if typed is not None else ""
    if name not in _CLEARED:
        return None
    keys = _KEYS.get(name, (name,))
    return Told(tuple(GardenChange(key, None) for key in keys), f"I've cleared {_CLEARED[name]}")


def _forget(question: Request, forgotten: Told) -> Answer:
    said = forgotten.said
    return Answer(
        question=question,
        verdict=None,
        headline=f"Done: {said}.",
        effects=forgotten.changes,
    )
