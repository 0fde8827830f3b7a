"""Material that must wait before it is planted, and bottom heat for rooting it."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Answer, Number, Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, plural, show_temp
from gardenmate.core.world import World
from gardenmate.topics.propagation.ways import Subject, Way, all_ways, way_asked
from gardenmate.topics.pruning.decide import common, verdict_of
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_text import joined, sentence


def holding(question: Request, world: World) -> float | None:
    """Days the material must wait; 0 when only how long it keeps is asked; None when neither is."""
    later = question.cue("not_before")
    if later is not None:
        return max(0.0, float((date.fromisoformat(later) - world.today).days))
    if question.cue("asks") != "hold":
        return None
    until = question.ask.date
    if until is not None and until > world.today:
        return float((until - world.today).days)
    if question.ask.days is not None:
        return question.ask.days
    if question.ask.weeks is not None:
        return question.ask.weeks * 7.0
    return 0.0 if question.cue("asks_when") is None and question.cue("how_long") else None


def hold_answer(case: WoodyCase, known: tuple[Subject, ...], days: float) -> Answer:
    """May planting wait ``days`` (0: as long as it keeps), and how it is kept meanwhile."""
    question, world = case.question, case.world
    if known:
        wanted = way_asked(question.cue("asks_way"), known[0].ways)
        ways = tuple(dict.fromkeys(w for s in known for w in s.ways[:1] if not wanted or w.method in wanted))
    else:
        ways = tuple(
            w for w in all_ways(world.facts, case.manner) if w.method in ("suckers", "division", "hardwood")
        )
    verdict = _keeps(ways[0], days)
    low, high = ways[0].hold_days
    keeps = f"{ways[0].name} keep {low:.0f} to {plural(high, 'day')}"
    opening = {
        "yes": f"Yes, it can wait {plural(days, 'day')}",
        "tight": f"It can wait {plural(days, 'day')}, with care",
        "no": f"No, {plural(days, 'day')} is too long",
        None: "It can wait a little",
    }[verdict]
    told = cautions(world.facts, "propagation", "buried_services")
    return Answer(
        question=question,
        verdict=verdict,
        headline=sentence(
            f"{opening}: {keeps} if kept cold and damp" if ways[0].dormant else f"{opening}: {keeps}"
        ),
        numbers=(
            Number("hold_days_low", low, "days", "keeps, at least"),
            Number("hold_days_high", high, "days", "keeps, at most"),
            Number("wait_days", days, "days", "to wait", shown=days > 0),
        ),
        details=tuple(sentence(f"{w.name}: {w.hold}") for w in ways),
        steps=(
            "Keep roots or cut ends damp, never standing in water for days, and out of sun, wind and frost.",
            "Heel in what must wait longer: lay it in a slanting trench and cover the roots with moist soil.",
            "Soak dry roots an hour before planting.",
        ),
        cautions=told.texts,
        sources=tuple(dict.fromkeys((*(s for w in ways for s in w.sources), *told.sources))),
    )


def _keeps(way: Way, days: float) -> Verdict | None:
    low, high = way.hold_days
    if days <= 0:
        return None
    return "yes" if days <= low else "tight" if days <= high else "no"


def mat_answer(case: WoodyCase, known: tuple[Subject, ...]) -> Answer:
    """Should it stand on a heat mat to root?"""
    question, world = case.question, case.world
    ways = tuple(dict.fromkeys(_mat_way(s, question) for s in known)) or (
        all_ways(world.facts, case.manner)[0],
    )
    verdict = common(verdict_of(w.mat) for w in ways)
    names = joined(s.many for s in known)
    of_names = f" of {names}" if names else ""
    cuttings = f"{joined(dict.fromkeys(w.name for w in ways))}{of_names}"
    said = {
        "yes": f"Yes, gentle bottom heat helps {cuttings}",
        "tight": f"You don't need a mat for {cuttings}; if you use one, keep it gentle and the tops cool",
        "no": f"No, keep {cuttings} off the heat mat",
        None: f"It depends on how you propagate them: {cuttings}",
    }[verdict]
    told = cautions(world.facts, "propagation", "mat_electricity")
    return Answer(
        question=question,
        verdict=verdict,
        headline=f"{sentence(said)}{_mat_at(case)}",
        details=tuple(dict.fromkeys(w.mat_text for w in ways))
        + tuple(sentence(f"{s.name}: {s.ways[0].note}") for s in known),
        steps=ways[0].steps,
        cautions=told.texts,
        sources=tuple(dict.fromkeys((*(s for w in ways for s in w.sources), *told.sources))),
    )


def warmth_told(case: WoodyCase) -> tuple[str, ...]:
    """The temperature told beside cuttings, judged at the cut end; () without one."""
    line = _mat_at(case).strip()
    return (line,) if line else ()


def _mat_at(case: WoodyCase) -> str:
    """What a temperature told means for the cut ends of cuttings."""
    here = case.question.slots.temperature_c
    if here is None:
        return ""
    low, high = (f_to_c(f) for f in case.facts.table("propagation")["mat"]["gentle_f"])
    told = "gentle enough" if low <= here <= high else "too warm" if here > high else "too cool to help"
    return f" {show_temp(here, case.world.units)} at the cut end is {told}."


def _mat_way(subject: Subject, question: Request) -> Way:
    wanted = way_asked(question.cue("asks"), subject.ways)
    return next((w for w in subject.ways if w.method in wanted), subject.ways[0])
