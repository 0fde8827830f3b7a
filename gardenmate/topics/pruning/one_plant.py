"""The full pruning answer for one plant: verdict, window in dates, what the cut costs, how, how much."""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.answer import Answer, Table, Verdict
from gardenmate.core.effects import Effect, GardenChange
from gardenmate.core.question import Request
from gardenmate.core.units import Units, f_to_c, plural, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.plants import caution_keys
from gardenmate.knowledge.woody import Method, Woody
from gardenmate.topics.frost.bud_kill import bud_lines, bud_loss, bud_numbers
from gardenmate.topics.pruning.advice import Advice, advise, stage_words, verdict_of, worst
from gardenmate.topics.pruning.general import TREES
from gardenmate.topics.pruning.kinds import called
from gardenmate.topics.pruning.numbers import (
    advice_marks,
    advice_numbers,
    method_numbers,
    place_assumption,
    plant_working,
    spring_working,
)
from gardenmate.topics.pruning.words import HOW_ASKED, asks_when, headline_for, too_young
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.woody_phase import Spring
from gardenmate.topics.shared.woody_text import clause, in_units, sentence, span_text

_OLD_YEARS = 15
_FOR_OLD = ("restoration", "rejuvenation", "three-year")


def answer_one(
    question: Request,
    world: World,
    spring: Spring,
    plant: Woody,
    assumed: tuple[str, ...],
    day: str = "now",
) -> Answer:
    """The reply for one plant; ``assumed`` says what was taken for granted about its kind, ``day`` what to
    call the day it is for."""
    name = called(plant, question, bool(assumed))
    low = question.cue("cut_low") is not None
    advice = advise(plant, spring, world.facts, world.today, question.cue("bud_stage"), name, renewal=low)
    verdict, headline = headline_for(question, advice, world, day)
    if advice.now is not None and advice.now.lesser and asks_when(question):
        advice = replace(advice, now=None)  # the time of the job is asked, not a smaller one's
    age, planted = plant_age(question, world, plant)
    if age is not None and age < plant.limits.min_age_years:
        verdict, headline = "no", too_young(plant, name, age, planted)
    verdict, headline, weather = _weather(question, world, plant, verdict, headline)
    losing = bud_loss(question, world, plant)
    if losing and verdict != "no":
        verdict = "tight"
        headline = (
            f"{headline.rstrip('.')}; but {losing}, so wait for the frost and cut when you see what lived."
        )
    full = _in_full(question, age)
    told = _cautions(plant, world, full)
    answer = Answer(
        question=question,
        verdict=verdict,
        headline=in_units(headline, world.units),
        numbers=(
            *advice_numbers(advice, spring, world),
            *method_numbers(plant),
            *bud_numbers(question, world, plant),
        ),
        details=tuple(
            in_units(line, world.units)
            for line in (
                *weather,
                *_details(question, advice, spring, world, age),
                *bud_lines(question, world, plant),
            )
        ),
        table=_methods_table(plant, world) if full or _to_choose(plant) else None,
        steps=tuple(in_units(s, world.units) for s in _steps(plant, age)) if full or verdict != "no" else (),
        changes=tuple(in_units(c, world.units) for c in _changes(question, advice, spring, age)),
        marks=advice_marks(advice, spring, world),
        cautions=told.texts,
        assumptions=(
            *assumed,
            *_age_line(question, age, planted),
            *(() if question.cue("bud_stage") else place_assumption(spring, plant)),
        ),
        sources=tuple(
            dict.fromkeys((*plant.source_ids, *told.sources, *plant.stage(advice.phase.stage).sources))
        ),
        working=(*spring_working(spring), *plant_working(advice, spring)),
        effects=_effects(question, world, plant),
    )
    return _with_group(answer, question, plant, advice, world.units) if plant.pruning_groups else answer


def _weather(
    question: Request, world: World, plant: Woody, verdict: Verdict, headline: str
) -> tuple[Verdict, str, tuple[str, ...]]:
    """Severe cold, heat and rain overrule the calendar."""
    rules = world.facts.table("pruning")["general"]
    temp_c = question.ask.temperature_c
    if question.cue("weather") in ("rain", "snow") and any(s.dry for s in plant.seasons):
        told = str(rules["stone_rain"]["text"])
        return "no", f"Not in the wet: {clause(told)}.", (headline,)
    if temp_c is None:
        return verdict, headline, ()
    if temp_c < f_to_c(rules["cold_snap"]["below_f"]) and not _is_forecast(question):
        told = f"If {show_temp(temp_c, world.units)} is coming: {clause(rules['cold_snap']['text'])}."
        return verdict, headline, (told,)
    if temp_c < f_to_c(rules["cold_snap"]["below_f"]):
        return (
            "no",
            f"Not with {show_temp(temp_c, world.units)} coming: {clause(rules['cold_snap']['text'])}.",
            (headline,),
        )
    if temp_c >= f_to_c(rules["heat_stop"]["above_f"]):
        return (
            "no",
            f"Not at {show_temp(temp_c, world.units)}: {clause(rules['heat_stop']['text'])}.",
            (headline,),
        )
    return verdict, headline, ((str(rules["fresh_cuts"]["text"]),) if temp_c <= 0 else ())


def _is_forecast(question: Request) -> bool:
    """The temperature stands for weather to come, not for some other number in the text."""
    roles = {t.role for t in question.ask.temps}
    return not question.ask.temps or question.ask.when is not None or bool(roles & {"low", "outside", "air"})


# -- the body -------------------------------------------------------------------------------------
def _details(
    question: Request, advice: Advice, spring: Spring, world: World, age: float | None
) -> tuple[str, ...]:
    plant = advice.plant
    look = world.facts.table("pruning")["recognise"]
    lines = [sentence(f"if it is {stage_words(s)}: {clause(text)}") for s, _, text in advice.mixed]
    lines += [str(look[s]) for s, _, _ in advice.mixed if s in look]
    if advice.verdict != "yes" and advice.seen is not None and advice.coming is not None:
        lines.append(f"Next window: about {span_text(advice.coming.start, advice.coming.end, world.today)}.")
    elif advice.verdict == "no" and advice.coming is not None and not advice.early:
        lines.append(
            f"Next window: about {span_text(advice.coming.start, advice.coming.end, world.today)}"
            f" ({clause(advice.coming.season.window)})."
        )
    if plant.fruit.on and plant.fruit.wood != "group" and (_in_full(question, age) or asks_when(question)):
        word = "It flowers on" if plant.group in ("ornamental", "herb") else "It fruits on"
        lines.append(sentence(f"{word} {plant.fruit.on}"))
    lines.append(sentence(plant.fruit.cost))
    if question.cue("asks") not in HOW_ASKED:
        lines.append(sentence(f"How much: {plant.amount.text}"))
    if advice.now is None:
        lines += [sentence(f"Also: {s.window}") for s in plant.seasons[1:2] if not s.lesser]
    if plant.limits.wet_winter and spring.wet_winter is not False:
        lines.append(_wet_line(plant, spring))
    if plant.care.bleeding and advice.verdict != "yes":
        lines.append(sentence(plant.care.bleeding))
    if age is not None:
        lines.append(
            sentence(
                f"at {plural(age, 'year')}: hard cuts are possible from year {plant.limits.min_age_years}"
            )
        )
    if plant.trial is not None:
        lines.append(_trial_line(plant))
    return tuple(lines)


def _wet_line(plant: Woody, spring: Spring) -> str:
    rule = clause(plant.limits.wet_winter)
    where = f"winters at {spring.label} fall mostly as rain" if spring.wet_winter else "where winters are wet"
    return sentence(f"Wet-winter rule ({where}): {rule}")


def _trial_line(plant: Woody) -> str:
    trial = plant.trial
    assert trial is not None
    low, high = trial.ripens_later_days_after_ground_cut
    return (
        f"In a five-year trial selective renewal gave about {trial.selective_g_per_plant:.0f} g a plant,"
        f" cutting to the ground every year {trial.ground_every_year_g_per_plant:.0f} g, every second year"
        f" {trial.ground_every_second_year_g_per_plant:.0f} g, ripening {low:.0f}-{high:.0f} days later."
    )


def _steps(plant: Woody, age: float | None) -> tuple[str, ...]:
    """Steps of the first method that suits the plant's age."""
    fit = [m for m in plant.methods if age is None or age >= (m.min_age_years or 0)]
    if age is not None and age >= _OLD_YEARS:
        fit.sort(key=lambda m: m.id not in _FOR_OLD)
    return next((m.steps for m in fit if m.steps), ())[:6]


def _methods_table(plant: Woody, world: World) -> Table | None:
    if len(plant.methods) < 2:
        return None
    rows = tuple(
        (
            m.id.replace("-", " "),
            in_units(m.best_for or "-", world.units),
            _cut_text(m, world),
            _from_year(m, plant),
        )
        for m in plant.methods
    )
    return Table(("way", "best for", "keep or cut", "from year"), rows, "Ways to do it")


def _cut_text(method: Method, world: World) -> str:
    if method.cut_height_cm is not None:
        low, high = (round(v / 2.54) for v in method.cut_height_cm)
        return in_units(f"cut at {low}-{high} inches", world.units)
    return in_units(method.keep or method.remove or method.note or "-", world.units)


def _from_year(method: Method, plant: Woody) -> str:
    return str(method.min_age_years or plant.limits.min_age_years)


def _changes(question: Request, advice: Advice, spring: Spring, age: float | None) -> tuple[str, ...]:
    plant = advice.plant
    lines: list[str] = []
    if advice.seen is None:
        lines.append(
            "Look at the buds and tell me what they show (dormant, swelling, green, in bloom): that decides."
        )
    if spring.basis == "calendar":
        lines.append("Tell me where you garden and the dates move to your spring.")
    if age is None:
        gate = plant.limits.min_age_years
        lines.append(f"Tell me the year it was planted and I will remember: no hard cut before year {gate}.")
    for season in plant.seasons[1:]:
        shown = advice.now.season if advice.now is not None and not advice.costly else None
        if season is not shown and season.lesser:
            lines.append(sentence(f"A smaller job: {season.window}"))
    return tuple(lines)


# -- cautions ---------------------------------------------------------------------------------------
def _to_choose(plant: Woody) -> bool:
    """The ways lead to different ends, so that the grower has to choose (an elder for fruit or for show)."""
    return any(m.best_for for m in plant.methods)


def _in_full(question: Request, age: float | None) -> bool:
    """True when the ways of doing it are asked for, or a hard cut or an age makes the choice among them."""
    asked = question.cue("asks") in HOW_ASKED or question.cue("cut_low") is not None
    return asked or age is not None


def _cautions(plant: Woody, world: World, full: bool) -> Cautions:
    keys = ["blades"]
    if plant.group in TREES:
        keys += ["ladders", "lines", "arborist"]
    if full and plant.group in (*TREES, "bramble"):
        keys.append("disinfect")
    if full:
        keys += [key for key in caution_keys(world.facts, plant.base, "pruning") if key not in keys]
    told = cautions(world.facts, "pruning", *keys)
    own = tuple(in_units(c, world.units) for c in plant.care.cautions)
    return Cautions((*told.texts, *own), tuple(dict.fromkeys((*told.sources, *plant.care.sources))))


# -- age ------------------------------------------------------------------------------------------
def plant_age(question: Request, world: World, plant: Woody) -> tuple[float | None, int]:
    """Age in years and year of planting: as typed, else as the garden file has it; (None, 0) unknown."""
    said = question.ask.plant_age_years
    if said is not None:
        return said, round(world.today.year - said)
    mine = [p for p in world.garden.plants if p.id in (plant.base, plant.id) and p.planted_year is not None]
    fit = next((p for p in mine if p.kind in (None, plant.kind)), None)
    if fit is None or fit.planted_year is None:
        return None, 0
    return float(world.today.year - fit.planted_year), fit.planted_year


def _age_line(question: Request, age: float | None, planted: int) -> tuple[str, ...]:
    said = question.slots.plant_age_years is not None
    return (f"I assumed it was planted about {planted}.",) if said and age is not None else ()


def _effects(question: Request, world: World, plant: Woody) -> tuple[Effect, ...]:
    """A plant's age said in this question is remembered as its year of planting."""
    said = question.slots.plant_age_years
    if said is None or len(question.crops) != 1:
        return ()
    planted = round(world.today.year - said)
    if any(p.id == plant.base and p.planted_year == planted for p in world.garden.plants):
        return ()
    return (GardenChange(f"plants.{plant.base}.planted", planted),)


# -- plants cut by group (clematis) ---------------------------------------------------------------
def _with_group(answer: Answer, question: Request, plant: Woody, advice: Advice, units: Units) -> Answer:
    """The group's own answer when it was said, else all groups in a table and one question."""
    said = (question.ask.kind or next((r.kind for r in question.crops if r.kind), "") or "").lower()
    cued = question.cue("clematis_group")
    chosen = next(
        (
            g
            for g in plant.pruning_groups
            if str(g.id) == cued or (said and any(said in n.lower() for n in g.names))
        ),
        None,
    )
    rows = tuple((f"group {g.id}", g.blooms, g.when, in_units(g.cut, units)) for g in plant.pruning_groups)
    table = Table(("group", "blooms", "when to cut", "cut"), rows, "Clematis groups")
    if chosen is None:
        return replace(
            answer,
            verdict=None,
            headline=f"It depends on the group of the {plant.name}, told by when it blooms: before June group"
            " 1 or 2, after that group 3; when unsure, wait for the bloom.",
            table=table,
            asks=tuple(f"It blooms in {g.blooms}" for g in plant.pruning_groups),
        )
    verdict = verdict_of(chosen.verdicts.get(advice.phase.stage, "no"))
    return replace(
        answer,
        verdict=worst(verdict, verdict_of(answer.verdict or "tight")) if advice.seen else verdict,
        headline=in_units(sentence(f"Group {chosen.id} {plant.name}: {chosen.when}; {chosen.cut}"), units),
        table=table,
        details=(sentence(chosen.late), sentence(f"It blooms {chosen.blooms}")),
    )
