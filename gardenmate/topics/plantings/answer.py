"""What is asked of the plantings: trays, beds, what stands at a place, varieties, seed, reminders, losses."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Command, CropRef, Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import Decision, World
from gardenmate.plantings.batches import INDOORS, SEED_UNITS, Batch
from gardenmate.plantings.current import batches_of
from gardenmate.plantings.jobs import jobs_of
from gardenmate.records import replace
from gardenmate.topics.log.listing import shown_day, told
from gardenmate.topics.log.settle import named
from gardenmate.topics.plantings.steps import next_step
from gardenmate.topics.shared.plant_names import plant_name, plant_names

_ALL = 2000  # entries looked through; design value
_STAGE_WORDS = {"out": "planted", "over": "finished"}
"""Stages that are said otherwise than they are kept."""
_OPEN_GROUND = frozenset({"ground", "garden", "outside"})


def answer(question: Request, command: Command, world: World) -> Answer:
    """The list a command shows."""
    do: dict[str, Callable[[Request, World], Answer]] = {
        "plantings": plantings,
        "beds": plantings,
        "varieties": varieties,
        "seeds": seeds,
        "reminders": reminders,
        "losses": losses,
    }
    return do[command.noun](question, world)


NOUNS = frozenset({"plantings", "beds", "varieties", "seeds", "reminders", "losses"})


def plantings(question: Request, world: World) -> Answer:
    """The living batches, of the place, crop or stage asked for, with what comes next."""
    found = [b for b in batches_of(world.journal) if b.alive]
    where = question.first("where")
    about = ""
    if where is not None:
        place = str(where.value).casefold()
        found = [b for b in found if _stands_at(b, place)]
        about = f" at {where.value}" if place in _gardens(world) else f" in {where.value}"
    elif question.crops:
        wanted = {ref.id for ref in question.crops}
        found = [b for b in found if b.crop in wanted]
        about = f" of {plant_names(question.crops, world.facts)}"
    elif question.has("inside"):
        found = [b for b in found if b.stage in INDOORS]
        about = " indoors"
    if not found:
        nothing = f"Nothing is noted{about}" if about else "Nothing is growing that I know of"
        return Answer(
            question=question,
            verdict=None,
            headline=f"{nothing}.",
            changes=("Tell me what you sow or set out, such as 'sowed 12 tomatoes in tray 1'.",),
        )
    named_crops = tuple(CropRef(crop) for crop in dict.fromkeys(b.crop for b in found))
    due = [(b, step) for b in found if (step := next_step(b, world)) is not None and step.on is not None]
    first = min(due, key=lambda pair: pair[1].on or world.today, default=None)
    details: tuple[str, ...] = ()
    if first is not None and first[1].on is not None:
        name = plant_name(named(first[0].crop, world), world.facts)
        details = (f"Next: {name}, {first[1].do}, about {show_date(first[1].on, world.today)}.",)
    listed = ", ".join(_short(b, world) for b in found[:3])
    more = f" and {plural(len(found) - 3, 'more batch', 'more batches')}" if len(found) > 3 else ""
    headline = f"{about.strip().capitalize() if about else 'Growing'}: {listed}{more}."
    return Answer(
        question=question if question.crops else _about(question, named_crops),
        verdict=None,
        headline=headline,
        numbers=(Number("batches", len(found), "", "Batches", shown=False),),
        details=details,
        table=_table(found, world),
    )


def _about(question: Request, crops: tuple[CropRef, ...]) -> Request:
    return replace(question, crops=crops)


def _gardens(world: World) -> set[str]:
    return {name.casefold() for name in world.garden.gardens} | {"home"}


def _stands_at(batch: Batch, place: str) -> bool:
    if place in _OPEN_GROUND:
        return batch.stage in ("out", "picking")
    where = (batch.where or "").casefold()
    return (
        place == batch.garden.casefold()
        or place == where
        or (bool(where) and (place in where or where in place))
    )


def _short(batch: Batch, world: World) -> str:
    name = plant_name(named(batch.crop, world), world.facts)
    count = "" if batch.count is None else f"{batch.count:g} " + (f"{batch.unit} of " if batch.unit else "")
    variety = f" ({batch.variety})" if batch.variety else ""
    return f"{count}{name}{variety} ({_STAGE_WORDS.get(batch.stage, batch.stage)})"


def _table(found: Sequence[Batch], world: World) -> Table:
    rows = []
    for b in found:
        step = next_step(b, world)
        what = plant_name(named(b.crop, world), world.facts) + (f" ({b.variety})" if b.variety else "")
        then = (
            ""
            if step is None
            else step.do + ("" if step.on is None else f", {show_date(step.on, world.today)}")
        )
        count = "" if b.count is None else f"{b.count:g} {b.unit}".strip()
        rows.append(
            (
                what,
                count,
                b.where or b.garden or "",
                f"{_STAGE_WORDS.get(b.stage, b.stage)}, {show_date(b.since, world.today)}",
                then,
            )
        )
    return Table(("plants", "how many", "where", "stage", "next"), tuple(rows))


def varieties(question: Request, world: World) -> Answer:
    """The varieties told, of the crops named or all; else those the log names."""
    wanted = {ref.id for ref in question.crops}
    kept = [v for v in world.garden.varieties.values() if not wanted or v.crop in wanted]
    rows = [
        (
            v.name,
            plant_name(named(v.crop, world), world.facts),
            "" if v.days is None else plural(v.days, "day"),
        )
        for v in kept
    ]
    known = {v.name.casefold() for v in kept}
    for b in batches_of(world.journal):
        if b.variety and b.variety.casefold() not in known and (not wanted or b.crop in wanted):
            known.add(b.variety.casefold())
            rows.append((b.variety, plant_name(named(b.crop, world), world.facts), ""))
    if not rows:
        return Answer(
            question=question,
            verdict=None,
            headline="You have told me no varieties yet.",
            changes=("Say for example 'my tomatoes are Glacier, 55 days'.",),
        )
    said = ", ".join(f"{name} ({crop}{f', {days}' if days else ''})" for name, crop, days in rows[:4])
    more = f" and {len(rows) - 4} more" if len(rows) > 4 else ""
    crops = tuple(dict.fromkeys(CropRef(v.crop) for v in kept))
    return Answer(
        question=question if question.crops else _about(question, crops),
        verdict=None,
        headline=f"Your varieties: {said}{more}.",
        table=Table(("variety", "crop", "days"), tuple(rows)) if len(rows) > 1 else None,
        details=("'Forget Glacier' and the like takes one off.",),
    )


def seeds(question: Request, world: World) -> Answer:
    """Seed bought or told to be in stock, and what has been sown of it since."""
    if world.journal is None:
        return Answer(question=question, verdict=None, headline="No log is kept here, so I know of no seed.")
    entries = sorted(world.journal.search(limit=_ALL), key=lambda d: (d.on, d.id))
    wanted = {ref.id for ref in question.crops}
    stock = [d for d in entries if _is_seed(d) and (not wanted or wanted & set(d.crops))]
    if not stock:
        return Answer(
            question=question,
            verdict=None,
            headline="You have told me of no seed in stock.",
            changes=("Say for example 'bought 2 packets of leeks'.",),
        )
    rows = []
    for d in stock:
        sown = [
            e
            for e in entries
            if e.action == "sow" and set(e.crops) & set(d.crops) and (e.on, e.id) >= (d.on, d.id)
        ]
        used = sum(e.count or 0.0 for e in sown)
        count = "" if d.count is None else f"{d.count:g} {d.detail.get('unit', '')}".strip()
        what = plant_names(tuple(named(c, world) for c in d.crops), world.facts)
        rows.append((what, d.detail.get("variety", ""), count, f"{used:g}" if used else "none noted"))
    left = ", ".join(dict.fromkeys(row[0] for row in rows))
    return Answer(
        question=question,
        verdict=None,
        headline=f"Seed you have told me of: {left}.",
        table=Table(("seed", "variety", "bought", "sown since"), tuple(rows)),
    )


def _is_seed(entry: Decision) -> bool:
    return entry.action == "buy" and (
        entry.detail.get("unit") in SEED_UNITS or entry.detail.get("seed") is not None
    )


def reminders(question: Request, world: World) -> Answer:
    """Reminders and plans still open, by their day."""
    found = jobs_of(world.journal, world.today).reminders
    if not found:
        return Answer(question=question, verdict=None, headline="No reminder is open.")
    first = found[0]
    return Answer(
        question=question,
        verdict=None,
        headline=f"{plural(len(found), 'reminder')} and plans open; next: {first.text}, {shown_day(first.on)}.",
        table=Table(("day", "what", "note"), tuple((shown_day(r.on), r.text, str(r.entry)) for r in found)),
    )


def losses(question: Request, world: World) -> Answer:
    """What was lost."""
    entries = [] if world.journal is None else list(world.journal.search(action="lost", limit=_ALL))
    if not entries:
        return Answer(question=question, verdict=None, headline="No losses are noted.")
    return Answer(
        question=question,
        verdict=None,
        headline=f"{plural(len(entries), 'loss', 'losses')} noted; the latest: {told(entries[0])}.",
        table=Table(("day", "entry", "note"), tuple((shown_day(d.on), d.text, str(d.id)) for d in entries)),
    )
