"""How warm to keep mat, propagator and seedlings, whether a setting will do, and when the mat goes off."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, plural, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import Warmth
from gardenmate.topics.seedlings.bottom_heat import warmth_numbers, warmth_of
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, show_temp_range, unique
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants


def setting_answer(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """How warm to keep them: for sprouting, then as seedlings; and whether a typed setting will do."""
    typed = question.ask.temperature_c
    units = world.units
    kept = [(n, warmth_of(n.crop, world.facts)) for n in crops]
    rows = tuple(
        (
            sentence(n.name),
            show_temp_range(*w.germinate_c, units),
            show_temp_range(*w.day_c, units),
            show_temp(w.night_c, units),
        )
        for n, w in kept
    )
    seedlings = question.cue("stage") == "seedling"
    verdict: Verdict | None = None
    first = kept[0][1]
    if typed is not None:
        verdict, headline = _judge_setting(kept, typed, world, seedlings)
    elif seedlings:
        told = listed(
            f"{n.name} seedlings at {show_temp_range(*w.day_c, units)} by day and "
            f"{show_temp(w.night_c, units)} at night"
            for n, w in kept
        )
        headline = f"Keep {told}; only sprouting seed needs {show_temp_range(*first.germinate_c, units)}."
    else:
        told = listed(f"{plants(n).word} at {show_temp_range(*w.germinate_c, units)}" for n, w in kept)
        headline = (
            f"Sprout {told}, then grow the seedlings on cooler: "
            f"{show_temp_range(*first.day_c, units)} by day, {show_temp(first.night_c, units)} at night."
        )
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=tuple(number for n, w in kept for number in warmth_numbers(n, w)),
        details=(
            "Without a thermostat a propagator runs away on a sunny day: open the lid, shade it, and read a "
            "thermometer in the mix.",
            "Seedlings already up want it cooler than seed does; heat and weak light make them leggy.",
        ),
        table=Table(("crop", "mix, sprouting", "day, seedlings", "night, at least"), rows),
        changes=("A probe thermostat in the mix holds the setting whatever the room does.",),
        cautions=cautions(world.facts, "heat-and-light", "electricity", "mat").texts,
        sources=unique(*(w.sources for _, w in kept), world.facts.table("raising")["mat"]["sources"]),
        working=tuple(f"{r[0]}: sprouting {r[1]}, day {r[2]}, night {r[3]}." for r in rows),
    )


def _judge_setting(
    kept: list[tuple[Named, Warmth]], typed: float, world: World, seedlings: bool
) -> tuple[Verdict, str]:
    """Will this do for all of them, sprouting or, with ``seedlings``, once up? The strictest decides."""
    if seedlings:
        return _judge_seedlings(kept, typed, world)
    units = world.units
    here = show_temp(typed, units)
    names = listed(n.name for n, _ in kept)
    wants = listed(f"{n.name} {show_temp_range(*w.germinate_c, units)}" for n, w in kept)
    hot = [n.name for n, w in kept if typed > w.germinate_c[1] + 3]
    cold = [n.name for n, w in kept if typed < w.germinate_c[0] - 3]
    setting = wants if len(kept) > 1 else show_temp_range(*kept[0][1].germinate_c, units)
    if hot:
        return "no", f"No: {here} is too hot for {listed(hot)} seed; set the mat to {setting}."
    if cold:
        return "no", f"No: {here} is too cool for {listed(cold)} seed; set the mat to {setting}."
    if all(w.germinate_c[0] - 0.3 <= typed <= w.germinate_c[1] + 0.3 for _, w in kept):
        return (
            "yes",
            f"Yes: {here} suits {names} while sprouting; keep the seedlings cooler once they are up.",
        )
    return "tight", f"It will do: {here} is a little off for {names}; better {wants}."


def _judge_seedlings(kept: list[tuple[Named, Warmth]], typed: float, world: World) -> tuple[Verdict, str]:
    """Is a room this warm right for plants that are up?"""
    units = world.units
    here = show_temp(typed, units)
    names = listed(n.name for n, _ in kept)
    wants = listed(f"{n.name} {show_temp_range(*w.day_c, units)} by day" for n, w in kept)
    hottest, coldest = min(w.day_c[1] for _, w in kept), max(w.night_c for _, w in kept)
    if typed > hottest + 6:
        return "no", f"No: {here} is too hot for {names} seedlings; they want {wants}."
    if typed > hottest + 0.5:
        return "tight", f"Warmer than {names} seedlings need: {here} makes them leggy; better {wants}."
    if typed >= coldest - 0.3:
        return "yes", f"Yes: {here} suits {names} seedlings, which want {wants}."
    return "no", f"No: {here} is too cool for {names} seedlings to grow on; they want {wants}."


def _overdue(question: Request) -> str:
    """Seedlings weeks old are past it."""
    weeks = question.slots.weeks
    return "" if not weeks else f" At {plural(round(weeks), 'week')} they are past that."


def mat_off_answer(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """When to take the tray off the mat. Verdict yes: take it off once half are up."""
    units = world.units
    kept = [(n, warmth_of(n.crop, world.facts)) for n in crops]
    told = "".join(
        f" {sentence(n.name)} seedlings then want {show_temp_range(*w.day_c, units)} by day."
        for n, w in kept[:1]
    )
    return Answer(
        question=question,
        verdict="yes",
        headline="Take the tray off the mat once about half the seeds are up, the same day."
        + _overdue(question)
        + told,
        numbers=tuple(number for n, w in kept for number in warmth_numbers(n, w)),
        details=(
            "Warm roots and weak light make tall, thin seedlings; the late ones still come up off the mat.",
            "Give them the strongest light you have from the first green on.",
        ),
        changes=(
            "Keep the mat, turned down, only where the room would fall under about "
            f"{show_temp(f_to_c(world.facts.table('raising')['mat']['stall_soil_f']), units)} at night.",
        ),
        cautions=cautions(world.facts, "heat-and-light", "electricity", "mat").texts,
        sources=unique(*(w.sources for _, w in kept), world.facts.table("raising")["mat"]["sources"]),
        working=("Half the seeds up: common practice; temperatures from the transplant tables.",),
        polar=False,
    )
