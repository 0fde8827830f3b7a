"""Hardening as it goes: the first day out, sunburnt leaves, plants held too long."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import (
    INCH_CM,
    f_to_c,
    show_length_cm,
    show_temp,
)
from gardenmate.core.world import World
from gardenmate.topics.seedlings.hardening_facts import Hardening, hardening_of
from gardenmate.topics.seedlings.hardening_reply import plan_table, reply
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, span


def first_outing(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """A warm day: a good first time out? Warmth is fine; full sun and wind on the first day are not."""
    settings = world.facts.table("raising")["hardening"]
    temp_c = question.ask.temperature_c
    names = listed(k.many for k in kept) or "seedlings"
    hours = span(*settings["first_hours"])
    if temp_c is not None and temp_c < f_to_c(settings["day_worth_f"]):
        headline = (
            f"No: {show_temp(temp_c, world.units)} is too cold for a first day out; wait for "
            f"{show_temp(f_to_c(settings['day_worth_f']), world.units)} or more."
        )
        verdict: Verdict = "no"
    elif question.cue("wind") == "windy":
        verdict = "no"
        headline = f"No, not on a windy day: wind dries and breaks {names} fresh from indoors."
    else:
        verdict = "tight"
        warm = "That is warm enough" if temp_c is None else f"{show_temp(temp_c, world.units)} is warm enough"
        headline = (
            f"{warm}, but the sun is the risk: for a first outing give {names} {hours} hours in shade, out of the "
            "wind, not full sun."
        )
    return reply(
        question,
        world,
        kept,
        verdict,
        headline,
        numbers=temp_numbers("day", "day", temp_c) if temp_c is not None else (),
        steps=(
            "Look tomorrow: pale, papery patches are sunburn; new leaves come clean and the plant lives.",
            "Wilted and not pale: water, shade, and back indoors for a day.",
            "Next days: shade again, an hour of morning sun from the second or third day on.",
        ),
        table=plan_table(kept[0] if kept else hardening_of(None, world), world, None),
    )


def sunburn(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """White, papery leaves after a day out: what happened, and how to go on."""
    names = listed(k.many for k in kept) or "the plants"
    return reply(
        question,
        world,
        kept,
        "tight",
        f"Sunburn: the white, papery leaves of {names} are lost, but the plants are not. Go on in shade and give "
        "sun more slowly.",
        steps=(
            "Shade for two or three days, water, and leave the burnt leaves on until new ones are out.",
            "Then an hour of early sun, and an hour or two more each day.",
            "The growing tip is white or brown too: that plant is best replaced.",
        ),
        extra=("Window and lamp light are far weaker than the sun; leaves need a week to change over.",),
    )


def held_too_long(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """What too long or too cold does: buttons, bolting, stalling."""
    hold = world.facts.table("raising")["hardening"]["hold"]
    units = world.units
    cold = show_temp(f_to_c(hold["button_below_f"]), units)
    parts: list[str] = []
    buttons = [k.name for k in kept if k.held == "buttons"]
    bolts = [k.name for k in kept if k.held == "bolts"]
    stalls = [k.name for k in kept if k.held == "stalls"]
    if buttons:
        parts.append(f"{listed(buttons)} held root-bound, or many days below {cold}, makes tiny heads early")
    if bolts:
        low, high = (show_temp(f_to_c(f), units) for f in hold["bolt_f"])
        stem = show_length_cm(hold["stem_max_in"] * INCH_CM, units)
        parts.append(
            f"{listed(bolts)} with stems thicker than {stem} may bolt after a week or two at {low} to {high}"
        )
    if stalls:
        parts.append(f"{listed(stalls)} stops growing for good when hardened hard")
    others = [k.name for k in kept if k.name not in (*buttons, *bolts, *stalls)]
    if others:
        parts.append(f"{listed(others)} only slows and starts again, unless root-bound")
    return reply(
        question,
        world,
        kept,
        "tight",
        f"Holding plants back is a risk: {'; '.join(parts)}.",
        extra=(
            f"Hardening should slow growth, not stop it: {span(*kept[0].days)} days, then plant or pot on.",
            "Cover them at night or stand them in a frame rather than leave them cold for weeks.",
        ),
        more_sources=tuple(hold["sources"]),
    )
