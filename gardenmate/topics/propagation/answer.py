"""New plants from old: cuttings, suckers and runners, division, layering, grafts, and moving what there is.

Verdict: yes = do it now (or it keeps, or it needs the mat); tight = possible at a cost; no = not now, or not
this way. Ways and dates come from knowledge/propagation.toml and the plant's own year at the place.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.plants import caution_keys
from gardenmate.knowledge.woody import Woody, woody_for
from gardenmate.records import dataclass, replace
from gardenmate.topics.propagation.bare_root import bare_root_answer, keep_answer, woody_asked
from gardenmate.topics.propagation.decide import Propagation, asked_way, decide
from gardenmate.topics.propagation.hold import hold_answer, holding, mat_answer, warmth_told
from gardenmate.topics.propagation.moving import movable, move_answer
from gardenmate.topics.propagation.parent_age import MOVING, with_age
from gardenmate.topics.propagation.ways import (
    GRAFTS,
    Chance,
    Subject,
    all_ways,
    chances,
    chances_once,
    plant_ways,
    way_asked,
    why_not,
)
from gardenmate.topics.propagation.words import between, headline_for
from gardenmate.topics.pruning.decide import common
from gardenmate.topics.pruning.numbers import place_assumption, spring_working
from gardenmate.topics.pruning.perennial_care import care_answer
from gardenmate.topics.shared.asked_day import AskedDay, asked_day
from gardenmate.topics.shared.cautions import Cautions, cautions
from gardenmate.topics.shared.subjects import plural_of
from gardenmate.topics.shared.woody_case import WoodyCase, called
from gardenmate.topics.shared.woody_phase import bud_break, spring_at
from gardenmate.topics.shared.woody_text import joined, sentence, span_text

Aspect = Literal[
    "bare-root", "bare-root-keeps", "move", "declined", "unknown", "mat", "hold", "general", "one", "several",
]  # fmt: skip
KEY_FIGURES = ("take_from", "take_to", "roots_weeks_high")
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
_CUTTINGS = ("softwood", "semi-ripe", "semi-hardwood", "hardwood", "leaf-bud", "root-cuttings")
_KNOWN = "Ask me about cuttings, suckers, runners, divisions, layers and grafts of bushes, vines, trees and many herbs."


@dataclass(frozen=True, slots=True)
class _Asked:
    """The case, the plants of the question with and without a way, the woody ones, and the days it must wait."""

    case: WoodyCase
    subjects: tuple[Subject, ...]
    woods: tuple[Woody, ...]
    waiting: float | None

    @property
    def known(self) -> tuple[Subject, ...]:
        """The plants that can be raised so."""
        return tuple(s for s in self.subjects if not self.refused(s))

    def refused(self, subject: Subject) -> bool:
        """No way is known, or only grafting, which was not asked for."""
        grafts = all(w.method in GRAFTS for w in subject.ways)
        return not subject.ways or (
            bool(subject.no) and grafts and not self.case.question.has("way", "graft")
        )


def answer(question: Request, world: World) -> Answer:
    """The reply to a propagation question; see the module's head for what the verdict means."""
    cared = care_answer(question, world)
    if cared is not None:
        return cared
    waiting = holding(question, world)
    then = AskedDay(world) if waiting is not None else asked_day(question, world)
    case = WoodyCase(question, then.world, spring_at(then.world), then.word)
    asked = _Asked(case, tuple(_subject(ref, case) for ref in question.crops), woody_asked(case), waiting)
    aspect = _aspect(asked)
    reply = _RULES[aspect](asked)
    known = asked.known if aspect != "move" else ()
    more = tuple(_declined_line(s, case) for s in asked.subjects if known and s not in known)
    return replace(reply, details=(*reply.details, *more), assumptions=(*then.assumed, *reply.assumptions))


def _aspect(asked: _Asked) -> Aspect:
    """What is asked, the nearest thing first."""
    question = asked.case.question
    if question.cue("bare_root") and question.has("asks", "keep"):
        return "bare-root-keeps"
    if question.cue("bare_root") and asked.waiting is None and (asked.woods or not question.crops):
        return "bare-root"
    if _moves(asked):
        return "move"
    if question.crops and not asked.known:
        return "declined"
    if not question.crops and question.cue("other_plant"):
        return "unknown"
    if "mat" in (question.cue("gear") or "").split(","):
        return "mat"
    if asked.waiting is not None:
        return "hold"
    return "general" if not asked.known else "one" if len(asked.known) == 1 else "several"


def _moves(asked: _Asked) -> bool:
    """An established shrub is to be moved as it stands, not a piece of it."""
    question = asked.case.question
    meant = question.cue("asks") == "move" or question.has("way", "root-ball")
    pieces = question.cue("asks") == "suckers" or question.has("way", "graft")
    ways = {w.method for s in asked.subjects for w in s.ways}
    own = "transplant" in ways and question.first("size", "plant") is None
    return meant and not pieces and not own and asked.waiting is None and movable(asked.woods)


def _subject(ref: CropRef, case: WoodyCase) -> Subject:
    facts, manner = case.facts, case.manner
    plant = woody_for(facts, ref, manner)
    green = bud_break(plant, case.spring) if plant is not None else case.spring.green_tip
    ways = plant_ways(facts, ref.id, ref.kind or case.question.ask.kind, manner)
    name, many = _names(ref, plant, case)
    return Subject(
        ref,
        name,
        many,
        ways,
        chances(ways, case.spring, green, case.world.today),
        why_not(facts, ref.id, manner),
    )


def _names(ref: CropRef, plant: Woody | None, case: WoodyCase) -> tuple[str, str]:
    """What to call the plant, and several of it; mint and its like are not counted."""
    crop = case.facts.crop_for(ref)
    if crop is not None:
        one = crop.generic_names[0] if crop.generic_names else crop.name
        return one, one if "mass-noun" in crop.traits else plural_of(one, (*crop.names, *crop.generic_names))
    if plant is None:
        return ref.id, ref.id
    name = called(plant, (ref,), assumed=ref.kind is None)
    return name.one, name.many


# -- one plant ------------------------------------------------------------------------------------
def _one(asked: _Asked) -> Answer:
    subject, case = asked.known[0], asked.case
    found = decide(subject, case)
    said = _cautions(case, subject, found.subject.chances)
    reply = Answer(
        question=case.question,
        verdict=found.verdict,
        headline=headline_for(found, case),
        numbers=_numbers(found),
        key_figures=KEY_FIGURES,
        details=(*_details(found), *(warmth_told(case) if found.best.way.method in _CUTTINGS else ())),
        table=_ways_table(subject, case) if len(subject.ways) > 1 else None,
        steps=found.best.way.steps,
        changes=_changes(found, case),
        cautions=said.texts,
        assumptions=place_assumption(case.spring),
        sources=tuple(dict.fromkeys((*(s for w in subject.ways for s in w.sources), *said.sources))),
        working=spring_working(case.spring),
    )
    return with_age(reply, case, found.best.way)


def _details(found: Propagation) -> tuple[str, ...]:
    best, lines = found.best, [sentence(found.best.way.note)]
    low, high = best.way.roots_weeks
    if high > 0:
        lines.append(f"Roots in about {low:.0f}-{high:.0f} weeks.")
    rest = (c for c in found.subject.chances if c is not best and c.way.note)
    lines += [sentence(f"{c.way.name}: {c.way.note}") for c in rest]
    lines.append(f"If planting must wait: {sentence(best.way.hold)}")
    return tuple(dict.fromkeys(lines))


def _changes(found: Propagation, case: WoodyCase) -> tuple[str, ...]:
    way, lines = found.best.way, []
    if way.method == "hardwood" and not found.best.inside:
        lines.append(
            "If you can't wait, take them anyway: strip the open leaves and keep them shaded and damp. Most will fail."
        )
    if way.dormant:
        lines.append(
            "Tell me what the buds show: dormant or just swelling is early enough, open leaves are too late."
        )
    if case.spring.basis == "calendar":
        lines.append("Tell me where you garden and the dates move to your spring.")
    return tuple(lines)


def _numbers(found: Propagation) -> tuple[Number, ...]:
    crop, best = found.subject.ref.id, found.best
    hold_low, hold_high = best.way.hold_days
    low, high = best.way.roots_weeks
    numbers = [
        Number("take_from", best.start, "date", f"{best.way.name} from", crop),
        Number("take_to", best.end, "date", f"{best.way.name} until", crop),
        Number("hold_days_low", hold_low, "days", "keeps, at least", crop, shown=False),
        Number("hold_days_high", hold_high, "days", "keeps for up to", crop, shown=hold_high > 0),
    ]
    if high > 0:
        numbers.append(Number("roots_weeks_low", low, "weeks", "takes to root, at least", crop, shown=False))
        numbers.append(Number("roots_weeks_high", high, "weeks", "takes to root, up to", crop))
    return tuple(numbers)


def _ways_table(subject: Subject, case: WoodyCase) -> Table:
    return _table_of(chances_once(subject.chances), case, f"Ways to grow more {subject.many}")


def _table_of(found: tuple[Chance, ...], case: WoodyCase, title: str) -> Table:
    rows = tuple(
        (
            c.way.name,
            "yes" if c.inside else "not now",
            span_text(c.start, c.end, case.world.today),
            c.way.when,
        )
        for c in found
    )
    return Table(("way", "now?", "dates", "when"), rows, title)


# -- several plants, or none ----------------------------------------------------------------------
def _several(asked: _Asked) -> Answer:
    case, known = asked.case, asked.known
    found = [decide(s, case) for s in known]
    singles = [_one(replace(asked, subjects=(s,))) for s in known]
    verdict = common(f.verdict for f in found)
    opening = {
        "yes": f"Yes, {case.day}",
        "tight": "Late but possible",
        "no": f"Not {case.day}",
        None: "It differs",
    }[verdict]
    each = "; ".join(f"{f.job} between {between(f, case)}" for f in found)
    rows = tuple(
        (
            f.subject.name,
            f.best.way.name,
            "yes" if f.best.inside else "not now",
            span_text(f.best.start, f.best.end, case.world.today),
        )
        for f in found
    )
    return Answer(
        question=case.question,
        verdict=verdict,
        headline=sentence(each if case.asks_when else f"{opening}: {each}"),
        numbers=tuple(n for a in singles for n in a.numbers),
        key_figures=KEY_FIGURES,
        details=tuple(dict.fromkeys(sentence(f"{f.subject.name}: {f.best.way.note}") for f in found)),
        table=Table(("plant", "way", "now?", "dates"), rows),
        steps=singles[0].steps if len({f.best.way.method for f in found}) == 1 else (),
        cautions=tuple(dict.fromkeys(c for a in singles for c in a.cautions)),
        assumptions=place_assumption(case.spring),
        sources=tuple(dict.fromkeys(x for a in singles for x in a.sources)),
        working=spring_working(case.spring),
    )


def _general(asked: _Asked) -> Answer:
    """No plant named: every way, with its dates here."""
    case = asked.case
    ways = all_ways(case.facts, case.manner)
    wanted = way_asked(asked_way(case), ways)
    shown = tuple(w for w in ways if w.method in wanted) if wanted else ways
    found = chances_once(chances(shown, case.spring, case.spring.green_tip, case.world.today))
    now = joined(c.way.name for c in found if c.inside)
    said = cautions(case.facts, "propagation", "buried_services", "blades", "own_stock")
    return Answer(
        question=case.question,
        verdict="yes" if len(found) == 1 and now else "no" if not now else None,
        headline=sentence(f"{case.day} is the time for {now}")
        if now
        else f"{sentence(case.day).rstrip('.')} is not the time for any of these; here are their dates.",
        details=tuple(sentence(f"{c.way.name}: {c.way.hold}") for c in found[:3]),
        table=_table_of(found, case, "Ways to make new plants"),
        steps=found[0].way.steps if len(found) == 1 else (),
        changes=("Name the plant for its own way.",),
        cautions=said.texts,
        assumptions=place_assumption(case.spring),
        sources=tuple(dict.fromkeys((*(s for w in shown for s in w.sources), *said.sources))),
        working=spring_working(case.spring),
    )


# -- not this way ---------------------------------------------------------------------------------
def _declined(asked: _Asked) -> Answer:
    """Not at home, or no rule: said why, and when it is grafted where it is."""
    case, subjects = asked.case, asked.subjects
    told = [s for s in subjects if s.no]
    grafted = [
        f"{c.way.name}: about {span_text(c.start, c.end, case.world.today)}" for s in told for c in s.chances
    ]
    return Answer(
        question=case.question,
        verdict="no" if told and len(told) == len(subjects) else None,
        headline=_declined_line(subjects[0], case),
        details=(*(_declined_line(s, case) for s in subjects[1:]), *(sentence(line) for line in grafted)),
        changes=(_KNOWN,),
        sources=("common-practice",) if told else (),
    )


def _unknown(asked: _Asked) -> Answer:
    name = str(asked.case.question.cue("other_plant"))
    return Answer(
        question=asked.case.question,
        verdict=None,
        headline=f"I have no advice on propagating {plural_of(name)}, and I won't guess from another plant.",
        changes=(_KNOWN,),
    )


def _declined_line(subject: Subject, case: WoodyCase) -> str:
    if subject.no:
        return sentence(subject.no)
    crop = case.facts.crop_for(subject.ref)
    if crop is not None and {"direct", "indoors"} & set(crop.methods):
        return sentence(f"raise {subject.many} from seed; I have no advice on cuttings or divisions")
    return sentence(f"I have no advice on propagating {subject.many}, and I won't guess from another plant")


def _cautions(case: WoodyCase, subject: Subject, shown: tuple[Chance, ...]) -> Cautions:
    keys = ["blades", *caution_keys(case.facts, subject.ref.id, "propagation")]
    if any(c.way.method in _DIGGING for c in shown):
        keys.insert(0, "buried_services")
    return cautions(case.facts, "propagation", *keys)


_RULES: Mapping[Aspect, Callable[[_Asked], Answer]] = {
    "bare-root": lambda asked: bare_root_answer(asked.case, asked.woods),
    "bare-root-keeps": lambda asked: keep_answer(asked.case),
    "move": lambda asked: with_age(move_answer(asked.case, asked.woods[0]), asked.case, MOVING),
    "declined": _declined,
    "unknown": _unknown,
    "mat": lambda asked: mat_answer(asked.case, asked.known),
    "hold": lambda asked: hold_answer(asked.case, asked.known, asked.waiting or 0.0),
    "general": _general,
    "one": _one,
    "several": _several,
}
