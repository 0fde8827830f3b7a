"""Pruning asked about no plant by name: the garden's own plants, else the groups every garden may have.

Short: what is cut now, what waits and until when. A table of dates only when the dates are asked for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from gardenmate.core.answer import Answer, Table
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.woody import in_overview, woody_kinds
from gardenmate.records import NamedTuple
from gardenmate.topics.pruning.decide import Pruning, asked_of, common, decide
from gardenmate.topics.pruning.kinds import match_kind, usual_kind
from gardenmate.topics.pruning.numbers import place_assumption, spring_working, window_text
from gardenmate.topics.pruning.one_plant import TREES
from gardenmate.topics.pruning.several import WORDS
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.woody_case import NOW, WoodyCase
from gardenmate.topics.shared.woody_text import joined, sentence

_FEW = 4  # plants named one by one; design value
_NEXT = 3  # plants told that come next; design value
_QUIET = {NOW: "Nothing is missed"}


class _Row(NamedTuple):
    """One plant or group as it is named, and its advice for the day."""

    name: str
    found: Pruning


def no_plant(case: WoodyCase) -> Answer:
    """The garden's own plants when known, else the general rule for each group of plants."""
    world, spring, day = case.world, case.spring, case.day
    general = case.facts.told("pruning", case.manner)["general"]
    mine = _own(case)
    rows = mine or _groups(case)
    found = [row.found for row in rows]
    dates = case.asks_when
    told = _cautions(world, found)
    later = _later(rows, world)
    return Answer(
        question=case.question,
        verdict=common(a.verdict for a in found),
        headline=_headline(rows, world, bool(mine), day) if rows else "Nothing needs cutting now.",
        details=(
            *(() if dates or not later else (later,)),
            general["dead_wood"]["text"],
            *_seasonal_lines(case, general),
        ),
        table=_table(rows, world, "Your plants" if mine else "By group") if dates or mine else None,
        changes=(
            "Name the plant, and what its buds show, and I can be more exact."
            if dates or mine
            else "Name the plant for its dates and method, or ask when to prune each for all the dates.",
        ),
        cautions=told.texts,
        assumptions=place_assumption(spring),
        sources=tuple(dict.fromkeys((*(s for a in found for s in a.plant.source_ids[:2]), *told.sources))),
        working=(*spring_working(spring), *(_working(row, world) for row in rows)),
    )


def _own(case: WoodyCase) -> list[_Row]:
    refs = [(p.kind, woody_kinds(case.facts, p.id, case.manner)) for p in case.world.garden.plants]
    plants = [
        match_kind(kinds, kind) or usual_kind(kinds, case.spring, case.world) for kind, kinds in refs if kinds
    ]
    return [_Row(w.name, decide(w, case.spring, case.facts, asked_of(case, w))) for w in plants]


def _groups(case: WoodyCase) -> list[_Row]:
    """The groups whose plant is on file; a group without one is left out, not guessed."""
    return [
        _Row(row.name, decide(plant, case.spring, case.facts, asked_of(case, plant)))
        for row, plant in in_overview(case.facts, case.manner)
    ]


def _table(rows: list[_Row], world: World, title: str) -> Table:
    lines = tuple((r.name, WORDS[r.found.verdict], window_text(r.found, world)) for r in rows)
    return Table(("plant", "now?", "dates"), lines, title)


def _working(row: _Row, world: World) -> str:
    return f"{row.name}: {WORDS[row.found.verdict]}, {window_text(row.found, world)}."


def _later(rows: list[_Row], world: World) -> str:
    """The next few to come: "Later: lilac from 4 Jun, kiwi from 11 Jan 2028." """
    waiting = sorted(
        (r.found.coming.start, r.name) for r in rows if r.found.verdict == "no" and r.found.coming
    )
    if not waiting:
        return ""
    said = "; ".join(f"{name} from about {show_date(start, world.today)}" for start, name in waiting[:_NEXT])
    return f"Later: {said}."


def _named(names: Sequence[str]) -> str:
    """Plants and groups of them: "grape and rose", or "apple, pear and quince; lavender and sage"."""
    return "; ".join(names) if any(" and " in name for name in names) else joined(names)


def _headline(rows: list[_Row], world: World, mine: bool, day: str) -> str:
    now = [r.name for r in rows if r.found.verdict == "yes"]
    care = [r.name for r in rows if r.found.verdict == "tight"]
    waiting = [(r.found.coming.start, r.name) for r in rows if r.found.verdict == "no" and r.found.coming]
    if now and len(waiting) > len(rows) / 2 and not mine:
        first, name = min(waiting)
        later = f"the rest comes later, next {name} from about {show_date(first, world.today)}"
        job = (
            f"Now is the time for {_named(now)}"
            if day == NOW
            else f"{sentence(day)[:-1]} you can prune {_named(now)}"
        )
        return f"Nothing is missed. {job}; {later}."
    if now:
        rest = (
            f"; with care, also {_named(care)}"
            if 0 < len(care) <= _FEW
            else "; prune others with care"
            if care
            else ""
        )
        return sentence(
            f"{'Now' if day == 'now' else sentence(day)[:-1]} is the time for {_named(now)}{rest}"
        )
    if waiting:
        first, name = min(waiting)
        opening = (
            f"Nothing of yours needs cutting {day}"
            if mine
            else _QUIET.get(day, f"There is little to prune {day}")
        )
        rest = f"; {day} you can prune {_named(care)} with care" if care else ""
        return sentence(f"{opening}. Next is {name}, from about {show_date(first, world.today)}{rest}")
    if care:
        return sentence(f"Nothing needs cutting now; with care you can prune {_named(care)}")
    return "Nothing needs cutting now."


def _seasonal_lines(case: WoodyCase, general: Mapping[str, Mapping[str, str]]) -> tuple[str, ...]:
    month = (case.world.today.month + (6 if case.spring.southern else 0) - 1) % 12 + 1
    line = "not_autumn" if month in (9, 10, 11) else "early_winter" if month == 12 else ""
    line = line or ("order" if month in (1, 2, 3, 4) else "")
    return (general[line]["text"],) if line else ()


def _cautions(world: World, found: list[Pruning]) -> Cautions:
    trees = any(a.plant.group in TREES for a in found)
    return cautions(
        world.facts, "pruning", *(("blades", "ladders", "lines", "arborist") if trees else ("blades",))
    )
