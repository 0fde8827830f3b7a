"""Why so few came up, and how seed is sown: depth, light or dark, soaking.

Causes a grower can check at the bench; no disease is diagnosed here.
"""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import show_length_cm, show_temp
from gardenmate.core.world import World
from gardenmate.topics.germination.emergence_facts import EmergenceTrial, outlook, trial_of
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.figures import range_numbers, temp_numbers
from gardenmate.topics.shared.grammar import days_text, listed, sentence, show_temp_range, span, unique
from gardenmate.topics.shared.raising import Named


# ------------------------------------------------------------------------------------- what grows from what
def not_from_seed(question: Request, world: World, crops: tuple[Named, ...]) -> Answer | None:
    """For crops planted as cloves, sets or slips: say so. None when any of them comes from seed."""
    if not all(named.crop.germination.grown_from for named in crops):
        return None
    told = listed(dict.fromkeys(str(named.crop.germination.grown_from) for named in crops))
    return Answer(
        question=question,
        verdict=None,
        headline=f"You plant {told}, not seed, so I have no figures for days to come up.",
        details=("Ask when to plant, and I can give the dates.",),
        sources=("common-practice",),
        working=("No seed, no emergence figures.",),
    )


# ---------------------------------------------------------------------------------------- why so few came up
def why(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Nothing or little came up: the causes a grower can check, the likeliest first."""
    units = world.units
    steps = ["Temperature first: put a thermometer in the mix, not in the air."]
    for named in crops:
        best = trial_of(named.crop, world.facts).best_c
        low = named.crop.soil.min_soil_sow_c
        if best is not None:
            least = f", and hardly at all below {show_temp(low[0], units)}" if low else ""
            steps.append(f"{sentence(named.name)} seed comes up best near {show_temp(best, units)}{least}.")
    steps += [
        "Water: just damp all through. Soaked mix rots seed, and drying out once kills a sprouting one."
    ]
    for named in crops:
        life = named.crop.seed.seed_life_years
        if life:
            steps.append(f"Age: {named.name} seed keeps about {years_text(life)}; try ten in a damp towel.")
    depths = [n for n in crops if n.crop.space.sow_depth_cm]
    if depths:
        told = listed(f"{show_length_cm(n.crop.space.sow_depth_cm[0], units)} for {n.name}" for n in depths)  # type: ignore[index]
        steps.append(f"Depth: {told}; much deeper and small seed runs out of food on the way up.")
    dark = [n.name for n in crops if n.crop.emergence.light_to_germinate is False]
    lit = [n.name for n in crops if n.crop.emergence.light_to_germinate is True]
    if dark:
        steps.append(f"Light: not the cause for {listed(dark)}; that seed comes up in the dark.")
    if lit:
        steps.append(f"Light: {listed(lit)} seed needs it; press it on and hardly cover it.")
    names = listed(n.name for n in crops)
    cold = _temperature_blame(question, world, crops)
    cause = "most likely the mix was too cold, too wet or dried out once"
    trials = [trial_of(n.crop, world.facts) for n in crops]
    plain = (
        f"Not the lights: {names} seed comes up in the dark; {cause}."
        if dark and not lit
        else f"For {names} seed, first check how warm the mix is, then its moisture, the depth and the age of the seed."
    )
    return Answer(
        question=question,
        verdict=None,
        headline=cold or plain,
        numbers=tuple(
            number
            for named, trial in zip(crops, trials, strict=True)
            if trial.best_c is not None
            for number in temp_numbers("best_soil", f"best for {named.name}", trial.best_c, named.id)
        ),
        steps=tuple(steps),
        changes=(
            "Tell me how long ago it was sown and how warm it was, and I can say whether it is overdue.",
        ),
        cautions=cautions(world.facts, "germination", "treated_seed", "mat_electricity").texts,
        assumptions=("Causes a grower can check; I do not diagnose disease.",),
        sources=unique(*(t.sources for t in trials), ("common-practice",)),
        working=("The order is by how often each is the cause (common practice).",),
    )


def _temperature_blame(question: Request, world: World, crops: tuple[Named, ...]) -> str:
    """The headline when the temperature typed explains it by itself; empty when it does not."""
    typed = question.ask.temperature_c
    if typed is None:
        return ""
    settings = world.facts.table("raising")["germination"]
    here = show_temp(typed, world.units)
    parts = []
    for named in crops:
        trial = trial_of(named.crop, world.facts)
        seen = outlook(trial, typed, settings)
        if seen.verdict in ("no", "tight") and trial.best_c is not None:
            best = f"best is {show_temp(trial.best_c, world.units)}"
            if seen.days is None or seen.kind == "poor":
                parts.append(f"at {here} little {named.name} seed comes up, {best}")
            else:
                parts.append(f"at {here} {named.name} seed takes about {seen.days:.0f} days, {best}")
    return f"The temperature, most likely: {'; '.join(parts)}." if parts else ""


# --------------------------------------------------------------------------- depth, light, soaking
def depth(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """How deep to sow."""
    known = [(n, n.crop.space.sow_depth_cm) for n in crops if n.crop.space.sow_depth_cm]
    told = listed(f"{n.name} seed {show_length_cm(d[0], world.units)} deep" for n, d in known if d)
    surface = [n.name for n in crops if n.crop.emergence.light_to_germinate is True]
    extra = f" {sentence(listed(surface))} seed needs light: hardly cover it." if surface else ""
    return plain_answer(
        question,
        world,
        crops,
        verdict=None,
        headline=f"Sow {told}.{extra}" if known else "Two to three times as deep as the seed is thick.",
        numbers=tuple(Number("sow_depth_cm", round(d[0], 2), "cm", n.name, n.id) for n, d in known if d),
        details=("A general rule: two to three times the thickness of the seed, less in heavy soil.",),
        sources=unique(*(n.crop.space.sources.of("sow_depth_cm") for n in crops), ("common-practice",)),
    )


def best_temperature(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """The soil or mix it comes up in best, and the least it comes up in."""
    units = world.units
    told: list[str] = []
    numbers: list[Number] = []
    sources: list[tuple[str, ...]] = []
    for named in crops:
        trial = trial_of(named.crop, world.facts)
        soil = named.crop.soil
        good = soil.opt_soil_sow_c
        best = trial.best_c if trial.best_c is not None else (sum(good) / 2 if good else None)
        sources += [trial.sources, soil.sources]
        if best is None:
            told.append(f"I have no figure for {named.name} seed")
            continue
        days = trial.days_at(best)
        wait = f", in about {days:.0f} day{'' if round(days) == 1 else 's'}" if days is not None else ""
        least = soil.min_soil_sow_c
        limit = f", and hardly at all below {show_temp(least[0], units)}" if least else ""
        of = f"for {named.name}" if len(crops) > 1 else "soil temperature"
        told.append(f"{named.name} seed comes up best at {show_temp(best, units)}{wait}{limit}")
        numbers += temp_numbers("best_soil", f"best {of}", best, named.id)
        if least:
            numbers += temp_numbers("least_soil", f"lowest {of}", least[0], named.id)
    return plain_answer(
        question,
        world,
        crops,
        verdict=None,
        headline=f"{sentence('; '.join(told))}.",
        numbers=tuple(numbers),
        details=("That is the temperature of the mix or soil, not of the air.",),
        sources=unique(*sources),
    )


def _opened(verdict: Verdict | None, parts: Sequence[str]) -> str:
    """ "Yes: ..." or "No: ..." where all crops named agree, else what holds for each."""
    body = "; ".join(parts)
    return f"{'Yes' if verdict == 'yes' else 'No'}: {body}." if verdict else f"{sentence(body)}."


def light_or_dark(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Whether seed needs light to come up. Verdict yes: it does."""
    needs = {n.name: n.crop.emergence.light_to_germinate for n in crops}
    lit = [name for name, need in needs.items() if need is True]
    dark = [name for name, need in needs.items() if need is False]
    either = [name for name in needs if name not in lit and name not in dark]
    parts = []
    if lit:
        parts.append(f"{listed(lit)} seed needs light, so press it on and hardly cover it")
    if dark:
        parts.append(f"{listed(dark)} seed needs no light, so cover it")
    if either:
        parts.append(f"{listed(either)} seed comes up in light or dark")
    verdict: Verdict | None = None
    if len(needs) == len(lit):
        verdict = "yes"
    elif not lit:
        verdict = "no"
    return plain_answer(
        question,
        world,
        crops,
        verdict=verdict,
        headline=_opened(verdict, parts),
        numbers=(),
        details=("Once up, every seedling wants strong light the same day.",),
        sources=unique(
            *(n.crop.emergence.sources.of("light_to_germinate") or ("common-practice",) for n in crops)
        ),
    )


def soak(question: Request, world: World, crops: tuple[Named, ...]) -> Answer:
    """Whether to soak. Verdict yes: it helps; no: it harms or is not needed."""
    hours = [(n, n.crop.germination.soak_hours) for n in crops]
    helped = [f"{n.name} seed {span(*h)} hours" for n, h in hours if h]
    harmed = [n.name for n in crops if "cracks-when-soaked" in n.crop.traits]
    plain = [n.name for n, h in hours if not h and n.name not in harmed]
    parts = []
    if helped:
        parts.append(f"soak {listed(helped)}, then sow at once")
    if harmed:
        parts.append(f"do not soak {listed(harmed)} seed, it cracks and rots")
    if plain:
        parts.append(f"{listed(plain)} seed gains nothing from soaking")
    verdict: Verdict | None = None
    if len(parts) == 1:
        verdict = "yes" if helped else "no"
    return plain_answer(
        question,
        world,
        crops,
        verdict=verdict,
        headline=_opened(verdict, parts),
        numbers=tuple(
            number
            for n, h in hours
            if h
            for number in range_numbers("soak_hours", f"soak {n.name}", h[0], h[1], "hours", n.id)
        ),
        details=(),
        sources=unique(*(n.crop.germination.sources.of("soak_hours") for n in crops), ("common-practice",)),
    )


def plain_answer(
    question: Request,
    world: World,
    crops: Sequence[Named],
    *,
    verdict: Verdict | None,
    headline: str,
    numbers: tuple[Number, ...],
    details: tuple[str, ...],
    sources: tuple[str, ...],
) -> Answer:
    return Answer(
        question=question,
        verdict=verdict,
        headline=headline,
        numbers=numbers,
        details=details,
        cautions=cautions(world.facts, "germination", "treated_seed").texts,
        sources=sources,
        working=tuple(f"Figures for {n.name} from its crop file." for n in crops),
    )


def years_text(life: tuple[float, float]) -> str:
    """ "4 years", "1 to 3 years": how long seed keeps."""
    return f"{span(*life)} year{'' if life[1] == 1 else 's'}"


# ----------------------------------------------------------------------------- when only a range is known
def room_numbers(trial: EmergenceTrial, named: Named) -> tuple[Number, ...]:
    """The usual days in a warm room, where no table exists."""
    if trial.room_days is None:
        return ()
    return range_numbers("days_to_emerge", "comes up in", *trial.room_days, "days", named.id)


def room_answer(question: Request, world: World, named: Named, trial: EmergenceTrial) -> Answer:
    """Days for a crop without a table: the usual range, in a warm room."""
    if trial.room_days is None:
        headline = f"I have no emergence figures for {named.name} seed."
    else:
        low, high = trial.room_days
        took = days_text(low, high)
        headline = (
            f"{sentence(named.name)} seed comes up in {took} in a warm room, longer where it is cooler."
        )
    good = named.crop.soil.opt_soil_sow_c
    best = f"It does best at {show_temp_range(good[0], good[1], world.units)}." if good else ""
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=room_numbers(trial, named),
        details=(best,) if best else (),
        assumptions=(f"The usual range for {named.name}, as I have no trial figures by temperature.",),
        sources=unique(trial.sources, named.crop.soil.sources.of("opt_soil_sow_c")),
        working=("A range, not a table: no arithmetic behind it.",),
    )


def usual_days(trial: EmergenceTrial) -> str:
    """The days cell of a table for a crop without a trial table."""
    return "?" if trial.room_days is None else span(*map(round, trial.room_days))
