"""The full pruning answer for one plant: verdict, window in dates, what the cut costs, how, how much."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table
from gardenmate.core.effects import Effect, GardenChange
from gardenmate.core.question import Request
from gardenmate.core.units import INCH_CM, f_to_c, plural, show_temp
from gardenmate.core.world import World
from gardenmate.knowledge.marked import worded
from gardenmate.knowledge.plants import caution_keys
from gardenmate.knowledge.woody import Method, Woody
from gardenmate.records import replace
from gardenmate.topics.frost.bud_kill import bud_lines, bud_loss, bud_numbers
from gardenmate.topics.pruning.decide import Pruning, asked_of, decide
from gardenmate.topics.pruning.groups import with_group
from gardenmate.topics.pruning.numbers import (
    dates,
    marks,
    method_numbers,
    place_assumption,
    plant_working,
    spring_working,
)
from gardenmate.topics.pruning.words import aspect_of, headline_for, view_text
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.woody_case import WoodyCase, called
from gardenmate.topics.shared.woody_phase import PLAIN, Spring
from gardenmate.topics.shared.woody_text import clause, sentence, span_text

TREES = ("pome", "stone", "tree", "nut", "evergreen")
KEY_FIGURES = ("prune_from", "prune_to", "bud_break")
_OLD_YEARS = 15  # design value: from here a neglected tree is brought back over several years
_FOR_OLD = ("restoration", "rejuvenation", "three-year")


def answer_one(case: WoodyCase, plant: Woody, assumed: tuple[str, ...] = ()) -> Answer:
    """The reply for one plant; ``assumed`` says what was taken for granted about its kind."""
    question, world, spring = case.question, case.world, case.spring
    age, planted = plant_age(question, world, plant)
    found = decide(plant, spring, case.facts, asked_of(case, plant, age))
    if found.now is not None and found.now.lesser and case.asks_when:
        found = replace(found, now=None)  # the time of the job is asked, not a smaller one's
    headline = headline_for(found, case, called(plant, question.crops, bool(assumed)))
    losing = bud_loss(question, world, plant)
    if losing and found.verdict != "no":
        found = replace(found, verdict="tight")
        wait = "so wait for the frost and cut when you see what lived"
        headline = f"{headline.rstrip('.')}; but {losing}, {wait}."
    full = case.asks_how or case.right_down or age is not None
    said = _cautions(plant, world, full)
    reply = Answer(
        question=question,
        verdict="no" if aspect_of(found, case) == "alike" else found.verdict,
        headline=headline,
        numbers=(*dates(found, spring, world), *method_numbers(plant), *bud_numbers(question, world, plant)),
        key_figures=KEY_FIGURES,
        details=(
            *_weather_lines(found, case),
            *_details(found, case, full),
            *bud_lines(question, world, plant),
        ),
        table=_methods_table(plant, case) if full or _to_choose(plant) else None,
        steps=_steps(plant, age) if full or found.verdict != "no" else (),
        changes=_changes(found, case, age),
        marks=marks(found, spring, world),
        cautions=said.texts,
        assumptions=(
            *assumed,
            *_age_line(question, age, planted),
            *(() if found.seen else place_assumption(spring, plant)),
        ),
        sources=tuple(
            dict.fromkeys((*plant.source_ids, *said.sources, *plant.stage(found.phase.stage).sources))
        ),
        working=(*spring_working(spring), *plant_working(found, spring)),
        effects=_effects(question, world, plant),
    )
    return with_group(reply, found, case) if plant.pruning_groups else reply


def _weather_lines(found: Pruning, case: WoodyCase) -> tuple[str, ...]:
    """What a temperature typed means for fresh cuts, where it does not forbid the job."""
    temp_c = case.question.ask.temperature_c
    if temp_c is None or found.stop is not None:
        return ()
    rules = case.facts.told("pruning", case.manner)["general"]
    if temp_c < f_to_c(rules["cold_snap"]["below_f"]):
        return (f"If {show_temp(temp_c, case.world.units)} is coming: {clause(rules['cold_snap']['text'])}.",)
    return (str(rules["fresh_cuts"]["text"]),) if temp_c <= 0 else ()


# -- the body -------------------------------------------------------------------------------------
def _details(found: Pruning, case: WoodyCase, full: bool) -> tuple[str, ...]:
    plant = found.plant
    aspect = aspect_of(found, case)
    lines = [sentence(f"if it is {PLAIN[s]}: {view_text(plant, s, why)}") for s, _, why in found.views]
    look = case.facts.told("pruning", case.manner)["recognise"]
    lines += [str(look[s]) for s, _, _ in found.views if s in look]
    lines += _next_window(found, case)
    if plant.fruit.on and plant.fruit.wood != "group" and (full or aspect == "when"):
        what = "Flowers" if plant.group in ("ornamental", "herb") else "Fruit"
        lines.append(sentence(f"{what} grow{'' if what == 'Flowers' else 's'} on {plant.fruit.on}"))
    if aspect != "right-down":
        lines.append(sentence(plant.fruit.cost))
    if aspect not in ("how", "how-much"):
        lines.append(sentence(plant.amount.text))
    if found.now is None:
        lines += [
            sentence(f"Also {s.say}") for s in plant.seasons[1:2] if not s.lesser and found.why != "bare-wet"
        ]
    if plant.limits.wet_winter and case.spring.wet_winter is not False:
        lines.append(_wet_line(plant, case.spring))
    if plant.care.bleeding and found.verdict != "yes":
        lines.append(sentence(plant.care.bleeding))
    if found.asked.age is not None:
        years = plural(found.asked.age, "year")
        lines.append(f"You can cut it hard from year {plant.limits.min_age_years} on; yours is {years} old.")
    if plant.trial is not None:
        lines.append(_trial_line(plant))
    return (*lines, *(sentence(note) for note in plant.care.notes))


def _next_window(found: Pruning, case: WoodyCase) -> list[str]:
    coming = found.coming
    told = found.why in ("bare-wet", "costly", "buds-set", "its-season") or (found.early and not found.seen)
    if coming is None or found.verdict == "yes" or told or (found.verdict == "tight" and not found.seen):
        return []
    return [f"Next time: {coming.season.say}, about {span_text(coming.start, coming.end, case.world.today)}."]


def _wet_line(plant: Woody, spring: Spring) -> str:
    rule = clause(plant.limits.wet_winter)
    where = f"winters in {spring.label} fall mostly as rain" if spring.wet_winter else "where winters are wet"
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


def _methods_table(plant: Woody, case: WoodyCase) -> Table | None:
    if len(plant.methods) < 2:
        return None
    choose = _to_choose(plant)
    rows = tuple(
        (
            m.id.replace("-", " "),
            *((m.best_for or "",) if choose else ()),
            _cut_text(m, case),
            str(m.min_age_years or plant.limits.min_age_years),
        )
        for m in plant.methods
    )
    heads = ("way", *(("best for",) if choose else ()), "keep or cut", "from year")
    return Table(heads, rows, "Ways to do it")


def _cut_text(method: Method, case: WoodyCase) -> str:
    if method.cut_height_cm is not None:
        low, high = (round(v / INCH_CM) for v in method.cut_height_cm)
        return worded(f"cut at {{{low}-{high} inches}}", case.manner)
    return method.keep or method.remove or method.note or "-"


def _changes(found: Pruning, case: WoodyCase, age: float | None) -> tuple[str, ...]:
    plant = found.plant
    lines: list[str] = []
    if found.seen is None:
        lines.append(
            "Look at the buds and tell me what they show (dormant, swelling, green, in bloom): that decides."
        )
    if case.spring.basis == "calendar":
        lines.append("Tell me where you garden and the dates move to your spring.")
    if age is None:
        gate = plant.limits.min_age_years
        lines.append(
            f"Tell me the year it was planted and I'll remember it: make no hard cut before year {gate}."
        )
    shown = found.now.season if found.now is not None and found.why != "costly" else None
    lines += [sentence(f"A smaller job: {s.say}") for s in plant.seasons[1:] if s.lesser and s is not shown]
    return tuple(lines)


# -- cautions ---------------------------------------------------------------------------------------
def _to_choose(plant: Woody) -> bool:
    """The ways lead to different ends, so that the grower has to choose (an elder for fruit or for show)."""
    return any(m.best_for for m in plant.methods)


def _cautions(plant: Woody, world: World, full: bool) -> Cautions:
    keys = [*caution_keys(world.facts, plant.base, "pruning"), "blades"]
    if plant.group in TREES:
        keys += ["ladders", "lines", "arborist"]
    if full and plant.group in (*TREES, "bramble"):
        keys.append("disinfect")
    said = cautions(world.facts, "pruning", *dict.fromkeys(keys))
    return Cautions(said.texts, tuple(dict.fromkeys((*said.sources, *plant.care.sources))))


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
    return (f"It was planted about {planted}.",) if said and age is not None else ()


def _effects(question: Request, world: World, plant: Woody) -> tuple[Effect, ...]:
    """A plant's age said in this question is remembered as its year of planting."""
    said = question.slots.plant_age_years
    if said is None or len(question.crops) != 1:
        return ()
    planted = round(world.today.year - said)
    if any(p.id == plant.base and p.planted_year == planted for p in world.garden.plants):
        return ()
    return (GardenChange(f"plants.{plant.base}.planted", planted),)
