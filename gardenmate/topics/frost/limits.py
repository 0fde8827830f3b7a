"""A crop and frost, but no temperature: what it survives, and what a frost of the kind named would do."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Answer
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.records import replace
from gardenmate.topics.frost.decide import decide
from gardenmate.topics.frost.night import Night, night_at
from gardenmate.topics.frost.outlook import Outlook
from gardenmate.topics.frost.words import crop_night
from gardenmate.topics.shared.grammar import sentence, unique
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants

_WORDS = {
    "snow": "snow, which lies at about freezing,",
    "light": "a light frost",
    "hard": "a hard frost",
    "winter": "a winter freeze",
}


def answer_limits(question: Request, world: World, crops: Sequence[Named]) -> Answer:
    """Limits of the crops named, judged for the kind of frost named (light unless said)."""
    kind = question.cue("freeze") or "light"
    kind = kind if kind in _WORDS else "light"
    tonight, taken = _taken(kind, question, world)
    if kind == "light" and question.has("weather", "snow"):
        kind = "snow"
    found = decide(question, world, crops, tonight)
    full = crop_night(question, world, found)
    under = f" {found.cover.where}" if found.cover is not None else ""
    details = full.details
    if kind == "winter" and world.site is not None:
        coldest = frost_temp(min(world.site.normal_min_c), world.units)
        details = (
            *details,
            f"{sentence(world.site.where)} an ordinary midwinter night is {coldest}; the coldest night of most "
            "winters is far below that.",
        )
    table = world.facts.table("protection")["frosts"]
    unknown = f"; I have no figures for {' or '.join(found.unknown)}" if found.unknown else ""
    return replace(
        full,
        # ordinary nights say nothing of the coldest one, so there is no yes for a whole winter
        verdict=None if kind == "winter" and full.verdict == "yes" else full.verdict,
        headline=f"{_said(found.fate, kind, under, world)}{unknown}.",
        numbers=tuple(n for n in full.numbers if n.name.startswith(("hurt_", "killed_"))),
        details=details,
        changes=("Type tonight's low for an answer about tonight, such as 'peas 24?'.",),
        assumptions=unique((f"You gave no temperature, so I judged for {taken}.",), full.assumptions),
        sources=unique(full.sources, table["sources"]),
    )


def _taken(kind: str, question: Request, world: World) -> tuple[Night, str]:
    """The night a frost of this kind stands for, and how it is told."""
    taken_c = f_to_c(world.facts.table("protection")["frosts"][f"{kind}_f"])
    said = _WORDS[kind]
    if kind == "winter" and world.site is not None:
        taken_c = min(world.site.normal_min_c)
        said = f"the coldest normal night {world.site.where}"
    return night_at(taken_c, question, world), f"{said}, {frost_temp(taken_c, world.units)}"


def _frost_words(kind: str, world: World) -> str:
    if kind == "winter" and world.site is not None:
        return f"an ordinary midwinter night ({frost_temp(min(world.site.normal_min_c), world.units)})"
    return _WORDS[kind]


def _limits_text(o: Outlook, kind: str, under: str, world: World) -> str:
    p, frost = plants(o.named), _frost_words(kind, world)
    does = {
        "fine": f"{frost} does {p.them} no harm{under}",
        "cover": f"{'add a layer' if under else f'cover {p.them}'} for {frost}",
        "cool": f"{frost} does {p.them} no harm{under}, though cold nights set {p.them} back",
        "chilled": f"{p.they} {p.are} chilled long before {frost}",
        "tips": f"{frost} may mark {p.them}{under} if it is clear",
        "burnt": f"{frost} may mark {p.them}{under}",
        "lost": f"{frost} kills {p.them}{under or ' without cover'}",
    }[o.outcome]
    if o.exemption == "regrows":
        tops = f"{frost} takes the tops{under}" if under else f"{frost} takes uncovered tops"
        does = f"{tops}, but {p.they} {p.does('grow')} back from below ground"
    elif o.exemption == "flowers":
        does = f"{frost} may take open flowers{under}, though the plants live"
    return f"{_limits(o, world)}, so {does}"


def _limits(o: Outlook, world: World) -> str:
    hurt, killed = (frost_temp(t, world.units) for t in (o.limits.hurt_c, o.limits.killed_c))
    p = plants(o.named)
    return f"{p.word} {p.are} hurt below {hurt} and killed near {killed}"


def _said(found: Sequence[Outlook], kind: str, under: str, world: World) -> str:
    """Each crop's limits and what the frost does to it; where it harms none, that is said once."""
    if len(found) < 2 or any(o.outcome != "fine" or o.exemption for o in found):
        return sentence("; ".join(_limits_text(o, kind, under, world) for o in found))
    limits = (_limits(o, world) for o in found)
    none = "neither" if len(found) == 2 else "none of them"
    return sentence(f"{_frost_words(kind, world)} harms {none}{under}: {'; '.join(limits)}")
