"""Whether a packet is enough: the seeds in hand against the plants, or the row, they are for."""

from __future__ import annotations

import math

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import FT_CM, plural, show_length_cm
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.quantities.amounts import show_row
from gardenmate.topics.quantities.household import Wanted
from gardenmate.topics.quantities.sowing import plan_of
from gardenmate.topics.quantities.space import gap_of, row_seeds
from gardenmate.topics.shared.grammar import sentence
from gardenmate.topics.shared.raising_plan import germination_typed, sensible

_FAR_MORE = 5.0  # times the seed needed: most of the packet is left over (design value)


@dataclass(frozen=True, slots=True)
class PacketFinding:
    """``seeds`` in hand against ``needed`` for ``plants``; ``typical``: what a packet holds was not typed."""

    verdict: Verdict
    seeds: int
    needed: int
    plants: int
    packets: int
    typical: bool


def packets_answer(question: Request, world: World, crops: tuple[Wanted, ...]) -> Answer | None:
    """Whether the packets counted hold enough for the plants or the row typed; None where that is not asked, or
    nothing is known of what a packet holds."""
    row = question.first("row")
    length_cm = None if row is None else 100.0 * row.number
    seeds = seeds_in_hand(question, world, crops)
    if seeds is None or len(crops) > 1:
        return None
    if not crops and length_cm is not None:
        return _strewn(question, world, seeds[0], length_cm)
    found = decide_packets(question, world, crops)
    return None if found is None else _worded(question, world, found, crops)


def seeds_in_hand(question: Request, world: World, crops: tuple[Wanted, ...]) -> tuple[int, bool] | None:
    """Seeds in the packets counted, and whether a packet's usual content was taken; None where none are told."""
    packs, inside = question.first("packets"), question.first("in-packet")
    if packs is None and inside is None:
        return None
    crop = crops[0].crop if len(crops) == 1 else None
    group = None if crop is None else world.facts.group_of(crop, "price")
    usual = None if group is None else int(group["seeds"])
    each = int(inside.number) if inside is not None else usual
    return (
        None
        if each is None
        else (each * (sensible(packs.number) if packs is not None else 1), inside is None)
    )


def decide_packets(question: Request, world: World, crops: tuple[Wanted, ...]) -> PacketFinding | None:
    """The seeds in hand against those to sow; None where no plants and no row are told."""
    seeds, packs = seeds_in_hand(question, world, crops), question.first("packets")
    plants = _plants(question, world, crops)
    if seeds is None or plants is None:
        return None
    have, typical = seeds
    needed = _needed(question, world, crops, plants)
    verdict: Verdict = "yes" if have >= needed else "tight" if have >= plants else "no"
    return PacketFinding(
        verdict, have, needed, plants, 1 if packs is None else sensible(packs.number), typical
    )


def _plants(question: Request, world: World, crops: tuple[Wanted, ...]) -> int | None:
    """The plants wanted: as typed, else those of the row at the crop's spacing."""
    wanted, row = question.first("plants-wanted"), question.first("row")
    if wanted is not None:
        return sensible(wanted.number)
    gap = gap_of(crops[0], world) if crops and row is not None else None
    return None if gap is None or row is None else sensible(100.0 * row.number / gap[0].usual)


def _needed(question: Request, world: World, crops: tuple[Wanted, ...], plants: int) -> int:
    """Seeds to sow for so many plants, as the crop is sown; without a crop from the usual share that comes up."""
    share, crop = germination_typed(question), crops[0].crop if crops else None
    if crop is not None and "indoors" in crop.methods:
        return plan_of(crops[0], plants, None, world, share).seeds
    sown = row_seeds(crops[0], plants, world) if crops else None
    if sown is not None:
        return sown
    usual = world.facts.table("amounts")["defaults"]
    up = float(share or usual["germination"]) * (1.0 - float(usual["loss_after_emergence"]))
    return math.ceil(plants / up)


def _worded(question: Request, world: World, f: PacketFinding, crops: tuple[Wanted, ...]) -> Answer:
    name = f"{crops[0].name} " if crops else ""
    packs = plural(f.packets, "packet")
    holds = f"{packs} of {name}seed {'hold' if f.packets > 1 else 'holds'} about {f.seeds} seeds"
    sow = f"sow about {f.needed} for {plural(f.plants, f'{name}plant')}"
    head = {
        "yes": f"Yes, enough: {holds}; {sow}",
        "tight": f"Just, if nearly all comes up: {holds}; {sow}",
        "no": f"No, too few: {holds}; {sow}",
    }[f.verdict]
    left = f", and keep the other {f.seeds - f.needed} cool and dry" if f.seeds > _FAR_MORE * f.needed else ""
    assumed = ("What a packet holds differs by shop: the number is printed on it.",) if f.typical else ()
    return Answer(
        question=question,
        verdict=f.verdict,
        headline=sentence(f"{head}{left}."),
        numbers=(
            Number("seeds_in_hand", f.seeds, "seeds", "seeds in hand"),
            Number("seeds", f.needed, "seeds", "seeds to sow"),
            Number("plants", f.plants, "plants", "plants wanted"),
        ),
        assumptions=assumed,
        sources=("common-practice",),
    )


def _strewn(question: Request, world: World, seeds: int, length_cm: float) -> Answer:
    """So many seeds along a row of a seed not named: how far apart they lie, and what that is enough for."""
    apart_cm, share = length_cm / seeds, world.facts.table("amounts")["defaults"]["germination"]
    lie, stand = (show_length_cm(gap, world.units) for gap in (apart_cm, apart_cm / share))
    thick = apart_cm > _THICK_CM
    fit = (
        "too few for what is sown thickly, such as carrots or radishes"
        if thick
        else "enough to sow thickly and thin"
    )
    return Answer(
        question=question,
        verdict=None,
        headline=f"{seeds} seeds along {show_row(length_cm, world.units)} of row lie {lie} apart, and the plants that "
        f"come up stand about {stand} apart: {fit}. Name the crop, and I'll judge it.",
        assumptions=(f"About {share:.0%} of the seed comes up.",),
        sources=("common-practice",),
    )


_THICK_CM = FT_CM / 12.0  # an inch: how close carrots and radishes are sown (common practice)
