"""Pruning asked about no plant by name: the garden's own plants, else the groups every garden may have.

Short: what is cut now, what waits and until when. A table of dates only when the dates are asked for.
"""

from __future__ import annotations

from typing import NamedTuple

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.woody import in_overview, woody_kinds
from gardenmate.topics.pruning.advice import Advice, advise, common
from gardenmate.topics.pruning.kinds import match_kind, usual_kind
from gardenmate.topics.pruning.numbers import place_assumption, spring_working, window_text
from gardenmate.topics.pruning.words import asks_when
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.woody_phase import Spring, spring_at
from gardenmate.topics.shared.woody_text import in_season, joined, sentence

_FEW = 4
_NEXT = 3
TREES = ("pome", "stone", "tree", "nut", "evergreen")
WORDS = {"yes": "yes", "tight": "with care", "no": "not now", None: "-"}


class _Row(NamedTuple):
    """One plant or group as it is named, and its advice for the day."""

    name: str
    advice: Advice


def no_plant(question: Request, world: World, day: str) -> Answer:
    """The garden's own plants when known, else the general rule for each group of plants."""
    spring = spring_at(world)
    general = world.facts.table("pruning")
    mine = _own(question, world, spring)
    rows = mine or _groups(question, world, spring)
    found = [row.advice for row in rows]
    dates = asks_when(question)
    told = _cautions(world, found)
    later = _later(rows, world)
    return Answer(
        question=question,
        verdict=common([a.verdict for a in found]),
        headline=_headline(rows, world, bool(mine), day) if rows else "Nothing needs cutting now.",
        details=(
            *(() if dates or not later else (later,)),
            general["general"]["dead_wood"]["text"],
            *_seasonal_lines(world, spring, general),
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


def _own(question: Request, world: World, spring: Spring) -> list[_Row]:
    stage = question.cue("bud_stage")
    refs = [(CropRef(p.id, p.kind), woody_kinds(world.facts, p.id)) for p in world.garden.plants]
    plants = [match_kind(kinds, ref.kind) or usual_kind(kinds, spring, world) for ref, kinds in refs if kinds]
    return [_Row(w.name, advise(w, spring, world.facts, world.today, stage)) for w in plants]


def _groups(question: Request, world: World, spring: Spring) -> list[_Row]:
    """The groups whose plant is on file; a group without one is left out, not guessed."""
    stage = question.cue("bud_stage")
    return [
        _Row(row.name, advise(plant, spring, world.facts, world.today, stage))
        for row, plant in in_overview(world.facts)
    ]


def _table(rows: list[_Row], world: World, title: str) -> Table:
    lines = tuple((r.name, WORDS[r.advice.verdict], window_text(r.advice, world)) for r in rows)
    return Table(("plant", "now?", "dates"), lines, title)


def _working(row: _Row, world: World) -> str:
    return f"{row.name}: {WORDS[row.advice.verdict]}, {window_text(row.advice, world)}."


def _later(rows: list[_Row], world: World) -> str:
    """The next few to come: "Later: lilac from 4 Jun, kiwi from 11 Jan 2028." """
    waiting = sorted(
        (r.advice.coming.start, r.name) for r in rows if r.advice.verdict == "no" and r.advice.coming
    )
    if not waiting:
        return ""
    said = "; ".join(f"{name} from about {show_date(start, world.today)}" for start, name in waiting[:_NEXT])
    return f"Later: {said}."


def _headline(rows: list[_Row], world: World, mine: bool, day: str) -> str:
    now = [r.name for r in rows if r.advice.verdict == "yes"]
    care = [r.name for r in rows if r.advice.verdict == "tight"]
    waiting = [(r.advice.coming.start, r.name) for r in rows if r.advice.verdict == "no" and r.advice.coming]
    if now and len(waiting) > len(rows) / 2 and not mine:
        first, name = min(waiting)
        later = f"the rest comes later, next {name} from about {show_date(first, world.today)}"
        return sentence(f"Nothing is missed: {day} it is {joined(now)}; {later}")
    if now:
        rest = (
            f"; with care: {joined(care)}" if 0 < len(care) <= _FEW else "; others with care" if care else ""
        )
        return sentence(
            f"{'Now' if day == 'now' else sentence(day)[:-1]} is the time for {joined(now)}{rest}"
        )
    if waiting:
        first, name = min(waiting)
        opening = "Nothing of yours needs cutting now" if mine else "Nothing is missed"
        rest = f"; with care {day}: {joined(care)}" if care else ""
        return sentence(f"{opening}: the next is {name}, from about {show_date(first, world.today)}{rest}")
    if care:
        return sentence(f"Nothing must be cut now; possible with care: {joined(care)}")
    return "Nothing needs cutting now."


def _seasonal_lines(
    world: World, spring: Spring, general: dict[str, dict[str, dict[str, str]]]
) -> tuple[str, ...]:
    month = (world.today.month + (6 if spring.southern else 0) - 1) % 12 + 1
    line = "not_autumn" if month in (9, 10, 11) else "early_winter" if month == 12 else ""
    line = line or ("order" if month in (1, 2, 3, 4) else "")
    return (in_season(general["general"][line]["text"], spring.southern),) if line else ()


def _cautions(world: World, found: list[Advice]) -> Cautions:
    trees = any(a.plant.group in TREES for a in found)
    return cautions(
        world.facts, "pruning", *(("blades", "ladders", "lines", "arborist") if trees else ("blades",))
    )
