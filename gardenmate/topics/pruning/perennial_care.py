"""Two dates of perennial crops that are neither pruning nor new plants: the last stalk, and the mulch off."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from gardenmate.core.answer import Answer, Mark, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.plants import section
from gardenmate.knowledge.woody import Woody, woody_kinds
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.shared.woody_phase import Spring, bud_break, spring_at
from gardenmate.topics.shared.woody_text import sentence


def care_answer(question: Request, world: World) -> Answer | None:
    """When to stop cutting, or to take the mulch off, where that is asked; None when it is not."""
    ids = list(dict.fromkeys(ref.id for ref in question.crops))
    stops = [(i, row) for i in ids if (row := section(world.facts, i, "stop_cutting")) is not None]
    if stops and len(stops) == len(ids) and question.has("asks", "last-picking"):
        return _stop(question, world, stops)
    covered = [(i, row) for i in ids if (row := section(world.facts, i, "uncover")) is not None]
    if covered and len(covered) == len(ids) and question.has("asks", "uncover"):
        return _uncover(question, world, *covered[0])
    return None


def _asks_when(question: Request) -> bool:
    return question.cue("asks_when") is not None or question.has("asks", "when")


def _plant(world: World, base: str) -> Woody | None:
    kinds = woody_kinds(world.facts, base)
    return kinds[0] if kinds else None


def _shoots(world: World, spring: Spring, base: str) -> date:
    """When the first shoots of this season come; once its end is long past, next season's."""
    plant = _plant(world, base)
    found = [bud_break(plant, s) if plant is not None else s.green_tip for s in (spring, spring.shifted(1))]
    return found[0] if world.today <= found[0] + timedelta(weeks=20) else found[1]


def _stop(question: Request, world: World, rows: list[tuple[str, Mapping[str, Any]]]) -> Answer:
    spring = spring_at(world)
    parts, numbers, details, marks = [], [], [], [Mark("today", world.today)]
    verdicts: list[Verdict] = []
    for base, row in rows:
        start = _shoots(world, spring, base)
        first, last = start + timedelta(weeks=row["from_week"]), start + timedelta(weeks=row["to_week"])
        parts.append(
            f"{base} between {show_date(first, world.today)} and {show_date(last, world.today)} "
            f"({row['from_week']} to {row['to_week']} weeks of cutting), {row['sign']}"
        )
        numbers += [
            Number("stop_from", first, "date", "stop, from", base),
            Number("stop_by", last, "date", "stop by", base),
        ]
        marks.append(Mark(f"{base} stops", last))
        details += [sentence(f"{base}: {row['young']}"), str(row["after"])]
        verdicts.append("yes" if world.today < first else "tight" if world.today <= last else "no")
    same = len(set(verdicts)) == 1 and not _asks_when(question)
    return Answer(
        question=question,
        verdict=verdicts[0] if same else None,
        headline=sentence(f"Stop cutting {'; '.join(parts)}"),
        numbers=tuple(numbers),
        details=tuple(details),
        marks=tuple(sorted(marks, key=lambda m: m.on)),
        changes=("A bed in its first years is cut for a shorter time: tell me its age.",),
        assumptions=place_assumption(spring),
        sources=tuple(dict.fromkeys(s for _, row in rows for s in row["sources"])),
        working=spring_working(spring),
    )


def _uncover(question: Request, world: World, base: str, row: Mapping[str, Any]) -> Answer:
    spring = spring_at(world)
    on = _shoots(world, spring, base)
    near = timedelta(days=spring.spread_days)
    verdict: Verdict = "no" if world.today < on - near else "tight" if world.today < on else "yes"
    opening = {"yes": "Now", "tight": "About now", "no": f"Not yet; about {show_date(on, world.today)}"}
    say = f"about {show_date(on, world.today)}" if _asks_when(question) else opening[verdict]
    return Answer(
        question=question,
        verdict=None if _asks_when(question) else verdict,
        headline=sentence(f"{say}: take the mulch off {row['sign']}"),
        numbers=(
            Number("uncover_on", on, "date", "new leaves about", base),
            Number("spread_days", spring.spread_days, "days", "give or take", base),
        ),
        details=(str(row["how"]), str(row["early"])),
        changes=("Lift a corner and look: pale new leaves decide, not the date.",),
        assumptions=place_assumption(spring),
        sources=tuple(row["sources"]),
        working=spring_working(spring),
    )
