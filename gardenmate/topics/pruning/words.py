"""The opening sentence of a pruning answer: it answers what was asked, then gives the reason or the dates."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from gardenmate.core.units import f_to_c, plural, show_date, show_temp
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.pruning.decide import Pruning, Why, low_verdict
from gardenmate.topics.pruning.seasons import Cut
from gardenmate.topics.shared.woody_case import NOW, PlantCalled, WoodyCase
from gardenmate.topics.shared.woody_phase import PLAIN, SEEN_WORDS
from gardenmate.topics.shared.woody_text import clause, joined, sentence, span_text

Aspect = Literal["alike", "suckers", "too-cold", "when", "right-down", "how-much", "how", "whether"]


def aspect_of(found: Pruning, case: WoodyCase) -> Aspect:
    """What is asked about one plant, the nearest thing first."""
    if case.question.cue("alike") is not None and found.plant.fruit.on:
        return "alike"
    if case.asks("suckers") and found.plant.care.suckers:
        return "suckers"
    if found.asked.usual_night_c is not None:
        return "too-cold"
    if case.asks_when and found.seen is None:
        return "when"
    if case.right_down:
        return "right-down"
    if case.asks_how:
        return "how-much" if case.asks_how_much else "how"
    return "whether"


def headline_for(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    """The opening sentence, by what was asked; weather and age that forbid the job come first."""
    if found.too_young:
        return too_young(found, case, name)
    if found.stop is not None:
        return stopped(found, case)
    return sentence(_BY_ASPECT[aspect_of(found, case)](found, case, name))


# -- what overrules -----------------------------------------------------------------------------------
def stopped(found: Pruning, case: WoodyCase) -> str:
    """Not in this weather, and why."""
    rules = case.facts.told("pruning", case.manner)["general"]
    if found.stop == "rain":
        return f"Not in the wet: {clause(rules['stone_rain']['text'])}."
    shown = show_temp(found.asked.forecast_c or 0.0, case.world.units)
    if found.stop == "heat":
        return f"Not at {shown}: {clause(rules['heat_stop']['text'])}."
    return f"Not with {shown} coming: {clause(rules['cold_snap']['text'])}."


def too_young(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    """The refusal for a young plant, with the year it becomes possible."""
    age = found.asked.age or 0.0
    year = round(case.world.today.year - age) + found.plant.limits.min_age_years
    return (
        f"No hard cut yet: at {plural(age, 'year')} the {name.one} is too young; it can take one from about {year}."
        " Until then take off only dead, broken or crossing wood."
    )


# -- by what is asked ---------------------------------------------------------------------------------
def _alike(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    own = clause(found.plant.fruit.on.replace(",", ";").partition(";")[0])
    return f"No, not by another plant's rule: the {name.one} fruits on {own}; {case.not_then(found.verdict)}"


def _suckers(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    return f"Suckers of the {name.one}: {clause(found.plant.care.suckers)}"


def _too_cold(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    limit_f = case.facts.table("pruning")["general"]["cold_snap"]["below_f"]
    limit, usual_c = show_temp(f_to_c(limit_f), case.world.units), found.asked.usual_night_c or 0.0
    if usual_c < f_to_c(limit_f):
        return f"Often too cold now: nights there usually fall under {limit}; cut in a milder spell"
    mild = f"Not too cold: only nights under {limit} stop the job, and a usual low there now is"
    also = "" if found.verdict == "yes" else f". But {clause(_whether(found, case, name))}"
    return f"{mild} {show_temp(usual_c, case.world.units)}{also}"


def _when(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    return f"Prune {name.many} {when_text(found, case)}; {case.not_then(found.verdict)}"


def _right_down(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    mow = case.question.has("cut", "mow")
    job = f"mow the {name.many}" if mow else f"cut the {name.one} right down"
    cost = clause(found.plant.fruit.cost)
    if found.plant.limits.ground_cut == "no":
        return f"No, don't {job}: {cost}"
    if low_verdict(found) == "no":
        return _whether(found, case, name)
    if found.verdict == "yes":
        return f"Yes, {job} {case.day}. {sentence(cost)}"
    own = found.plant.stage(found.phase.stage).text if found.seen else ""
    return f"You can {job} {case.day}, at a price: {clause(own or cost)}"


def _how_much(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    use = f". {sentence(found.plant.fruit.cost)}" if found.plant.group == "herb" else "."
    return f"{found.plant.amount.text.rstrip('.')}{use} {_its_time(found, case, name)}"


def _how(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    return f"{found.plant.amount.text.rstrip('.')}. {_its_time(found, case, name)}"


def _its_time(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    if found.seen is not None:
        return sentence(f"{case.not_then(found.verdict)}{_because(found)}")
    return sentence(
        f"the time to prune {name.many} is {when_text(found, case)}; {case.not_then(found.verdict)}"
    )


def _because(found: Pruning) -> str:
    text = found.plant.stage(found.phase.stage).text
    return f": {clause(text)}" if text else ""


def when_text(found: Pruning, case: WoodyCase) -> str:
    """When the plant is cut, in words and dates: "in late winter (about 20 Feb to 5 Apr)"."""
    times = [f"{c.season.say} (about {span_text(c.start, c.end, case.world.today)})" for c in found.year[:2]]
    return ", or ".join(times) or found.plant.seasons[0].say


def _whether(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    if found.views:
        return f"It depends on the buds of the {name.one}: {by_the_buds(found)}"
    return {"yes": _yes, "tight": _tight, "no": _no}[found.verdict](found, case, name)


_BY_ASPECT: Mapping[Aspect, Callable[[Pruning, WoodyCase, PlantCalled], str]] = {
    "alike": _alike,
    "suckers": _suckers,
    "too-cold": _too_cold,
    "when": _when,
    "right-down": _right_down,
    "how-much": _how_much,
    "how": _how,
    "whether": _whether,
}


# -- may it be pruned -----------------------------------------------------------------------------------
def _yes(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    cut, seen, text = found.cut, found.seen, found.plant.stage(found.phase.stage).text
    if found.why == "season" and cut is not None:
        if case.too_late:
            return f"{case.in_time}: you can prune {name.many} {cut.season.say}, here {until(found, case)}"
        return f"Yes, prune the {name.one} {case.day}; you have {until(found, case)}"
    awake = found.phase.stage not in ("dormant", "leaf_fall")
    job = f"you can still prune the {name.one}" if awake else f"prune the {name.one} {case.day}"
    if case.too_late and text:
        return f"{case.in_time} for the {name.one}: {clause(text)}"
    opening = case.in_time if case.too_late else "Yes"
    joint = ": " if case.too_late else ", "
    if text:
        return f"{opening}{joint}{job}: {clause(text)}"
    looks = f" {SEEN_WORDS[seen]}" if seen and awake else ""
    main = found.plant.seasons[0]
    best = f"; the best time is {main.say}" if awake and main.phase in ("dormant", "late-dormant") else ""
    return f"{opening}{joint}{job}{looks}{best}"


def _tight(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    main = found.plant.seasons[0].say
    if found.why == "near" and found.coming is not None:
        opens = show_date(found.coming.start, case.world.today)
        return f"Almost time: prune {name.many} from about {opens}; a few days early is fine"
    if found.why == "lesser" and found.now is not None:
        return (
            f"Only a smaller job {case.day}: {_lesser(found.now)}. The main pruning is {_other_time(found)}"
        )
    if found.why == "better-later":
        return f"You can, while the {name.one} is fully dormant, but a better time is {main}"
    if found.why == "about-to-open":
        return f"You can still prune the {name.one}, but make only small cuts: the flowers are about to open"
    if found.why == "past":
        return f"Only small cuts {case.day}: the time to prune {name.many} is {main}"
    opening = "It is late, but you can still" if case.too_late else "You can"
    return f"{opening} prune the {name.one}, with care: {clause(found.plant.stage(found.phase.stage).text)}"


def _lesser(cut: Cut) -> str:
    return clause(cut.season.say)


def _other_time(found: Pruning) -> str:
    return found.coming.season.say if found.coming is not None else found.plant.seasons[0].say


def _no(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    text, next_time = clause(found.plant.stage(found.phase.stage).text), coming_text(found, case)
    if found.why == "bare-wet":
        return _bare_wet(found, case, name)
    if found.why == "costly":
        return f"Not {case.day} for the {name.one}: {text}. Prune {name.many} {next_time}"
    if found.why == "buds-set":
        return f"Too late this year: next spring's flower buds are set. Prune {name.many} {next_time}"
    if _waits(found):
        opening = "Not yet" if case.day == NOW else f"Not {case.day}"
        return f"{opening}: prune {name.many} {next_time}"
    this_year = found.coming is not None and found.coming.start.year == case.world.today.year
    late = found.over and not this_year  # its next time may still be this autumn
    opening = f"Too late this year for the {name.one}" if late else f"Not {case.day} for the {name.one}"
    return f"{opening}: {text or f'prune it {next_time}'}"


def _waits(found: Pruning) -> bool:
    return (found.early and found.seen is None) or found.why == "its-season"


def _bare_wet(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    return f"{bare_in_the_wet(found.plant, case, name.many)}. Prune {coming_text(found, case)}"


def bare_in_the_wet(plant: Woody, case: WoodyCase, many: str) -> str:
    """Why the leafless plant is left alone where winters are wet."""
    at = f" in {case.spring.label}" if case.world.site is not None else ""
    disease = plant.limits.bare_in_wet_winter
    return f"Don't prune {many} while they are bare{at}: wet winters carry {disease} into the cuts"


def coming_text(found: Pruning, case: WoodyCase) -> str:
    """The next main season, in words and its first day."""
    if found.coming is None:
        return found.plant.seasons[0].say
    return f"{found.coming.season.say}, from about {show_date(found.coming.start, case.world.today)}"


# -- where the buds decide ------------------------------------------------------------------------------
def by_the_buds(found: Pruning) -> str:
    """What to do by what the buds show, where the estimate straddles two answers."""
    verdicts = dict.fromkeys(verdict for _, verdict, _ in found.views)
    return "; ".join(
        f"if it is {joined((PLAIN[s] for s, v, _ in found.views if v == verdict), 'or')}, {_DO[verdict]}"
        for verdict in verdicts
    )


_DO = {"yes": "go ahead", "tight": "go gently", "no": "leave it"}


def view_text(plant: Woody, stage: str, why: Why) -> str:
    """What is said of one of the stages it may be in."""
    if why == "closed":
        return f"its season is over: {clause(plant.limits.not_when[0] if plant.limits.not_when else '')}"
    return clause(plant.stage(stage).text) or _DO["yes"]


def reason(found: Pruning, case: WoodyCase, name: PlantCalled) -> str:
    """The decision in one clause, for a headline about two kinds."""
    plain_no = (
        found.verdict == "no" and found.why not in ("bare-wet", "costly", "buds-set") and not _waits(found)
    )
    text = clause(found.plant.stage(found.phase.stage).text)
    if found.why == "buds-decide":
        return by_the_buds(found)
    if plain_no and text:
        return text
    if plain_no or (found.verdict == "no" and _waits(found)):
        return f"prune it {coming_text(found, case)}"
    return clause(_whether(found, case, name))


def until(found: Pruning, case: WoodyCase) -> str:
    """The end of the window at hand: "until about 5 Apr, in dry weather"."""
    cut = found.cut
    if cut is None:
        return clause(found.plant.stage(found.phase.stage).text)
    dry = ", in dry weather" if cut.season.dry else ""
    return f"until about {show_date(cut.end, case.world.today)}{dry}"
