"""The opening sentence of a pruning answer: short first, the verdict, then the reason or the dates."""

from __future__ import annotations

import re
from datetime import date

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody
from gardenmate.topics.pruning.advice import Advice, stage_words, verdict_of, worst
from gardenmate.topics.shared.woody_text import clause, joined, sentence, span_text

_SAID_ALREADY = re.compile(r"^(not now|do not|not too late|too late|best time)[:.] ", re.IGNORECASE)
_TERSE = 25  # a stage reply this short gets the season beside it
HOW_ASKED = ("how", "hard", "steps")


def asks_when(question: Request) -> bool:
    """True when the time of the job is what is asked."""
    return question.cue("asks_when") is not None or question.cue("asks") in ("when", "dates")


def headline_for(question: Request, advice: Advice, world: World, day: str) -> tuple[Verdict, str]:
    """Verdict and the opening sentence, by what was asked: whether, when, how much, cut right down."""
    asks, name = question.cue("asks"), advice.name
    if question.cue("alike") is not None and advice.plant.fruit.on:
        own = clause(re.split(r"[;,]", advice.plant.fruit.on)[0])
        return "no", sentence(
            f"No, not by another plant's rule: the {name} fruits on {own}; {day}: {_now_words(advice)}"
        )
    if asks == "suckers" and advice.plant.care.suckers:
        return advice.verdict, sentence(f"Suckers of the {name}: {clause(advice.plant.care.suckers)}")
    reply = short_reply(advice, world)
    if asks_when(question) and advice.seen is None:
        return advice.verdict, sentence(
            f"The {name}: {when_text(advice, world)}; {day}: {_now_words(advice)}"
        )
    if question.cue("cut_low"):
        verdict = _low_verdict(advice)
        return verdict, sentence(
            f"Cut right down, the {name}: {clause(advice.plant.fruit.cost)}; {day}: {_now_words(advice)}"
        )
    if asks in HOW_ASKED:
        amount = clause(advice.plant.amount.text)
        if advice.plant.group == "herb":
            amount += f", for {clause(advice.plant.fruit.cost)}"
        return advice.verdict, sentence(f"How much off the {name}: {amount}; {day}: {clause(reply)}")
    opening = _opening(advice, world, day)
    if question.cue("too_late") and advice.verdict == "yes" and not advice.mixed:
        opening = f"Not too late for the {name}: "
    return advice.verdict, sentence(opening + reply)


def _low_verdict(advice: Advice) -> Verdict:
    """May it be cut to the ground: as its file says, and never better than pruning it now is."""
    allowed = verdict_of(advice.plant.limits.ground_cut)
    return allowed if allowed == "no" else worst(advice.verdict, allowed)


def _now_words(advice: Advice) -> str:
    if advice.mixed:
        return short_reply_mixed(advice)
    return {"yes": "go ahead", "tight": "possible, with care", "no": "not now"}[advice.verdict]


def when_text(advice: Advice, world: World) -> str:
    """When the plant is cut, in words and dates ("late winter (about 20 Feb to 5 Apr)")."""
    parts = [
        f"{_brief(c.season.window)} (about {span_text(c.start, c.end, world.today)})" for c in advice.year[:2]
    ]
    return ", or ".join(parts) or clause(advice.plant.seasons[0].window)


def _brief(window: str) -> str:
    """The first part of a window's wording: enough for a headline."""
    return clause(re.split(r";| \(", window)[0])


def _opening(advice: Advice, world: World, day: str) -> str:
    name = advice.name
    if advice.mixed:
        return f"It depends on the buds of the {name}: "
    if advice.verdict == "yes":
        swollen = advice.seen == "bud_swell" and advice.plant.seasons[0].phase != "bud-swell"
        late = advice.now is None or advice.seen in ("green_tip", "tight_cluster") or swollen
        return f"Not too late for the {name}: " if late else f"Yes, prune the {name}: "
    if advice.verdict == "tight":
        return f"You can prune the {name}, with care: "
    if _over(advice, world.today):
        return f"Too late this year for the {name}: "
    return f"Not {day} for the {name}: "


def _over(advice: Advice, today: date) -> bool:
    """The winter season of this cycle has gone by and the plant is past it."""
    if advice.seen in ("dormant", "bud_swell"):
        return False
    growing = advice.phase.stage in ("green_tip", "bloom", "petal_fall", "leafed_out")
    return growing and advice.gone is not None and advice.gone.season.phase in ("dormant", "late-dormant")


def short_reply(advice: Advice, world: World) -> str:
    """The verdict's reason in one clause, with the next dates where it means waiting."""
    if advice.mixed:
        return short_reply_mixed(advice)
    if advice.near and advice.coming is not None:
        opens = show_date(advice.coming.start, world.today)
        return f"the pruning time starts about {opens}, give or take; a few days early is fine"
    if advice.costly and advice.coming is not None:
        cut = advice.coming
        wait = f"wait until about {show_date(cut.start, world.today)} ({_brief(cut.season.window)})"
        return f"{clause(_SAID_ALREADY.sub('', advice.text))}; {wait}"
    if advice.verdict == "no" and advice.early and advice.coming is not None and advice.seen is None:
        cut = advice.coming
        return f"wait until about {show_date(cut.start, world.today)} ({_brief(cut.season.window)})"
    if advice.now is not None and advice.seen is None:
        dry = ", in dry weather" if advice.now.season.dry else ""
        window = clause(advice.now.season.window)
        lesser = "" if not advice.now.lesser else window if "only" in window else f"only {window}"
        return (
            lesser or f"its window runs about {span_text(advice.now.start, advice.now.end, world.today)}{dry}"
        )
    if len(advice.text) < _TERSE:
        return f"{clause(advice.text)} ({_brief(advice.plant.seasons[0].window)})"
    return clause(_SAID_ALREADY.sub("", advice.text))


def short_reply_mixed(advice: Advice) -> str:
    """What to do by what the buds show, where the estimate straddles two answers."""
    verdicts = dict.fromkeys(verdict for _, verdict, _ in advice.mixed)
    return "; ".join(_mixed_part(advice, verdict) for verdict in verdicts)


def _mixed_part(advice: Advice, verdict: str) -> str:
    stages = joined((stage_words(s) for s, v, _ in advice.mixed if v == verdict), "or")
    return f"if {stages}, {_word(verdict)}"


def _word(verdict: str) -> str:
    return {"yes": "go ahead", "tight": "go gently", "no": "leave it"}[verdict]


def too_young(plant: Woody, name: str, age: float, planted: int) -> str:
    """The refusal for a young plant, with the year it becomes possible."""
    year = planted + plant.limits.min_age_years
    return (
        f"No hard cut yet: at {plural(age, 'year')} the {name} is too young, from about {year} it can"
        " take one; until then take off only dead, broken or crossing wood."
    )
