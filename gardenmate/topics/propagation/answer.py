"""New plants from old: cuttings, suckers and runners, division, layering - when, how, and how long to hold.

Verdict: yes = do it now (or it keeps, or it needs the mat); tight = possible at a cost; no = not now, or not
this way. Ways and dates come from knowledge/propagation.toml and the plant's own year at the place.
"""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.answer import Answer, Number, Table, Verdict
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.knowledge.plants import caution_keys
from gardenmate.knowledge.woody import woody_for
from gardenmate.topics.propagation.bare_root import bare_root_answer, woody_asked
from gardenmate.topics.propagation.hold import hold_answer, holding, mat_answer
from gardenmate.topics.propagation.ways import (
    Chance,
    Subject,
    all_ways,
    chances,
    chances_once,
    plant_ways,
    way_asked,
    why_not,
)
from gardenmate.topics.pruning.advice import common
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.pruning.perennial_care import care_answer
from gardenmate.topics.pruning.words import asks_when
from gardenmate.topics.shared.asked_day import AskedDay, asked_day
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.woody_phase import SEEN_STAGES, Spring, bud_break, spring_at
from gardenmate.topics.shared.woody_text import clause, in_south, in_units, joined, sentence, span_text

_DIGGING = (
    "suckers",
    "runners",
    "division",
    "offsets",
    "transplant",
    "tip-layering",
    "root-cuttings",
    "layering",
)
_NAMED_WAYS = ("cuttings", "divide", "layer")
_DISTANCE = ("spacing", "close", "depth", "distance")
_AWAKE = ("green_tip", "bloom", "petal_fall", "leafed_out")


def answer(question: Request, world: World) -> Answer:
    """The reply to a propagation question; see the module's head for what the verdict means."""
    cared = care_answer(question, world)
    if cared is not None:
        return cared
    waiting = holding(question, world)
    then = AskedDay(world) if waiting is not None else asked_day(question, world)
    world = then.world
    spring = spring_at(world)
    subjects = tuple(_subject(ref, question, world, spring) for ref in question.crops)
    known = tuple(s for s in subjects if s.ways)
    if question.cue("bare_root") and waiting is None and (woods := woody_asked(question, world)):
        reply = bare_root_answer(question, world, spring, woods, then.word)
    elif question.crops and not known:
        reply = _declined(question, world, subjects)
    elif not question.crops and question.cue("other_plant"):
        reply = _unknown(question, str(question.cue("other_plant")))
    elif question.cue("gear") and "mat" in str(question.cue("gear")).split(","):
        reply = mat_answer(question, world, known)
    elif waiting is not None:
        reply = hold_answer(question, world, known, waiting)
    elif not known:
        reply = _general(question, world, spring)
    elif len(known) == 1:
        reply = _one(question, world, spring, known[0], then.word)
    else:
        reply = _several(question, world, spring, known, then.word)
    lost = [s for s in subjects if not s.ways]
    more = tuple(_declined_line(s, world) for s in lost) if known else ()
    return replace(reply, details=(*reply.details, *more), assumptions=(*then.assumed, *reply.assumptions))


def _subject(ref: CropRef, question: Request, world: World, spring: Spring) -> Subject:
    plant = woody_for(world.facts, ref)
    kind = ref.kind or question.ask.kind
    green = bud_break(plant, spring) if plant is not None else spring.green_tip
    ways = plant_ways(world.facts, ref.id, kind)
    if spring.southern:
        ways = tuple(in_south(w) for w in ways)
    crop = world.facts.crop_for(ref)
    usual = (plant.generic_names or plant.names)[0] if plant is not None else crop.name if crop else ref.id
    return Subject(ref, usual, ways, chances(ways, spring, green, world.today), why_not(world.facts, ref.id))


# -- one plant ------------------------------------------------------------------------------------
def _one(question: Request, world: World, spring: Spring, subject: Subject, day: str) -> Answer:
    wanted = way_asked(question.cue("asks"), subject.ways)
    fitting = subject.chances
    if wanted:
        named_ones = (c for c in subject.chances if c.way.method in wanted)
        fitting = tuple(sorted(named_ones, key=lambda c: wanted.index(c.way.method)))
    named = question.cue("asks") in _NAMED_WAYS and not wanted
    other = f"not by {_asked_word(question)}: " if named else ""
    chosen = replace(subject, chances=fitting or subject.chances)
    best = chosen.best
    verdict: Verdict = (
        "yes" if question.cue("can_be") and not other else _verdict(best, question, world, spring.spread_days)
    )
    told = _cautions(world, subject, chosen.chances)
    return Answer(
        question=question,
        verdict=verdict,
        headline=in_units(_headline(question, chosen, best, verdict, other, world, day), world.units),
        numbers=_numbers(subject, best),
        details=tuple(in_units(line, world.units) for line in _details(chosen, best, question)),
        table=_ways_table(subject, world) if len(subject.ways) > 1 else None,
        steps=tuple(in_units(s, world.units) for s in best.way.steps),
        changes=_changes(spring, best, world),
        cautions=told.texts,
        assumptions=place_assumption(spring),
        sources=tuple(dict.fromkeys((*(s for w in subject.ways for s in w.sources), *told.sources))),
        working=spring_working(spring),
    )


def _asked_word(question: Request) -> str:
    words = {"cuttings": "cuttings", "divide": "division", "layer": "layering", "suckers": "suckers"}
    return words.get(question.cue("asks") or "", "that")


def _verdict(best: Chance, question: Request, world: World, spread_days: int) -> Verdict:
    """Now, soon (within what the dates are good for), or not now; a plant seen awake is too late for dormant
    work, seen dormant it is in time."""
    seen = question.cue("bud_stage")
    if seen is None and question.has("look", "in-leaf"):
        seen = "leafed_out"
    by_leaf = best.way.phase in ("early-spring", "dormant-spring")
    if seen == "leafed_out" and best.inside and best.way.rooted and by_leaf:
        return "tight"  # its roots come with it, but its time was before the leaves opened
    if seen is not None and best.way.dormant:
        stage = SEEN_STAGES[seen]
        if stage in _AWAKE:
            return "tight" if stage == "green_tip" else "no"
        return "yes" if stage in ("dormant", "bud_swell") else "no"
    if best.inside:
        return "yes"
    near = best.nearly(world.today, spread_days)
    return "tight" if near or (best.way.rooted and best.just_over(world.today)) else "no"


def _headline(
    question: Request,
    subject: Subject,
    best: Chance,
    verdict: Verdict,
    other: str,
    world: World,
    day: str,
) -> str:
    span = span_text(best.start, best.end, world.today)
    name, way = subject.name, best.way.name
    if question.cue("asks") in _DISTANCE and best.way.note:
        return sentence(f"{name}: {way}, about {span}; {clause(best.way.note.split(';')[0])}")
    if question.cue("can_be") and not other:
        return sentence(f"Yes, {name} grows from {way}: about {span} ({clause(best.way.when)})")
    if asks_when(question) or question.cue("asks") == "how":
        early = best.start > world.today
        tight = "just about" if early else "late but possible"
        now = {"yes": "fine", "tight": tight, "no": "not yet"}[verdict]
        return sentence(f"{name}: {other}{way}, about {span}; {day}: {now}")
    if verdict == "yes":
        until = "" if question.cue("bud_stage") else f", until about {show_date(best.end, world.today)}"
        return sentence(
            f"{name}: {other}{way} {day}{until}" if other else f"Yes, {day}: {way} of {name}{until}"
        )
    if verdict == "tight" and best.start > world.today and question.cue("bud_stage") is None:
        opens = show_date(best.start, world.today)
        return sentence(
            f"Just about: {other}{way} of {name}; the usual time starts about {opens}, give or take a few days"
        )
    if verdict == "tight":
        care = (
            "keep a ball of soil, shade and water it"
            if best.way.rooted
            else "rub off open leaves, keep shaded and damp, and expect most to fail"
        )
        return sentence(f"Late but possible by {way} for {name}: {care}")
    return sentence(f"Not {day}: {other}{way} of {name} about {span} ({clause(best.way.when)})")


def _details(subject: Subject, best: Chance, question: Request) -> tuple[str, ...]:
    lines = [sentence(best.way.note)]
    low, high = best.way.roots_weeks
    if high > 0:
        lines.append(f"Roots in about {low:.0f}-{high:.0f} weeks.")
    lines += [
        sentence(f"{c.way.name}: {c.way.note}") for c in subject.chances if c is not best and c.way.note
    ]
    lines.append(sentence(f"If planting must wait: {clause(best.way.hold)}"))
    return tuple(dict.fromkeys(lines))


def _changes(spring: Spring, best: Chance, world: World) -> tuple[str, ...]:
    lines = []
    if best.way.method == "hardwood" and not best.inside:
        lines.append(
            "If it is now or never, take them anyway: off with open leaves, shade, damp; most will fail."
        )
    if best.way.dormant:
        lines.append(
            "Tell me what the buds show: dormant or just swelling is early enough, open leaves are too late."
        )
    if spring.basis == "calendar":
        lines.append("Tell me where you garden and the dates move to your spring.")
    return tuple(lines)


def _numbers(subject: Subject, best: Chance) -> tuple[Number, ...]:
    crop = subject.ref.id
    hold_low, hold_high = best.way.hold_days
    low, high = best.way.roots_weeks
    numbers = [
        Number("take_from", best.start, "date", f"{best.way.name} from", crop),
        Number("take_to", best.end, "date", "to", crop),
        Number("hold_days_low", hold_low, "days", "keeps, at least", crop, shown=False),
        Number("hold_days_high", hold_high, "days", "keeps, at most", crop, shown=hold_high > 0),
    ]
    if high > 0:
        numbers.append(Number("roots_weeks_low", low, "weeks", "roots after", crop, shown=False))
        numbers.append(Number("roots_weeks_high", high, "weeks", "roots by", crop))
    return tuple(numbers)


def _ways_table(subject: Subject, world: World) -> Table:
    rows = tuple(
        (c.way.name, "yes" if c.inside else "not now", span_text(c.start, c.end, world.today), c.way.when)
        for c in chances_once(subject.chances)
    )
    return Table(("way", "now?", "dates", "when"), rows, f"Ways for {subject.name}")


# -- several plants, or none ----------------------------------------------------------------------
def _several(question: Request, world: World, spring: Spring, known: tuple[Subject, ...], day: str) -> Answer:
    singles = [_one(question, world, spring, s, day) for s in known]
    verdict = common([a.verdict for a in singles if a.verdict is not None])
    names = joined(s.name for s in known)
    opening = {"yes": f"Yes, {day}", "tight": "Late but possible", "no": f"Not {day}", None: "It differs"}[
        verdict
    ]
    rows = tuple(
        (
            s.name,
            s.best.way.name,
            "yes" if s.best.inside else "not now",
            span_text(s.best.start, s.best.end, world.today),
        )
        for s in known
    )
    return Answer(
        question=question,
        verdict=verdict,
        headline=sentence(f"{opening}: {names}; each by its own way below"),
        numbers=tuple(n for a in singles for n in a.numbers),
        details=tuple(
            dict.fromkeys(in_units(sentence(f"{s.name}: {s.best.way.note}"), world.units) for s in known)
        ),
        table=Table(("plant", "way", "now?", "dates"), rows),
        steps=singles[0].steps if len({s.best.way.method for s in known}) == 1 else (),
        cautions=tuple(dict.fromkeys(c for a in singles for c in a.cautions)),
        assumptions=place_assumption(spring),
        sources=tuple(dict.fromkeys(x for a in singles for x in a.sources)),
        working=spring_working(spring),
    )


def _general(question: Request, world: World, spring: Spring) -> Answer:
    """No plant named: every way, with its dates here."""
    ways = all_ways(world.facts)
    wanted = way_asked(question.cue("asks"), ways)
    shown = tuple(w for w in ways if w.method in wanted) if wanted else ways
    found = chances_once(chances(shown, spring, spring.green_tip, world.today))
    now = joined(c.way.name for c in found if c.inside)
    rows = tuple(
        (c.way.name, "yes" if c.inside else "not now", span_text(c.start, c.end, world.today), c.way.when)
        for c in found
    )
    told = cautions(world.facts, "propagation", "buried_services", "blades", "own_stock")
    return Answer(
        question=question,
        verdict="yes" if len(found) == 1 and now else "no" if not now else None,
        headline=sentence(f"Now is the time for {now}")
        if now
        else "None of these is for now: see the dates below.",
        details=tuple(in_units(sentence(f"{c.way.name}: {c.way.hold}"), world.units) for c in found[:3]),
        table=Table(("way", "now?", "dates", "when"), rows, "Ways to make new plants"),
        steps=tuple(in_units(s, world.units) for s in found[0].way.steps) if len(found) == 1 else (),
        changes=("Name the plant for its own way.",),
        cautions=told.texts,
        assumptions=place_assumption(spring),
        sources=tuple(dict.fromkeys((*(s for w in shown for s in w.sources), *told.sources))),
        working=spring_working(spring),
    )


# -- not this way ---------------------------------------------------------------------------------
def _declined(question: Request, world: World, subjects: tuple[Subject, ...]) -> Answer:
    told = [s for s in subjects if s.no]
    return Answer(
        question=question,
        verdict="no" if told and len(told) == len(subjects) else None,
        headline=in_units(_declined_line(subjects[0], world), world.units),
        details=tuple(_declined_line(s, world) for s in subjects[1:]),
        changes=(
            "I know cuttings, suckers, runners, divisions and layers of bushes, canes, vines and many herbs.",
        ),
        sources=("common-practice",) if told else (),
    )


def _unknown(question: Request, name: str) -> Answer:
    return Answer(
        question=question,
        verdict=None,
        headline=f"I have no propagation rule for {name}, and I do not guess from another plant's.",
        changes=(
            "I know cuttings, suckers, runners, divisions and layers of bushes, canes, vines and many herbs.",
        ),
    )


def _declined_line(subject: Subject, world: World) -> str:
    if subject.no:
        return sentence(subject.no)
    crop = world.facts.crop_for(subject.ref)
    if crop is not None and {"direct", "indoors"} & set(crop.methods):
        return sentence(f"{subject.name}: raised from seed; I have no rule for cuttings or divisions of it")
    return sentence(f"I have no propagation rule for {subject.name}, and I do not guess from another plant's")


def _cautions(world: World, subject: Subject, shown: tuple[Chance, ...]) -> Cautions:
    keys = ["blades"]
    if any(c.way.method in _DIGGING for c in shown):
        keys.insert(0, "buried_services")
    keys += caution_keys(world.facts, subject.ref.id, "propagation")
    return cautions(world.facts, "propagation", *keys)
