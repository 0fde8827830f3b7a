"""Do plants in pots need the mat or propagator on a cool night? By the nights they grow on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import Units, f_to_c, show_temp
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.frame.facts import night_row
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import chill_limit_c, limits
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants


def about_plants(question: Request) -> bool:
    """True when a night temperature is given for plants that are up, not for seed."""
    if question.ask.temperature_c is None or question.has("plants", "seed"):
        return False
    potted = question.ask.container is not None or question.has("plants", "young")
    return potted and (question.has("hour", "night") or question.has("stand", "house"))


def asks_for_nights(question: Request) -> bool:
    """True when the question is how warm the nights of plants that are up should be, no figure given."""
    if question.ask.temperature_c is not None or question.has("plants", "seed"):
        return False
    return question.has("plants", "young") and question.has("hour", "nights")


def nights_answer(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """The nights on which the crops named, else each group of crops, grow on, and below which they stall."""
    units = world.units
    groups: list[tuple[str, str | None, Mapping[str, Any]]]
    groups = [(plants(n).word, n.id, night_row(world, n)) for n in crops]
    warm: list[bool] = [n.crop.warm for n in crops]
    for name, row in () if crops else world.facts.table("protection")["night"].items():
        few = [world.facts.crop(c) for c in world.facts.members("night", name)[:4]]
        groups.append((listed(c.name.lower() for c in few), None, row))
        warm.append(few[0].warm)
    rows: list[tuple[str, str, str]] = []
    numbers: list[Number] = []
    for name, crop, row in groups:
        low_c, stall = f_to_c(row["comfort_f"][0]), show_temp(f_to_c(row["stall_f"]), units)
        rows.append((sentence(name), _span(row["comfort_f"][0], row["comfort_f"][1], units), stall))
        numbers += temp_numbers("comfort_low", "grows on nights of", low_c, crop)
        numbers += temp_numbers("stall_below", "stops growing below", f_to_c(row["stall_f"]), crop)
    parts = []
    for words, kind in (("warm crops such as tomatoes and peppers", True), ("hardy ones", False)):
        lows = [r["comfort_f"][0] for (_, _, r), w in zip(groups, warm, strict=True) if w is kind]
        if lows:
            parts.append(f"{_span(min(lows), max(lows), units)} for {words}")
    headline = f"Keep nights at about {', at about '.join(parts)}."
    if crops:
        headline = f"Nights of {listed(f'{r[1]} for {r[0].lower()}' for r in rows)}."
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=tuple(numbers) if crops else (),
        details=("A little cooler by night than by day keeps them stocky.",),
        table=Table(("crop", "grows on nights of", "stops growing below"), tuple(rows)),
        changes=("Tell me how cold it gets at night and I say whether they need warmth.",),
        sources=unique(*(row["sources"] for _, _, row in groups)),
    )


def _span(low_f: float, high_f: float, units: Units) -> str:
    """ "60 F to 65 F", or the one figure."""
    low, high = (show_temp(f_to_c(f), units) for f in (low_f, high_f))
    return low if low == high else f"{low} to {high}"


def answer(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """yes = warmth is needed at this temperature, tight = it helps growth, no = they are warm enough."""
    here_c = question.ask.temperature_c
    assert here_c is not None, "asked only with a temperature"
    units = world.units
    judged = [(n, _need(n, here_c, world)) for n in crops]
    said = {v for _, v in judged}
    here = show_temp(here_c, units)
    parts = []
    for verdict, text in (
        ("yes", "{} need warmth at night (they keep growing from about {})"),
        ("tight", "{} stop growing (they keep growing from about {})"),
        ("no", "{} are warm enough (they keep growing from about {})"),
    ):
        names = [n for n, v in judged if v == verdict]
        if names:
            grows = max(f_to_c(night_row(world, n)["comfort_f"][0]) for n in names)
            parts.append(text.format(listed(plants(n).word for n in names), show_temp(grows, units)))
    opening = {"yes": "Yes", "tight": "It helps", "no": "No need"}[_first(said)]
    care = cautions(world.facts, "heat-and-light", "electricity", "mat")
    rows = [night_row(world, n) for n in crops]
    numbers = [*temp_numbers("inside", "where they stand", here_c)]
    for named, row in zip(crops, rows, strict=True):
        stall_c = f_to_c(row["stall_f"])
        numbers += temp_numbers("comfort_low", "grows on nights of", f_to_c(row["comfort_f"][0]), named.id)
        numbers += temp_numbers("stall_below", "stops growing below", stall_c, named.id)
    return Answer(
        question=question,
        verdict=said.pop() if len(said) == 1 else None,
        headline=f"{opening} at {here}: {'; '.join(parts)}.",
        numbers=tuple(numbers),
        details=(
            "Gentle warmth under the pots, or the house at night, will do; by day the sun gives enough.",
        ),
        changes=("Nights that stay above the figure given need no heat at all.",),
        cautions=care.texts,
        sources=unique(*(row["sources"] for row in rows), care.sources),
    )


def with_warmth_said(found: Answer, question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """An answer about light or leggy plants, with a word on the temperatures said: the night they stand in, and the
    coolest place told where no night is."""
    temps = question.slots.temps
    if not temps or not crops:
        return found
    here = min((t for t in temps if t.role == "low"), default=min(temps, key=lambda t: t.celsius))
    rows = [(n, night_row(world, n)) for n in crops]
    warmest = max(rows, key=lambda row: float(row[1]["stall_f"]))
    stall, grows = f_to_c(warmest[1]["stall_f"]), f_to_c(warmest[1]["comfort_f"][0])
    p, said = plants(warmest[0]), show_temp(here.celsius, world.units)
    if here.celsius < stall:
        needs = f"{p.they} {p.does('grow')} on from {show_temp(grows, world.units)}"
        line = f"At {said} {p.word} {p.does('stop')} growing: {needs}."
    elif here.celsius < grows:
        line = f"At {said} {p.word} {p.does('grow')} slowly; {show_temp(grows, world.units)} suits {p.them}."
    else:
        line = f"{said} is warm enough for {p.word}."
    return replace(found, headline=f"{found.headline} {line}")


def _need(named: Named, here_c: float, world: World) -> Verdict:
    row = night_row(world, named)
    chill_c = chill_limit_c(world.facts, named.crop)
    hurt_c = limits(world.facts, named.crop, "seedling", world.units).hurt_c
    if here_c < max(hurt_c, chill_c if chill_c is not None else hurt_c):
        return "yes"
    return "tight" if here_c < f_to_c(row["stall_f"]) else "no"


def _first(said: set[Verdict]) -> Verdict:
    return "yes" if "yes" in said else "tight" if "tight" in said else "no"
