"""Trays: whether they fit the mat and shelf, what one takes, and how many plants so many cells give."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import INCH_CM, Units, plural
from gardenmate.core.world import World
from gardenmate.topics.quantities.amounts import show_inches
from gardenmate.topics.quantities.bed import bed_size
from gardenmate.topics.quantities.household import Wanted
from gardenmate.topics.quantities.sowing import counts_told, plan_of
from gardenmate.topics.shared.containers import container_asked, containers
from gardenmate.topics.shared.grammar import listed, sentence
from gardenmate.topics.shared.raising_plan import (
    Filled,
    fill,
    germination_basis,
    germination_typed,
    sensible,
)


# -- does it fit ----------------------------------------------------------------------------------------
def fit_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    """Whether the trays fit the grower's mat and shelves."""
    named = container_asked(question, world.facts)
    count = question.ask.count
    trays_said = question.cue("count_unit") == "tray" and count is not None
    if trays_said and count is not None:
        first = widest = sensible(count)
        how = f"{plural(first, 'tray')}"
    else:
        plants = sensible(count if count is not None else 12)
        own = counts_told(question)
        plans = [
            (w, plan_of(w, own.get(w.id, plants), named, world))
            for w in crops
            if w.crop is not None and "indoors" in w.crop.methods
        ]
        if not plans:
            return Answer(
                question,
                None,
                "Name the crop and how many plants, and I work out the trays.",
                sources=("common-practice",),
            )
        first = sum(p.trays for _, p in plans)
        widest = sum(p.most_trays for _, p in plans)
        how = listed(f"{p.plants} {w.name} plants" for w, p in plans)
    defaults = world.facts.table("amounts")["defaults"]
    mats = world.garden.gear.get("mat", 0.0) or 1.0
    shelves = world.garden.gear.get("lamp", 0.0) or 1.0
    on_mat = round(mats * defaults["trays_per_mat"])
    on_shelf = round(shelves * defaults["trays_per_shelf"])
    assumed = (
        [f"I used {count:g} for each crop."]
        if count is not None and len(crops) > 1 and len(counts_told(question)) < 2
        else []
    )
    if not world.garden.has("mat"):
        assumed.append("You haven't told me of a mat, so I used one the size of a tray.")
    if not world.garden.has("lamp"):
        assumed.append("You haven't told me of a shelf or lamp, so I used one.")
    assumed.append(
        f"A mat holds {defaults['trays_per_mat']} tray of {_tray(world.units)}, a shelf "
        f"{defaults['trays_per_shelf']} under its lamp."
    )
    verdict: Verdict = (
        "yes" if first <= on_mat and widest <= on_shelf else "tight" if widest <= on_shelf else "no"
    )
    lead = {
        "yes": "Yes, it fits",
        "tight": "On the shelves yes, on the mat only in turns",
        "no": "No, not once they are potted on",
    }[verdict]
    if verdict == "no" and first > on_shelf:
        lead = "No, it does not fit"
    return Answer(
        question=question,
        verdict=verdict,
        headline=(
            f"{lead}: {how} take {plural(first, 'tray')} at sowing and {widest} at the widest; "
            f"you have room for {on_mat} on the mat and {on_shelf} under light."
        ),
        numbers=(
            Number("trays", first, "trays", "trays at sowing"),
            Number("trays_most", widest, "trays", "trays at the widest"),
            Number("mat_room", on_mat, "trays", "room on the mat"),
            Number("shelf_room", on_shelf, "trays", "room under light"),
        ),
        changes=(
            "On the mat trays can take turns: each needs it only until the seed is up.",
            "Smaller cells, or setting hardier plants out to a frame early, makes room.",
        ),
        assumptions=tuple(assumed),
        sources=("common-practice",),
    )


# -- what one tray takes --------------------------------------------------------------------------------
def tray_answer(question: Request, world: World) -> Answer:
    """No crop: how many plants a 10 x 20 in tray takes, in cells, pots and pricked out at a distance."""
    defaults = world.facts.table("amounts")["defaults"]
    wide, long = defaults["tray_width_in"], defaults["tray_length_in"]
    told = _pricked_out(question, world)
    if told is not None:
        return told
    named = container_asked(question, world.facts)
    ids = ["128", "72", "50", "24", *(k for k in world.facts.table("prices")["per_tray"] if k != "sources")]
    chosen = [named] if named is not None else [containers(world.facts)[i] for i in ids]
    pricked = [(gap, int(wide // gap) * int(long // gap)) for gap in (1.0, 1.5, 2.0, 3.0)]
    rows = [(c.label(world.units), str(c.per_tray), f"{c.cm3:g} cm3 each") for c in chosen]
    rows += [(f"pricked out {_gap(gap, world)} apart", str(n), "") for gap, n in pricked]
    two = dict(pricked)[2.0]
    lead = chosen[0].per_tray if named is not None else 72
    return Answer(
        question=question,
        verdict=None,
        headline=(
            f"A {_tray(world.units)} tray takes {lead} plants in {lead} cells, 15 to 18 in small pots, "
            f"or {two} pricked out {_gap(2.0, world)} apart.{_up(question, lead)}"
        ),
        numbers=(
            *(
                Number(f"per_tray_{c.id}", c.per_tray, "plants", c.label(world.units), shown=False)
                for c in chosen
            ),
            Number("per_tray_2in_apart", two, "plants", "pricked out 2 in apart", shown=False),
        ),
        table=Table(("in", "plants", "volume"), tuple(rows)),
        changes=("Name the crop and how many plants you want, and I say how many trays and seeds.",),
        sources=tuple(world.facts.table("raising")["containers"]["sources"]),
        working=(f"Pricked out 2 in apart: {wide} / 2 x {long} / 2 = {two}.",),
    )


def _up(question: Request, cells: int) -> str:
    """The plants to expect of so many cells, where the share that comes up is typed; "" without."""
    share = germination_typed(question)
    if share is None:
        return ""
    up = round(cells * share)
    return f" With {share:.0%} up and one seed to a cell, expect about {up} plants from {cells} cells."


def _pricked_out(question: Request, world: World) -> Answer | None:
    """Seedlings at a distance told, in the tray told or the usual one; None without a distance."""
    gap, size = question.first("size", "spacing"), bed_size(question)
    if gap is None or gap.number <= 0:
        return None
    defaults = world.facts.table("amounts")["defaults"]
    usual = tuple(defaults[f"tray_{side}_in"] * INCH_CM / 100.0 for side in ("width", "length"))
    wide, long = size or usual
    across, along = (int((side + _ROUNDED_M) // gap.number) for side in (wide, long))
    shown = [show_inches(100.0 * side, world.units) for side in (wide, long, gap.number)]
    return Answer(
        question=question,
        verdict=None,
        headline=f"{across * along}: {across} rows of {along} seedlings, {shown[2]} apart, in {shown[0]} x {shown[1]}.",
        numbers=(Number("seedlings", across * along, "plants", "seedlings", shown=False),),
        assumptions=() if size is not None else (f"I used the usual tray, {_tray(world.units)}.",),
        sources=("common-practice",),
        working=(f"{shown[0]} / {shown[2]} = {across}; {shown[1]} / {shown[2]} = {along}.",),
    )


_ROUNDED_M = 0.001  # sizes are kept to the millimetre: 10 in must not miss its fifth seedling at 2 in


def _tray(units: Units) -> str:
    return "10 x 20 in" if units == "us" else "25 x 50 cm"


def _gap(inches: float, world: World) -> str:
    return f"{inches:g} in" if world.units == "us" else f"{inches * INCH_CM:.1f} cm"


# -- what so many cells give ----------------------------------------------------------------------------
def filled_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer | None:
    """The plants that so many cells give; None when no cells were named, or a number of plants was."""
    cells, trays = _cells(question), question.first("count", "trays")
    if cells is None or (question.ask.count is not None and trays is None):
        return None
    raised = [w for w in crops if w.crop is not None and "indoors" in w.crop.methods]
    if not raised or len(raised) != len(crops):
        return None
    many = sensible(cells * (trays.number if trays is not None else 1))
    per = int(world.facts.table("amounts")["defaults"]["seeds_per_cell"])
    share = germination_typed(question)
    found = [
        (w, fill(w.crop, many, world.facts, per_cell=per, germination=share))
        for w in raised
        if w.crop is not None
    ]
    heads = [f"about {f.expected:.0f} {w.name} plants, at least {f.sure} nine times in ten" for w, f in found]
    each = f", each filling all of them: {listed(heads)}" if len(found) > 1 else f" give {heads[0]}"
    return Answer(
        question=question,
        verdict=None,
        headline=f"{many} cells{each}.",
        numbers=tuple(n for w, f in found for n in _filled_numbers(f, w.id if len(found) > 1 else None)),
        details=tuple(sentence(f"{w.name}: sow {f.seeds} seeds, {f.per_cell} to a cell.") for w, f in found),
        assumptions=tuple(
            sentence(
                f"{w.name}: {f.germination:.0%} come up ({germination_basis(f.basis)}), {f.loss:.0%} of the "
                "seedlings are lost later."
            )
            for w, f in found
        ),
        sources=("common-practice",),
        working=tuple(
            f"{w.name}: {f.tries} chances of {f.chance:.2f}; {f.sure} or more with {f.confidence:.0%} (binomial)."
            for w, f in found
        ),
    )


def _cells(question: Request) -> float | None:
    cells = question.first("count", "cells") or next(
        (t for t in question.all("count") if t.unit == "cells"), None
    )
    return None if cells is None else cells.number


def _filled_numbers(f: Filled, crop: str | None) -> tuple[Number, ...]:
    return (
        Number("cells", f.cells, "cells", "cells", crop, shown=False),
        Number("plants", round(f.expected), "plants", "plants to expect", crop, shown=False),
        Number("plants_sure", f.sure, "plants", "nine times in ten at least", crop, shown=False),
        Number("seeds", f.seeds, "seeds", "seeds to sow", crop),
    )
