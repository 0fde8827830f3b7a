"""What every hardening answer is made of: days, night limits, the plan and the crops side by side."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Answer, Mark, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import show_date, show_temp
from gardenmate.core.world import World
from gardenmate.topics.seedlings.hardening_facts import Hardening, hardening_of
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import range_numbers, temp_numbers
from gardenmate.topics.shared.grammar import sentence, span, unique


def day_of_plan(question: Request, world: World, kept: tuple[Hardening, ...], day: int) -> Answer:
    """What the plants get on one day of hardening, counted from the first; ready once the days are over."""
    first = kept[0] if kept else hardening_of(None, world)
    days = first.usual_days
    row = next(
        (s for s in world.facts.table("raising")["hardening"]["stretch"] if day <= round(days * s["part"])),
        None,
    )
    if row is None:
        headline = f"Day {day} is past the {days} days {first.plants} need: plant out once the nights allow."
    else:
        night = (
            "in at night"
            if row["night"] == "in"
            else f"out at night at {show_temp(first.night_c, world.units)} or more"
        )
        headline = f"Day {day} of {days}: {row['out']} outside, {row['sun']}, {night}."
    return reply(question, world, kept, None, headline, table=plan_table(first, world, None))


def plan_table(kept: Hardening, world: World, out: date | None) -> Table:
    """One row for each stretch; dates back from set-out when it is known, else day numbers."""
    days = kept.usual_days
    rows = []
    begin = 1
    start = None
    if out is not None:
        start = max(world.today, out - timedelta(days=days))
        days = max(1, (out - start).days)  # the last row ends the day before planting out
    for stretch in world.facts.table("raising")["hardening"]["stretch"]:
        end = min(days, max(begin, round(days * stretch["part"])))
        if end < begin:
            continue
        if start is None:
            label = f"day {begin}" if end == begin else f"days {begin}-{end}"
        else:
            a, b = start + timedelta(days=begin - 1), start + timedelta(days=end - 1)
            label = _dates(a, b)
        night = stretch["night"]
        if night != "in":
            night = f"out, if {show_temp(kept.night_c, world.units)} or more"
        rows.append((label, stretch["out"], stretch["sun"], night))
        begin = end + 1
    return Table(("when", "outside", "sun", "night"), tuple(rows), f"Hardening off in {days} days")


def _dates(first: date, last: date) -> str:
    """ "29 May", "29-30 May", "31 May-1 Jun"."""
    if first == last:
        return show_date(first)
    start = str(first.day) if first.month == last.month else show_date(first)
    return f"{start}-{show_date(last)}"


def crop_table(kept: tuple[Hardening, ...], world: World) -> Table | None:
    if len(kept) < 2:
        return None
    return Table(
        ("crop", "days", "bring in below", "once hardened, below"),
        tuple(
            (
                sentence(k.name),
                span(*k.days),
                show_temp(k.night_c, world.units),
                show_temp(k.hard_night_c, world.units),
            )
            for k in kept
        ),
    )


def reply(
    question: Request,
    world: World,
    kept: tuple[Hardening, ...],
    verdict: Verdict | None,
    headline: str,
    *,
    table: Table | None = None,
    numbers: tuple[Number, ...] = (),
    steps: tuple[str, ...] = (),
    extra: tuple[str, ...] = (),
    marks: tuple[Mark, ...] = (),
    more_sources: tuple[str, ...] = (),
) -> Answer:
    """What every hardening answer carries: days, night limits, the crops side by side, what would help."""
    shown = kept or (hardening_of(None, world),)
    crop_numbers = tuple(
        n
        for k in shown
        for n in (
            *range_numbers("hardening_days", "hardening takes", *k.days, "days", k.contract_id),
            *temp_numbers("night_limit", "while hardening, bring in below", k.night_c, k.contract_id),
            *temp_numbers("night_limit_hard", "once hardened, bring in below", k.hard_night_c, k.contract_id),
        )
    )
    notes = tuple(note for k in kept if (note := k.assumption(world.units)))
    changes = () if world.site is not None or not kept or marks else (
        "Tell me the place, or the day you mean to plant, and I can date the plan.",
    )  # fmt: skip
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(*numbers, *crop_numbers),
        details=unique(extra, tuple(k.note for k in kept if k.note and world.units == "us")),
        table=table or crop_table(kept, world),
        steps=steps,
        changes=("Type the forecast lows for the coming nights and I can say which they come in.", *changes),
        marks=marks,
        cautions=cautions(world.facts, "hardening-off").texts,
        assumptions=notes,
        sources=unique(*(k.sources for k in shown), more_sources),
        working=tuple(
            f"{sentence(k.name)}: {span(*k.days)} days; while hardening in below "
            f"{show_temp(k.night_c, world.units)}, once hard below {show_temp(k.hard_night_c, world.units)}."
            for k in shown
        ),
    )
