"""Waiting for seed: what was sown and when it is due, and when to stop waiting."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from math import ceil
from typing import Any

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, plural, show_date, show_temp
from gardenmate.core.world import Decision, World
from gardenmate.knowledge.crops import Crop
from gardenmate.topics.germination.beds import bed_wait, look_steps
from gardenmate.topics.germination.causes import why
from gardenmate.topics.germination.emergence_facts import (
    EmergenceTrial,
    borrowed,
    trial_of,
    working_at,
)
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique, when
from gardenmate.topics.shared.raising import Named, gear

GENERAL_WAIT = (
    "Tomato, pepper and squash wait for warmth; cabbage, lettuce and peas come up in cool soil, slowly.",
    "Seed not up after half as long again as the table says is overdue: look before you wait on.",
)
_LONGEST_DAYS = 3650.0  # ten years: no longer wait is meant
RECENT_DAYS = 75  # a sowing older than this has been up or given up long ago


# ------------------------------------------------------------------------------------ how long since sowing
def elapsed_days(question: Request, world: World, named: Named) -> float | None:
    """Days since sowing as said ("four weeks", "sown 3 April"); None when nothing was said."""
    slots = question.ask
    if question.cue("span_means") == "until" and not question.has("since", "sown"):
        return None
    found: float | None = None
    if slots.weeks is not None:
        found = slots.weeks * 7
    elif slots.days is not None:
        found = slots.days
    elif slots.date is not None and slots.date < world.today:
        found = float((world.today - slots.date).days)
    elif slots.date is not None and (question.has("since", "sown") or question.cue("asks") == "overdue"):
        found = float((slots.date - world.today).days)  # "nothing in 16 days": typed as if it lay ahead
    return None if found is None else min(found, _LONGEST_DAYS)


def newest_batch(world: World, named: Named) -> Decision | None:
    """The newest logged sowing of a crop that may still be under way."""
    if world.journal is None:
        return None
    for crop_id in dict.fromkeys((named.id, named.crop.id)):
        found = world.journal.search(
            crop=crop_id, action="sow", since=world.today - timedelta(days=RECENT_DAYS), until=world.today
        )
        if found:
            return found[0]
    return None


def overdue(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Stop waiting? Yes (look, then resow) past the date when the stragglers should be up; no before it."""
    if len(crops) > 1 and elapsed_days(question, world, crops[0]) is not None:
        return _several_waits(question, world, crops)
    named = crops[0]
    trial = trial_of(named.crop, world.facts)
    batch = None
    elapsed = elapsed_days(question, world, named)
    if elapsed is None:
        batch = newest_batch(world, named)
        if batch is None:
            return why(question, world, crops)
        elapsed = float((world.today - batch.on).days)
    return wait_or_look(question, world, named, trial, elapsed, batch)


def limit_days(expected: float, spread: float, settings: Mapping[str, Any]) -> int:
    """Days after which seed is overdue."""
    least: int = settings["least_wait_days"]
    return max(ceil(expected * spread), least)


def _several_waits(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """One wait for several crops: which to look at, which to leave."""
    elapsed = elapsed_days(question, world, crops[0]) or 0.0
    each = [
        (n, wait_or_look(question, world, n, trial_of(n.crop, world.facts), elapsed, None)) for n in crops
    ]
    look = [n.name for n, reply in each if reply.verdict == "yes"]
    leave = [n.name for n, reply in each if reply.verdict != "yes"]
    parts = [f"look at the {listed(look)} now"] if look else []
    parts += [f"leave the {listed(leave)}"] if leave else []
    rows = tuple(
        (
            sentence(n.name),
            "overdue" if reply.verdict == "yes" else "not yet",
            next((str(round(float(str(x.value)))) for x in reply.numbers if x.name == "days_to_emerge"), ""),
        )
        for n, reply in each
    )
    return Answer(
        question=question,
        verdict=("yes" if look else "no") if not (look and leave) else None,
        headline=f"After {_span_said(elapsed)}: {'; '.join(parts)}.",
        numbers=tuple(x for _, reply in each for x in reply.numbers),
        table=Table(("seed", "state", "most up, days"), rows),
        steps=next((reply.steps for _, reply in each if reply.verdict == "yes"), ()),
        cautions=unique(*(reply.cautions for _, reply in each)),
        assumptions=unique(*(reply.assumptions for _, reply in each)),
        sources=unique(*(reply.sources for _, reply in each)),
        working=unique(*(reply.working for _, reply in each)),
    )


def wait_or_look(
    question: Request,
    world: World,
    named: Named,
    trial: EmergenceTrial,
    elapsed: float,
    batch: Decision | None,
) -> Answer:
    settings = world.facts.table("raising")["germination"]
    units = world.units
    sown = batch.on if batch is not None else world.today - timedelta(days=round(elapsed))
    if in_own_bed(question, world, named.crop, batch) and trial.days:
        return bed_wait(question, world, named, trial, sown)
    soil_c, assumed = waiting_temperature(question, world, batch, named.crop)
    expected = trial.days_at(soil_c) if trial.days else (trial.room_days[1] if trial.room_days else None)
    ago = _span_said(elapsed)
    if expected is None:
        return _none_at(question, world, named, trial, soil_c, assumed, ago)
    spread = settings["overdue_spread"] if trial.days else 1.25
    due, limit = ceil(expected * settings["due_spread"]), limit_days(expected, spread, settings)
    late = elapsed >= limit
    here = show_temp(soil_c, units)
    give_up = sown + timedelta(days=limit)
    if late:
        headline = (
            f"Yes, look now: {ago} is overdue for {named.name} seed at {here}, where most is up in about "
            f"{round(round(expected, 1))} days and the last by {limit}."
        )
        steps = look_steps(world, named, soil_c)
        if _lying_in_the_dark(question, named):
            headline = (
                f"Yes, look now, and bring it into the light: {named.name} seed needs light to come up; "
                f"{ago} in the dark is lost time."
            )
    elif _lying_in_the_dark(question, named):
        restart = world.today + timedelta(days=limit)
        headline = (
            f"Not overdue yet, but bring it into the light: {named.name} seed needs light to come up, so in "
            f"the dark little will; then give it until {show_date(restart, world.today)}."
        )
        steps = ("Press the seed on, hardly cover it, keep it damp and stand it in good light, not hot sun.",)
    else:
        headline = (
            f"Not overdue yet: at {here} {named.name} seed takes about {round(round(expected, 1))} days; leave it "
            f"until {when(give_up, world.today)} before digging or sowing again."
        )
        steps = ("Keep the mix just damp and at an even temperature, and leave it alone.",)
    return Answer(
        question=question,
        verdict="yes" if late else "no",
        headline=headline,
        details=_estimates(question, elapsed, expected, limit),
        numbers=(
            Number("days_since_sowing", round(elapsed), "days", "sown", named.id),
            Number("days_to_emerge", round(expected, 1), "days", "most up after", named.id),
            Number("overdue_after", limit, "days", "overdue after", named.id),
            Number("overdue_on", give_up, "date", "overdue on", named.id),
            *temp_numbers("soil", "soil or mix", soil_c, named.id),
        ),
        table=None if question.ask.temperature_c is not None else _patience(named, trial, world, spread),
        steps=steps,
        changes=_colder(named, trial, world, elapsed, spread) if late else (),
        cautions=cautions(world.facts, "germination", "treated_seed", "mat_electricity").texts
        if late
        else (),
        assumptions=unique(assumed, borrowed(named.name, trial)),
        sources=unique(trial.sources, settings["sources"]),
        working=(
            *(working_at(trial, soil_c, units) if trial.days else ()),
            f"Most up: {expected:.1f} days. Due through day {due}. Overdue at {spread:g} x {expected:.1f}, "
            f"never before day {settings['least_wait_days']}: day {limit}; today is day {round(elapsed)}.",
        ),
    )


def _estimates(question: Request, elapsed: float, expected: float, limit: int) -> tuple[str, ...]:
    """What a time told beside the wait, such as the packet's, is worth."""
    told = [t.number * DAYS_IN[t.unit] for t in question.all("span") if t.unit in DAYS_IN]
    lines = []
    for days in dict.fromkeys(d for d in told if round(d) != round(elapsed)):
        said = _span_said(days)
        if days > limit:
            lines.append(f"Waiting {said} is longer than it is worth.")
        elif days >= _FAIR * expected:
            lines.append(f"{sentence(said)} is a fair time for it.")
        else:
            lines.append(f"{sentence(said)} is quick: most take about {round(expected)} days.")
    return tuple(lines)


DAYS_IN = {"days": 1.0, "weeks": 7.0, "months": 30.4}
_FAIR = 0.75  # of the days most take: a packet that promises less is hopeful (design value)


def waiting_temperature(
    question: Request, world: World, batch: Decision | None, crop: Crop
) -> tuple[float, tuple[str, ...]]:
    """What the seed has been lying in: as said, as logged, else assumed for a room or a bed."""
    typed = question.ask.temperature_c
    if typed is not None:
        return typed, ()
    if batch is not None and batch.temp_c is not None:
        return batch.temp_c, (
            f"Temperature as logged with the sowing of {show_date(batch.on, world.today)}.",
        )
    germination = world.facts.table("raising")["germination"]
    units = world.units
    if question.has("lies", "warm-spot"):
        spot_c = f_to_c(germination["warm_spot_f"])
        return spot_c, (f"I used {show_temp(spot_c, units)} for that warm spot; colder means a longer wait.",)
    if not _in_a_bed(question, crop):
        room_c = f_to_c(germination["room_f"])
        return room_c, (
            f"I used {show_temp(room_c, units)} for the mix, as in a lived-in room; colder means a longer wait.",
        )
    bed_c = f_to_c(germination["bed_warm_f" if crop.warm else "bed_cool_f"])
    return bed_c, (f"A bed with soil at {show_temp(bed_c, units)}; the table has the others.",)


def _lying_in_the_dark(question: Request, named: Named) -> bool:
    """Seed that needs light, said to lie in the dark."""
    return named.crop.emergence.light_to_germinate is True and question.has("lies", "dark")


def in_own_bed(question: Request, world: World, crop: Crop, batch: Decision | None) -> bool:
    """In a bed at a known place, with no temperature said or logged: the place's soil day by day decides."""
    said = question.ask.temperature_c is not None or (batch is not None and batch.temp_c is not None)
    return world.site is not None and not said and _in_a_bed(question, crop)


def _in_a_bed(question: Request, crop: Crop) -> bool:
    """Sown outdoors: as said, else because it is sown nowhere else or, a cool crop, in place as a rule."""
    if question.ask.method is not None:
        return question.ask.method == "outdoors"
    if question.cue("place_kind") in ("sill", "indoors", "greenhouse") or gear(question) & {"mat", "lamp"}:
        return False
    if "indoors" not in crop.methods:
        return True
    if crop.methods[0] != "direct":
        return False
    raised = crop.warm and "starts" in crop.methods  # as often raised in pots: only where a bed is spoken of
    return not raised or question.has("lies", "outdoors")


def _none_at(
    question: Request,
    world: World,
    named: Named,
    trial: EmergenceTrial,
    soil_c: float,
    assumed: tuple[str, ...],
    ago: str,
) -> Answer:
    units = world.units
    here = show_temp(soil_c, units)
    best = f"; it wants about {show_temp(trial.best_c, units)}" if trial.best_c is not None else ""
    if not named.crop.warm and trial.best_c is not None and soil_c < trial.best_c:
        return Answer(
            question=question,
            verdict="no",
            headline=f"Leave it: at {here} {named.name} seed only waits; it comes up once it is warmer.",
            numbers=temp_numbers("soil", "soil or mix", soil_c, named.id),
            details=("Hardy seed keeps in cold, damp soil for weeks, though some of it rots.",),
            assumptions=unique(assumed, borrowed(named.name, trial)),
            sources=unique(trial.sources, ("common-practice",)),
            working=working_at(trial, soil_c, units),
        )
    return Answer(
        question=question,
        verdict="yes",
        headline=f"Yes, stop waiting: {named.name} seed does not come up at {here}{best}.",
        numbers=temp_numbers("soil", "soil or mix", soil_c, named.id),
        details=(f"After {ago} at that temperature it has most likely rotted.",),
        steps=look_steps(world, named, soil_c),
        cautions=cautions(world.facts, "germination", "treated_seed", "mat_electricity").texts,
        assumptions=unique(assumed, borrowed(named.name, trial)),
        sources=unique(trial.sources),
        working=working_at(trial, soil_c, units) if trial.days else ("No table for this seed.",),
    )


def _patience(named: Named, trial: EmergenceTrial, world: World, spread: float) -> Table | None:
    if not trial.days:
        return None
    settings = world.facts.table("raising")["germination"]
    rows = tuple(
        (show_temp(t, world.units), f"{d:g}", f"{limit_days(d, spread, settings)}") for t, d in trial.days
    )
    return Table(("soil", "most up, days", "overdue after"), rows, f"{sentence(named.name)} seed")


def _colder(
    named: Named, trial: EmergenceTrial, world: World, elapsed: float, spread: float
) -> tuple[str, ...]:
    """The warmest tabulated temperature at which the wait would still be normal."""
    settings = world.facts.table("raising")["germination"]
    still = [t for t, d in trial.days if limit_days(d, spread, settings) > elapsed]
    colder = [t for t in still if t < (trial.best_c or 0)]
    if not colder:
        return ()
    return (f"In a mix at {show_temp(max(colder), world.units)} or colder this wait would still be normal.",)


def _span_said(days: float) -> str:
    weeks = days / 7
    if days >= 14 and abs(weeks - round(weeks)) < 0.01:
        return f"{round(weeks)} weeks"
    return plural(round(days), "day")
