"""Will it come up, how soon, and how many: by soil temperature, from trial tables.

Most seed comes up over a wide range, faster in the warm; what stops it is cold (it lies and rots) or, for
lettuce, spinach and celery, heat. This file answers days and "warm enough"; waiting, digging up and the
rest are in germination_waiting and germination_causes.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import Units, f_to_c, plural, show_date, show_length_cm, show_temp
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.germination import causes, general, logged, waiting
from gardenmate.topics.germination.emergence_facts import (
    EmergenceOutlook,
    EmergenceTrial,
    borrowed,
    mat_setting_c,
    outlook,
    soil_reaches,
    soil_today_c,
    trial_of,
    working_at,
)
from gardenmate.topics.germination.own_emergence import with_own_emergence
from gardenmate.topics.germination.seed_age import seed_age, seed_age_general, seed_years
from gardenmate.topics.germination.towel_test import seed_test, tested_answer
from gardenmate.topics.germination.words import opening
from gardenmate.topics.shared.asked_day import asked_day
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import finished, temp_numbers
from gardenmate.topics.shared.grammar import days_text, listed, sentence, span, unique
from gardenmate.topics.shared.raising import Named, asks, day_and_night_c, gear, seed_crops

_COOL_BED = (
    "In summer sow in the evening into a watered, shaded row and keep it damp and covered with a board or "
    "cloth until it shows, or start it in trays in the coolest room."
)
_BY_ASK: dict[str, Callable[[Request, World, tuple[Named, ...]], Answer]] = {
    "best-temp": causes.best_temperature,
    "why": causes.why,
    "dig": waiting.overdue,
    "overdue": waiting.overdue,
    "depth": causes.depth,
    "light": causes.light_or_dark,
    "soak": causes.soak,
    "seed-age": seed_age,
}


def answer(question: Request, world: World) -> Answer:
    """Days and share of seed that comes up, whether it is warm enough, and what to do when it does not."""
    found = _answer(question, world)
    beside = _at_that_warmth(question, world, found)
    found = replace(found, details=(*beside, *found.details)) if beside else found
    return with_own_emergence(finished(found), question, world)


def _at_that_warmth(question: Request, world: World, found: Answer) -> tuple[str, ...]:
    """What the temperature typed means for the seed, where the answer is of its age, depth or soaking."""
    typed, crops = question.ask.temperature_c, seed_crops(question, world)
    if (
        typed is None
        or len(crops) != 1
        or any(n.name.startswith(("soil", "best_soil")) for n in found.numbers)
    ):
        return ()
    return (_at(question, world, crops[0], typed, ()).headline,)


def _answer(question: Request, world: World) -> Answer:
    crops = seed_crops(question, world)
    tested = seed_test(question)
    if tested is not None:
        found = tested_answer(question, crops, *tested)
        return replace(found, details=(*_time_given(question, world, crops), *found.details))
    wanted = asks(question)
    if not crops and seed_years(question) is not None:
        return seed_age_general(question, world)
    if not crops:
        return general.answer(question, world)
    planted = causes.not_from_seed(question, world, crops)
    if planted is not None:
        return planted
    waited = waiting.elapsed_days(question, world, crops[0]) is not None
    if waited:
        wanted -= {"soak", "depth", "light", "seed-age", "days"}
    if "best-temp" in wanted and question.ask.temperature_c is not None:
        wanted = frozenset()
    if not waited and seed_years(question) is not None and not wanted & {"depth", "soak", "light"}:
        return seed_age(question, world, crops)
    for word, check in _BY_ASK.items():
        if word in wanted:
            return check(question, world, crops)
    if waited:
        return waiting.overdue(question, world, crops)
    if len(crops) > 1:
        return _several(question, world, crops)
    soil_c, assumed = _soil_asked(question, world, crops[0])
    if soil_c is None:
        return _by_temperature(question, world, crops[0])
    return _at(question, world, crops[0], soil_c, assumed)


def _time_given(question: Request, world: World, crops: tuple[Named, ...]) -> tuple[str, ...]:
    """Whether the time told for the test was long enough for the rest to come."""
    told = next((t for t in question.all("span") if t.unit in waiting.DAYS_IN and not t.told), None)
    expected = trial_of(crops[0].crop, world.facts).days_at(f_to_c(_TEST_F)) if len(crops) == 1 else None
    if told is None or expected is None:
        return ()
    settings = world.facts.table("raising")["germination"]
    limit = waiting.limit_days(expected, settings["overdue_spread"], settings)
    days = told.number * waiting.DAYS_IN[told.unit]
    after = f"After {plural(round(told.number, 1), told.unit.removesuffix('s'))}"
    if days >= limit:
        return (f"{after} the rest won't come: in a warm room {crops[0].name} seed is up by day {limit}.",)
    return (f"{after} more may still come: give {crops[0].name} seed until day {limit} in a warm room.",)


_TEST_F = 68.0  # a towel in a warm room (common practice)


def _soil_asked(question: Request, world: World, named: Named) -> tuple[float | None, tuple[str, ...]]:
    """The soil temperature the question is about, and what was assumed to get it; None: any."""
    typed = question.ask.temperature_c
    roles = {t.role for t in question.ask.temps}
    both = day_and_night_c(question)
    if both is not None:
        day, night = (show_temp(t, world.units) for t in both)
        return sum(both) / 2.0, (f"Days of {day} and nights of {night} count as their mean.",)
    if typed is not None:
        if roles & {"outside", "low", "high", "air"} and not roles & {"soil", "setting"}:
            return typed, (
                "I read that as the temperature of the soil; air that warm usually means cooler soil.",
            )
        return typed, ()
    if "mat" in gear(question):
        setting = mat_setting_c(named.crop, world.facts)
        return setting, (f"The mat is set to {show_temp(setting, world.units)}.",)
    if "warm-enough" in asks(question) and world.site is not None:
        soil = soil_today_c(world.site, asked_day(question, world).world.today)
        return soil, (
            f"I used soil at {show_temp(soil, world.units)}, usual for the date {world.site.where}; "
            f"a thermometer {show_length_cm(5.08, world.units)} down knows better.",
        )
    then = _day_told(question, world)
    if then is not None and world.site is not None and "direct" in named.crop.methods:
        soil = soil_today_c(world.site, then)
        return soil, (
            f"I used soil at {show_temp(soil, world.units)}, usual {world.site.where} about "
            f"{show_date(then, world.today)}; indoors it comes up by the warmth of the room.",
        )
    return None, ()


def _day_told(question: Request, world: World) -> date | None:
    """The day to come a sowing is spoken of for, the middle of a month where only that is named; None without."""
    told = (days for t in question.all("date") if not question.in_story(t) and (days := t.days) is not None)
    middles = (first + (last - first) / 2 for first, last in told)
    return next((day for day in middles if day > world.today), None)


def _wants(named: Named, best_c: float, units: Units) -> str:
    """The least soil growers sow in, and the best."""
    least = named.crop.soil.practical_soil_sow_c or named.crop.soil.min_soil_sow_c
    best = f"about {show_temp(best_c, units)}"
    if least is None:
        return f"it needs {best}"
    return f"sow at {show_temp(least[0], units)} or more, at best {best}"


def _at(question: Request, world: World, named: Named, soil_c: float, assumed: tuple[str, ...]) -> Answer:
    """One crop at one soil temperature."""
    trial = trial_of(named.crop, world.facts)
    settings = world.facts.table("raising")["germination"]
    seen = outlook(trial, soil_c, settings)
    if seen.kind == "unknown":
        return _unknown_at(question, world, named, trial, soil_c, assumed)
    units, seed, here = world.units, f"{named.name} seed", show_temp(soil_c, world.units)
    best_c = trial.best_c
    assert best_c is not None, "a trial with days has a best temperature"
    best = f"{_round(trial.days_at(best_c))} at {show_temp(best_c, units)}"
    many = f", and about {seen.percent:.0f} seeds in 100 do" if seen.percent is not None else ""
    days = round(seen.days or 0, 1)
    told = {
        "good": f"{seed} comes up in {days_text(days, days)} at {here}{many}",
        "slow": f"at {here} {seed} comes up in about {_round(days)} days ({best}){many}",
        "poor": f"at {here} only about {seen.percent or 0:.0f} in 100 {named.name} seeds come up, and "
        f"{trial.best_percent or 0:.0f} at {show_temp(best_c, units)}",
        "hopeless": f"at {here} {seed} lies about {_round(days)} days before it shows, "
        f"long enough to rot or be eaten; it takes {best}",
        "none": f"{seed} does not come up at {here}; {_wants(named, best_c, units)}",
    }[seen.kind]
    opens, verdict = opening(question, seen, trial.days_at(best_c))
    headline = f"{opens}: {told}." if opens else f"{sentence(told)}."
    numbers = list(temp_numbers("soil", "soil", soil_c, named.id))
    if seen.days is not None:
        numbers.append(Number("days_to_emerge", round(seen.days, 1), "days", "comes up in", named.id))
    if seen.percent is not None:
        numbers.append(Number("percent_up", round(seen.percent), "%", "seeds that come up", named.id))
    numbers += temp_numbers("best_soil", "best soil temperature", best_c, named.id)
    numbers.append(
        Number(
            "days_at_best", round(trial.days_at(best_c) or 0, 1), "days", "at its best temperature", named.id
        )
    )
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=tuple(numbers),
        details=_practical(named, soil_c, world),
        changes=_what_helps(named, trial, soil_c, seen, world),
        cautions=_cautions(world, warm_help=soil_c < best_c and named.crop.warm),
        assumptions=unique(assumed, borrowed(named.name, trial)),
        sources=unique(
            trial.sources,
            named.crop.soil.sources.of("min_soil_sow_c", "practical_soil_sow_c", "opt_soil_sow_c"),
            settings["sources"],
        ),
        working=working_at(trial, soil_c, units),
    )


def _unknown_at(
    question: Request,
    world: World,
    named: Named,
    trial: EmergenceTrial,
    soil_c: float,
    assumed: tuple[str, ...],
) -> Answer:
    """A crop without a table: what its soil limits and usual days say, and no more."""
    units, soil, here = world.units, named.crop.soil, show_temp(soil_c, world.units)
    low = soil.min_soil_sow_c[0] if soil.min_soil_sow_c else None
    good = soil.opt_soil_sow_c
    usual = (
        f"{span(*map(round, trial.room_days))} days in a warm room" if trial.room_days else "no figure known"
    )
    verdict: Verdict | None
    if low is not None and soil_c < low - 0.3:
        verdict = "no"
        headline = (
            f"No: {named.name} seed wants soil of at least {show_temp(low, units)}, and {here} is too cold."
        )
    elif good is not None and soil_c > good[1] + 3:
        verdict = "tight"
        headline = (
            f"Doubtful: {here} is warmer than {named.name} seed likes ({show_temp(good[1], units)} at most)."
        )
    elif good is not None and soil_c < good[0] - 0.3:
        verdict = "tight"
        headline = (
            f"Slowly: {named.name} seed does best from {show_temp(good[0], units)}; at {here} it takes "
            f"longer than the usual {usual}."
        )
    elif good is not None or low is not None:
        verdict = "yes"
        headline = f"Yes: {here} suits {named.name} seed; allow {usual}."
    else:
        verdict = None
        headline = f"I have no temperature figures for {named.name} seed; allow {usual}."
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(*temp_numbers("soil", "soil", soil_c, named.id), *causes.room_numbers(trial, named)),
        assumptions=unique(
            assumed,
            (f"I have no trial figures for {named.name}, so I went by its limits for sowing.",),
        ),
        sources=unique(trial.sources, soil.sources),
        working=(f"Sowing limits of {named.name} against {here}.",),
    )


def _by_temperature(question: Request, world: World, named: Named) -> Answer:
    """How many days, when no temperature was said: the whole table, the usual soil first."""
    trial = trial_of(named.crop, world.facts)
    due = logged.batch_answer(question, world, named, trial)
    if due is not None:
        return due
    if not trial.days:
        return causes.room_answer(question, world, named, trial)
    units = world.units
    usual = [f_to_c(f) for f in ((68, 77, 86) if named.crop.warm else (50, 59, 68))]
    points = [(t, d) for t in usual if (d := trial.days_at(t)) is not None]
    if not points:
        points = list(trial.days[:2])
    told = listed(
        f"{_round(d)}{'' if i else ' days'} at {show_temp(t, units)}" for i, (t, d) in enumerate(points)
    )
    headline = f"{sentence(named.name)} seed comes up in about {told}."
    numbers = tuple(
        Number(f"days_at_{round(t * 1.8 + 32)}f", round(d, 1), "days", f"at {show_temp(t, units)}", named.id)
        for t, d in points
    )
    warm_c = f_to_c(world.facts.table("raising")["germination"]["warm_room_f"])
    changes = ["Tell me the soil or room temperature and I can give one figure."]
    if named.crop.warm:
        changes.append(_mat_gain(named, trial, world))
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=numbers,
        details=_practical(named, None, world),
        table=_table(named, trial, world),
        changes=tuple(c for c in changes if c),
        cautions=_cautions(world, warm_help=named.crop.warm),
        assumptions=borrowed(named.name, trial),
        sources=unique(
            trial.sources,
            named.crop.soil.sources.of("min_soil_sow_c", "practical_soil_sow_c", "opt_soil_sow_c"),
        ),
        working=working_at(trial, warm_c, units),
    )


def _table(named: Named, trial: EmergenceTrial, world: World) -> Table:
    rows = []
    for soil_c, days in trial.days:
        share = trial.percent_at(soil_c)
        rows.append((show_temp(soil_c, world.units), f"{days:g}", "" if share is None else f"{share:.0f}"))
    return Table(("soil", "days", "of 100 seeds"), tuple(rows), f"{sentence(named.name)} seed")


def _several(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Several crops: one row each, at the temperature asked, else in a warm room."""
    settings = world.facts.table("raising")["germination"]
    typed = question.ask.temperature_c
    soil_c = typed if typed is not None else f_to_c(settings["warm_room_f"])
    here = show_temp(soil_c, world.units)
    rows, numbers, sources = [], [], []
    notes: list[str] = []
    verdicts: dict[str, Verdict | None] = {}
    for named in crops:
        trial = trial_of(named.crop, world.facts)
        seen = outlook(trial, soil_c, settings)
        verdicts[named.name] = seen.verdict
        days = (
            "none" if seen.kind == "none" else (_round(seen.days) if seen.days else causes.usual_days(trial))
        )
        rows.append((sentence(named.name), days, "" if seen.percent is None else f"{seen.percent:.0f}"))
        if seen.days is not None:
            numbers.append(Number("days_to_emerge", round(seen.days, 1), "days", named.name, named.id))
        sources.append(trial.sources)
        notes += borrowed(named.name, trial)
    if typed is None:
        notes.append(f"I used {here} for the soil or room.")
        taken = [row[1] for row in rows]
        first = f"{crops[0].name} seed comes up in {taken[0]} days"
        others = (f"{named.name} in {day}" for named, day in zip(crops[1:], taken[1:], strict=True))
        verdict, headline = None, f"At {here}, {listed((first, *others))}."
    else:
        verdict, headline = _common(verdicts, here)
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=(*temp_numbers("soil", "soil", soil_c), *numbers),
        table=Table(("seed", "days", "of 100 seeds"), tuple(rows), f"At {here}"),
        assumptions=tuple(notes),
        sources=unique(*sources),
        working=tuple(f"{r[0]} at {here}: {r[1]}{'' if r[1] == 'none' else ' days'}." for r in rows),
    )


def _common(verdicts: dict[str, Verdict | None], here: str) -> tuple[Verdict | None, str]:
    """One verdict when all agree, else which yes and which no."""
    said = set(verdicts.values())
    if len(said) == 1:
        only = said.pop()
        word = {"yes": "Yes", "tight": "Slowly or in part", "no": "No", None: "Not known"}[only]
        return only, f"{word}: {listed(verdicts)} seed at {here}."
    parts = [
        f"{label}: {listed(n for n, v in verdicts.items() if v == verdict)}"
        for verdict, label in (("yes", "yes"), ("tight", "slow or few"), ("no", "no"), (None, "not known"))
        if verdict in said
    ]
    return None, f"At {here}, {'; '.join(parts)}."


def _practical(named: Named, soil_c: float | None, world: World) -> tuple[str, ...]:
    """When sowing makes sense outdoors, which is warmer than the least seed survives."""
    soil = named.crop.soil
    good = soil.practical_soil_sow_c or soil.min_soil_sow_c
    if good is None or "direct" not in named.crop.methods:
        return ()
    if soil_c is not None and soil_c >= good[0]:
        return ()
    said = f"Outdoors, sow {named.name} once the soil holds {show_temp(good[0], world.units)}"
    if world.site is None or soil_c is None:
        return (f"{said}.",)
    day = soil_reaches(world.site, good[0], world.today)
    usual = f", usually about {show_date(day, world.today)} {world.site.where}" if day else ""
    return (f"{said}{usual}.",)


def _what_helps(
    named: Named, trial: EmergenceTrial, soil_c: float, seen: EmergenceOutlook, world: World
) -> tuple[str, ...]:
    """What would bring more seedlings, or sooner."""
    best_c = trial.best_c
    if best_c is None:
        return ()
    units = world.units
    if soil_c > best_c and seen.kind != "good":
        days = _round(trial.days_at(best_c))
        cooler = f"Cooler: at {show_temp(best_c, units)} it takes {days} days and most come up."
        return (cooler, *((_COOL_BED,) if "direct" in named.crop.methods else ()))
    helps = []
    for step_f in (9.0, 18.0):
        warmer = soil_c + step_f / 1.8
        days_then = trial.days_at(warmer)
        if warmer <= best_c + 0.1 and days_then is not None:
            helps.append(f"At {show_temp(warmer, units)} it would take about {_round(days_then)} days.")
            break
    if named.crop.warm and soil_c < best_c - 3:
        helps.append(_mat_gain(named, trial, world))
    if world.site is None and seen.verdict in ("no", "tight") and "direct" in named.crop.methods:
        helps.append("Tell me the place and I can say when the soil there usually gets warm enough.")
    return tuple(h for h in helps if h)


def _mat_gain(named: Named, trial: EmergenceTrial, world: World) -> str:
    setting = mat_setting_c(named.crop, world.facts)
    days = trial.days_at(setting)
    return (
        "" if days is None else f"On a mat at {show_temp(setting, world.units)}: about {_round(days)} days."
    )


def _cautions(world: World, warm_help: bool) -> tuple[str, ...]:
    return cautions(world.facts, "germination", "mat_electricity").texts if warm_help else ()


def _round(days: float | None) -> str:
    return "no" if days is None else f"{max(1, round(days))}"
