"""Pruning: is it still dormant, may I still cut, how hard - for the plants of knowledge/woody.

Verdict: yes = prune now; tight = you can, at the cost named; no = not now (wait until, or do this instead).
A plant is judged by its own file only, never by another plant's rule.
"""

from __future__ import annotations

from dataclasses import replace

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.world import World
from gardenmate.knowledge.woody import Woody, woody_kinds
from gardenmate.topics.pruning.advice import Advice, advise, common
from gardenmate.topics.pruning.aftermath import aftermath, aftermath_entry
from gardenmate.topics.pruning.general import WORDS, no_plant
from gardenmate.topics.pruning.kinds import assumed_kind, cut_differently, garden_kind, match_kind, usual_kind
from gardenmate.topics.pruning.numbers import window_text
from gardenmate.topics.pruning.one_plant import answer_one
from gardenmate.topics.pruning.perennial_care import care_answer
from gardenmate.topics.pruning.words import asks_when, short_reply, when_text
from gardenmate.topics.shared.asked_day import asked_day
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.woody_phase import Spring, spring_at
from gardenmate.topics.shared.woody_text import in_south, in_units, joined, sentence

_ALIKE = ("like", "same")


def answer(question: Request, world: World) -> Answer:
    """The reply to a pruning question; see the module's head for what the verdict means."""
    cared = care_answer(question, world)
    if cared is not None:
        return cared
    asked = [(ref, woody_kinds(world.facts, ref.id)) for ref in question.crops]
    known = [(ref, kinds) for ref, kinds in asked if kinds]
    unknown = [ref for ref, kinds in asked if not kinds]
    if question.cue("freeze_hurt") or (question.cue("asks") == "aftermath" and not asked):
        return _frozen(question, world, known)
    done_on = question.ask.date
    if question.cue("past_cut") or (known and done_on is not None and done_on < world.today):
        return aftermath(question, world, known)
    other = question.cue("other_plant")
    if not known and (unknown or other):
        return not_covered(question, world, [r.typed or r.id for r in unknown] or [other or ""])
    then = asked_day(question, world)
    reply = _reply(question, then.world, known, then.word)
    details = (*reply.details, _uncovered_line(unknown)) if unknown else reply.details
    return replace(
        reply,
        headline=in_units(reply.headline, world.units),
        details=tuple(in_units(line, world.units) for line in details),
        assumptions=(*then.assumed, *reply.assumptions),
    )


def _reply(
    question: Request, world: World, known: list[tuple[CropRef, tuple[Woody, ...]]], day: str
) -> Answer:
    if not known:
        return no_plant(question, world, day)
    spring = spring_at(world)
    if spring.southern:
        known = [(ref, tuple(in_south(w) for w in kinds)) for ref, kinds in known]
    if len(known) == 1:
        return _one_name(question, world, spring, *known[0], day)
    return _several(question, world, spring, known, day)


# -- one name -------------------------------------------------------------------------------------
def _one_name(
    question: Request, world: World, spring: Spring, ref: CropRef, kinds: tuple[Woody, ...], day: str
) -> Answer:
    kind = ref.kind or question.ask.kind or garden_kind(ref.id, world)
    chosen = match_kind(kinds, kind)
    if chosen is not None:
        return answer_one(question, world, spring, chosen, (), day)
    if pair := cut_differently(kinds):
        return _kinds_table(question, world, spring, pair, day)
    plant = usual_kind(kinds, spring, world)
    return answer_one(question, world, spring, plant, assumed_kind(plant, kinds), day)


def _kinds_table(
    question: Request, world: World, spring: Spring, kinds: tuple[Woody, ...], day: str
) -> Answer:
    """Two kinds cut differently and none said: both, in one table, and one short question."""
    found = [advise(w, spring, world.facts, world.today, question.cue("bud_stage")) for w in kinds]
    verdict = common([a.verdict for a in found])
    names = joined((w.name for w in kinds), "or")
    opening = {
        "yes": f"Yes, either way: {short_reply(found[0], world)}",
        "tight": "You can, at a cost, whichever kind it is",
        "no": f"Not {day}, whichever kind it is",
        None: "It depends on the kind",
    }[verdict]
    if asks_when(question):
        say = "; ".join(f"{a.plant.name}: {when_text(a, world)}" for a in found)
    else:
        say = ": ".join((opening, _why_kinds(found, world))) if verdict != "yes" else opening
    base = answer_one(question, world, spring, kinds[0], (), day)
    return replace(
        base,
        verdict=verdict,
        headline=sentence(say),
        numbers=tuple(
            n._replace(crop=a.plant.id)
            for a in found
            for n in answer_one(question, world, spring, a.plant, ()).numbers
        ),
        details=tuple(sentence(f"{a.plant.name}: {a.plant.fruit.cost}") for a in found),
        steps=(),
        table=_table(found, world, "By kind"),
        asks=tuple(f"It is {w.name}" for w in kinds),
        changes=(f"Tell me which it is: {names}.", *base.changes),
        sources=tuple(dict.fromkeys(s for w in kinds for s in w.source_ids)),
        effects=base.effects,
    )


def _why_kinds(found: list[Advice], world: World) -> str:
    return "; ".join(f"{a.plant.name}: {short_reply(a, world)}" for a in found)


# -- several plants -------------------------------------------------------------------------------
def _several(
    question: Request,
    world: World,
    spring: Spring,
    known: list[tuple[CropRef, tuple[Woody, ...]]],
    day: str,
) -> Answer:
    plants = [match_kind(kinds, ref.kind) or usual_kind(kinds, spring, world) for ref, kinds in known]
    found = [advise(w, spring, world.facts, world.today, question.cue("bud_stage")) for w in plants]
    plain = replace(question, cues={k: v for k, v in question.cues.items() if k != "alike"})
    singles = [answer_one(plain, world, spring, w, (), day) for w in plants]
    verdicts = [a.verdict for a in singles if a.verdict is not None]
    verdict = common(verdicts) if len(verdicts) == len(singles) else None
    unlike = len({(w.group, w.fruit.wood) for w in plants}) > 1
    alike_asked = unlike and (question.cue("alike") is not None or question.cue("asks") in _ALIKE)
    if alike_asked:
        verdict = "no"
    details = [sentence(f"{w.name} fruits on {w.fruit.on}") for w in plants if w.fruit.on]
    if len({w.fruit.wood for w in plants}) > 1:
        details.insert(0, "They are not cut alike: each is judged by what it fruits on.")
    return Answer(
        question=question,
        verdict=verdict,
        headline=_several_headline(alike_asked, singles, plants, verdict, day),
        numbers=tuple(n for s in singles for n in s.numbers),
        details=tuple(in_units(d, world.units) for d in details),
        table=_table(found, world, "Plant by plant"),
        changes=("Ask about one of them for its method, step by step.",),
        cautions=tuple(dict.fromkeys(c for s in singles for c in s.cautions)),
        assumptions=tuple(
            dict.fromkeys((*_kinds_assumed(known, plants), *(x for s in singles for x in s.assumptions)))
        ),
        sources=tuple(dict.fromkeys(x for s in singles for x in s.sources)),
        working=tuple(dict.fromkeys(line for s in singles for line in s.working)),
    )


def _kinds_assumed(known: list[tuple[CropRef, tuple[Woody, ...]]], plants: list[Woody]) -> list[str]:
    pairs = zip(known, plants, strict=True)
    return [
        line
        for (ref, kinds), plant in pairs
        if len(kinds) > 1 and not ref.kind
        for line in assumed_kind(plant, kinds)
    ]


def _several_headline(
    alike_asked: bool, singles: list[Answer], plants: list[Woody], verdict: str | None, day: str
) -> str:
    names = joined(w.name for w in plants)
    if alike_asked:
        return sentence(f"No, {names} are not pruned alike: see each below")
    if verdict is not None:
        opening = {"yes": f"Yes, prune {day}", "tight": "You can, at a cost", "no": f"Not {day}"}[verdict]
        return sentence(f"{opening}: {names}")
    words = {"yes": "yes for", "tight": "with care for", "no": f"not {day} for"}
    loose = joined(w.name for w, s in zip(plants, singles, strict=True) if s.verdict is None)
    parts = [
        f"{words[v]} {joined(w.name for w, s in zip(plants, singles, strict=True) if s.verdict == v)}"
        for v in ("yes", "tight", "no")
        if any(s.verdict == v for s in singles)
    ]
    if loose:
        parts.append(f"{loose}: it depends, see below")
    return sentence("; ".join(parts))


def _table(found: list[Advice], world: World, title: str) -> Table:
    rows = tuple(
        (
            a.plant.name,
            WORDS[a.verdict],
            window_text(a, world),
            in_units(_when(a), world.units),
        )
        for a in found
    )
    return Table(("plant", "now?", "dates", "when"), rows, title)


def _when(advice: Advice) -> str:
    cut = advice.cut
    return cut.season.window if cut is not None else advice.plant.seasons[0].window


def _frozen(question: Request, world: World, known: list[tuple[CropRef, tuple[Woody, ...]]]) -> Answer:
    """Tops or wood hurt by frost: wait, then cut to live wood; a plant in its season is cut now."""
    entry = world.facts.table("pruning")["aftermath"]["winter_brown"]
    spring = spring_at(world)
    plant = usual_kind(known[0][1], spring, world) if known else None
    if (
        plant is not None
        and advise(plant, spring, world.facts, world.today, question.cue("bud_stage")).verdict != "no"
    ):
        reply = _reply(question, world, known, "now")
        scratch = world.facts.table("pruning")["general"]["scratch"]["text"]
        return replace(reply, details=(f"{scratch} Cut back to live wood first.", *reply.details))
    more = tuple(sentence(line) for line in plant.limits.not_when) if plant is not None else ()
    return aftermath_entry(question, world, entry, more, plant)


# -- not covered ----------------------------------------------------------------------------------
def not_covered(question: Request, world: World, names: list[str]) -> Answer:
    """Declined by name; a warning that is known of it (oak wilt, bleeding) is still given."""
    warnings = world.facts.table("pruning").get("other", {})
    told = [warnings[name] for name in names if name in warnings]
    return Answer(
        question=question,
        verdict=None,
        headline=f"I have no pruning rule for {joined(names, 'or')}, and I do not judge one plant by"
        " another's rule.",
        details=(
            *(str(entry["text"]) for entry in told),
            "Dead or broken wood may come off any plant; for the rest ask a local extension office.",
        ),
        changes=(
            "I know fruit trees, bushes, canes and vines, roses, hydrangeas, lilac, lavender and more.",
        ),
        cautions=cautions(world.facts, "pruning", "lines", "arborist").texts,
        sources=tuple(dict.fromkeys(("common-practice", *(s for entry in told for s in entry["sources"])))),
    )


def _uncovered_line(unknown: list[CropRef]) -> str:
    return sentence(f"I have no pruning rule for {joined((r.typed or r.id for r in unknown), 'or')}")
