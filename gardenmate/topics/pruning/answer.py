"""Pruning: is it still dormant, may I still cut, how hard - for the plants of knowledge/woody.

Verdict: yes = prune now; tight = you can, at the cost named; no = not now (wait until, or do this instead).
A plant is judged by its own file only, never by another plant's rule.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from gardenmate.core.answer import Answer
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural
from gardenmate.core.world import World
from gardenmate.knowledge.marked import Manner
from gardenmate.knowledge.woody import woody_kinds
from gardenmate.records import replace
from gardenmate.topics.pruning.aftermath import aftermath, aftermath_entry
from gardenmate.topics.pruning.decide import asked_of, decide
from gardenmate.topics.pruning.general import no_plant
from gardenmate.topics.pruning.hedges import answer_hedge
from gardenmate.topics.pruning.kinds import assumed_kind, cut_differently, garden_kind, match_kind, usual_kind
from gardenmate.topics.pruning.one_plant import answer_one
from gardenmate.topics.pruning.perennial_care import care_answer
from gardenmate.topics.pruning.several import Known, answer_kinds, answer_several
from gardenmate.topics.shared.asked_day import asked_day
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_case import WoodyCase
from gardenmate.topics.shared.woody_phase import spring_at
from gardenmate.topics.shared.woody_text import clause, joined, sentence

Aspect = Literal["frozen", "already-cut", "broken", "hedge", "not-covered", "no-plant", "one", "several"]


def answer(question: Request, world: World) -> Answer:
    """The reply to a pruning question; see the module's head for what the verdict means."""
    cared = care_answer(question, world)
    if cared is not None:
        return cared
    spring = spring_at(world)
    manner = Manner(world.units, spring.southern)
    asked = [(ref, woody_kinds(world.facts, ref.id, manner)) for ref in question.crops]
    known = [(ref, kinds) for ref, kinds in asked if kinds]
    unknown = [ref for ref, kinds in asked if not kinds]
    aspect = _aspect(question, world, known, unknown)
    if aspect in _LOOKING_BACK:
        back = _LOOKING_BACK[aspect](WoodyCase(question, world, spring), known)
        return replace(back, details=(*back.details, *_of_its_age(question, known)))
    then = asked_day(question, world)
    case = WoodyCase(question, then.world, spring_at(then.world), then.word)
    if aspect == "not-covered":
        return not_covered(case, [r.typed or r.id for r in unknown] or [question.cue("other_plant") or ""])
    reply = _RULES[aspect](case, known)
    more = (_uncovered_line(unknown),) if unknown else ()
    reply = _with_height(reply, case, known) if len(known) == 1 and aspect == "one" else reply
    return replace(reply, details=(*reply.details, *more), assumptions=(*then.assumed, *reply.assumptions))


def _aspect(question: Request, world: World, known: list[Known], unknown: list[CropRef]) -> Aspect:
    """What is asked, the nearest thing first."""
    if question.cue("freeze_hurt") or (question.cue("asks") == "aftermath" and not question.crops):
        return "frozen"
    done_on = question.ask.date
    made = question.has("cut", "made") and not question.has("asks", "when")
    bled = question.cue("past_cut") == "bleeds" and question.has(
        "asks", "how-much"
    )  # who bleeds is the grower
    if (
        (question.cue("past_cut") and not bled)
        or made
        or (known and done_on is not None and done_on < world.today)
    ):
        return "already-cut"
    if question.has("look", "broken") and not question.has("asks", "when"):
        return "broken"
    if not known and question.has("subject", "hedge"):
        return "hedge"
    if not known and (unknown or question.cue("other_plant")):
        return "not-covered"
    return "no-plant" if not known else "one" if len(known) == 1 else "several"


def _of_its_age(question: Request, known: list[Known]) -> tuple[str, ...]:
    """What the age told means for the rest of the plant, where a cut made or a broken branch is asked about."""
    age = question.slots.plant_age_years
    if age is None or len(known) != 1:
        return ()
    least = known[0][1][0].limits.min_age_years
    if least is None:
        return ()
    old = age >= least
    rest = "it is old enough to be cut as usual" if old else "cut nothing else yet"
    return (f"At {plural(age, 'year')} {rest}: that begins at {plural(least, 'year')}.",)


def _with_height(reply: Answer, case: WoodyCase, known: list[Known]) -> Answer:
    """The reply with what the height told of the plant means for how much comes off."""
    size = case.question.first("size", "plant")
    row = case.facts.table("pruning")["height"]
    group = known[0][1][0].group
    if size is None or group not in (*row["trees"], *row["shrubs"]):
        return reply
    feet = size.number * FEET_IN[size.unit]
    tall, tree = feet >= row["tall_ft"], group in row["trees"]
    said = row[("tree" if tall else "young") if tree else ("tall" if tall else "low")]
    height = f"{feet:.2g} ft" if case.world.units == "us" else f"{feet / FEET_IN['m']:.2g} m"
    return replace(
        reply,
        headline=f"{reply.headline} At {height} {said}",
        sources=tuple(dict.fromkeys((*reply.sources, *row["sources"]))),
    )


FEET_IN: Mapping[str, float] = {"mm": 1 / 304.8, "cm": 1 / 30.48, "in": 1 / 12, "ft": 1.0, "m": 1 / 0.3048}
"""Feet in one of each unit of length."""


def _one_name(case: WoodyCase, known: list[Known]) -> Answer:
    ref, kinds = known[0]
    kind = ref.kind or case.question.ask.kind or garden_kind(ref.id, case.world)
    chosen = match_kind(kinds, kind)
    if chosen is not None:
        return answer_one(case, chosen)
    if pair := cut_differently(kinds):
        return answer_kinds(case, pair)
    plant = usual_kind(kinds, case.spring, case.world)
    return answer_one(case, plant, assumed_kind(plant, kinds))


def _broken(case: WoodyCase, known: list[Known]) -> Answer:
    """Broken or dead wood comes off at any time; the rest of the plant by its own rule."""
    table = case.facts.told("pruning", case.manner)["general"]
    said = cautions(case.facts, "pruning", "blades", "ladders", "lines", "arborist")
    rest = [_one_name(case, [one]) for one in known]
    return Answer(
        question=case.question,
        verdict="yes",
        headline=f"Yes, take the broken or dead part off {case.day}: {clause(table['dead_wood']['text'])}.",
        details=(*(f"As for the rest of the plant: {sentence(reply.headline)}" for reply in rest),),
        steps=tuple(table["cut"]["steps"]),
        cautions=said.texts,
        sources=tuple(
            dict.fromkeys((*table["dead_wood"]["sources"], *table["cut"]["sources"], *said.sources))
        ),
    )


def _frozen(case: WoodyCase, known: list[Known]) -> Answer:
    """Tops or wood hurt by frost: wait, then cut to live wood; a plant in its season is cut now."""
    table = case.facts.told("pruning", case.manner)
    plant = usual_kind(known[0][1], case.spring, case.world) if known else None
    if plant is not None and decide(plant, case.spring, case.facts, asked_of(case, plant)).verdict != "no":
        reply = _RULES["one" if len(known) == 1 else "several"](case, known)
        scratch = table["general"]["scratch"]["text"]
        return replace(reply, details=(f"{scratch} Cut back to live wood first.", *reply.details))
    more = tuple(sentence(line) for line in plant.limits.not_when) if plant is not None else ()
    return aftermath_entry(case, table["aftermath"]["winter_brown"], more, plant)


_Rule = Callable[[WoodyCase, list[Known]], Answer]
_RULES: Mapping[Aspect, _Rule] = {
    "hedge": lambda case, _known: answer_hedge(case),
    "no-plant": lambda case, _known: no_plant(case),
    "one": _one_name,
    "several": answer_several,
}
_LOOKING_BACK: Mapping[Aspect, _Rule] = {"frozen": _frozen, "already-cut": aftermath, "broken": _broken}


_ANY_WOOD = (
    "You can take dead or broken wood off any plant; for the rest, ask a local nursery or extension office."
)


# -- not covered ----------------------------------------------------------------------------------
def not_covered(case: WoodyCase, names: list[str]) -> Answer:
    """Declined by name; a warning that is known of it (oak wilt, bleeding) is still given."""
    warnings = case.facts.told("pruning", case.manner).get("other", {})
    told = [warnings[name] for name in names if name in warnings]
    which = joined((f"the {name}" for name in names), "or")
    what = "pruning advice for" if case.question.topic == "pruning" else "advice on"
    woody = case.question.cue("other_plant") is not None  # else a vegetable, which has no wood to cut
    return Answer(
        question=case.question,
        verdict=None,
        headline=f"I have no {what} {which}, and I won't guess from another plant.",
        details=(*(str(entry["text"]) for entry in told), *((_ANY_WOOD,) if woody else ())),
        changes=(
            "Ask me about fruit trees, bushes, canes and vines, roses, hydrangeas, lilac, lavender and more.",
        ),
        cautions=cautions(case.facts, "pruning", "lines", "arborist").texts if woody else (),
        sources=tuple(dict.fromkeys(("common-practice", *(s for entry in told for s in entry["sources"])))),
    )


def _uncovered_line(unknown: list[CropRef]) -> str:
    return sentence(f"I have no pruning advice for {joined((r.typed or r.id for r in unknown), 'or')}")
