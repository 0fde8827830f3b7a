"""Several plants at once, and one name that stands for kinds cut differently: each by its own rule, in one table."""

from __future__ import annotations

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import CropRef
from gardenmate.knowledge.woody import Woody
from gardenmate.records import replace
from gardenmate.topics.pruning.decide import Pruning, asked_of, common, decide
from gardenmate.topics.pruning.kinds import assumed_kind, match_kind, usual_kind
from gardenmate.topics.pruning.numbers import window_text
from gardenmate.topics.pruning.one_plant import KEY_FIGURES, answer_one
from gardenmate.topics.pruning.words import bare_in_the_wet, coming_text, reason, until, when_text
from gardenmate.topics.shared.woody_case import WoodyCase, called
from gardenmate.topics.shared.woody_text import clause, joined, sentence

WORDS = {"yes": "yes", "tight": "with care", "no": "not now", None: "-"}
Known = tuple[CropRef, tuple[Woody, ...]]


def answer_kinds(case: WoodyCase, kinds: tuple[Woody, ...]) -> Answer:
    """Two kinds cut differently and none said: both, in one table, and one short question."""
    found = [decide(w, case.spring, case.facts, asked_of(case, w)) for w in kinds]
    base = answer_one(case, kinds[0])
    return replace(
        base,
        verdict=common(f.verdict for f in found),
        headline=_kinds_headline(case, found),
        numbers=tuple(n._replace(crop=f.plant.id) for f in found for n in answer_one(case, f.plant).numbers),
        details=tuple(sentence(f"{f.plant.name}: {f.plant.fruit.cost}") for f in found),
        steps=(),
        table=_table(found, case, "By kind"),
        asks=tuple(f"It is {w.name}" for w in kinds),
        changes=(f"Tell me which it is: {joined((w.name for w in kinds), 'or')}.", *base.changes),
        sources=tuple(dict.fromkeys(s for w in kinds for s in w.source_ids)),
    )


def _kinds_headline(case: WoodyCase, found: list[Pruning]) -> str:
    names = [called(f.plant, (), assumed=False) for f in found]
    pairs = tuple(zip(names, found, strict=True))
    if case.asks_when:
        return sentence("Prune " + "; ".join(f"{n.many} {when_text(f, case)}" for n, f in pairs))
    if case.asks_how:
        return sentence("; ".join(f"{n.one}: {clause(f.plant.amount.text)}" for n, f in pairs))
    if common(f.verdict for f in found) == "yes":
        opening = case.in_time if case.too_late else "Yes"
        spans = "; ".join(f"{n.one}: {until(f, case)}" for n, f in pairs)
        return sentence(f"{opening}, whichever kind it is, prune it {case.day}. {sentence(spans)}")
    if all(f.why == "bare-wet" for f in found):
        many = called(found[0].plant, case.question.crops, assumed=True).many
        times = ", and ".join(f"{n.many} {coming_text(f, case)}" for n, f in pairs)
        return sentence(f"{bare_in_the_wet(found[0].plant, case, many)}. Prune {times}")
    why = " ".join(sentence(f"{n.one}: {reason(f, case, n)}") for n, f in pairs)
    both = common(f.verdict for f in found) == "no"
    return sentence(f"{f'Not {case.day}, whichever kind it is' if both else 'It depends on the kind'}. {why}")


def answer_several(case: WoodyCase, known: list[Known]) -> Answer:
    """Each by its own rule; the verdict is the one all share."""
    plants = [
        match_kind(kinds, ref.kind) or usual_kind(kinds, case.spring, case.world) for ref, kinds in known
    ]
    found = [decide(w, case.spring, case.facts, asked_of(case, w)) for w in plants]
    plain = replace(
        case,
        question=replace(case.question, cues={k: v for k, v in case.question.cues.items() if k != "alike"}),
    )
    singles = [answer_one(plain, w) for w in plants]
    apart = len({(w.group, w.fruit.wood) for w in plants}) > 1
    alike = apart and (case.question.cue("alike") is not None or case.asks("like", "same"))
    verdict = "no" if alike else common(f.verdict for f in found)
    details = [sentence(f"{w.name} fruits on {w.fruit.on}") for w in plants if w.fruit.on]
    if len({w.fruit.wood for w in plants}) > 1:
        details.insert(0, "They are not cut alike: each is judged by what it fruits on.")
    return Answer(
        question=case.question,
        verdict=verdict,
        headline=_several_headline(case, found, alike),
        numbers=tuple(n for s in singles for n in s.numbers),
        key_figures=KEY_FIGURES,
        details=tuple(details),
        table=_table(found, case, "Plant by plant"),
        changes=("Ask about one of them for its method, step by step.",),
        cautions=tuple(dict.fromkeys(c for s in singles for c in s.cautions)),
        assumptions=tuple(
            dict.fromkeys((*_kinds_assumed(known, plants), *(x for s in singles for x in s.assumptions)))
        ),
        sources=tuple(dict.fromkeys(x for s in singles for x in s.sources)),
        working=tuple(dict.fromkeys(line for s in singles for line in s.working)),
    )


def _kinds_assumed(known: list[Known], plants: list[Woody]) -> list[str]:
    return [
        line
        for (ref, kinds), plant in zip(known, plants, strict=True)
        if len(kinds) > 1 and not ref.kind
        for line in assumed_kind(plant, kinds)
    ]


def _several_headline(case: WoodyCase, found: list[Pruning], alike: bool) -> str:
    names = joined(f.plant.name for f in found)
    if alike:
        return sentence(f"No, {names} are not pruned alike: see each below")
    if case.asks_when:
        many = [called(f.plant, case.question.crops, assumed=False).many for f in found]
        return sentence(
            "Prune " + "; ".join(f"{n} {when_text(f, case)}" for n, f in zip(many, found, strict=True))
        )
    verdict = common(f.verdict for f in found)
    if verdict is not None:
        late = f"{case.in_time} for any" if case.too_late else f"Yes, prune {case.day}"
        opening = {"yes": late, "tight": "You can, at a cost", "no": f"Not {case.day}"}[verdict]
        return sentence(f"{opening}: {names}")
    say = {"yes": "yes for", "tight": "with care for", "no": f"not {case.day} for"}
    parts = [
        f"{say[v]} {joined(f.plant.name for f in found if f.verdict == v)}"
        for v in ("yes", "tight", "no")
        if any(f.verdict == v for f in found)
    ]
    return sentence("; ".join(parts))


def _table(found: list[Pruning], case: WoodyCase, title: str) -> Table:
    rows = tuple((f.plant.name, WORDS[f.verdict], window_text(f, case.world), _when(f)) for f in found)
    return Table(("plant", "now?", "dates", "when"), rows, title)


def _when(found: Pruning) -> str:
    return found.cut.season.say if found.cut is not None else found.plant.seasons[0].say
