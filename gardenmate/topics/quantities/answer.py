"""How many: plants for people, seed for plants, trays, rows, spacing, yield, and whether it fits.

What exactly is asked comes in the cue ``amount`` (or the general ``asks``), the unit of the count in
``count_unit`` (ft, m, lb, kg, quart, ear, head, tray ...); without either, people mean a household and a bare
count means plants.
"""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.plants import caution_keys
from gardenmate.topics.quantities.amounts import show_row
from gardenmate.topics.quantities.bed import bed_answer, bed_notes
from gardenmate.topics.quantities.harvest import (
    JARS,
    harvest_answer,
    is_harvest_unit,
    stock_row_answer,
    stock_yield_answer,
    yield_answer,
)
from gardenmate.topics.quantities.household import Wanted, household_answer, wanted
from gardenmate.topics.quantities.sowing import fit_answer, sowing_answer, tray_answer
from gardenmate.topics.quantities.space import row_answer, said_row_cm, spacing_answer
from gardenmate.topics.quantities.winter import winter_answer
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.grammar import unique


def answer(question: Request, world: World) -> Answer:
    """The amount asked for, with the cautions that go with jars, trays and poisonous parts."""
    crops = tuple({w.key: w for w in (wanted(ref, world) for ref in question.crops)}.values())
    found = _answer(question, world, crops)
    notes, figures = bed_notes(question, world, crops)
    if any(n.name == "bed_holds" for n in found.numbers):
        notes, figures = (), ()  # the answer itself
    said = (
        cautions(world.facts, "how-many", *keys)
        if (keys := _caution_keys(question, world, found))
        else Cautions()
    )
    return replace(
        found,
        numbers=(*found.numbers, *figures),
        details=unique(notes, found.details),
        cautions=said.texts,
        sources=unique(found.sources, said.sources),
    )


def _caution_keys(question: Request, world: World, found: Answer) -> tuple[str, ...]:
    keys = []
    if question.cue("count_unit") in JARS or question.cue("wants") == "preserve":
        keys.append("canning")
    if any(n.name == "trays" for n in found.numbers):
        keys.append("electricity")
    keys += [key for ref in question.crops for key in caution_keys(world.facts, ref.id, "how-many")]
    return tuple(dict.fromkeys(keys))


def _answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    asked = asked_for(question)
    if not crops:
        trays = asked & {"trays", "spacing", "seeds", "yield"} and question.ask.people is None
        if "fit" in asked:
            return fit_answer(question, world, ())
        if trays or question.cue("cell") is not None or question.cue("count_unit") == "tray":
            return tray_answer(question, world)
        return _without_crop(question, world)
    return _of_crops(question, world, crops, asked)


def _without_crop(question: Request, world: World) -> Answer:
    """No crop named: jars mean tomatoes (said so), a row needs its crop, people mean the winter's keepers."""
    unit = question.cue("count_unit")
    if unit in JARS:
        usual = world.facts.crop(world.facts.examples("jars")[0])
        found = harvest_answer(question, world, (wanted(CropRef(usual.base, usual.kind), world),))
        if found is not None:
            return replace(
                found, assumptions=(*found.assumptions, f"No crop was named: read as jars of {usual.words}.")
            )
    length = said_row_cm(question)
    if length is not None and question.ask.people is None:
        return Answer(
            question=question,
            verdict=None,
            headline=f"Name the crop, and I count the plants for {show_row(length, world.units)} of row.",
        )
    return winter_answer(question, world)


def asked_for(question: Request) -> frozenset[str]:
    """What exactly is asked: spacing, trays, seeds, yield, bed, fit or per-row; possibly nothing."""
    own = question.cue("amount")
    if own is not None:
        return frozenset({own})
    general = question.cue("asks")
    return frozenset({general} & _GENERAL) if general is not None else frozenset()


_BED_UNITS = (None, "ft", "m", "bed", "cm")
_GENERAL = frozenset({"spacing", "trays", "seeds", "yield", "bed"})


def _of_crops(question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]) -> Answer:
    count, unit = question.ask.count, question.cue("count_unit")
    if "fit" in asked:
        return fit_answer(question, world, crops)
    if "spacing" in asked:
        return spacing_answer(question, world, crops)
    if "trays" in asked or (question.cue("cell") is not None and count is not None):
        return sowing_answer(question, world, crops)
    bed = bed_answer(question, world, crops) if asked <= {"bed"} and unit in _BED_UNITS else None
    if bed is not None:
        return bed
    if len(crops) == 1 and (stocked := stock_yield_answer(question, world, crops[0])) is not None:
        return stocked
    if len(crops) == 1 and "bed" in asked:
        stock = stock_row_answer(question, world, crops[0])
        if stock is not None:
            return stock
    if said_row_cm(question) is not None and question.ask.people is None:
        return (
            yield_answer(question, world, crops) if "yield" in asked else row_answer(question, world, crops)
        )
    if is_harvest_unit(unit) and count is not None:
        found = harvest_answer(question, world, crops)
        if found is not None:
            return found
    if "yield" in asked and question.ask.people is None:
        return yield_answer(question, world, crops)
    alone = question.ask.people is None
    if alone and ("per-row" in asked or ("seeds" in asked and count is None)):
        return row_answer(question, world, crops)
    if question.ask.people is None and count is not None and unit in (None, "plant", "seed"):
        return sowing_answer(question, world, crops)
    return household_answer(question, world, crops)
