"""Spacing, and how many plants or seeds a row, a foot or a support takes."""

from __future__ import annotations

from math import ceil

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import FT_CM, Units
from gardenmate.core.world import World
from gardenmate.knowledge.plants import amounts
from gardenmate.knowledge.woody import woody_kinds
from gardenmate.science.seed_counts import plants_in_row
from gardenmate.topics.quantities.amounts import (
    SPACING,
    Spacing,
    row_cm,
    show_inches,
    show_inches_range,
    show_row,
    spacing_of,
    span_text,
)
from gardenmate.topics.quantities.household import Wanted, piece_of
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.raising_plan import sensible, station_seeds


def _woody_gap(w: Wanted, world: World) -> tuple[tuple[float, float], tuple[str, ...]] | None:
    """Distance between plants of a woody kind, cm, from its pruning file."""
    for plant in woody_kinds(world.facts, w.id):
        for method in plant.methods:
            if method.plant_spacing_cm is not None:
                return method.plant_spacing_cm, method.sources
    own = amounts(world.facts, w.id)
    if own is None or own.spacing_ft is None:
        return None
    low, high = own.spacing_ft
    return (low * FT_CM, high * FT_CM), own.sources.of("spacing_ft")


def gap_of(w: Wanted, world: World) -> tuple[Spacing, tuple[str, ...]] | None:
    """The distances of a crop or woody plant with their sources."""
    if w.crop is not None:
        found = spacing_of(w.crop)
        return None if found is None else (found, w.crop.space.sources.of(*SPACING, "sow_depth_cm"))
    gap = _woody_gap(w, world)
    return None if gap is None else (Spacing(gap[0], (2 * gap[0][0], 2 * gap[0][1]), None), gap[1])


def spacing_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    """How far apart, in the row, between rows and in a bed; with a row length, how many that makes."""
    known = [(w, *g) for w in crops if (g := gap_of(w, world)) is not None]
    unknown = [w.many for w in crops if gap_of(w, world) is None]
    if not known:
        return Answer(question, None, f"I have no spacing for {listed(unknown)}.")
    units = world.units
    unit, one = _measure(units)
    heads = [
        f"{w.many} {show_inches_range(s.in_row, units)} apart, in rows {show_inches_range(s.rows, units)} apart"
        for w, s, _ in known
    ]
    length = said_row_cm(question)
    counts = (
        [f"{_between(length, s.in_row)} {w.name} plants" for w, s, _ in known] if length is not None else []
    )
    details = [f"{show_row(length, units)} of row takes {listed(counts)}."] if length is not None else []
    for w, s, _ in known:
        if s.hills is not None:
            details.append(
                f"In hills: {show_inches_range(s.hills, units)} between hills of {w.name}, 2 to 3 "
                "plants to a hill."
            )
        if w.crop is not None and w.crop.space.sow_depth_cm is not None:
            details.append(f"Sow {w.name} seed {show_inches_range(w.crop.space.sow_depth_cm, units)} deep.")
        if w.crop is not None and w.crop.amounts.space_note:
            details.append(w.crop.amounts.space_note)
    details.append(
        "In a deep, rich bed set plants equally far apart at the lower figure; in rows with paths "
        "take the upper."
    )
    if unknown:
        details.append(f"I have no spacing for {listed(unknown)}.")
    return Answer(
        question=question,
        verdict=None,
        headline=f"Space {listed(heads)}.",
        numbers=tuple(n for w, s, _ in known for n in _spacing_numbers(w, s, len(known) > 1)),
        details=unique(details),
        table=Table(
            ("", "in the row", "between rows", f"plants to a {unit}", f"to a square {unit}"),
            tuple(
                (
                    w.name,
                    show_inches_range(s.in_row, units),
                    show_inches_range(s.rows, units),
                    _rate(one / s.in_row[1], one / s.in_row[0]),
                    _rate((one / s.in_row[1]) ** 2, (one / s.in_row[0]) ** 2),
                )
                for w, s, _ in known
            ),
        ),
        changes=("Tell me the length of your row or bed and I'll count the plants.",)
        if length is None
        else (),
        sources=unique(*(src for _, _, src in known)),
        working=tuple(
            f"{w.name}: {show_row(length, units)} / {show_inches(s.usual, units)} = "
            f"{plants_in_row(length, s.usual)} plants."
            for w, s, _ in known
            if length is not None
        ),
    )


def _measure(units: Units) -> tuple[str, float]:
    """The length a rate is given for, and its cm."""
    return ("foot", FT_CM) if units == "us" else ("metre", 100.0)


def _rate(low: float, high: float) -> str:
    """Plants to one foot (or square foot): "4 to 6", "1", or under one "1 every 1.5-2" of them."""
    if high < 1.0:
        near, far = f"{1 / high:.2g}", f"{1 / low:.2g}"
        return f"1 every {near}" if near == far else f"1 every {near}-{far}"
    return span_text(max(1.0, low), high)


def _between(length_cm: float, gap: tuple[float, float]) -> str:
    return span_text(plants_in_row(length_cm, gap[1]), plants_in_row(length_cm, gap[0]))


def _spacing_numbers(w: Wanted, s: Spacing, several: bool) -> list[Number]:
    crop = w.id if several else None
    found = []
    for name, span, label in (("spacing", s.in_row, "in the row"), ("row_spacing", s.rows, "between rows")):
        found.append(Number(f"{name}_min_cm", round(span[0], 1), "cm", f"{label}, least", crop, shown=False))
        found.append(Number(f"{name}_max_cm", round(span[1], 1), "cm", f"{label}, most", crop, shown=False))
    return found


def said_row_cm(question: Request) -> float | None:
    """The row length in the question (cue count_unit with the count), cm."""
    count, unit = question.ask.count, question.cue("count_unit")
    return None if count is None or unit is None else row_cm(count, unit)


def row_for_spacing(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer | None:
    """The row that a number of plants takes at the distance told; None without both, or in a bed of a size told."""
    gap, count, rows = question.first("size", "spacing"), question.ask.count, question.first("count", "rows")
    plants_meant = question.cue("count_unit") in (None, "plant", "seed") and question.ask.people is None
    if gap is None or count is None or not plants_meant or question.has("figure") or len(crops) != 1:
        return None
    if rows is not None and rows.value == count:  # the rows are all that was counted
        return None
    many, apart_cm = sensible(count), 100.0 * gap.number
    length = many * apart_cm
    shown = show_row(length, world.units)
    split, figures = "", [Number("row_m", round(length / 100.0, 1), "m", "row", shown=False)]
    if rows is not None and rows.number >= 1:
        each = ceil(many / rows.number) * apart_cm
        split = f": {rows.number:g} rows of {show_row(each, world.units)}"
        figures.append(Number("row_each_m", round(each / 100.0, 1), "m", "each row", shown=False))
    return Answer(
        question=question,
        verdict=None,
        headline=f"{many} {crops[0].name} plants {show_inches(apart_cm, world.units)} apart take {shown} of row"
        f"{split}.",
        numbers=tuple(figures),
        details=_usual_gap(crops[0], world),
        working=(f"{many} x {show_inches(apart_cm, world.units)} = {shown}.",),
    )


def _usual_gap(w: Wanted, world: World) -> tuple[str, ...]:
    gap = gap_of(w, world)
    return (
        ()
        if gap is None
        else (f"Usual for {w.name}: {show_inches_range(gap[0].in_row, world.units)} apart.",)
    )


def row_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    """How many plants, sets or seeds fill the row that was named, or a foot of row when none was."""
    length = said_row_cm(question)
    units = world.units
    unit, one = _measure(units)
    per = (10 * FT_CM if units == "us" else 300.0) if length is None else length
    rows, numbers, working, parts, unknown = [], [], [], [], []
    sources: list[str] = []
    for w in crops:
        gap = gap_of(w, world)
        if gap is None:
            unknown.append(w.name)
            continue
        s, src = gap
        low, high = (
            plants_in_row(per, s.in_row[1], both_ends=False),
            plants_in_row(per, s.in_row[0], both_ends=False),
        )
        middle = max(1, plants_in_row(per, s.usual, both_ends=False))
        seeds = row_seeds(w, middle, world)
        noun = f"{piece_of(w.crop)}s"
        parts.append(f"{span_text(max(1, low), max(1, high))} {w.name} {noun}")
        if seeds is not None:
            parts[-1] += f" (sow about {seeds} seeds and thin)"
            numbers.append(
                Number("seeds", seeds, "seeds", "seeds to sow", w.id if len(crops) > 1 else None, shown=False)
            )
        rows.append(
            (
                w.name,
                show_inches_range(s.in_row, units),
                span_text(max(1, low), max(1, high)),
                str(seeds or "-"),
            )
        )
        numbers.append(
            Number(
                "plants",
                middle,
                "plants",
                "at the middle spacing",
                w.id if len(crops) > 1 else None,
                shown=False,
            )
        )
        working.append(f"{w.name}: {show_row(per, units)} / {show_inches(s.usual, units)} = {middle} plants.")
        sources += src
    if not rows:
        return Answer(question, None, f"I have no spacing for {listed(unknown)}.")
    support = _support(crops)
    a_foot = ""
    if length is None:
        rates = [_rate(one / g[0].in_row[1], one / g[0].in_row[0]) for w in crops if (g := gap_of(w, world))]
        a_foot = f"; that is {listed(rates)} to a {unit}"
    return Answer(
        question=question,
        verdict=None,
        headline=f"{show_row(per, units)} of row takes {listed(parts)}{a_foot}.",
        numbers=tuple(numbers),
        details=unique(support, (f"I have no spacing for {listed(unknown)}.",) if unknown else ()),
        table=Table(("", "apart", "plants", "seeds"), tuple(rows)),
        changes=("Tell me the length of your row and I'll count for it.",) if length is None else (),
        assumptions=(
            "Garden soil brings up about three quarters of what the packet promises; "
            "two seeds are sown for each plant, and gaps filled from the doubles.",
        )
        if any(row[3] != "-" for row in rows)
        else (),
        sources=unique(sources),
        working=tuple(working),
    )


def row_seeds(w: Wanted, plants: int, world: World) -> int | None:
    """Seeds for a row sown in place; None for crops planted as pieces or raised in trays."""
    if w.crop is None or "direct" not in w.crop.methods:
        return None
    return station_seeds(w.crop, sensible(plants), world)[0]


def _support(crops: tuple[Wanted, ...]) -> tuple[str, ...]:
    own = ((w, w.crop.amounts) for w in crops if w.crop is not None)
    return tuple(
        sentence(f"{w.name}: {a.support}; sow {a.support_seeds_extra} extra and thin.")
        for w, a in own
        if a.support
    )
