"""The full pruning answer for one plant: verdict, window in dates, what the cut costs, how, how much."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from gardenmate.answer import Answer, Mark, Number, Table, Verdict
from gardenmate.effects import Effect, GardenChange
from gardenmate.knowledge.woody import Method, Woody
from gardenmate.question import Question
from gardenmate.rules.bud_kill import bud_lines, bud_numbers
from gardenmate.rules.cautions import Cautions, cautions
from gardenmate.rules.pruning_advice import Advice, advise, stage_words, verdict_of, worst
from gardenmate.rules.woody_phase import Spring, bloom, bud_break, chill_by
from gardenmate.rules.woody_text import clause, in_units, joined, sentence, span_text
from gardenmate.units import f_to_c, plural, show_date, show_temp
from gardenmate.world import World

_TREES = ("pome", "stone", "tree", "nut", "evergreen")
_HOW = ("how", "hard", "trim", "steps", "cut")
WHEN_ASKED = ("when", "dates", "window")


def answer_one(
    question: Question, world: World, spring: Spring, plant: Woody, assumed: tuple[str, ...]
) -> Answer:
    """The reply for one plant; ``assumed`` says what was taken for granted about its kind."""
    name = plant.generic_names[0] if assumed and plant.generic_names else plant.name
    advice = advise(plant, spring, world.facts, world.today, question.cue("bud_stage"), name)
    verdict, headline = _headline(question, advice, spring, world)
    age, planted = plant_age(question, world, plant)
    if age is not None and age < plant.limits.min_age_years:
        verdict, headline = "no", _too_young(plant, name, age, planted)
    verdict, headline, weather = _weather(question, world, plant, verdict, headline)
    told = _cautions(plant, world)
    answer = Answer(
        question=question,
        verdict=verdict,
        headline=in_units(headline, world.units),
        numbers=(
            *_numbers(advice, spring, world),
            *_method_numbers(plant),
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
        table=_methods_table(plant, world),
        steps=tuple(in_units(s, world.units) for s in _steps(plant, age)),
        changes=tuple(in_units(c, world.units) for c in _changes(question, advice, spring, age)),
        marks=_marks(advice, spring, world),
        cautions=told.texts,
        assumptions=(*assumed, *(() if question.cue("bud_stage") else place_assumption(spring))),
        sources=tuple(
            dict.fromkeys((*plant.source_ids, *told.sources, *plant.stage(advice.phase.stage).sources))
        ),
        working=(*spring_working(spring), *_plant_working(advice, spring)),
        effects=_effects(question, world, plant),
    )
    return _with_group(answer, question, plant, advice) if plant.pruning_groups else answer


# -- the opening sentence -------------------------------------------------------------------------
def _headline(question: Question, advice: Advice, spring: Spring, world: World) -> tuple[Verdict, str]:
    asks, name = question.cue("asks"), advice.name
    if asks == "suckers" and advice.plant.care.suckers:
        return advice.verdict, sentence(f"Suckers of the {name}: {clause(advice.plant.care.suckers)}")
    reply = short_reply(advice, spring, world)
    if asks in _HOW:
        amount = clause(advice.plant.amount.text)
        return advice.verdict, sentence(f"On the {name} take {amount}; {clause(reply)}")
    if asks in WHEN_ASKED and advice.seen is None:
        return advice.verdict, sentence(f"The {name}: {when_text(advice, world)}; {clause(reply)}")
    return advice.verdict, sentence(_opening(advice, world) + reply)


def when_text(advice: Advice, world: World) -> str:
    """When the plant is cut, in words and dates ("late winter (about 20 Feb to 5 Apr)")."""
    parts = [
        f"{_brief(c.season.window)} (about {span_text(c.start, c.end, world.today)})" for c in advice.year[:2]
    ]
    return ", or ".join(parts) or clause(advice.plant.seasons[0].window)


def _brief(window: str) -> str:
    """The first part of a window's wording: enough for a headline."""
    return clause(re.split(r";| \(", window)[0])


def _opening(advice: Advice, world: World) -> str:
    name = advice.name
    if advice.mixed:
        return f"It depends on the buds of the {name}: "
    if advice.verdict == "yes":
        late = advice.now is None or advice.seen in ("green_tip", "tight_cluster")
        return f"Not too late for the {name}: " if late else f"Yes, prune the {name}: "
    if advice.verdict == "tight":
        return f"You can prune the {name}, with care: "
    if _over(advice, world.today):
        return f"Too late this year for the {name}: "
    return f"Not now for the {name}: "


def _over(advice: Advice, today: date) -> bool:
    """The winter season of this cycle has gone by and the plant is past it."""
    if advice.seen in ("dormant", "bud_swell"):
        return False
    growing = advice.phase.stage in ("green_tip", "bloom", "petal_fall", "leafed_out")
    return growing and advice.gone is not None and advice.gone.season.phase in ("dormant", "late-dormant")


def short_reply(advice: Advice, spring: Spring, world: World) -> str:
    """The verdict's reason in one clause, with the next dates where it means waiting."""
    if advice.mixed:
        return "; ".join(
            _mixed_part(advice, verdict) for verdict in dict.fromkeys(v for _, v, _ in advice.mixed)
        )
    if advice.verdict == "no" and advice.early and advice.coming is not None and advice.seen is None:
        cut = advice.coming
        return f"wait until about {show_date(cut.start, world.today)} ({_brief(cut.season.window)})"
    if advice.now is not None and advice.seen is None:
        dry = ", in dry weather" if advice.now.season.dry else ""
        lesser = f"only {clause(advice.now.season.window)}" if advice.now.lesser else ""
        return (
            lesser or f"its window runs about {span_text(advice.now.start, advice.now.end, world.today)}{dry}"
        )
    return clause(advice.text)


def _mixed_part(advice: Advice, verdict: str) -> str:
    stages = joined((stage_words(s) for s, v, _ in advice.mixed if v == verdict), "or")
    return f"if {stages}, {_word(verdict)}"


def _word(verdict: str) -> str:
    return {"yes": "go ahead", "tight": "go gently", "no": "leave it"}[verdict]


def _too_young(plant: Woody, name: str, age: float, planted: int) -> str:
    year = planted + plant.limits.min_age_years
    return (
        f"No hard cut yet: at {plural(age, 'year')} the {name} is too young, from about {year} it can"
        " take one; until then take off only dead, broken or crossing wood."
    )


def _weather(
    question: Question, world: World, plant: Woody, verdict: Verdict, headline: str
) -> tuple[Verdict, str, tuple[str, ...]]:
    """Severe cold, heat and rain overrule the calendar."""
    rules = world.facts.table("pruning")["general"]
    temp_c = question.ask.temperature_c
    if question.cue("weather") in ("rain", "snow") and any(s.dry for s in plant.seasons):
        told = str(rules["stone_rain"]["text"])
        return "no", f"Not in the wet: {clause(told)}.", (headline,)
    if temp_c is None:
        return verdict, headline, ()
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


# -- the body -------------------------------------------------------------------------------------
def _details(
    question: Question, advice: Advice, spring: Spring, world: World, age: float | None
) -> tuple[str, ...]:
    plant = advice.plant
    lines = [sentence(f"if it is {stage_words(s)}: {clause(text)}") for s, _, text in advice.mixed]
    if advice.verdict != "yes" and advice.seen is not None and advice.coming is not None:
        lines.append(f"Next window: about {span_text(advice.coming.start, advice.coming.end, world.today)}.")
    elif advice.verdict == "no" and advice.coming is not None and not advice.early:
        lines.append(
            f"Next window: about {span_text(advice.coming.start, advice.coming.end, world.today)}"
            f" ({clause(advice.coming.season.window)})."
        )
    if plant.fruit.on and plant.fruit.wood != "group":
        word = "It flowers on" if plant.group in ("ornamental", "herb") else "It fruits on"
        lines.append(sentence(f"{word} {plant.fruit.on}"))
    lines.append(sentence(plant.fruit.cost))
    if question.cue("asks") not in _HOW:
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


def _changes(question: Question, advice: Advice, spring: Spring, age: float | None) -> tuple[str, ...]:
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
        if season is not (advice.now.season if advice.now else None) and season.lesser:
            lines.append(sentence(f"A smaller job: {season.window}"))
    return tuple(lines)


# -- numbers --------------------------------------------------------------------------------------
def _numbers(advice: Advice, spring: Spring, world: World) -> tuple[Number, ...]:
    crop = advice.plant.base
    cut = advice.cut
    found: list[Number] = []
    if cut is not None:
        label = "next window" if cut is advice.coming else "window"
        found.append(Number("prune_from", cut.start, "date", f"{label} from", crop))
        found.append(Number("prune_to", cut.end, "date", f"{label} to", crop))
    if advice.plant.bud_break is not None:
        found.append(
            Number("bud_break", _coming_break(advice.plant, spring, world), "date", "buds open about", crop)
        )
        found.append(Number("spread_days", spring.spread_days, "days", "give or take", crop))
    found.append(
        Number(
            "min_age_years",
            advice.plant.limits.min_age_years,
            "years",
            "hard cut from year",
            crop,
            shown=False,
        )
    )
    if advice.plant.chill is not None and advice.plant.chill.hours is not None and world.site is not None:
        found += _chill_numbers(advice.plant, spring, world)
    return tuple(found)


def _coming_break(plant: Woody, spring: Spring, world: World) -> date:
    """Bud break of this cycle, or of the next once the leaves have fallen."""
    return bud_break(plant, spring.shifted(1) if world.today >= spring.leaf_fall else spring)


def _chill_numbers(plant: Woody, spring: Spring, world: World) -> list[Number]:
    assert plant.chill is not None
    assert plant.chill.hours is not None
    assert world.site is not None
    low, high = plant.chill.hours
    if high <= 0:
        return []
    hours = chill_by(world.site, spring, spring.green_tip)
    return [
        Number("chill_hours_place", hours, "hours", "winter chill there", plant.base, shown=hours < high),
        Number(
            "chill_hours_need_low", low, "hours", "chill its kinds need, from", plant.base, shown=hours < high
        ),
        Number("chill_hours_need_high", high, "hours", "to", plant.base, shown=hours < high),
    ]


def _method_numbers(plant: Woody) -> tuple[Number, ...]:
    heights = [m.cut_height_cm for m in plant.methods if m.cut_height_cm is not None]
    if not heights:
        return ()
    low, high = min(h[0] for h in heights), max(h[1] for h in heights)
    pairs = (("cut_height_low", low), ("cut_height_high", high))
    return tuple(
        Number(f"{name}_{unit}", round(cm / per, 1), unit, name.replace("_", " "), plant.base, shown=False)
        for name, cm in pairs
        for unit, per in (("in", 2.54), ("cm", 1.0))
    )


def _marks(advice: Advice, spring: Spring, world: World) -> tuple[Mark, ...]:
    cut = advice.cut
    marks = [Mark("today", world.today)]
    if cut is not None:
        marks += [Mark("prune from", cut.start), Mark("until", cut.end)]
    if advice.plant.bud_break is not None:
        marks.append(Mark("buds open", _coming_break(advice.plant, spring, world)))
    return tuple(sorted(marks, key=lambda m: m.on))


def window_text(advice: Advice, world: World) -> str:
    """The current or next window as text ("20 Feb to 5 Apr")."""
    cut = advice.cut
    return span_text(cut.start, cut.end, world.today) if cut else "-"


# -- assumptions, working, cautions ---------------------------------------------------------------
def place_assumption(spring: Spring) -> tuple[str, ...]:
    """What the dates rest on."""
    half = "southern" if spring.southern else "northern"
    if spring.basis == "calendar":
        return (
            f"No place known: dates are for USDA zones 5-7 in the {half} hemisphere; colder places run two to"
            " six weeks later, mild ones four to eight weeks earlier.",
        )
    how = {
        "weather": "this year's imported weather, then average days",
        "normals": "an average spring",
        "region": "an average spring in the middle of the region",
    }[spring.basis]
    lines = [f"Dates for {spring.label} from {how}, give or take {spring.spread_days} days."]
    if spring.mild:
        lines.append("Winters there are so mild that dates mean little: go by the buds.")
    return tuple(lines)


def spring_working(spring: Spring) -> tuple[str, ...]:
    """How the frame of the year was reckoned."""
    if spring.basis == "calendar":
        return (f"Reference spring (zones 5-7): apple green tip {show_date(spring.green_tip)}.",)
    first = "1 Sep" if spring.southern else "1 Mar"
    side = "after" if spring.lag_days >= 0 else "before"
    return (
        f"Apple green tip at {spring.label}: 120 degree-days above 43 F from {first}, about"
        f" {show_date(spring.green_tip)}.",
        f"That is {abs(spring.lag_days)} days {side} the reference spring.",
        f"Leaves fall about {show_date(spring.leaf_fall)} (first 28 F night, or the mean under 50 F).",
    )


def _plant_working(advice: Advice, spring: Spring) -> tuple[str, ...]:
    plant = advice.plant
    lines = []
    if plant.bud_break is not None:
        days = plant.bud_break.days_from_apple_green_tip
        green = show_date(bud_break(plant, spring))
        lines.append(f"{plant.name}: first green {days:+.0f} days from the apple's, {green}.")
    flowers = bloom(plant, spring)
    if flowers is not None:
        lines.append(f"{plant.name}: bloom about {show_date(flowers)}.")
    stage = (
        f"seen: {stage_words(advice.phase.stage)}"
        if advice.seen
        else f"likely {stage_words(advice.phase.stage)}"
    )
    lines.append(f"{plant.name}: {stage}.")
    return tuple(lines)


def _cautions(plant: Woody, world: World) -> Cautions:
    keys = ["blades"]
    if plant.group in _TREES:
        keys += ["ladders", "lines", "arborist"]
    if plant.group in (*_TREES, "bramble") or plant.id == "rose":
        keys.append("disinfect")
    told = cautions(world.facts, "pruning", *keys)
    own = tuple(in_units(c, world.units) for c in plant.care.cautions)
    return Cautions((*told.texts, *own), tuple(dict.fromkeys((*told.sources, *plant.care.sources))))


# -- age ------------------------------------------------------------------------------------------
def plant_age(question: Question, world: World, plant: Woody) -> tuple[float | None, int]:
    """Age in years and year of planting: as typed, else as the garden file has it; (None, 0) unknown."""
    said = question.ask.plant_age_years
    if said is not None:
        return said, round(world.today.year - said)
    mine = [p for p in world.garden.plants if p.id in (plant.base, plant.id) and p.planted_year is not None]
    fit = next((p for p in mine if p.kind in (None, plant.kind)), None)
    if fit is None or fit.planted_year is None:
        return None, 0
    return float(world.today.year - fit.planted_year), fit.planted_year


def _effects(question: Question, world: World, plant: Woody) -> tuple[Effect, ...]:
    """A plant's age said in this question is remembered as its year of planting."""
    said = question.slots.plant_age_years
    if said is None or len(question.crops) != 1:
        return ()
    planted = round(world.today.year - said)
    if any(p.id == plant.base and p.planted_year == planted for p in world.garden.plants):
        return ()
    return (GardenChange(f"plants.{plant.base}.planted", planted),)


# -- plants cut by group (clematis) ---------------------------------------------------------------
def _with_group(answer: Answer, question: Question, plant: Woody, advice: Advice) -> Answer:
    """The group's own answer when it was said, else all groups in a table and one question."""
    said = (question.ask.kind or next((r.kind for r in question.crops if r.kind), "") or "").lower()
    chosen = next((g for g in plant.pruning_groups if said and any(said in n.lower() for n in g.names)), None)
    rows = tuple((f"group {g.id}", g.blooms, g.when, g.cut) for g in plant.pruning_groups)
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
        headline=sentence(f"Group {chosen.id} {plant.name}: {chosen.when}; {chosen.cut}"),
        table=table,
        details=(sentence(chosen.late), sentence(f"It blooms {chosen.blooms}")),
    )
