"""Seed sown in a bed at a known place: the usual soil there, day by day, says when it is due."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import show_date, show_length_cm, show_temp
from gardenmate.core.world import World
from gardenmate.science.emergence import emergence_rate
from gardenmate.topics.germination.emergence_facts import (
    EmergenceTrial,
    borrowed,
    mat_setting_c,
    soil_today_c,
)
from gardenmate.topics.season.set_out import next_window
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.raising import Named

_LONGEST_DAYS = 240  # days looked ahead for warm soil; design value


def look_steps(world: World, named: Named, soil_c: float) -> tuple[str, ...]:
    """How to look without harm, and what to do next."""
    setting = mat_setting_c(named.crop, world.facts)
    steps = [
        "Lift one or two seeds with the tip of a pencil: it does no harm to the rest.",
        "Firm and plump, or showing a root: alive; cover it and give it another week, warmer if you can.",
        "Soft, hollow or gone: rotted or eaten; sow again in fresh, just damp mix or soil.",
    ]
    if named.crop.warm and soil_c < setting - 3:
        steps.append(f"Sow again on a mat at {show_temp(setting, world.units)}; that is the quickest cure.")
    steps.append("Ask whether there is still time to sow it again, or whether starts are the better way.")
    return tuple(steps)


def bed_steps(world: World, named: Named) -> tuple[str, ...]:
    """How to look in a bed, and until when to sow it there again."""
    window = next_window(named.crop, world, "sow-outdoors")
    if window is not None and window.earliest <= world.today:
        latest = show_date(window.latest, world.today)
        again = f"Soft, hollow or gone: sow again in place now; there is time until {latest}."
    elif window is not None:
        again = f"Soft, hollow or gone: sow again from {show_date(window.earliest, world.today)}."
    else:
        again = "Soft, hollow or gone: rotted or eaten; ask whether there is still time to sow it again."
    return (
        "Scrape the soil off a foot of row and look at the seed: it does no harm to the rest.",
        "Firm and plump, or showing a root: alive; cover it and give it another week.",
        again,
    )


def bed_wait(question: Request, world: World, named: Named, trial: EmergenceTrial, sown: date) -> Answer:
    """Overdue in this bed? Daily shares of emergence reach 1 when most is up, 1.5 when it is overdue.

    A warm crop that would need more than three weeks to come up has mostly rotted after two (common
    practice).
    """
    settings = world.facts.table("raising")["germination"]
    due, limit = _reached(world, trial, sown, 1.0), _reached(world, trial, sown, settings["overdue_spread"])
    elapsed = (world.today - sown).days
    site = world.site
    assert site is not None, "asked only with a place"
    now_c = soil_today_c(site, world.today)
    middle_c = soil_today_c(site, sown + timedelta(days=elapsed // 2))
    cold = due is None or (due - sown).days > settings["bed_cold_days"]
    rotted = named.crop.warm and cold and elapsed >= settings["bed_look_days"]
    late = limit is not None and limit <= world.today
    seed = f"{named.name} seed sown {show_date(sown, world.today)}"
    verdict: Verdict
    if late:
        verdict = "yes"
        headline = f"Yes, look now: {seed} should have been up by {show_date(due or sown, world.today)}."
    elif rotted:
        verdict = "yes"
        near = show_temp(middle_c, world.units)
        headline = f"Yes, look now: {elapsed} days in soil near {near} rots {named.name} seed."
    elif due is None:
        verdict = "no"
        headline = f"Leave it: {seed} has not had the warmth to come up yet."
    else:
        verdict = "no"
        wait = "is due about now" if due <= world.today else f"is due about {show_date(due, world.today)}"
        until = f"; give it until {show_date(limit, world.today)}" if limit is not None else ""
        headline = f"Not overdue yet: {seed} {wait}{until}."
    dates = (("due_from", due, "most up"), ("overdue_on", limit, "overdue on"))
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(
            Number("days_since_sowing", elapsed, "days", "sown", named.id),
            *(Number(name, day, "date", label, named.id) for name, day, label in dates if day is not None),
            *temp_numbers("soil", "usual soil now", now_c, named.id),
        ),
        steps=bed_steps(world, named) if verdict == "yes" else (),
        changes=(
            f"Check with a thermometer {show_length_cm(5.08, world.units)} down: seed comes up sooner in warmer soil.",
        ),
        cautions=cautions(world.facts, "germination", "treated_seed").texts if verdict == "yes" else (),
        assumptions=unique(
            (f"Usual soil of a bed {site.where}: {show_temp(middle_c, world.units)} midway.",),
            borrowed(named.name, trial),
        ),
        sources=unique(trial.sources, settings["sources"], site.source_ids),
        working=(
            f"Each day counts 1/days at its usual soil; from {show_date(sown, world.today)} they "
            f"reach 1 {'on ' + show_date(due, world.today) if due else 'not within the year'}.",
        ),
    )


def _reached(world: World, trial: EmergenceTrial, sown: date, target: float) -> date | None:
    """The day on which the daily shares of emergence add up to ``target``; None within eight months."""
    assert world.site is not None, "asked only with a place"
    grown = 0.0
    for i in range(_LONGEST_DAYS):
        day = sown + timedelta(days=i)
        grown += emergence_rate(trial.days, soil_today_c(world.site, day))
        if grown >= target:
            return day + timedelta(days=1)
    return None
