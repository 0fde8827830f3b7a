"""What each cover is worth on a frosty night."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE
from gardenmate.core.world import World
from gardenmate.topics.frost.outlook import BUILT
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.protection import (
    Cover,
    cover_for,
    cover_of,
    covers,
    frost_span,
    gain_range,
)


def answer_covers(question: Request, world: World) -> Answer:
    """Degrees each cover keeps at night; the headline speaks of the one named."""
    table = world.facts.table("protection")
    named = cover_for(world.facts, cover_of(question))
    every = covers(world.facts)
    care = cautions(world.facts, "frost")
    numbers: list[Number] = []
    for cover in (named,) if named else every:
        crop = None if named else cover.id
        numbers += [
            Number("cover_gain_min_f", round(cover.least_c / F_DEGREE), "F", "keeps, least", crop),
            Number("cover_gain_max_f", round(cover.most_c / F_DEGREE), "F", "keeps, most", crop),
            Number("cover_gain_min_c", round(cover.least_c, 1), "C", "keeps, least", crop),
            Number("cover_gain_max_c", round(cover.most_c, 1), "C", "keeps, most", crop),
        ]
    return Answer(
        question=question,
        verdict=None,
        headline=_headline(named, question, world),
        numbers=tuple(numbers),
        details=(
            "These are planning figures: on some still, clear nights covers in trials kept nothing, "
            "or were a "
            "little colder than outside "
            f"({frost_span(table['cover_limits']['worst_f'] * F_DEGREE, world.units)}).",
            table["mulch"]["text"],
        ),
        table=Table(("cover", "warmer by", "count on"), tuple(_row(cover, world) for cover in every)),
        steps=(table["help"]["dry_cloth"], table["help"]["wet_soil"]),
        changes=("Give the crop and tonight's low for an answer with the margin.",),
        cautions=care.texts,
        sources=unique(
            *(cover.sources for cover in every),
            table["cover_limits"]["sources"],
            table["help"]["sources"],
            care.sources,
        ),
    )


def _row(cover: Cover, world: World) -> tuple[str, str, str]:
    return cover.name, gain_range(cover, world.units), frost_span(cover.plan_c, world.units)


def _headline(named: Cover | None, question: Request, world: World) -> str:
    if named is None:
        every = covers(world.facts)
        least, most = min(c.least_c for c in every), max(c.most_c for c in every if c.id not in BUILT)
        span = f"{frost_span(least, world.units).split()[0]} to {frost_span(most, world.units)}"
        return f"From a jug over one plant to heavy fleece a cover keeps plants {span} warmer; see the table."
    weighed = question.first("cover-by-weight")
    name = named.name if weighed is None else f"{weighed.text} fleece is {named.name} and"
    return (
        f"{sentence(name)} keeps plants about {gain_range(named, world.units)} warmer at night, if it is dry and its "
        f"edges are sealed; count on {frost_span(named.plan_c, world.units)}."
    )
