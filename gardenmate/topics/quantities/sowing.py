"""Seeds, cells, trays, shelf and mix for a number of plants; whether it fits; what one tray takes."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import (
    GALLON_L,
    Units,
    plural,
)
from gardenmate.core.world import World
from gardenmate.topics.quantities.amounts import (
    show_inches_range,
    show_row,
    show_weight_range,
    spacing_of,
    yield_per_plant,
)
from gardenmate.topics.quantities.household import Wanted
from gardenmate.topics.quantities.space import gap_of, row_seeds
from gardenmate.topics.shared.containers import Container, container_asked
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.raising_plan import (
    RaisingPlan,
    germination_basis,
    germination_typed,
    plan_raising,
    sensible,
    station_seeds,
)

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def sowing_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    """For a number of plants of each crop: what to sow, and the room it takes indoors and in the bed."""
    count = question.ask.count
    plants = sensible(count if count is not None else 12)
    own = counts_told(question)
    raised = [w for w in crops if w.crop is not None and "indoors" in w.crop.methods]
    if not raised:
        return _planted(question, world, crops, plants)
    named = container_asked(question, world.facts)
    share, gap = germination_typed(question), question.first("size", "spacing")
    plans = [(w, plan_of(w, own.get(w.id, plants), named, world, share)) for w in raised]
    sure = plans[0][1].confidence
    heads = [_head(w, p, world.units) for w, p in plans]
    others = [w.many for w in crops if w not in raised]
    apart = None if gap is None else 100.0 * gap.number
    details = [d for w, p in plans for d in _details(w, p, world, apart)]
    if others:
        details.append(
            f"People don't raise {listed(others)} in trays: ask for the row or the spacing instead."
        )
    several = len(plans) > 1
    return Answer(
        question=question,
        verdict=None,
        headline=sentence(f"{'; '.join(heads)}, to be {sure:.0%} sure."),
        numbers=tuple(n for w, p in plans for n in _numbers(w, p, several)),
        details=unique(details),
        table=_table(plans, world),
        changes=_changes(plans, named, share, world),
        assumptions=unique(
            ("You didn't say how many, so I used 12 plants.",) if count is None else (),
            (f"I used {plants} for each crop.",) if several and count is not None and len(own) < 2 else (),
            *(_assumed(w, p) for w, p in plans),
        ),
        sources=unique(
            *(w.crop.emergence.sources.of("germination_standard_pct") for w, _ in plans if w.crop),
            ("common-practice",),
        ),
        working=tuple(line for w, p in plans for line in _working(w, p)),
    )


def _changes(
    plans: list[tuple[Wanted, RaisingPlan]], named: Container | None, share: float | None, world: World
) -> tuple[str, ...]:
    """What fresh seed would save, and the trays once they are potted on."""
    if all(p.last is None for _, p in plans):
        return ()
    w, p = plans[0]
    said = []
    if share is None:
        fresh = plan_of(w, p.plants, named, world, germination=0.9).seeds
        said.append(f"With fresh seed you need fewer: at 90% germination {fresh} seeds would do.")
    trays = plural(sum(p.trays for _, p in plans), "tray")
    said.append(f"{trays} in all; potted on they take {sum(p.last_trays for _, p in plans)} more.")
    return tuple(said)


def counts_told(question: Request) -> dict[str, int]:
    """Crop id -> the plants told for it, where each crop has its own ("20 tomatoes and 12 peppers")."""
    own = ((ref.id, question.first("count", ref.id)) for ref in question.crops)
    found = {crop: sensible(told.number) for crop, told in own if told is not None}
    return found if len(found) > 1 else {}


def plan_of(
    w: Wanted, plants: int, named: Container | None, world: World, germination: float | None = None
) -> RaisingPlan:
    if w.crop is None:
        raise KeyError(w.id)
    per = int(world.facts.table("amounts")["defaults"]["seeds_per_cell"])
    return plan_raising(w.crop, plants, world.facts, cell=named, per_cell=per, germination=germination)


def _head(w: Wanted, p: RaisingPlan, units: Units) -> str:
    label, crop = p.first.label(units), f"{p.plants} {w.name} plants"
    if p.first.is_pot:
        wide = label.removesuffix(f" {p.first.name}")
        pots = _one(p.cells, f"pot of {wide}", f"pots of {wide}")
        return f"{pots} for {crop}: sow {p.seeds} seeds, {p.per_cell} to a pot"
    return (
        f"{_one(p.trays, label)} for {crop}: sow {p.seeds} seeds, {p.per_cell} to a cell, in {p.cells} cells"
    )


def _one(count: int, noun: str, nouns: str | None = None) -> str:
    word = _NUMBERS[count] if count < len(_NUMBERS) else str(count)
    return f"{word} {noun if count == 1 else nouns or f'{noun}s'}"


def _details(w: Wanted, p: RaisingPlan, world: World, apart_cm: float | None) -> list[str]:
    found = []
    full = p.plants / (p.trays * p.first.per_tray)
    if not p.first.is_pot:
        found.append(f"{p.plants} plants fill {full:.0%} of {'the tray' if p.trays == 1 else 'the trays'}.")
    if p.last is not None:
        found.append(
            f"Potted on into {p.last.label(world.units)}s they take {plural(p.last_trays, 'tray')} "
            f"of {p.last.per_tray}, so plan the shelf for that."
        )
    litres = p.mix_l
    text = f"{litres / GALLON_L:.1f} gallons" if world.units == "us" else f"{litres:.0f} litres"
    found.append(f"Mix: about {text} in all. Mat: {plural(p.trays, 'tray')} for {p.mat_days:g} days or so.")
    if w.crop is None:
        return found
    spacing = spacing_of(w.crop)
    if spacing is not None or apart_cm is not None:
        each_cm = apart_cm or (spacing.usual if spacing is not None else 0.0)
        gap = (each_cm, each_cm) if spacing is None or apart_cm is not None else spacing.in_row
        found.append(
            f"Set out they want {show_row(p.plants * each_cm, world.units)} of row, "
            f"{show_inches_range(gap, world.units)} apart."
        )
    each = yield_per_plant(w.crop)
    if each is not None:
        low, high = p.plants * each.poor, p.plants * each.good
        found.append(f"They should give about {show_weight_range(low, high, world.units)} over the season.")
    return found


def _numbers(w: Wanted, p: RaisingPlan, several: bool) -> list[Number]:
    crop = w.id if several else None
    return [
        Number("plants", p.plants, "plants", "plants wanted", crop, shown=False),
        Number("seeds", p.seeds, "seeds", "seeds to sow", crop, shown=False),
        Number("cells", p.cells, "cells", "cells or pots", crop, shown=False),
        Number("trays", p.trays, "trays", "trays", crop, shown=False),
        Number(
            "tray_filled", round(100 * p.share_filled), "%", "filled by the plants wanted", crop, shown=False
        ),
        Number("trays_potted_on", p.last_trays, "trays", "trays after potting on", crop, shown=False),
        Number("mix_l", round(p.mix_l, 1), "l", "mix", crop, shown=False),
    ]


def _assumed(w: Wanted, p: RaisingPlan) -> tuple[str, ...]:
    return (
        f"{sentence(w.name)}: {p.germination:.0%} come up ({germination_basis(p.basis)}), {p.loss:.0%} of the "
        "seedlings are lost later.",
        f"{p.confidence:.0%} sure means nine sowings in ten give at least the number wanted.",
    )


def _working(w: Wanted, p: RaisingPlan) -> list[str]:
    if w.crop is not None and p.per_cell > 2:
        return [
            f"{w.name}: each seed gives a plant with {p.germination:.2f} x {1 - p.loss:.2f} = "
            f"{p.germination * (1 - p.loss):.2f}; the fewest seeds that give {p.plants} or more with "
            f"{p.confidence:.0%} is {p.seeds} (binomial), {p.per_cell} to a cell."
        ]
    chance = (1 - (1 - p.germination) ** p.per_cell) * (1 - p.loss)
    return [
        f"{w.name}: a cell with {p.per_cell} seeds gives a plant with "
        f"(1 - {1 - p.germination:.2f}^{p.per_cell}) x {1 - p.loss:.2f} = {chance:.2f}.",
        f"The fewest cells of which {p.plants} or more succeed with {p.confidence:.0%} is "
        f"{p.cells} (binomial), "
        f"{p.seeds} seeds, {plural(p.trays, 'tray')} of {p.first.per_tray}.",
    ]


def _table(plans: list[tuple[Wanted, RaisingPlan]], world: World) -> Table:
    return Table(
        ("", "plants", "seeds", "cells", "trays", "potted on"),
        tuple(
            (
                w.name,
                str(p.plants),
                str(p.seeds),
                str(p.cells),
                f"{p.trays} x {p.first.per_tray}",
                "-" if p.last is None else f"{p.last_trays} x {p.last.per_tray}",
            )
            for w, p in plans
        ),
    )


def _planted(question: Request, world: World, crops: tuple[Wanted, ...], plants: int) -> Answer:
    """Crops that are never raised in trays: the row for that many plants."""
    parts, numbers, stations = [], [], []
    sources: list[str] = []
    for w in crops:
        gap = gap_of(w, world)
        if gap is None:
            parts.append(f"{plants} {w.name} plants, for which I have no spacing")
            continue
        spacing, src = gap
        row = plants * spacing.usual
        seeds = row_seeds(w, plants, world)
        sow = f" and about {seeds} seeds" if seeds is not None else ""
        parts.append(f"{plants} {w.name} plants take {show_row(row, world.units)} of row{sow}")
        crop = w.id if len(crops) > 1 else None
        numbers += [
            Number("plants", plants, "plants", "plants wanted", crop),
            Number("row_m", round(row / 100.0, 1), "m", "row", crop, shown=False),
        ]
        if seeds is not None and w.crop is not None:
            numbers.append(Number("seeds", seeds, "seeds", "seeds to sow", crop))
            up = station_seeds(w.crop, plants, world)[1]
            stations.append(
                f"{sentence(w.name)}: about {up:.0%} of the seed comes up in garden soil; it is sown two "
                "to a station, thinned to one, and gaps are filled from the doubles."
            )
        sources += src
    return Answer(
        question=question,
        verdict=None,
        headline=sentence(f"{listed(parts)}."),
        numbers=tuple(numbers),
        assumptions=("Plants stand at the middle of the published spacing.", *stations),
        sources=unique(sources),
    )
