"""Potting up: into what, when, how deep, and how long a seedling may stay where it is.

A seedling moves on before its roots fill the cell. Tomatoes may be buried deep; squash and cucumbers hate
having their roots moved and start in the pot they keep; broccoli and cauliflower held tight make tiny heads.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date, show_temp
from gardenmate.core.world import World
from gardenmate.records import dataclass, replace
from gardenmate.science.seed_counts import mix_litres
from gardenmate.topics.seedlings import potting_stay as stay
from gardenmate.topics.seedlings.bottom_heat import warmth_of
from gardenmate.topics.seedlings.own_potting import with_own_potting
from gardenmate.topics.seedlings.plant_warmth import with_warmth_said
from gardenmate.topics.seedlings.potting_general import are_bound, general
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.containers import Container, container_asked, containers, weeks_in
from gardenmate.topics.shared.figures import finished
from gardenmate.topics.shared.grammar import an, listed, sentence, span, unique
from gardenmate.topics.shared.raising import Named, asks, named_crops
from gardenmate.topics.shared.seedling_age import age_weeks, of_their_age
from gardenmate.topics.shared.subjects import plants

_BURY_VERDICT: dict[str, Verdict] = {
    "deep": "yes",
    "first-leaves": "yes",
    "somewhat": "yes",
    "seed-leaves": "tight",
    "no": "no",
}


@dataclass(frozen=True, slots=True)
class Potted:
    """A crop with its row of knowledge/raising.toml [[potting]]."""

    named: Named
    row: Mapping[str, Any]

    @property
    def name(self) -> str:
        """What to call it."""
        return self.named.name


_Reply = Callable[[Request, World, tuple[Potted, ...]], Answer]


def answer(question: Request, world: World) -> Answer:
    """Pot size, when, how deep, how long it may wait, second potting, flowers in the pot."""
    named = named_crops(question, world)
    found = with_warmth_said(_answer(question, world), question, world, named)
    more = (*_to_the_frost_told(question, world), *of_their_age(age_weeks(question), named))
    return with_own_potting(
        finished(replace(found, details=(*found.details, *more)) if more else found), question, world
    )


def _to_the_frost_told(question: Request, world: World) -> tuple[str, ...]:
    """What is left until the last frost told with the question."""
    told = question.cue("own_last_frost")
    if told is None:
        return ()
    month, day = (int(part) for part in told.split("-"))
    last = date(world.today.year, month, day)
    days = (last - world.today).days
    if days <= 0:
        return ()
    return (
        f"Your last frost is {plural(days, 'day')} off, about {show_date(last, world.today)}: pot on what is tender, "
        "and plant out only what is hardy and hardened.",
    )


def _answer(question: Request, world: World) -> Answer:
    named = named_crops(question, world)
    rows = ((n, world.facts.group_of(n.crop, "potting")) for n in named)
    potted = tuple(Potted(n, row) for n, row in rows if row is not None)
    if named and not potted:
        return _not_potted(question, world, named)
    if not potted:
        return general(question, world)
    wanted = asks(question)
    if wanted <= {"stay"} and are_bound(question):
        return _hold_over(question, world, potted)
    aged = stay.age_weeks(question) is not None
    kept_in = stay.wait_told(question, world) is not None or question.cue("why_out") == "weather"
    if wanted <= {"pot-size"} and not aged and kept_in:
        return _hold_over(question, world, potted)
    if len(potted) == 1 and aged and wanted <= {"pot-size"}:
        return replace(_stay(question, world, potted), polar=False)
    for words, reply in _BY_ASK:
        if wanted & words:
            return reply(question, world, potted)
    return _move_on(question, world, potted)


def _not_potted(question: Request, world: World, named: tuple[Named, ...]) -> Answer:
    names = listed(n.name for n in named)
    return Answer(
        question=question,
        verdict="no",
        headline=f"No: {names} is grown where it stands, or planted as a piece, and not potted up.",
        details=("Its root or tuber forks and stalls when moved.",),
        changes=("Ask when to sow or plant it in its place, and I can give the dates.",),
        cautions=cautions(world.facts, "potting-up").texts,
        sources=("common-practice",),
        working=("No potting figures: the crop is not transplanted as a rule.",),
    )


# --------------------------------------------------------------------------------------- pot size, when
def _size(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """Which pot, straight."""
    told = listed(f"{p.name} {_pot(p, question, world).label(world.units)}" for p in potted)
    first = potted[0]
    more = (
        f", or {an(_held(first, question, world).label(world.units))} if it has to wait longer"
        if len(potted) == 1
        else ""
    )
    if len(potted) == 1 and "max_weeks" in first.row:
        pot = _pot(first, question, world).label(world.units)
        headline = (
            f"{sentence(an(pot))} is big enough for {plants(first.named).word} up to planting, or "
            f"{an(_held(first, question, world).label(world.units))} if it has to wait. Move it once and leave "
            "the roots alone."
        )
    else:
        headline = (
            f"{sentence(told)}{more}."
            if len(potted) > 1
            else (
                f"Use {an(_pot(first, question, world).label(world.units))} for {plants(first.named).word}{more}."
            )
        )
    return _reply(question, world, potted, None, headline)


def _when(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """The sign to go by."""
    first = potted[0]
    sign = first.row["leaves"]
    if "max_weeks" in first.row:
        pot = _pot(first, question, world).label(world.units)
        headline = f"{sentence(first.name)} is {sign}: sow it in {an(pot)}."
    else:
        headline = (
            f"Pot {plants(first.named).word} on at {sign}, or when roots show at the holes, into "
            f"{an(_pot(first, question, world).label(world.units))}."
        )
    return _reply(question, world, potted, None, headline)


def _move_on(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """Pot on? With nothing else said: yes when the sign is there, into which pot, how deep."""
    told = listed(
        f"{plants(p.named).word} into {an(_pot(p, question, world).label(world.units))}" for p in potted
    )
    depth = f", {_depth_words(potted[0])}" if len(potted) == 1 else ""
    headline = f"Yes, once roots show at the holes: move {told}{depth}."
    return _reply(question, world, potted, "yes", headline)


def _second(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """A second move: worth it when plants must wait; not for those that hate being moved."""
    first = potted[0]
    if "max_weeks" in first.row:
        headline = f"Don't move {first.name} twice: its roots hate it. Plant it out, or pot it once into a larger pot."
        return _reply(question, world, potted, "no", headline)
    held = _held(first, question, world).label(world.units)
    weeks = round(weeks_in(_pot(first, question, world), first.row)[0])
    headline = (
        f"Yes, if planting is more than {weeks} weeks after sowing: move {plants(first.named).word} to {an(held)}, "
        f"{_depth_words(first)}."
    )
    return _reply(question, world, potted, "yes", headline)


def _hold_over(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """Plants ahead of the season: pot on anyway? Yes, a larger pot costs less than a starved root ball."""
    told = listed(
        f"{plants(p.named).word} into {an(_held(p, question, world).label(world.units))}" for p in potted
    )
    waits = stay.weeks_to_set_out(question, world, tuple(p.named for p in potted))
    until = " until they can go out"
    if waits is not None:
        until = (
            f" to carry them the {waits.weeks:.0f} weeks until about {show_date(waits.until, world.today)}"
        )
    cool = show_temp(max(warmth_of(p.named.crop, world.facts).night_c for p in potted), world.units)
    why = "A crowded root ball sets them back more than a bigger pot costs."
    headline = f"{_pot_on(question)}: move {told}{until}. {why}"
    return _reply(
        question,
        world,
        potted,
        None if "pot-size" in asks(question) else "yes",
        headline,
        waits=True,
        extra=(
            *(stay.lasts(p.named, p.row, _held(p, question, world), world) for p in potted),
            f"Keep them bright and no warmer than they need, nights near {cool}, so that they grow slowly.",
            "They still have to stay indoors until frost is over.",
        ),
        changes=stay.place_note(world) if waits is None else (),
    )


def _pot_on(question: Request) -> str:
    return "Pot on" if "pot-size" in asks(question) else "Yes, pot on"


def _flowers(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """Flowers in the pot: pinch them off, pot on or plant."""
    names = listed(p.name for p in potted)
    headline = (
        f"Yes, pinch the flowers off {names} while it is in a small pot, and give it a larger one: "
        "it is telling you the roots are full."
    )
    return _reply(question, world, potted, "yes", headline)


# --------------------------------------------------------------------------------------------- how deep
def _bury(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    """May the stem be buried? yes deep or to the first leaves, tight to the seed leaves, no not at all."""
    verdicts = {_BURY_VERDICT[p.row["bury"]] for p in potted}
    verdict = verdicts.pop() if len(verdicts) == 1 else None
    opening = {"yes": "Yes", "tight": "Only a little", "no": "No", None: "It depends on the crop"}[verdict]
    told = "; ".join(f"set {plants(p.named).word} {p.row['bury_text']}" for p in potted)
    steps = (
        "Water first, hold by a leaf, never by the stem, and firm lightly.",
        "Use an open, just damp mix and keep it out of full sun for two days.",
    )
    return _reply(question, world, potted, verdict, f"{opening}: {told}.", steps=steps)


def _stay(question: Request, world: World, potted: tuple[Potted, ...]) -> Answer:
    first = potted[0]
    return stay.answer(question, world, first.named, first.row, _next_pot(first, question, world))


# ------------------------------------------------------------------------------------------------ parts
def _reply(
    question: Request,
    world: World,
    potted: tuple[Potted, ...],
    verdict: Verdict | None,
    headline: str,
    *,
    steps: tuple[str, ...] = (),
    extra: tuple[str, ...] = (),
    changes: tuple[str, ...] = (),
    waits: bool = False,
) -> Answer:
    """What every potting answer carries: pots, volumes, signs, the table when several crops are asked. With ``waits``
    the pot told is the one they wait in."""
    units = world.units
    count = question.ask.count
    numbers: list[Number] = []
    for p in potted:
        pot = _held(p, question, world) if waits else _pot(p, question, world)
        numbers += (
            Number("pot", pot.label(units), "", "pot", p.named.id),
            Number("pot_litres", round(pot.cm3 / 1000, 2), "litres", "holds", p.named.id),
            Number(
                "held_pot",
                _held(p, question, world).label(units),
                "",
                "pot if it has to wait longer",
                p.named.id,
                not waits,
            ),
        )
        if count:
            litres = mix_litres(count, pot.cm3, world.facts.table("raising")["containers"]["settling"])
            numbers.append(Number("mix_litres", round(litres, 1), "litres", f"mix for {count:g}", p.named.id))
    table = None
    if len(potted) > 1:
        table = Table(
            ("crop", "pot", "to hold it longer", "move at", "how deep"),
            tuple(
                (
                    sentence(p.name),
                    _pot(p, question, world).label(units),
                    _held(p, question, world).label(units),
                    p.row["leaves"],
                    p.row["bury_text"],
                )
                for p in potted
            ),
        )
    details = tuple(
        f"{sentence(p.name)}: move at {p.row['leaves']}; ready to plant at {p.row['ready']}."
        if "max_weeks" not in p.row
        else f"{sentence(p.name)}: {p.row['leaves']}; ready to plant at {p.row['ready']}."
        for p in potted
    )
    age = tuple(
        f"Best planted at {span(*p.named.crop.best_age.weeks)} weeks from sowing."
        for p in potted
        if p.named.crop.best_age is not None
    )
    depth = (
        tuple(f"Set {plants(p.named).word} {p.row['bury_text']}." for p in potted) if len(potted) == 1 else ()
    )
    note = tuple(
        p.named.crop.raising.potting_up
        for p in potted
        if world.units == "us" and p.named.crop.raising.potting_up
    )
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=tuple(numbers),
        details=unique(extra, details, age, depth, note),
        table=table,
        steps=steps,
        changes=changes or ("Too big a pot of wet mix stays cold: go up one size at a time.",),
        cautions=cautions(world.facts, "potting-up").texts,
        sources=unique(
            *(p.row["sources"] for p in potted),
            *(p.named.crop.raising.sources.of("potting_up") for p in potted),
            world.facts.table("raising")["containers"]["sources"],
        ),
        working=tuple(
            f"{sentence(p.name)}: {pot.label(units)} holds {pot.volume(units)}, enough for "
            f"{span(*_round(weeks_in(pot, p.row)))} weeks from sowing."
            for p, pot in ((p, _pot(p, question, world)) for p in potted)
        ),
    )


def _round(weeks: tuple[float, float]) -> tuple[int, int]:
    return round(weeks[0]), round(weeks[1])


def _depth_words(potted: Potted) -> str:
    short = {
        "deep": "buried to the lowest leaves",
        "first-leaves": "buried up to the first true leaves",
        "seed-leaves": "no deeper than the seed leaves",
        "somewhat": "a little deeper if you like",
        "no": "no deeper than before",
    }
    return short[potted.row["bury"]]


def _pot(potted: Potted, question: Request, world: World) -> Container:
    """The pot it goes into: the one named ("into 9 cm pots"), else the usual one or, from one as large, the
    next."""
    usual = containers(world.facts)[potted.row["steps"][-1]]
    said = container_asked(question, world.facts)
    if said is None or said.across_in is None:
        return usual
    if question.has("pot", "into"):
        return said
    return usual if usual.cm3 > 1.3 * said.cm3 else _next_pot(potted, question, world)


def _held(potted: Potted, question: Request, world: World) -> Container:
    """The pot for plants that must wait: never one no larger than that they stand in."""
    usual = containers(world.facts)[potted.row["held_in"]]
    said = container_asked(question, world.facts)
    least = said.cm3 if said is not None else 0.0
    if usual.cm3 > 1.3 * least:
        return usual
    sizes = [c for c in containers(world.facts).values() if c.across_in is not None]
    return next((c for c in sizes if c.cm3 > 1.3 * least), sizes[-1])


def _next_pot(potted: Potted, question: Request, world: World) -> Container:
    """The pot after the one it is in now."""
    now = container_asked(question, world.facts)
    sizes = containers(world.facts)
    way = [sizes[i] for i in (*potted.row["steps"], potted.row["held_in"])]
    if now is None:
        return way[-2] if len(way) > 2 else way[-1]
    larger = [c for c in way if c.cm3 > 1.3 * now.cm3]
    return larger[0] if larger else _held(potted, question, world)


_BY_ASK: tuple[tuple[frozenset[str], _Reply], ...] = (
    (frozenset({"bury"}), _bury),
    (frozenset({"flowers"}), _flowers),
    (frozenset({"stay"}), _stay),
    (frozenset({"ahead"}), _hold_over),
    (frozenset({"second"}), _second),
    (frozenset({"pot-size"}), _size),
    (frozenset({"when"}), _when),
)
