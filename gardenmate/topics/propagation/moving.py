"""Moving an established shrub or small tree: when, how big a root ball, and its first year after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from math import pi
from typing import Any

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.finding import Finding
from gardenmate.core.units import INCH_CM, LB_PER_KG, show_date
from gardenmate.knowledge.marked import worded
from gardenmate.knowledge.woody import Woody
from gardenmate.records import dataclass
from gardenmate.topics.propagation.bare_root import asleep
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_case import NOW, PlantCalled, WoodyCase, called
from gardenmate.topics.shared.woody_phase import SEEN_STAGES, bud_break, seen_stage
from gardenmate.topics.shared.woody_text import sentence, span_text

_NOT_SHRUBS = ("bramble", "perennial vegetable", "perennial fruit")
_IN = {"mm": 1 / 10 / INCH_CM, "cm": 1 / INCH_CM, "in": 1.0, "ft": 12.0, "m": 100 / INCH_CM}
_SOIL_KG_L = 1.6  # moist garden soil, about 100 lb a cubic foot (common practice)
_EVERGREEN_WEEKS = (-2, 4)  # about green tip: as growth starts (common practice)
_LATE_DAYS = 14  # design value: with a good ball a plant just opening can still be moved


@dataclass(frozen=True, slots=True, kw_only=True)
class Move(Finding):
    """The time for moving one plant, and the ball its height asks for (inches; None where no height was told)."""

    plant: Woody
    verdict: Verdict
    start: date
    end: date
    height_in: float | None
    ball_in: float | None
    depth_in: float | None
    weight_kg: float | None
    beyond: bool
    seen: str | None


def movable(plants: Sequence[Woody]) -> bool:
    """True for shrubs and trees: canes, crowns and runners have ways of their own."""
    return bool(plants) and all(w.group not in _NOT_SHRUBS for w in plants)


def move_answer(case: WoodyCase, plant: Woody) -> Answer:
    """yes = asleep, move it; tight = just opening; no = in growth, wait for leaf fall or early spring."""
    table = case.facts.told("propagation", case.manner)["moving"]
    found = _decide(case, plant, table)
    said = cautions(case.facts, "propagation", "buried_services", "heavy_ball")
    return Answer(
        question=case.question,
        verdict=found.verdict,
        headline=sentence(_headline(found, case, called(plant, case.question.crops, assumed=True))),
        numbers=_numbers(found),
        key_figures=("take_from", "take_to", "ball_in" if case.world.units == "us" else "ball_cm"),
        details=(*_ball_lines(found, case, table), *table["details"]),
        steps=tuple(table["steps"]),
        changes=()
        if found.height_in is not None
        else ("Tell me how tall it is, and I can size the root ball.",),
        cautions=said.texts,
        assumptions=place_assumption(case.spring),
        sources=tuple(dict.fromkeys((*table["sources"], *said.sources))),
        working=spring_working(case.spring),
    )


def _decide(case: WoodyCase, plant: Woody, table: Mapping[str, Any]) -> Move:
    start, end = _time(case, plant)
    size = case.question.first("size", "plant")
    height = None if size is None else size.number * _IN[size.unit]
    rows: list[list[float]] = table["ball_in_by_height_ft"]
    ball = None if height is None else next((b for h, b in rows if height <= 12 * h), None)
    depth = None if ball is None else float(table["depth_share"]) * ball
    seen = seen_stage(case.question, plant)
    return Move(
        plant=plant,
        verdict=_verdict(case.world.today, start, end, seen),
        start=start,
        end=end,
        height_in=height,
        ball_in=ball,
        depth_in=depth,
        weight_kg=None if ball is None or depth is None else _weight_kg(ball, depth),
        beyond=height is not None and ball is None,
        seen=seen,
    )


def _weight_kg(ball_in: float, depth_in: float) -> float:
    litres = pi / 4 * (ball_in * INCH_CM / 10) ** 2 * depth_in * INCH_CM / 10
    return litres * _SOIL_KG_L


def _time(case: WoodyCase, plant: Woody) -> tuple[date, date]:
    """Leaf fall to bud break; evergreens as growth starts in spring."""
    if plant.group != "evergreen":
        return asleep(plant, case.spring, case.world.today)
    for frame in (case.spring, case.spring.shifted(1)):
        green = bud_break(plant, frame)
        start, end = (green + timedelta(weeks=w) for w in _EVERGREEN_WEEKS)
        if case.world.today <= end:
            return start, end
    return start, end


def _verdict(day: date, start: date, end: date, seen: str | None) -> Verdict:
    if seen is not None:
        stage = SEEN_STAGES[seen]
        return "yes" if stage in ("dormant", "bud_swell") else "tight" if stage == "green_tip" else "no"
    if start <= day <= end:
        return "yes"
    return "tight" if timedelta(0) < day - end <= timedelta(days=_LATE_DAYS) else "no"


def _headline(found: Move, case: WoodyCase, name: PlantCalled) -> str:
    start, end = (show_date(day, case.world.today) for day in (found.start, found.end))
    between = span_text(found.start, found.end, case.world.today)
    ball = _ball(found, case)
    if case.question.has("way", "root-ball") and found.ball_in is not None:
        return f"Take {ball}; move the {name.one} while it is dormant, about {between}"
    with_ball = f", with {ball}" if ball else ""
    if case.asks_when or case.asks_how:
        asleep_then = f"while it is dormant, about {between}{with_ball}"
        return f"Move the {name.one} {asleep_then}; {case.not_then(found.verdict)}"
    if found.verdict == "yes":
        until = "" if found.seen else f", before the buds open about {end}"
        return f"Yes, move the {name.one} {case.day}{until}{with_ball}"
    if found.verdict == "tight":
        return f"Late, but you can still move the {name.one} while the leaves are small{with_ball}; water it all summer"
    opening = "Not yet" if case.day == NOW else f"Not {case.day}"
    return f"{opening}: the {name.one} is growing. Move it once the leaves are off, from about {start}"


def _ball(found: Move, case: WoodyCase) -> str:
    if found.ball_in is None:
        return ""
    wide, deep = (worded(f"{{{v:.0f} inches}}", case.manner) for v in (found.ball_in, found.depth_in or 0.0))
    return f"a root ball {wide} across and {deep} deep"


def _ball_lines(found: Move, case: WoodyCase, table: Mapping[str, Any]) -> tuple[str, ...]:
    if found.beyond:
        return (str(table["beyond"]),)
    if found.weight_kg is None:
        return (str(table["rule"]),)
    heavy = (
        f"{5 * round(found.weight_kg * LB_PER_KG / 5):.0f} lb"
        if case.world.units == "us"
        else f"{5 * round(found.weight_kg / 5):.0f} kg"
    )
    return (f"A ball of moist soil that size weighs about {heavy}.", str(table["rule"]))


def _numbers(found: Move) -> tuple[Number, ...]:
    crop = found.plant.base
    made = [
        Number("take_from", found.start, "date", "move from", crop),
        Number("take_to", found.end, "date", "move until", crop),
    ]
    for name, inches in (("ball", found.ball_in), ("ball_depth", found.depth_in)):
        if inches is not None:
            label = "root ball across" if name == "ball" else "root ball deep"
            made.append(Number(f"{name}_in", round(inches), "in", label, crop))
            made.append(Number(f"{name}_cm", round(inches * INCH_CM), "cm", label, crop))
    return tuple(made)
