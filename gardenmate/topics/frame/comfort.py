"""Warm enough inside, and how cold it may get in there, in words."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer, Table
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frame.box import Readings
from gardenmate.topics.frame.decide_comfort import Comfort, ComfortFinding, decide_comfort
from gardenmate.topics.frost.groups import group_limits
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import listed, sentence, unique
from gardenmate.topics.shared.protection import frost_span, frost_temp
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants, together
from gardenmate.topics.shared.wording import numbers

_LABELS = {
    "inside": "inside",
    "outside": "outside",
    "comfort_low": "grows on nights of",
    "stall_below": "stops growing below",
    "hurt_below": "hurt below",
}
_HERE = {"grows": "grows", "slow": "alive, slow", "idle": "alive, not growing", "hurt": "hurt"}
_TENDER_STALL_C, _TENDER_DIE_C = f_to_c(50.0), f_to_c(30.0)  # common practice, for tender crops as a group


def answer_comfort(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> Answer:
    """Are these crops warm enough at this temperature inside? yes = they grow, tight = alive, no = hurt."""
    found = decide_comfort(question, world, read, crops)
    care = cautions(world.facts, "cold-frame", *(() if found.verdict == "yes" else ("heater", "electricity")))
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=_headline(found, world),
        numbers=numbers(found.figures, _LABELS),
        details=_details(found, world),
        table=_table(found, world, here=True) if len(found.each) > 1 else None,
        changes=_changes(found, world),
        cautions=care.texts,
        assumptions=read.assumed,
        sources=unique(found.sources, care.sources),
        key_figures=found.key,
    )


def answer_floor(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """How cold may it get in there: from which nights each crop grows, where it stops, where it is hurt."""
    units = world.units
    care = cautions(world.facts, "cold-frame", "heater", "electricity")
    if not crops:
        stall, die = frost_temp(_TENDER_STALL_C, units), frost_temp(_TENDER_DIE_C, units)
        return Answer(
            question=question,
            verdict=None,
            headline=f"It depends on what is in it: tender crops stop growing below about {stall} and die near {die}; "
            "hardy salads only mind hard frost.",
            table=group_limits(world),
            changes=("Name the crops for their own figures.",),
            cautions=care.texts,
            sources=unique(("hill", "common-practice"), care.sources),
        )
    found = decide_comfort(question, world, Readings(None, None, None, night=False), crops)
    parts = [
        f"{p.word} {p.does('stop')} growing below about {frost_temp(one.stops_c, units)} and {p.are} hurt below "
        f"{frost_temp(one.limits.hurt_c, units)}"
        for one in found.each
        for p in (plants(one.named),)
    ]
    return Answer(
        question=question,
        verdict=None,
        headline=f"{sentence('; '.join(parts))}.",
        numbers=numbers(found.figures, _LABELS),
        table=_table(found, world, here=False) if len(found.each) > 1 else None,
        changes=("Type the temperature inside, or tonight's low, for a verdict.",),
        cautions=care.texts,
        sources=unique(found.sources, care.sources),
        key_figures=found.key,
    )


def _headline(found: ComfortFinding, world: World) -> str:
    units = world.units
    inside = frost_temp(found.inside_c or 0.0, units)
    best = frost_temp(max(one.grows_c for one in found.each), units)
    them = together(plants(one.named) for one in found.each)
    if found.worst == "yes":
        return f"Yes, {inside} is warm enough: {them.word} {them.does('grow')} on nights like that."
    if found.worst == "no":
        hurt = [one for one in found.each if one.state == "hurt"]
        p = together(plants(one.named) for one in hurt)
        rest = _how([one for one in found.each if one.state != "hurt"], alone=True)
        return (
            f"No, {inside} is too cold: {p.word} {p.are} being hurt{f'; {rest}' if rest else ''}. Nights of {best} or "
            f"more suit {them.them}."
        )
    if len(found.each) == 1:
        slow = "growing slowly" if found.each[0].state == "slow" else "not growing"
        return f"At {inside} {them.word} {them.are} unharmed, but {slow}. Nights of {best} or more suit {them.them}."
    return (
        f"At {inside} they are unharmed but growing little: {_how(found.each, alone=False)}. They do best with nights "
        f"of {best} or more."
    )


def _how(each: Sequence[Comfort], *, alone: bool) -> str:
    """How each grows: "tomatoes slowly, chillies not at all"; ``alone``: as a clause of its own."""
    parts = []
    for state, word in (("grows", "well"), ("slow", "slowly"), ("idle", "not at all")):
        those = [plants(one.named) for one in each if one.state == state]
        if those:
            p = together(those)
            parts.append(f"{p.word} {p.does('grow')} {word}" if alone else f"{p.word} {word}")
    return listed(parts) if alone else ", ".join(parts)


def _details(found: ComfortFinding, world: World) -> tuple[str, ...]:
    if found.held_c is None:
        return ()
    zero, inside = frost_temp(0.0, world.units), frost_temp(found.held_c, world.units)
    return (
        f"It stays {frost_span(found.held_c, world.units)} warmer than outside; with the same heat a night of {zero} "
        f"outside means about {inside} inside.",
    )


def _changes(found: ComfortFinding, world: World) -> tuple[str, ...]:
    changes = ["Read it at plant height at dawn, the coldest moment."]
    if found.times_heat is not None:
        goal = frost_temp(max(one.grows_c for one in found.each), world.units)
        changes.append(
            f"For {goal} inside on such a night it takes about {found.times_heat:.1f} times the heat."
        )
    if found.worst != "yes":
        changes.append(
            "A second layer of fleece or bubble film inside saves more than a bigger heater costs."
        )
    return tuple(changes)


def _table(found: ComfortFinding, world: World, *, here: bool) -> Table:
    units = world.units
    rows = tuple(
        (
            plants(one.named).word,
            frost_temp(one.grows_c, units),
            frost_temp(one.stops_c, units),
            frost_temp(one.limits.hurt_c, units),
            *((_HERE[one.state],) if here else ()),
        )
        for one in found.each
    )
    heads = ("crop", "grows on nights of", "stops growing below", "hurt below", *(("here",) if here else ()))
    return Table(heads, rows)
