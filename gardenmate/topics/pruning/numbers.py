"""Figures, dates and working behind a pruning answer."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Mark, Number
from gardenmate.core.units import (
    INCH_CM,
    show_date,
)
from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.pruning.decide import Pruning
from gardenmate.topics.shared.woody_phase import PLAIN, Spring, bloom, bud_break, chill_delay, chill_need
from gardenmate.topics.shared.woody_text import span_text


def dates(found: Pruning, spring: Spring, world: World) -> tuple[Number, ...]:
    """The dates of the window, bud break with its spread, age gate and chill."""
    crop = found.plant.base
    cut = found.cut
    made: list[Number] = []
    if cut is not None:
        made.append(Number("prune_from", cut.start, "date", "prune from", crop))
        made.append(Number("prune_to", cut.end, "date", "prune until", crop))
    if found.plant.bud_break is not None:
        made.append(
            Number("bud_break", _coming_break(found.plant, spring, world), "date", "buds open about", crop)
        )
        made.append(Number("spread_days", spring.spread_days, "days", "give or take", crop))
    made.append(
        Number(
            "min_age_years",
            found.plant.limits.min_age_years,
            "years",
            "hard cut from year",
            crop,
            shown=False,
        )
    )
    if found.plant.chill is not None and found.plant.chill.hours is not None and world.site is not None:
        made += _chill_numbers(found.plant, spring, world)
    return tuple(made)


def _coming_break(plant: Woody, spring: Spring, world: World) -> date:
    """Bud break of this cycle, or of the next once the leaves have fallen."""
    return bud_break(plant, spring.shifted(1) if world.today >= spring.leaf_fall else spring)


def _chill_numbers(plant: Woody, spring: Spring, world: World) -> list[Number]:
    assert plant.chill is not None
    assert plant.chill.hours is not None
    assert world.site is not None
    low, high = plant.chill.hours
    if high <= 0:
        return []
    hours = spring.rest.hours_by(spring.green_tip) if spring.rest is not None else 0
    return [
        Number("chill_hours_place", hours, "hours", "winter chill there", plant.base, shown=hours < high),
        Number(
            "chill_hours_need_low", low, "hours", "chill its kinds need, from", plant.base, shown=hours < high
        ),
        Number("chill_hours_need_high", high, "hours", "to", plant.base, shown=hours < high),
    ]


def method_numbers(plant: Woody) -> tuple[Number, ...]:
    """Lowest and highest cutting height over the plant's methods, in inches and cm."""
    heights = [m.cut_height_cm for m in plant.methods if m.cut_height_cm is not None]
    if not heights:
        return ()
    low, high = min(h[0] for h in heights), max(h[1] for h in heights)
    pairs = (("cut_height_low", low), ("cut_height_high", high))
    return tuple(
        Number(f"{name}_{unit}", round(cm / per, 1), unit, name.replace("_", " "), plant.base, shown=False)
        for name, cm in pairs
        for unit, per in (("in", INCH_CM), ("cm", 1.0))
    )


def marks(found: Pruning, spring: Spring, world: World) -> tuple[Mark, ...]:
    """Points of the date line: today, the window, bud break."""
    cut = found.cut
    points = [Mark("today", world.today)]
    if cut is not None:
        points += [Mark("prune from", cut.start), Mark("until", cut.end)]
    if found.plant.bud_break is not None:
        points.append(Mark("buds open", _coming_break(found.plant, spring, world)))
    return tuple(sorted(points, key=lambda m: m.on))


def window_text(found: Pruning, world: World) -> str:
    """The current or next window as text ("20 Feb to 5 Apr")."""
    cut = found.cut
    return span_text(cut.start, cut.end, world.today) if cut else "-"


def place_assumption(spring: Spring, plant: Woody | None = None) -> tuple[str, ...]:
    """What the dates rest on, and whether ``plant`` gets the chill it needs there."""
    half = "southern" if spring.southern else "northern"
    if spring.basis == "calendar":
        return (
            f"No place known: dates are for USDA zones 5-7 in the {half} hemisphere; colder places run two to"
            " six weeks later, mild ones four to eight weeks earlier.",
        )
    lines = []
    if plant is not None and chill_delay(plant, spring) is None and spring.rest is not None:
        hours = spring.rest.hours_by(spring.green_tip)
        lines.append(
            f"Winters in {spring.label} give about {hours} chill hours, the {plant.name} mostly wants"
            f" {chill_need(plant):.0f} and more: it opens late and unevenly there, so go by the buds."
        )
    how = {
        "weather": "this year's imported weather, then average days",
        "normals": "an average spring",
        "region": "an average spring in the middle of the region",
    }[spring.basis]
    lines.insert(0, f"Dates for {spring.label} from {how}, give or take {spring.spread_days} days.")
    if spring.mild and len(lines) == 1:
        lines.append("Winters there are so mild that dates mean little: go by the buds.")
    return tuple(lines)


def spring_working(spring: Spring) -> tuple[str, ...]:
    """How the frame of the year was reckoned."""
    if spring.basis == "calendar":
        return (f"Reference spring (zones 5-7): apple green tip {show_date(spring.green_tip)}.",)
    first = "1 Sep" if spring.southern else "1 Mar"
    side = "after" if spring.lag_days >= 0 else "before"
    return (
        f"Apple green tip in {spring.label}: 120 degree-days above 43 F from {first}, about"
        f" {show_date(spring.green_tip)}.",
        f"That is {abs(spring.lag_days)} days {side} the reference spring.",
        f"Leaves fall about {show_date(spring.leaf_fall)} (hard frost, cold or short days).",
    )


def plant_working(found: Pruning, spring: Spring) -> tuple[str, ...]:
    """How the plant's own dates follow from the frame."""
    plant = found.plant
    lines = []
    if plant.bud_break is not None:
        days = plant.bud_break.days_from_apple_green_tip
        green = show_date(bud_break(plant, spring))
        need = chill_need(plant)
        if spring.rest is not None and need > 0:
            rested, late = spring.rest.complete(need), chill_delay(plant, spring)
            when = f"about {show_date(rested)}" if rested is not None else "never in an average winter"
            lines.append(
                f"{plant.name}: {need:.0f} chill hours gathered {when}; opens {late or 0} days later for it."
            )
        lines.append(f"{plant.name}: first green {days:+.0f} days from the apple's, {green}.")
    flowers = bloom(plant, spring)
    if flowers is not None:
        lines.append(f"{plant.name}: bloom about {show_date(flowers)}.")
    stage = f"seen: {PLAIN[found.phase.stage]}" if found.seen else f"likely {PLAIN[found.phase.stage]}"
    lines.append(f"{plant.name}: {stage}.")
    return tuple(lines)
