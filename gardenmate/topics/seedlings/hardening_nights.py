"""Which nights hardening plants stay out and which they come in, by the lows the grower types.

In the first days the limit is the crop's own; once hardened, plants stand lower nights. Between the two is a
judgement: out if they have had several nights out already, in if they have not.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request, Temperature
from gardenmate.core.units import f_to_c, show_date, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner, worded
from gardenmate.topics.seedlings.hardening_facts import Hardening, hardening_of
from gardenmate.topics.shared.asked_day import asked_day
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers
from gardenmate.topics.shared.grammar import listed, sentence, unique, when
from gardenmate.topics.shared.raising import place_name

Place = Literal["out", "either", "in"]
_EDGE_C = 0.5  # nearer to the limit than a thermometer is good for
_HARD_STAGES = {"hardened", "established"}
_SOFT_STAGES = {"seedling", "unhardened"}


def about_nights(question: Request, world: World, asked: frozenset[str]) -> bool:
    """Whether typed temperatures are nights: several, a low, tonight, or too cold for a first day out."""
    ask = question.ask
    if ask.temperature_c is None:
        return False
    if asked or len(ask.temps) > 1 or ask.when == "tonight" or any(t.role == "low" for t in ask.temps):
        return True
    return ask.temperature_c < f_to_c(world.facts.table("raising")["hardening"]["day_worth_f"])


def place_for(low_c: float, kept: Hardening, stage: str | None, days_out: float | None) -> Place:
    """Out, in, or a judgement, for one night. ``days_out`` are the days of hardening already done."""
    if low_c >= kept.night_c - 0.05:
        return "out"
    if low_c < kept.hard_night_c - 0.05:
        return "in"
    if stage in _HARD_STAGES or (days_out is not None and days_out >= kept.days[0]):
        return "out"
    if stage in _SOFT_STAGES or (days_out is not None and days_out < 3):
        return "in"
    return "either"


def answer(question: Request, world: World, kept: tuple[Hardening, ...], *, bring_in: bool) -> Answer:
    """Tonight, or each night typed. The verdict is on leaving them out, unless bringing in was asked."""
    shown = kept or (hardening_of(None, world),)
    lows = _lows(question)
    if len(lows) > 1:
        return _several_nights(question, world, shown, lows)
    return _one_night(question, world, shown, lows[0], bring_in)


def _lows(question: Request) -> list[float]:
    temps: tuple[Temperature, ...] = question.ask.temps
    lows = [t.celsius for t in temps if t.role in (None, "low", "outside", "air")]
    governing = question.ask.temperature_c
    if not lows and governing is not None:
        lows = [governing]
    return lows or [t.celsius for t in temps]


def _one_night(
    question: Request, world: World, shown: tuple[Hardening, ...], low_c: float, bring_in: bool
) -> Answer:
    units = world.units
    stage, done = question.cue("stage"), question.ask.days
    places = [place_for(low_c, k, stage, done) for k in shown]
    here = show_temp(low_c, units)
    night = "tonight" if question.ask.when == "tonight" or bring_in else "a night"
    common: Place | None = places[0] if len(set(places)) == 1 else None
    names = _plants(shown)
    if common == "out":
        edge_c = max(k.hard_night_c if low_c < k.night_c - 0.05 else k.night_c for k in shown)
        headline = (
            f"Leave them out: {here} is no trouble for {names}."
            if low_c - edge_c >= _EDGE_C
            else f"They can just stay out: {here} is the limit for {names}, so bring them in if it gets any colder."
        )
    elif common == "in":
        headline = f"Bring them in: {here} is too cold for {names} {_why_in(shown[0], low_c, world)}."
    elif common == "either":
        headline = (
            f"Borderline at {here}: {names} that have had several nights out can stay, with a cover; "
            "in the first days bring them in."
        )
    else:
        stay = [k.name for k, p in zip(shown, places, strict=True) if p == "out"]
        judge = [k.name for k, p in zip(shown, places, strict=True) if p == "either"]
        into = [k.name for k, p in zip(shown, places, strict=True) if p == "in"]
        parts = [
            f"{label} {listed(group)}"
            for label, group in (("leave out", stay), ("borderline", judge), ("bring in", into))
            if group
        ]
        headline = f"At {here}: {'; '.join(parts)}."
    leave: dict[Place | None, Verdict | None] = {"out": "yes", "either": "tight", "in": "no", None: None}
    fetch: dict[Place | None, Verdict | None] = {"out": "no", "either": "tight", "in": "yes", None: None}
    return _reply(
        question,
        world,
        shown,
        (fetch if bring_in else leave)[common],
        headline,
        numbers=temp_numbers("low", night, low_c),
        details=_ground_frost(low_c, world),
        working=tuple(
            f"{sentence(k.name)}: {here} against {show_temp(k.night_c, units)} while hardening and "
            f"{show_temp(k.hard_night_c, units)} once hard: {p}."
            for k, p in zip(shown, places, strict=True)
        ),
    )


def _plants(shown: tuple[Hardening, ...]) -> str:
    """ "tomato and kale plants", or "seedlings"."""
    if any(k.named is None for k in shown):
        return listed(k.plants for k in shown)
    return f"{listed(k.name for k in shown)} plants"


def _night(day: date, today: date) -> str:
    """The night after a day, in words: "tonight", "tomorrow night", "Thursday"."""
    return {0: "tonight", 1: "tomorrow night"}.get((day - today).days) or when(day, today)


def _why_in(kept: Hardening, low_c: float, world: World) -> str:
    margin = show_temp(kept.hard_night_c, world.units)
    return (
        f"in a pot even when hardened (limit {margin})"
        if low_c < kept.hard_night_c
        else "as soft as it is now"
    )


def _ground_frost(low_c: float, world: World) -> tuple[str, ...]:
    margin_c = world.facts.table("raising")["hardening"]["frost_margin_f"] / 1.8
    if low_c > margin_c:
        return ()
    return (
        "That near freezing, leaves near the ground can freeze under a clear, still sky: cover or bring in.",
    )


def _several_nights(
    question: Request, world: World, shown: tuple[Hardening, ...], lows: list[float]
) -> Answer:
    """One row for each night; the plan's nights out start with the first run of nights that allows them."""
    units = world.units
    stage = question.cue("stage")
    done = question.ask.days or 0.0
    strict = max(shown, key=lambda k: k.night_c)
    rows: list[tuple[str, ...]] = []
    out_nights: list[tuple[date, Place]] = []
    in_nights: list[tuple[date, Place]] = []
    verdict: Verdict
    words = {"out": "out", "either": "out if hard, covered; else in", "in": "in"}
    for i, low in enumerate(lows):
        day = world.today + timedelta(days=i)
        places = [
            place_for(low, k, stage, done + i if question.ask.days is not None else None) for k in shown
        ]
        rows.append((_night(day, world.today), show_temp(low, units), *(words[p] for p in places)))
        worst: Place = "in" if "in" in places else "either" if "either" in places else "out"
        (out_nights if worst == "out" else in_nights).append((day, worst))
    must = [_night(d, world.today) for d, p in in_nights if p == "in"]
    judged = [_night(d, world.today) for d, p in in_nights if p == "either"]
    names = _plants(shown)
    if not in_nights:
        verdict = "yes"
        headline = f"All {len(lows)} nights are mild enough to leave {names} out, once used to whole days."
    else:
        parts = []
        if must:
            parts.append(f"bring {names} in {listed(must)}")
        if judged:
            whom = "" if must else f" for {names}"
            parts.append(f"{listed(judged)} {'is' if len(judged) == 1 else 'are'} borderline{whom}")
        free = [_night(d, world.today) for d, _ in out_nights]
        if free:
            parts.append(f"they can stay out {listed(free)}")
        elif must and not judged:
            parts.append("no night is mild enough yet")
        verdict = "no" if must and not free else "tight"
        headline = sentence(f"{'; '.join(parts)}.")
    first = out_nights[0][0] if out_nights else None
    return _reply(
        question,
        world,
        shown,
        verdict,
        headline,
        numbers=(
            Number("nights_in", len(must), "", "nights in"),
            Number("nights_borderline", len(judged), "", "borderline nights"),
            *((Number("first_night_out", first, "date", "first night out"),) if first else ()),
        ),
        table=Table(("night", "low", *(sentence(k.name) for k in shown)), tuple(rows), "Night by night"),
        details=(
            "Each night in moves the plan back a night; days outdoors go on as planned.",
            *_ground_frost(min(lows), world),
        ),
        working=(
            f"Out from {show_temp(strict.night_c, units)}, in below {show_temp(strict.hard_night_c, units)} "
            f"({strict.name}, the tenderest); between the two it depends on how hard they are.",
        ),
        assumptions=("I read the first low as tonight's.",),
    )


def usual_answer(question: Request, world: World, kept: tuple[Hardening, ...], *, bring_in: bool) -> Answer:
    """No low was typed: by the usual lows of the place; without a place, the limits and what to tell."""
    shown = kept or (hardening_of(None, world),)
    site, units = world.site, world.units
    strict = max(shown, key=lambda k: k.hard_night_c)
    if site is None:
        hard, soft = show_temp(strict.hard_night_c, units), show_temp(strict.night_c, units)
        first = f" ({soft} in the first days)" if soft != hard else ""
        return _reply(
            question,
            world,
            shown,
            None,
            f"It hangs on the low: bring {_plants(shown)} in below {hard}{first}; type tonight's forecast.",
            working=(f"Limits of {strict.name}: {soft} while hardening, {hard} once hard.",),
        )
    then = asked_day(question, world)
    day = then.world.today
    low_c = site.min_c(day)
    places = {place_for(low_c, k, question.cue("stage"), question.ask.days) for k in shown}
    where: Place = "in" if "in" in places else "either" if "either" in places else "out"
    leave: dict[Place, Verdict] = {"out": "yes", "either": "tight", "in": "no"}
    fetch: dict[Place, Verdict] = {"out": "no", "either": "tight", "in": "yes"}
    advice = {
        "out": f"mild enough to leave {_plants(shown)} out",
        "either": f"borderline for {_plants(shown)}: out only if they have had several nights out",
        "in": f"too cold for {_plants(shown)}: bring them in",
    }[where]
    safe = usual_from(site, strict.hard_night_c, day)
    return _reply(
        question,
        world,
        shown,
        (fetch if bring_in else leave)[where],
        f"Usual lows {site.where} {then.word} are about {show_temp(low_c, units)}, {advice}.",
        numbers=(
            *temp_numbers("usual_low", "usual low now", low_c),
            *((Number("nights_from", safe, "date", "usual lows reach the limit"),) if safe else ()),
        ),
        details=("Tonight's forecast decides, not the average: type the low.",),
        working=(
            f"Usual low {show_temp(low_c, units)} against {show_temp(strict.night_c, units)} while hardening "
            f"and {show_temp(strict.hard_night_c, units)} once hard ({strict.name}).",
        ),
        assumptions=(f"No low was given: the usual one of {place_name(site)} for the date.",),
        more_sources=site.source_ids,
    )


def usual_from(site: Site, limit_c: float, today: date) -> date | None:
    """The next day on which the usual low is at the limit or above; None within a year."""
    days = (today + timedelta(days=ahead) for ahead in range(366))
    return next((day for day in days if site.min_c(day) >= limit_c), None)


def limit_answer(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer:
    """How low a night may be: while hardening, and once hardened."""
    shown = kept or (hardening_of(None, world),)
    units = world.units
    first = shown[0]
    if len(shown) == 1:
        soft, hard = show_temp(first.night_c, units), show_temp(first.hard_night_c, units)
        headline = (
            f"{sentence(first.plants)} can stay out at night from {hard} once hardened; in the first week "
            f"only at {soft} or more."
            if soft != hard
            else f"{sentence(first.plants)} can stay out at night from {hard} up, hardened or not."
        )
    else:
        told = listed(f"{k.name} {show_temp(k.hard_night_c, units)}" for k in shown)
        headline = f"Once hardened, out from: {told}; in the first week warmer, see the table."
    table = Table(
        ("crop", "first week, out from", "once hard, out from"),
        tuple(
            (sentence(k.name), show_temp(k.night_c, units), show_temp(k.hard_night_c, units)) for k in shown
        ),
    )
    return _reply(
        question,
        world,
        shown,
        None,
        headline,
        table=table if len(shown) > 1 else None,
        details=(
            *_usually(shown, world),
            *(worded(k.named.crop.set_out.chill_note, Manner(units)) for k in shown if k.named),
        ),
        working=tuple(
            f"{sentence(k.name)}: {show_temp(k.night_c, units)} while hardening, "
            f"{show_temp(k.hard_night_c, units)} after."
            for k in shown
        ),
    )


def _usually(shown: tuple[Hardening, ...], world: World) -> tuple[str, ...]:
    """When nights at the place usually get there."""
    if world.site is None:
        return ()
    told = []
    for k in shown:
        day = usual_from(world.site, k.hard_night_c, world.today)
        if day is not None:
            usual = "now" if day == world.today else f"from about {show_date(day, world.today)}"
            told.append(f"Nights {world.site.where} are usually warm enough for {k.many} {usual}.")
    return tuple(told)


def _days_wanted(question: Request, shown: tuple[Hardening, ...]) -> tuple[str, ...]:
    """The days out are asked for only where they are not said and would make a difference."""
    said = (
        question.ask.days is not None or question.ask.weeks is not None or question.cue("stage") is not None
    )
    if said or all(k.night_c - k.hard_night_c < 0.05 for k in shown):
        return ()
    return ("Tell me how many days they have been going out and I can be firmer.",)


def _reply(
    question: Request,
    world: World,
    shown: tuple[Hardening, ...],
    verdict: Verdict | None,
    headline: str,
    *,
    numbers: tuple[Number, ...] = (),
    details: tuple[str, ...] = (),
    table: Table | None = None,
    working: tuple[str, ...] = (),
    assumptions: tuple[str, ...] = (),
    more_sources: tuple[str, ...] = (),
) -> Answer:
    limits = tuple(
        n
        for k in shown
        for n in (
            *temp_numbers("night_limit", "while hardening, bring in below", k.night_c, k.contract_id),
            *temp_numbers("night_limit_hard", "once hardened, bring in below", k.hard_night_c, k.contract_id),
        )
    )
    notes = tuple(note for k in shown if (note := k.assumption(world.units)))
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(*numbers, *limits),
        details=tuple(d for d in details if d),
        table=table,
        changes=(
            "A cold frame or two layers of fleece buys a few degrees; a porch or garage will do most nights.",
            *_days_wanted(question, shown),
        ),
        cautions=cautions(world.facts, "hardening-off").texts,
        assumptions=unique(notes, assumptions),
        sources=unique(*(k.sources for k in shown), more_sources),
        working=working,
    )
