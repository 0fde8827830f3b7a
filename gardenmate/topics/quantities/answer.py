"""How many: plants for people, seed for plants, trays, rows, spacing, yield, and whether it fits.

What exactly is asked comes in the cue ``amount`` (or the general ``asks``), the unit of the count in
``count_unit`` (ft, m, lb, kg, quart, ear, head, tray ...); without either, people mean a household and a bare
count means plants.
"""

from __future__ import annotations

from collections.abc import Callable

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.knowledge.plants import caution_keys
from gardenmate.records import replace
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
from gardenmate.topics.quantities.judged import judged_answer
from gardenmate.topics.quantities.packets import packets_answer
from gardenmate.topics.quantities.sowing import sowing_answer
from gardenmate.topics.quantities.space import row_answer, row_for_spacing, said_row_cm, spacing_answer
from gardenmate.topics.quantities.trays import filled_answer, fit_answer, tray_answer
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
        headline=f"{found.headline}{_in_turns(question, crops)}",
        numbers=(*found.numbers, *figures),
        details=unique(notes, found.details),
        cautions=said.texts,
        sources=unique(found.sources, said.sources),
    )


def _in_turns(question: Request, crops: tuple[Wanted, ...]) -> str:
    """In how many sowings a crop that does not last is spread over the weeks named; "" where none is."""
    weeks, crop = question.slots.weeks, crops[0].crop if len(crops) == 1 else None
    every = None if crop is None else crop.timing.succession_weeks
    if not weeks or every is None or weeks <= every[0]:
        return ""
    sowings = round(weeks / (sum(every) / 2.0))
    often = f"{every[0]:g}" if every[0] == every[1] else f"{every[0]:g} to {every[1]:g}"
    return f" Over {weeks:g} weeks sow that in {max(2, sowings)} lots, one every {often} weeks."


def _caution_keys(question: Request, world: World, found: Answer) -> tuple[str, ...]:
    keys = []
    if question.cue("count_unit") in JARS or question.cue("wants") == "preserve":
        keys.append("canning")
    if any(n.name == "mat_room" for n in found.numbers):
        keys.append("electricity")
    keys += [key for ref in question.crops for key in caution_keys(world.facts, ref.id, "how-many")]
    return tuple(dict.fromkeys(keys))


def _answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer:
    asked = asked_for(question)
    packed = packets_answer(question, world, crops)
    if packed is not None:
        return packed
    if not crops:
        trays = asked & {"trays", "spacing", "seeds", "yield"} and question.ask.people is None
        if "fit" in asked:
            return fit_answer(question, world, ())
        if trays or question.ask.container is not None or question.cue("count_unit") == "tray":
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
            headline=f"Name the crop, and I'll count the plants for {show_row(length, world.units)} of row.",
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


Rule = Callable[[Request, World, tuple[Wanted, ...], frozenset[str]], Answer | None]


def _of_crops(question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]) -> Answer:
    """The first rule that has an answer, in the order of RULES; a household's need when none has."""
    found = (rule(question, world, crops, asked) for rule in RULES)
    return next((a for a in found if a is not None), None) or household_answer(question, world, crops)


def _in_trays(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    """Room for the trays, or the trays for a number of plants."""
    if "fit" in asked:
        return fit_answer(question, world, crops)
    if "trays" in asked or (question.ask.container is not None and question.ask.count is not None):
        return sowing_answer(question, world, crops)
    return None


def _spaced(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    """How far apart; or the row a number of plants takes at a distance told."""
    if asked <= {"spacing", "bed"} and (row := row_for_spacing(question, world, crops)) is not None:
        return row
    return spacing_answer(question, world, crops) if "spacing" in asked else None


def _judged(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    return judged_answer(question, world, crops)


def _from_cells(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    return None if "trays" in asked or "fit" in asked else filled_answer(question, world, crops)


def _in_a_bed(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    told = asked <= {"bed"} and question.cue("count_unit") in _BED_UNITS
    return bed_answer(question, world, crops) if told else None


def _of_stock(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    """What planting stock gives, or the row it fills."""
    if len(crops) != 1:
        return None
    stocked = stock_yield_answer(question, world, crops[0])
    return stock_row_answer(question, world, crops[0]) if stocked is None and "bed" in asked else stocked


def _of_a_row(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    if said_row_cm(question) is None or question.ask.people is not None:
        return None
    return yield_answer(question, world, crops) if "yield" in asked else row_answer(question, world, crops)


def _of_a_harvest(
    question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]
) -> Answer | None:
    if is_harvest_unit(question.cue("count_unit")) and question.ask.count is not None:
        found = harvest_answer(question, world, crops)
        if found is not None:
            return found
        need = household_answer(question, world, crops)
        wanted_of = plural(question.ask.count, question.cue("count_unit") or "")
        lead = f"I have no figure for how much of it makes {wanted_of}."
        return replace(need, headline=f"{lead} {need.headline}")
    return yield_answer(question, world, crops) if "yield" in asked and question.ask.people is None else None


def _sown(question: Request, world: World, crops: tuple[Wanted, ...], asked: frozenset[str]) -> Answer | None:
    """Seed for a row, or for a number of plants; with people named the household decides."""
    count = question.ask.count
    if question.ask.people is not None:
        return None
    if "per-row" in asked or ("seeds" in asked and count is None):
        return row_answer(question, world, crops)
    plants = count is not None and question.cue("count_unit") in (None, "plant", "seed")
    return sowing_answer(question, world, crops) if plants else None


RULES: tuple[Rule, ...] = (
    _judged, _from_cells, _in_trays, _spaced, _in_a_bed, _of_stock, _of_a_row, _of_a_harvest, _sown,
)  # fmt: skip
"""What may be asked of crops named, the more particular first."""
