"""Mat and lamp: does it need bottom heat, which setting, when off; how much light, from what, at what cost.

The answers are in bottom_heat and mat_settings (mat), and in lamps (light); this file finds out which of
them was asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_temp
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.germination.emergence_facts import mat_setting_c, trial_of
from gardenmate.topics.germination.waiting import DAYS_IN
from gardenmate.topics.seedlings import (
    bottom_heat,
    dome,
    lamps,
    lamps_over,
    leggy,
    mat_settings,
    plant_warmth,
)
from gardenmate.topics.seedlings.light_supply import lamp_hours, number_cue, supply_of
from gardenmate.topics.shared.figures import finished
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.raising import Named, asks, gear, seed_crops
from gardenmate.topics.shared.seedling_age import age_weeks, of_their_age

_LIGHT_ASKS = {"hours", "ppfd", "dli", "light", "distance", "lamp", "sill", "leggy"}
_HEAT_ASKS = {"mat", "mat-off", "setting"}
_LIGHT_CUES = ("lux", "lumens", "ppfd", "lamp_watts", "lamp_hours", "sun_hours")
_FOCUS = {"hours": "hours", "ppfd": "ppfd", "dli": "ppfd", "distance": "distance"}

_Reply = Callable[[Request, World, tuple[Named, ...]], Answer]


def answer(question: Request, world: World) -> Answer:
    """The mat, the lamp, or both, as asked."""
    found = _answer(question, world)
    lines = (
        *of_their_age(age_weeks(question), seed_crops(question, world)),
        *_while_away(question),
        *_on_the_mat(question, world),
        *(() if "cost" in asks(question) else lamps.to_buy(question, world)),
    )
    return finished(replace(found, details=(*lines, *found.details)) if lines else found)


def _on_the_mat(question: Request, world: World) -> tuple[str, ...]:
    """The days told of a mat, beside those the seed takes on it."""
    told = next((t for t in question.all("span") if t.unit in DAYS_IN and not t.told), None)
    crops = seed_crops(question, world)
    if told is None or question.has("seedling-age") or "mat" not in gear(question) or not crops:
        return ()
    setting = mat_setting_c(crops[0].crop, world.facts)
    needs = trial_of(crops[0].crop, world.facts).days_at(setting)
    if needs is None:
        return ()
    days, span = told.number * DAYS_IN[told.unit], plural(round(told.number, 1), told.unit.removesuffix("s"))
    up = f"{crops[0].name} seed comes up in about {round(needs)} days on a mat at {show_temp(setting, world.units)}"
    if days < needs:
        return (f"{sentence(span)} is short: {up}.",)
    return (f"{sentence(span)} is {'long' if days > _LONG_ON_MAT * needs else 'about right'}: {up}.",)


_LONG_ON_MAT = 2.0  # times the days the seed takes: by then what will come is up (design value)


def _while_away(question: Request) -> tuple[str, ...]:
    """What a trip told of means for trays that come up meanwhile."""
    first, _, last = (question.cue("away") or "").partition("/")
    if not last:
        return ()
    days = (date.fromisoformat(last) - date.fromisoformat(first)).days
    return (
        f"You are away {plural(max(days, 1), 'day')}, and seedlings in the dark stretch within a day or two: put the "
        "trays in the light before you go.",
    )


def _answer(question: Request, world: World) -> Answer:
    crops = seed_crops(question, world)
    wanted, used = asks(question), gear(question)
    for rule in RULES:
        found = rule(question, world, crops, wanted, used)
        if found is not None:
            return found
    return _both(question, world, crops)


Rule = Callable[[Request, World, tuple[Named, ...], frozenset[str], frozenset[str]], Answer | None]


def _plants_up(
    question: Request, world: World, crops: tuple[Named, ...], wanted: frozenset[str], used: frozenset[str]
) -> Answer | None:
    """Warmth for plants that are up: on a night told, or in general."""
    if crops and plant_warmth.about_plants(question):
        return plant_warmth.answer(question, world, crops)
    if not used & _WARMERS and plant_warmth.asks_for_nights(question):
        return plant_warmth.nights_answer(question, world, crops)
    return None


def _particular(
    question: Request, world: World, crops: tuple[Named, ...], wanted: frozenset[str], used: frozenset[str]
) -> Answer | None:
    """The cost, leggy seedlings, the dome, how many lamps."""
    if "cost" in wanted:
        return lamps.cost_answer(question, world, crops)
    if "leggy" in wanted:
        drawn = plant_warmth.with_warmth_said(leggy.answer(question, world, crops), question, world, crops)
        over = lamps_over.for_shelf(question, world, crops)
        return drawn if over is None else replace(drawn, details=(*drawn.details, over))
    if "dome" in used and not used & _WARMERS:
        return dome.answer(question, world)
    return lamps_over.answer(question, world, crops)


def _mat_or_lamp(
    question: Request, world: World, crops: tuple[Named, ...], wanted: frozenset[str], used: frozenset[str]
) -> Answer | None:
    """One of the two; None where both are meant or nothing is said."""
    if not wanted and {"mat", "lamp"} <= used:
        return None
    if _about_light(question, wanted, used):
        return plant_warmth.with_warmth_said(_light(question, world, crops, wanted), question, world, crops)
    if wanted & _HEAT_ASKS or used & {"mat", "thermostat"} or question.ask.temperature_c is not None:
        return _heat(question, world, crops, wanted)
    return None


RULES: tuple[Rule, ...] = (_plants_up, _particular, _mat_or_lamp)
_WARMERS = frozenset({"mat", "lamp", "thermostat"})


def _about_light(question: Request, wanted: frozenset[str], used: frozenset[str]) -> bool:
    if wanted & _HEAT_ASKS and not (
        wanted & _HEAT_ASKS <= {"mat-off"} and "lamp" in used and _hours_named(question)
    ):
        return False  # "he turns the lamp off at six" is about its hours, not about a mat
    measured = any(number_cue(question, name) is not None for name in _LIGHT_CUES)
    measured = (
        measured or _hours_named(question) or bool(question.cue("lamp_kind") or question.cue("lamp_form"))
    )
    measured = measured or (question.has("stand", "house") and not used and not question.ask.temps)
    return bool(wanted & _LIGHT_ASKS or measured or "lamp" in used or question.cue("place_kind") == "sill")


def _light(question: Request, world: World, crops: tuple[Named, ...], wanted: frozenset[str]) -> Answer:
    hours = lamp_hours(question)
    told = [t.number for t in question.all("span") if t.unit == "hours" and not t.told]
    if (
        len(told) > 1 and supply_of(question, world) is None
    ):  # "from 16 hours to 10": the second is thought of
        now = lamps.hours_answer(question, world, crops, told[0])
        then = lamps.hours_answer(question, world, crops, told[-1])
        return replace(then, details=(now.headline, *then.details))
    if hours is not None and supply_of(question, world) is None:
        return lamps.hours_answer(question, world, crops, hours)
    for word, focus in _FOCUS.items():
        if word in wanted and supply_of(question, world) is None:
            return lamps.need_answer(question, world, crops, focus)
    if "lamp" in wanted:
        return lamps.lamp_or_not(question, world, crops)
    supply = supply_of(question, world)
    if supply is not None:
        return lamps.supply_answer(question, world, crops, supply)
    return lamps.need_answer(question, world, crops, "hours" if _hours_named(question) else "all")


def _hours_named(question: Request) -> bool:
    """True when hours are spoken of, if only as what someone said."""
    return any(t.unit == "hours" for t in question.all("span"))


def _heat(question: Request, world: World, crops: tuple[Named, ...], wanted: frozenset[str]) -> Answer:
    if "mat-off" in wanted:
        return mat_settings.mat_off_answer(question, world, crops)
    if not crops:
        return bottom_heat.general_answer(question, world)
    setting_asked = wanted & {"setting"}
    typed = question.ask.temperature_c is not None
    if setting_asked or (typed and not bottom_heat.is_room(question, crops)):
        return mat_settings.setting_answer(question, world, crops)
    return bottom_heat.need_answer(question, world, crops)


def _both(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Nothing said of either: the mat first, then the light in one line."""
    lamp = lamps.need_answer(question, world, crops, "all")
    heat = (
        bottom_heat.need_answer(question, world, crops)
        if crops
        else bottom_heat.general_answer(question, world)
    )
    return replace(
        heat,
        numbers=(*heat.numbers, *lamp.numbers),
        details=(lamp.headline, *heat.details, *lamp.details),
        cautions=unique(heat.cautions, lamp.cautions),
        assumptions=unique(heat.assumptions, lamp.assumptions),
        sources=unique(heat.sources, lamp.sources),
        working=(*heat.working, *lamp.working),
    )
