"""Frost tonight, no low typed: what one ordinary night at this time of year is like at the place."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.science.frost_risk import normal_cdf
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, unique
from gardenmate.topics.shared.protection import (
    chill_limit_c,
    frost_span,
    frost_temp,
)
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_NEVER, _SELDOM, _OFTEN = 0.02, 0.1, 0.5  # chances of a night; design values


def frost_chance(normal_min_c: float, limit_c: float, night_sd_c: float) -> float:
    """Chance (0-1) that one night falls to ``limit_c`` or lower, nights spread normally about the normal."""
    return normal_cdf((limit_c - normal_min_c) / night_sd_c)


def answer_one_night(question: Request, world: World) -> Answer:
    """ "Frost tonight?": the chance for a night at this time of year. No verdict: only a low decides."""
    normal_c, chance, ground = _tonight(world)
    units = world.units
    low = frost_temp(normal_c, units)
    count = f"about {max(1, round(100 * chance))} nights in 100"
    at = f"{_where(world)} an ordinary night now goes down to {low}"
    if ground < _NEVER:
        headline = f"Don't expect frost tonight: {at}."
    elif chance < _SELDOM:
        few = count if chance >= _NEVER else "hardly any night"
        headline = (
            f"Frost tonight is unlikely unless it is forecast: {at}, and {few} at this time of year freeze."
        )
    elif chance < _OFTEN:
        headline = f"Frost is possible on any clear night now: {at}, and {count} at this time of year freeze."
    else:
        headline = f"Expect frost on most nights now: {at}, and {count} at this time of year freeze."
    answer = Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=(
            *temp_numbers("normal_low", "ordinary low now", normal_c),
            Number("frost_chance_night", round(100 * chance), "%", "nights that freeze, this time of year"),
        ),
        chance=chance,
        changes=("Type tonight's low, and what you grow, for an answer about tonight.",),
    )
    return _finish(answer, world)


def answer_usual_night(question: Request, world: World, crops: Sequence[Named]) -> Answer | None:
    """Crops named and a warm time of year: no frost to cover them for. None when one could come."""
    normal_c, _, ground = _tonight(world)
    if ground >= _NEVER:
        return None
    low = frost_temp(normal_c, world.units)
    names, at = listed(plants(n).word for n in crops), _where(world)
    cool = [
        n for n in crops if (limit := chill_limit_c(world.facts, n.crop)) is not None and normal_c < limit
    ]
    chill = f"; only nights that cool set back {listed(plants(n).word for n in cool)}" if cool else ""
    answer = Answer(
        question=question,
        verdict="yes",
        headline=f"No frost is near for {names}: {at} an ordinary night now stays at {low}{chill}.",
        numbers=tuple(temp_numbers("normal_low", "ordinary low now", normal_c)),
        changes=("Type tonight's low if the forecast says otherwise.",),
    )
    return _finish(answer, world)


def _tonight(world: World) -> tuple[float, float, float]:
    """Normal low of today, degrees C; chance of 0 C at the thermometer; chance of it at leaf height."""
    assert world.site is not None
    normal_c = world.site.min_c(world.today)
    sd_c = world.facts.table("chilling")["day_spread"]["day_sd_c"]
    colder_c = world.facts.table("protection")["radiation"]["ground_colder_f"] * F_DEGREE
    return normal_c, frost_chance(normal_c, 0.0, sd_c), frost_chance(normal_c - colder_c, 0.0, sd_c)


def _where(world: World) -> str:
    assert world.site is not None
    return world.site.where


def _finish(answer: Answer, world: World) -> Answer:
    """The answer with what it rests on."""
    assert world.site is not None
    care = cautions(world.facts, "frost", "forecast")
    spread = frost_span(world.facts.table("chilling")["day_spread"]["day_sd_c"], world.units)
    return replace(
        answer,
        cautions=care.texts,
        assumptions=(
            f"You gave no low, so I used the normal low of the date; nights differ from it by {spread}, by "
            "common practice.",
        ),
        sources=unique(world.site.source_ids, ("common-practice",), care.sources),
    )
