"""Counted from the plantings: how many are left, how long it took, what was spent."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.plantings.batches import Batch
from gardenmate.plantings.current import batches_of
from gardenmate.records import replace
from gardenmate.topics.log.listing import shown_day
from gardenmate.topics.log.settle import named
from gardenmate.topics.shared.plant_names import plant_name


def counted(question: Request, world: World) -> Answer | None:
    """The answer counted from the batches; None where the entries themselves are asked for."""
    if question.has("asks", "spent"):
        return _spent(question, world)
    if not question.crops and world.previous is not None and world.previous.question.crops:
        question = replace(question, crops=world.previous.question.crops)
    if not question.crops:
        return None
    batches = [b for ref in question.crops for b in batches_of(world.journal) if b.crop == ref.id]
    if question.has("asks", "how-long"):
        return _how_long(question, batches, world)
    if question.has("asks", "how-many") and not question.has("since") and question.first("deed") is None:
        return _how_many(question, batches, world)
    return None


def _spent(question: Request, world: World) -> Answer | None:
    """What was paid, as far as prices were told with what was bought."""
    if world.journal is None:
        return None
    named = {ref.id for ref in question.crops}
    bought = [d for d in world.journal.search(action="buy", limit=2000) if not named or named & set(d.crops)]
    priced = [d for d in bought if d.detail.get("price")]
    if not priced:
        return Answer(
            question=question, verdict=None, headline="You have told me no prices with what you bought."
        )
    total = sum(float(d.detail["price"]) for d in priced)
    crops = tuple(CropRef(c) for c in dict.fromkeys(c for d in priced for c in d.crops))
    return Answer(
        question=question if question.crops else replace(question, crops=crops),
        verdict=None,
        headline=f"{total:.2f} in all, as told with {plural(len(priced), 'purchase')}.",
        details=tuple(f"{d.text}, {shown_day(d.on)}" for d in priced),
        numbers=(Number("spent", total, "", "Spent", shown=False),),
    )


def _how_many(question: Request, batches: Sequence[Batch], world: World) -> Answer | None:
    living = [b for b in batches if b.alive and b.count is not None]
    if not living:
        return None
    said = []
    numbers = []
    for ref in question.crops:
        mine = [b for b in living if b.crop == ref.id]
        if mine:
            total = sum(b.count or 0.0 for b in mine)
            said.append(f"{total:g} {plant_name(ref, world.facts)}")
            numbers.append(Number("plants", total, "plants", "Plants now", ref.id, shown=False))
    return Answer(
        question=question,
        verdict=None,
        headline=f"You have {' and '.join(said)}.",
        numbers=tuple(numbers),
        details=tuple(told_batch(b, world) for b in living),
    )


def _how_long(question: Request, batches: Sequence[Batch], world: World) -> Answer | None:
    up = [b for b in batches if b.up is not None and not b.bought]
    sown = [b for b in batches if b.stage == "sown"]
    if up:
        batch = max(up, key=lambda b: (b.up or b.begun, b.id))
        assert batch.up is not None
        days = (batch.up - batch.begun).days
        said = f"{plural(days, 'day')}: sown {shown_day(batch.begun)}, up {shown_day(batch.up)}."
        number = Number("days_to_emerge", days, "days", "Days to come up", batch.crop)
    elif sown:
        batch = max(sown, key=lambda b: (b.begun, b.id))
        days = (world.today - batch.begun).days
        said = f"{plural(days, 'day')} so far: sown {shown_day(batch.begun)}, not noted as up yet."
        number = Number("days_since_sowing", days, "days", "Days since sowing", batch.crop)
    else:
        return None
    return Answer(question=question, verdict=None, headline=said, numbers=(number,))


def told_batch(batch: Batch, world: World) -> str:
    """One batch in a line: "12 tomatoes (Glacier), tray 1: up since 3 Apr"."""
    name = plant_name(named(batch.crop, world), world.facts)
    unit = "" if batch.unit in ("", "plants", "pieces") else f" {batch.unit} of"
    count = "" if batch.count is None else f"{batch.count:g}{unit} "
    variety = f" ({batch.variety})" if batch.variety else ""
    where = f", {batch.where}" if batch.where else ""
    return f"{count}{name}{variety}{where}: {batch.stage} since {shown_day(batch.since)}"
