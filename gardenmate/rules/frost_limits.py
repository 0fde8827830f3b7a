"""A crop and frost, but no temperature: what it stands, and what a frost of the kind named would do."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.answer import Answer, Number, Table, Verdict
from gardenmate.climate.site import Site
from gardenmate.question import Question
from gardenmate.rules.cautions import cautions
from gardenmate.rules.frost_words import plants
from gardenmate.rules.protection import Limits, cover_for, frost_temp, limits, note_in_units
from gardenmate.rules.raising import Named, sentence, temp_numbers, unique
from gardenmate.units import f_to_c
from gardenmate.world import World

_WORDS = {"light": "a light frost", "hard": "a hard frost", "winter": "a winter freeze"}


def answer_limits(question: Question, world: World, crops: Sequence[Named]) -> Answer:
    """Limits of the crops named, judged for the kind of frost named (light unless said)."""
    table = world.facts.table("protection")["frosts"]
    kind = question.cue("freeze") or "light"
    kind = kind if kind in _WORDS else "light"
    taken_c = f_to_c(table[f"{kind}_f"])
    site = world.site
    if kind == "winter" and site is not None:
        taken_c = min(site.normal_min_c)
    cover = cover_for(world.facts, question.cue("cover"))
    gain_c = cover.plan_c if cover else 0.0
    bounds = [(n, limits(world.facts, n.crop, question.cue("stage"), world.units)) for n in crops]
    judged = [(n, b, _judge(b, taken_c + gain_c)) for n, b in bounds]
    verdicts = {v for _, _, v in judged}
    care = cautions(world.facts, "frost")
    one = len(judged) == 1
    numbers: list[Number] = []
    for named, bound, _ in judged:
        crop = None if one else named.id
        numbers += temp_numbers("hurt_below", "hurt below", bound.hurt_c, crop)
        numbers += temp_numbers("killed_below", "killed near", bound.killed_c, crop)
    details = [note_in_units(b.note, world.units) for _, b, _ in judged if b.note and len(judged) < 3]
    if site is not None and kind == "winter":
        details.append(_winter_here(site, world))
    at = frost_temp(taken_c, world.units)
    where = f"the coldest normal night at {site.label}" if kind == "winter" and site else _WORDS[kind]
    return Answer(
        question=question,
        verdict=verdicts.pop() if len(verdicts) == 1 else None,
        headline=_headline(judged, kind, world),
        numbers=tuple(numbers),
        details=tuple(details),
        table=None if one else _table(judged, world),
        changes=("Type tonight's low for an answer with the margin, such as 'peas 24?'.",),
        cautions=care.texts,
        assumptions=unique(
            (f"No temperature was given: judged for {where}, {at}.",),
            (b.assumed for _, b, _ in judged if b.assumed),
            () if question.cue("stage") else ("Hardened, growing plants.",),
        ),
        sources=unique(
            *(b.sources for _, b, _ in judged), table["sources"], cover.sources if cover else (), care.sources
        ),
    )


def _judge(bound: Limits, taken_c: float) -> Verdict:
    if taken_c >= bound.hurt_c:
        return "yes"
    return "tight" if taken_c >= bound.killed_c else "no"


def _winter_here(site: Site, world: World) -> str:
    coldest = frost_temp(min(site.normal_min_c), world.units)
    return (
        f"At {site.label} an ordinary midwinter night is {coldest}; the coldest night of most winters is far "
        "below that."
    )


def _headline(judged: Sequence[tuple[Named, Limits, Verdict]], kind: str, world: World) -> str:
    units = world.units
    parts: list[str] = []
    for named, bound, verdict in judged:
        p = plants(named)
        hurt, killed = frost_temp(bound.hurt_c, units), frost_temp(bound.killed_c, units)
        if verdict == "yes":
            parts.append(f"{p.word} {p.does('stand')} {_WORDS[kind]} (hurt below {hurt}, lost near {killed})")
        elif verdict == "tight":
            parts.append(f"{p.word} may be marked by {_WORDS[kind]} (hurt below {hurt}, lost near {killed})")
        else:
            parts.append(f"{p.word} will not live through {_WORDS[kind]} (lost near {killed})")
    return f"{sentence('; '.join(parts))}."


def _table(judged: Sequence[tuple[Named, Limits, Verdict]], world: World) -> Table:
    words = {"yes": "stands it", "tight": "may be marked", "no": "lost"}
    return Table(
        ("crop", "hurt below", "killed near", "that frost"),
        tuple(
            (plants(n).word, frost_temp(b.hurt_c, world.units), frost_temp(b.killed_c, world.units), words[v])
            for n, b, v in judged
        ),
    )
