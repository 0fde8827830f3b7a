"""How old the parent plant is, as said: too young to split, old enough, or past its best."""

from __future__ import annotations

from gardenmate.core.answer import Answer
from gardenmate.core.units import plural
from gardenmate.records import replace
from gardenmate.topics.propagation.ways import Way
from gardenmate.topics.shared.woody_case import WoodyCase

MOVING = "moving"
_MUST = ("division",)
"""Ways a plant too young for them is spoiled by."""


def with_age(reply: Answer, case: WoodyCase, way: Way | str) -> Answer:
    """The reply with what the age said means for the way; unchanged where no age is said or none matters."""
    years = case.question.slots.plant_age_years
    method = way if isinstance(way, str) else way.method
    row = case.facts.told("propagation", case.manner)["age"].get(method)
    if years is None or row is None:
        return reply
    young, old = years < row["least"], years >= row["old"]
    said = row["young"] if young else row["old_text"] if old else row["fit"]
    line = f"At {plural(round(years), 'year')} {said}"
    sources = tuple(dict.fromkeys((*reply.sources, *row["sources"])))
    if young and method in _MUST:
        return replace(reply, verdict="no", headline=line, sources=sources)
    return replace(reply, headline=f"{reply.headline} {line}", sources=sources)
