"""The words that can be completed, each with its one-line meaning, made from the facts."""

from __future__ import annotations

from collections import Counter

from gardenmate.climate.place_names import normalise
from gardenmate.climate.places import gazetteer
from gardenmate.climate.town_table import starting
from gardenmate.core.question import CropRef
from gardenmate.knowledge.facts import Facts, NameEntry
from gardenmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Completable:
    """A name to complete: its lower-case ``key``, the ``text`` put in, and what it means."""

    key: str
    text: str
    meaning: str


def beginnings(facts: Facts) -> list[Completable]:
    """Beginnings of questions, in the order of the help."""
    return _from_help(facts, "begin")


def examples(facts: Facts) -> list[Completable]:
    """Whole example questions, in the order of the help."""
    return _from_help(facts, "ask")


def _from_help(facts: Facts, key: str) -> list[Completable]:
    topics = facts.table("help").values()
    return [Completable(text.lower(), text, topic["says"]) for topic in topics for text in topic.get(key, ())]


def crop_names(facts: Facts) -> list[Completable]:
    """Every right-spelled crop and plant name, sorted. Of a singular and its plural the plural stands."""
    names = {name: entry for name, entry in facts.names.items() if not entry.misspelled}
    meanings: dict[CropRef, str] = {}
    found = []
    for name, entry in names.items():
        if any(_same(names.get(plural), entry) for plural in (f"{name}s", f"{name}es", f"{name[:-1]}ies")):
            continue
        if entry.ref not in meanings:
            meanings[entry.ref] = _meaning(entry.ref, facts)
        found.append(Completable(name, name, meanings[entry.ref]))
    return sorted(found, key=lambda n: n.key)


def _same(other: NameEntry | None, entry: NameEntry) -> bool:
    return other is not None and other.ref == entry.ref


def _meaning(ref: CropRef, facts: Facts) -> str:
    """ "tender crop, about 75 days" or "bush, Ribes nigrum"."""
    crop = facts.crop_for(ref)
    if crop is not None:
        return f"{crop.hardiness.replace('-', ' ')} crop, about {crop.maturity.days.mid:.0f} days"
    for plant in (f"{ref.id}-{ref.kind}" if ref.kind else ref.id, ref.id):
        if plant in facts.ids("woody"):
            table = facts.table(f"woody/{plant}")
            return f"{table['group']}, {table['botanical']}"
    return f"plant: {ref.id.replace('-', ' ')}"


SHORTEST_TOWN = 3  # letters; fewer are the beginning of too many towns


def place_names(facts: Facts) -> list[Completable]:
    """Every bundled place, sorted; with its region where two share a name."""
    rows = gazetteer(facts).rows
    shared = Counter(row.name for row in rows)
    found: dict[str, Completable] = {}
    for row in rows:
        region = row.region or row.country
        text = f"{row.name}, {region}" if shared[row.name] > 1 else row.name
        height = f", {row.elev_m:.0f} m" if row.elev_m is not None else ""
        found.setdefault(
            text.lower(), Completable(text.lower(), text, f"place: {region}, {row.country}{height}")
        )
    return sorted(found.values(), key=lambda n: n.key)


def gear_names(facts: Facts) -> list[Completable]:
    """Gear a grower may have, sorted."""
    rows = [
        Completable(entry["name"].lower(), entry["name"], "gear") for entry in facts.table("gear").values()
    ]
    return sorted(rows, key=lambda n: n.key)


def towns_starting(facts: Facts, typed: str) -> list[Completable]:
    """Towns of the gazetteer whose name starts with what is typed (three letters or more), the largest first."""
    wanted = normalise(typed)
    if len(wanted) < SHORTEST_TOWN:
        return []
    found = []
    for town in starting(wanted, facts.root / "towns.csv"):
        county = f"{town.county} County, " if town.county else ""
        height = f", {town.elev_m:.0f} m" if town.elev_m is not None else ""
        place = f"{county}{town.region}, {town.country}" if town.region else town.country
        found.append(Completable(town.label.lower(), town.label, f"place: {place}{height}"))
    return found
