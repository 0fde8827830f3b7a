"""The heat mat: which seed needs it, what to set it to, when to take the tray off.

Warm crops wait for warmth: where a lived-in room makes them wait a week longer, or loses a quarter of the
seed, the mat is needed. Cool crops come up without one. It is for sprouting only: once about half are up,
warmth below makes seedlings leggy.
"""

from __future__ import annotations

from collections.abc import Iterable

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import Warmth
from gardenmate.knowledge.crops import Crop
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.reader import Sources
from gardenmate.records import dataclass
from gardenmate.topics.germination.emergence_facts import EmergenceTrial, borrowed, mat_setting_c, trial_of
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import temp_numbers, temp_range_numbers
from gardenmate.topics.shared.grammar import listed, sentence, show_span_range, show_temp_range, unique
from gardenmate.topics.shared.raising import Named, day_and_night_c, range_c

_ROOM_ROLES = {"inside", "outside", "air", "low", "high"}


@dataclass(frozen=True, slots=True)
class MatNeed:
    """What the mat changes for one crop in a given room."""

    verdict: Verdict
    room_days: float | None
    mat_days: float | None
    room_percent: float | None
    mat_percent: float | None


def warmth_of(crop: Crop, facts: Facts) -> Warmth:
    """The crop's own published temperatures, else its germination range and those of its season."""
    if crop.warmth is not None:
        return crop.warmth
    after = facts.table("raising")["mat"]["after_germination"]["warm" if crop.warm else "cool"]
    good = crop.soil.opt_soil_sow_c
    if good is None:
        middle = mat_setting_c(crop, facts)
        good = (middle - 2.5, middle + 2.5)
    elif crop.warm:
        good = (max(good[0], f_to_c(70)), min(max(good[1], f_to_c(75)), f_to_c(90)))
    else:
        good = (max(good[0], f_to_c(60)), min(good[1], f_to_c(75)))
    sources = Sources((*after["sources"], *crop.soil.sources.of("opt_soil_sow_c")))
    return Warmth(sources, good, range_c(after["day_f"]), f_to_c(after["night_f"]))


def mat_need(crop: Crop, room_c: float, facts: Facts) -> MatNeed:
    """Does this crop's seed need the mat in such a room? yes needed, tight it helps, no not needed."""
    mat = facts.table("raising")["mat"]
    trial = trial_of(crop, facts)
    setting = mat_setting_c(crop, facts)
    room, on_mat = trial.days_at(room_c), trial.days_at(setting)
    room_pct, mat_pct = trial.percent_at(room_c), trial.percent_at(setting)
    seen = MatNeed("no", room, on_mat, room_pct, mat_pct)
    if not crop.warm:
        return seen
    if room_c >= setting - 1.5:
        return seen
    if not trial.days:
        wants = warmth_of(crop, facts).germinate_c[0]
        return MatNeed("yes" if room_c < wants - 5 else "tight" if room_c < wants else "no", *_rest(seen))
    lost = (mat_pct or 0) - (room_pct if room_pct is not None else (mat_pct or 0))
    slower = None if room is None or on_mat is None else room - on_mat
    if room is None or lost >= mat["lost_percent"] or (slower or 0) >= mat["much_slower_days"]:
        return MatNeed("yes", *_rest(seen))
    return MatNeed("tight" if (slower or 0) >= 2 else "no", *_rest(seen))


def _rest(need: MatNeed) -> tuple[float | None, float | None, float | None, float | None]:
    return need.room_days, need.mat_days, need.room_percent, need.mat_percent


def room_of(question: Request, world: World) -> tuple[float, tuple[str, ...]]:
    """The room's temperature as said, else a lived-in room (stated as assumed)."""
    typed, both = question.ask.temperature_c, day_and_night_c(question)
    if both is not None:
        day, night = (show_temp(t, world.units) for t in both)
        return sum(both) / 2.0, (f"Days of {day} and nights of {night} count as their mean.",)
    if typed is not None:
        return typed, ()
    room_c = f_to_c(world.facts.table("raising")["germination"]["room_f"])
    return room_c, (f"A room at {show_temp(room_c, world.units)}; tell me yours if it differs.",)


def need_answer(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Do these need the mat? yes needed, tight it helps but a warm room does, no not needed."""
    room_c, assumed = room_of(question, world)
    if len(crops) > 1:
        return _several(question, world, crops, room_c, assumed)
    named = crops[0]
    need, warmth = mat_need(named.crop, room_c, world.facts), warmth_of(named.crop, world.facts)
    trial = trial_of(named.crop, world.facts)
    units = world.units
    room, setting = show_temp(room_c, units), show_temp_range(*warmth.germinate_c, units)
    gain = _gain(need, room, show_temp(mat_setting_c(named.crop, world.facts), units))
    headline = {
        "yes": f"Yes: {named.name} seed needs bottom heat, {setting} in the mix.{gain}",
        "tight": f"It helps, but you can do without: {named.name} seed likes {setting}.{gain}",
        "no": _not_needed(named, trial, need, room, world),
    }[need.verdict]
    return Answer(
        question=question,
        verdict=need.verdict,
        headline=headline,
        numbers=(*_need_numbers(named, need, room_c), *warmth_numbers(named, warmth)),
        details=(_after(named, warmth, world), *_stall(named, world)),
        changes=_mat_changes(named, need, room_c, world),
        cautions=cautions(world.facts, "heat-and-light", "electricity", "mat").texts,
        assumptions=unique(assumed, borrowed(named.name, trial)),
        sources=unique(warmth.sources, trial.sources, world.facts.table("raising")["mat"]["sources"]),
        working=_need_working(need, room, world, named),
    )


def _gain(need: MatNeed, room: str, mat: str) -> str:
    if need.room_days is None and need.mat_days is not None:
        return f" At {room} hardly any comes up; on the mat it takes {need.mat_days:.0f} days."
    if need.room_days is not None and need.mat_days is not None:
        return f" It comes up in {need.mat_days:.0f} days at {mat}, {need.room_days:.0f} at {room}."
    return ""


def _not_needed(named: Named, trial: EmergenceTrial, need: MatNeed, room: str, world: World) -> str:
    if need.room_days is None:
        return f"No mat needed: {named.name} seed comes up in an ordinary room ({room})."
    best = trial.best_percent
    share = need.mat_percent
    if not named.crop.warm and best and share is not None and share / best < 0.75:
        hot = show_temp(mat_setting_c(named.crop, world.facts), world.units)
        return (
            f"No mat: {named.name} seed comes up in {need.room_days:.0f} days at {room}, and on a warm mat "
            f"({hot}) less of it does."
        )
    return f"No mat needed: {named.name} seed comes up in about {need.room_days:.0f} days at {room}."


def _after(named: Named, warmth: Warmth, world: World) -> str:
    units = world.units
    return (
        f"Once about half are up take the tray off: {named.name} seedlings like "
        f"{show_temp_range(*warmth.day_c, units)} by day, {show_temp(warmth.night_c, units)} by night."
    )


def _stall(named: Named, world: World) -> tuple[str, ...]:
    if not named.crop.warm:
        return ()
    stall = f_to_c(world.facts.table("raising")["mat"]["stall_soil_f"])
    return (f"In a mix that stays below about {show_temp(stall, world.units)} warm crops hardly grow.",)


def _mat_changes(named: Named, need: MatNeed, room_c: float, world: World) -> tuple[str, ...]:
    low, high = (f / 1.8 for f in world.facts.table("raising")["mat"]["rise_f"])
    units = world.units
    if need.verdict == "no" and not named.crop.warm:
        return ("A mat only speeds cool crops up; take it away at the first green.",)
    reach = show_temp_range(room_c + low, room_c + high, units)
    return (
        f"A mat without a thermostat lifts the mix {show_span_range(low, high, units)} above the room: "
        f"about {reach} here.",
        "A warm airing cupboard or the top of a fridge will do instead, until the first green shows.",
    )


def _need_numbers(named: Named, need: MatNeed, room_c: float) -> tuple[Number, ...]:
    numbers = [*temp_numbers("room", "room", room_c, named.id)]
    for name, label, value in (
        ("days_at_room", "comes up in the room in", need.room_days),
        ("days_on_mat", "comes up on the mat in", need.mat_days),
    ):
        if value is not None:
            numbers.append(Number(name, round(value), "days", label, named.id))  # no truer than a day
    for name, label, value in (
        ("percent_at_room", "of the seed comes up in the room", need.room_percent),
        ("percent_on_mat", "of the seed comes up on the mat", need.mat_percent),
    ):
        if value is not None:
            numbers.append(Number(name, round(value), "%", label, named.id))
    return tuple(numbers)


def warmth_numbers(named: Named, warmth: Warmth) -> tuple[Number, ...]:
    return (
        *temp_range_numbers("mat_setting", "mix while sprouting", *warmth.germinate_c, named.id),
        *temp_range_numbers("seedling_day", "seedlings by day", *warmth.day_c, named.id),
        *temp_numbers("seedling_night_min", "seedlings by night, at least", warmth.night_c, named.id),
    )


def _need_working(need: MatNeed, room: str, world: World, named: Named) -> tuple[str, ...]:
    mat = world.facts.table("raising")["mat"]
    lines = [
        f"Needed when the room makes seed wait {mat['much_slower_days']} days longer or loses "
        f"{mat['lost_percent']} in 100; cool crops never need it.",
    ]
    if need.room_days is not None and need.mat_days is not None:
        lines.append(
            f"{sentence(named.name)}: {need.room_days:.1f} days at {room}, {need.mat_days:.1f} on the mat, "
            f"a difference of {need.room_days - need.mat_days:.1f} days."
        )
    if need.room_percent is not None and need.mat_percent is not None:
        lines.append(f"Of 100 seeds {need.room_percent:.0f} in the room, {need.mat_percent:.0f} on the mat.")
    return tuple(lines)


def _several(
    question: Request, world: World, crops: tuple[Named, ...], room_c: float, assumed: tuple[str, ...]
) -> Answer:
    needs = [(n, mat_need(n.crop, room_c, world.facts), warmth_of(n.crop, world.facts)) for n in crops]
    said = {need.verdict for _, need, _ in needs}
    words = {"yes": "mat needed", "tight": "a mat helps", "no": "no mat needed"}
    said_of = {"yes": "you need a mat", "tight": "a mat helps", "no": "you don't need one"}
    rows = tuple(
        (
            sentence(n.name),
            words[need.verdict],
            show_temp_range(*w.germinate_c, world.units),
            "" if need.room_days is None else f"{need.room_days:.0f}",
            "" if need.mat_days is None else f"{need.mat_days:.0f}",
        )
        for n, need, w in needs
    )
    parts = [
        f"{said_of[v]} for {listed(n.name for n, need, _ in needs if need.verdict == v)}"
        for v in ("yes", "tight", "no")
        if v in said
    ]
    verdict: Verdict | None = needs[0][1].verdict if len(said) == 1 else None
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{sentence('; '.join(parts))}.",
        numbers=tuple(number for n, need, w in needs for number in _need_numbers(n, need, room_c)),
        table=Table(("seed", "mat", "mix", "days in the room", "days on the mat"), rows),
        cautions=cautions(world.facts, "heat-and-light", "electricity", "mat").texts,
        assumptions=assumed,
        sources=unique(*(w.sources for _, _, w in needs)),
        working=tuple(
            line
            for n, need, _ in needs
            for line in _need_working(need, show_temp(room_c, world.units), world, n)
        ),
    )


def is_room(question: Request, crops: tuple[Named, ...]) -> bool:
    """Whether a typed temperature is the room's rather than the mat's."""
    roles = {t.role for t in question.ask.temps}
    typed = question.ask.temperature_c
    if typed is None or "setting" in roles or "soil" in roles:
        return False
    return bool(roles & _ROOM_ROLES) or typed < f_to_c(68)


def _flat(labels: Iterable[str]) -> str:
    """Row labels as one list: "pepper, eggplant and melon"."""
    return listed(name for label in labels for name in label.lower().split(", "))


def general_answer(question: Request, world: World) -> Answer:
    """No crop named: which need the mat, as a table by group."""
    units = world.units
    rows = []
    room_c, assumed = room_of(question, world)
    for crop_id in world.facts.examples("mat_table"):
        crop, label = (
            world.facts.crop(crop_id),
            world.facts.table(f"crops/{crop_id}")["lists"]["mat_table_as"],
        )
        need = mat_need(crop, room_c, world.facts)
        word = {"yes": "needed", "tight": "helps", "no": "not needed"}[need.verdict]
        rows.append((label, word, show_temp_range(*warmth_of(crop, world.facts).germinate_c, units)))
    lead = {"needed": "you need a mat for", "helps": "it helps", "not needed": "you don't need one for"}
    parts = [
        f"{words} {_flat(label for label, said, _ in rows if said == word)}"
        for word, words in lead.items()
        if any(said == word for _, said, _ in rows)
    ]
    return Answer(
        question=question,
        verdict=None,
        headline=f"{sentence('; '.join(parts))}.",
        numbers=temp_numbers("room", "room", room_c),
        table=Table(("seed", "mat", "mix"), tuple(rows), f"In a room at {show_temp(room_c, units)}"),
        details=("Take trays off once about half are up.",),
        changes=("Name the crop and how warm the room is, and I can be exact.",),
        cautions=cautions(world.facts, "heat-and-light", "electricity", "mat").texts,
        assumptions=assumed,
        sources=unique(("delaware-transplants",), world.facts.table("raising")["mat"]["sources"]),
        working=("Needed, helps or not by the days and the share of seed each loses in the room.",),
    )
