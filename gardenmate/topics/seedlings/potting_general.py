"""Potting up with no crop named: one row for each group of plants."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.containers import containers
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.raising import asks


def general(question: Request, world: World) -> Answer:
    """No crop named: one row for each group."""
    sizes = containers(world.facts)
    units = world.units
    rows = []
    for row in world.facts.table("raising")["potting"].values():
        label = row.get("label")
        if label:
            pots = (sizes[row["steps"][-1]].label(units), sizes[row["held_in"]].label(units))
            rows.append((label, *pots, row["leaves"], row["bury_text"]))
    wanted = asks(question)
    if "ahead" in wanted or are_bound(question):
        verdict: Verdict | None = "yes"
        headline = (
            "Yes, pot on: a crowded root ball sets plants back more than a bigger pot costs. Then keep them "
            "indoors until frost is over."
        )
    elif "bury" in wanted:
        verdict = None
        headline = (
            "It depends on the crop: tomatoes go deep, brassicas to the first leaves, squash and lettuce no "
            "deeper than they stood."
        )
    else:
        verdict = None
        headline = (
            "Pot on at the first or second pair of true leaves, before roots circle, into a pot a size wider."
        )
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        table=Table(("crop", "pot", "to hold it longer", "move at", "how deep"), tuple(rows)),
        details=(
            "Signs: roots at the holes, water running straight through, leaves paling, growth stopping.",
        ),
        changes=("Name the crop, and the cell or pot it is in, for weeks and sizes.",),
        cautions=cautions(world.facts, "potting-up").texts,
        sources=unique(
            world.facts.table("raising")["containers"]["sources"], ("nc-growing-vegetable-transplants",)
        ),
        working=("General rules; the figures for each crop are in the table.",),
    )


def are_bound(question: Request) -> bool:
    """The roots fill the pot already ("root bound, what now"): moving on is asked about, not how long."""
    return question.has("plants", "root-bound") and not question.has("asks", "how-long")
