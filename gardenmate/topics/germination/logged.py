"""Sowings in the log: when the seed is due, and what of it is overdue."""

from __future__ import annotations

from datetime import date, timedelta
from math import ceil

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural, show_date, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.topics.germination.beds import bed_wait
from gardenmate.topics.germination.emergence_facts import (
    EmergenceTrial,
    borrowed,
    trial_of,
    working_at,
)
from gardenmate.topics.germination.own_emergence import own_up_days
from gardenmate.topics.germination.waiting import (
    GENERAL_WAIT,
    RECENT_DAYS,
    in_own_bed,
    limit_days,
    newest_batch,
    wait_or_look,
    waiting_temperature,
)
from gardenmate.topics.shared.grammar import sentence, unique, when
from gardenmate.topics.shared.raising import Named, spoken_name


def batch_answer(question: Request, world: World, named: Named, trial: EmergenceTrial) -> Answer | None:
    """When the newest logged sowing of this crop is due; None when there is none still under way."""
    batch = newest_batch(world, named)
    if batch is None:
        return None
    if not trial.days and trial.room_days is None:
        return None
    elapsed = (world.today - batch.on).days
    if in_own_bed(question, world, named.crop, batch) and trial.days:
        return bed_wait(question, world, named, trial, batch.on)
    settings = world.facts.table("raising")["germination"]
    soil_c, assumed = waiting_temperature(question, world, batch, named.crop)
    expected = trial.days_at(soil_c) if trial.days else (trial.room_days or (0, 0))[0]
    own = None if expected is None else own_up_days(expected, named.crop, world)
    expected = expected if own is None else own.value
    if expected is None or elapsed >= limit_days(expected, settings["overdue_spread"], settings):
        return wait_or_look(question, world, named, trial, float(elapsed), batch)
    first, last = _due(batch.on, expected, settings["due_spread"])
    given_up = batch.on + timedelta(days=limit_days(expected, settings["overdue_spread"], settings))
    here = show_temp(soil_c, world.units)
    due = _due_words(first, last, world.today)
    return Answer(
        question=question,
        verdict=None,
        headline=f"{sentence(named.name)} seed sown {_ago(elapsed)} at {here}: {due}.",
        numbers=(
            Number("sown_on", batch.on, "date", "sown", named.id),
            Number("due_from", first, "date", "first up", named.id),
            Number("due_to", last, "date", "most up", named.id),
            Number("overdue_on", given_up, "date", "overdue on", named.id),
            Number("days_to_emerge", round(expected, 1), "days", "comes up in", named.id),
        ),
        changes=("Warmer mix brings it sooner, colder later; tell me the temperature to work it out again.",),
        assumptions=unique(assumed, borrowed(named.name, trial)),
        sources=unique(trial.sources, settings["sources"]),
        working=(
            *(working_at(trial, soil_c, world.units) if trial.days else ()),
            f"Sown {show_date(batch.on)} + {expected:.1f} days = {show_date(first)}.",
        ),
    )


def _due(sown: date, expected: float, spread: float) -> tuple[date, date]:
    return sown + timedelta(days=round(expected)), sown + timedelta(days=ceil(expected * spread))


def _ago(days: int) -> str:
    return {0: "today", 1: "yesterday"}.get(days, f"{days} days ago")


def _due_words(first: date, last: date, today: date) -> str:
    if last < today:
        return f"was due by {when(last, today)}; give stragglers a few days yet"
    start = "now" if first <= today else when(first, today)
    return f"due {start} to {when(last, today)}" if last > first else f"due {start}"


def all_batches(question: Request, world: World) -> Answer | None:
    """What of the logged sowings is due, in the order it is due; None when nothing is under way."""
    if world.journal is None or question.ask.temperature_c is not None:
        return None
    since = world.today - timedelta(days=RECENT_DAYS)
    batches = world.journal.search(action="sow", since=since, until=world.today)
    rows: list[tuple[date, tuple[str, ...]]] = []
    settings = world.facts.table("raising")["germination"]
    for batch in batches:
        for crop_id in batch.crops:
            crop = _crop(world, crop_id)
            if crop is None:
                continue
            trial = trial_of(crop, world.facts)
            soil_c, _ = waiting_temperature(question, world, batch, crop)
            expected = trial.days_at(soil_c) if trial.days else (trial.room_days or (None,))[0]
            if expected is None:
                continue
            first, last = _due(batch.on, expected, settings["due_spread"])
            limit = batch.on + timedelta(days=limit_days(expected, settings["overdue_spread"], settings))
            state = "overdue: look" if limit <= world.today else _due_words(first, last, world.today)
            cells = (sentence(spoken_name(crop)), show_date(batch.on, world.today), state)
            rows.append((first, (*cells, show_temp(soil_c, world.units))))
    if not rows:
        return None
    rows.sort()
    return Answer(
        question=question,
        verdict=None,
        headline=f"{plural(len(rows), 'sowing')} in the log: {rows[0][1][0].lower()} {rows[0][1][2]}.",
        table=Table(("seed", "sown", "due", "mix"), tuple(r for _, r in rows), "Sowings in the log"),
        details=GENERAL_WAIT[1:],
        assumptions=("You noted no temperature, so I assumed a warm room.",),
        sources=unique(settings["sources"]),
        working=(
            "Due = sowing date + days from the table at its temperature; a quarter longer for most of it.",
        ),
    )


def _crop(world: World, crop_id: str) -> Crop | None:
    return (
        world.facts.crop(crop_id)
        if crop_id in world.facts.crop_ids
        else world.facts.crop_for(CropRef(crop_id))
    )
