"""Planting out on a hot or sunny day: in the evening or under cloud, with water and shade."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_temp
from gardenmate.core.world import World
from gardenmate.topics.season.set_out import set_out_window
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, unique
from gardenmate.topics.shared.raising import named_crops
from gardenmate.topics.shared.subjects import plants


def asks_for_the_hour(question: Request, world: World) -> bool:
    """True when midday or too much heat is what is asked about, and the plants may go out by the season."""
    if not question.has("hour", "noon") and not question.has("heat", "too-hot"):
        return False
    if question.cue("wanted_on"):
        return False  # counted back from a harvest: "shade till noon, when do I plant for Halloween"
    return about_planting_in_heat(question, world) and in_season(question, world)


def in_season(question: Request, world: World) -> bool:
    """True when nothing named is still too early to set out at the place; an unknown place counts too."""
    windows = [set_out_window(n.crop, world) for n in named_crops(question, world)]
    return all(w is None or w.earliest <= world.today for w in windows)


def about_planting_in_heat(question: Request, world: World) -> bool:
    """True when planting out is asked about on a hot day, or in the middle of the day."""
    if question.cue("method") != "setout" and not question.has("doing", "planting"):
        return False
    temp_c = question.ask.temperature_c
    if temp_c is None:
        return question.has("hour", "noon")
    return temp_c >= f_to_c(world.facts.table("raising")["hardening"]["heat"]["hot_f"])


def answer(question: Request, world: World) -> Answer:
    """Yes in the evening or under cloud, tight on a hot day, no at midday in the sun."""
    settings = world.facts.table("raising")["hardening"]["heat"]
    temp_c = question.ask.temperature_c
    named = [plants(n) for n in named_crops(question, world)]
    names = listed(p.word for p in named) or "transplants"
    them = "it" if len(named) == 1 and not named[0].plural else "them"
    hot = "" if temp_c is None else f" at {show_temp(temp_c, world.units)}"
    dull = question.cue("sky") in ("cloudy", "rain")
    verdict: Verdict
    if question.has("hour", "evening") or dull:
        verdict = "yes"
        time = "a dull day" if dull else "the evening"
        headline = (
            f"Yes, {time} is the time{hot}: plant {names}, water {them} in well and shade {them} while the "
            "heat lasts."
        )
    elif (
        question.has("hour", "noon")
        or question.has("hour", "sun")
        or question.cue("sky") in ("clear", "hazy")
    ):
        verdict = "no"
        headline = (
            f"No, not in the midday sun{hot}: plant {names} this evening or on a dull day, water {them} in "
            f"and shade {them} for the first days."
        )
    else:
        verdict = "tight"
        headline = (
            f"Better not in the heat of the day{hot}: plant {names} in the evening, water {them} in and "
            f"shade {them} for the first days."
        )
    low, high = settings["shade_days"]
    care = cautions(world.facts, "hardening-off", "not_frost_proof")
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=() if temp_c is None else temp_numbers("day", "day", temp_c),
        details=(
            "In hot sun leaves lose water faster than disturbed roots can take it up: the plants wilt, "
            "scorch and stop growing for a week.",
        ),
        steps=(
            "Water the trays an hour before and soak the planting holes.",
            "Firm in, water again, and keep a cloth, a board or an upturned pot on the sunny side "
            f"for {low} to {high} days.",
            "Water every day for the first week while it stays hot.",
        ),
        changes=("Hardened plants and a cloudy, still spell make it safe at any hour.",),
        cautions=care.texts,
        sources=unique(settings["sources"], care.sources),
    )
