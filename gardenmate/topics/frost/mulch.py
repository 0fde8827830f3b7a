"""A winter mulch over a crop in the ground: how deep, when it goes on and comes off, and shoots through it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Verdict
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import Quantity
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_date, show_length_cm
from gardenmate.core.world import World
from gardenmate.knowledge.crop_uses import WinterMulch
from gardenmate.records import dataclass
from gardenmate.topics.frost.night import Night
from gardenmate.topics.shared.cautions import cautions
from gardenmate.topics.shared.grammar import sentence
from gardenmate.topics.shared.heights import height_typed
from gardenmate.topics.shared.protection import frost_temp
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.subjects import plants
from gardenmate.topics.shared.wording import numbers

Wanted = Literal["depth", "on", "off", "shoots", "stay"]
_ON_F = 25.0  # design value: when half the years have had such a night the ground begins to freeze
_OFF_F = 20.0  # design value: the last such night is the last that hurts young shoots
_RARE = 0.1  # share of winters accepted, common practice
_MILD_C = -1.0  # design value: ordinary midwinter nights above this freeze no ground to speak of
_LABELS = {
    "mulch_least": "mulch, at least",
    "mulch_most": "mulch, at most",
    "mulch_on": "mulch on, about",
    "mulch_off": "mulch off, about",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class MulchFinding(Finding):
    """What is asked of the mulch of one crop. ``mild``: winters there freeze no ground, so it is not needed.
    ``night``: the low told, which shoots have to stand."""

    named: Named
    mulch: WinterMulch
    wanted: Wanted
    on: date | None
    off: date | None
    night: Night | None
    mild: bool


def mulched(question: Request, crops: Sequence[Named]) -> bool:
    """True when the winter mulch of the first crop named is what is asked about, not a night."""
    return bool(crops) and crops[0].crop.winter_mulch is not None and question.has("mulch")


def answer_mulch(question: Request, world: World, crops: Sequence[Named], tonight: Night | None) -> Answer:
    """How deep, when on, when off, or whether shoots that came through it live (yes = they do)."""
    return _worded(question, world, _decide(question, world, crops[0], tonight))


def _decide(question: Request, world: World, named: Named, tonight: Night | None) -> MulchFinding:
    mulch = named.crop.winter_mulch
    assert mulch is not None
    asked = {str(t.value) for t in question.all("mulch")}
    order: tuple[Wanted, ...] = ("shoots", "off", "on", "depth", "stay")
    wanted: Wanted = next((w for w in order if w in asked and (w != "shoots" or mulch.shoots)), "depth")
    on, off = (None, None) if world.site is None else _days(world.site, world.today)
    least, most = mulch.depth_cm
    figures = [
        Figure("mulch_least", Quantity(round(least, 1), "length")),
        Figure("mulch_most", Quantity(round(most, 1), "length")),
        *((Figure("mulch_on", Quantity(on, "date")),) if on else ()),
        *((Figure("mulch_off", Quantity(off, "date")),) if off else ()),
    ]
    return MulchFinding(
        verdict=_verdict(wanted, named, world.site, tonight),
        figures=tuple(figures),
        key={"on": ("mulch_on",), "off": ("mulch_off",)}.get(wanted, ()),
        sources=(*mulch.sources, *(world.site.source_ids if world.site else ())),
        named=named,
        mulch=mulch,
        wanted=wanted,
        on=on,
        off=off,
        night=tonight,
        mild=world.site is not None and min(world.site.normal_min_c) > _MILD_C,
    )


def _verdict(wanted: Wanted, named: Named, site: Site | None, tonight: Night | None) -> Verdict | None:
    """Shoots live, but for a night that kills; what stays in the ground does so without a mulch where such a night is
    rare, else under one."""
    if wanted == "shoots" and tonight is not None and tonight.low_c < named.crop.frost.killed_below_c:
        return "no"
    if wanted != "stay":
        return "yes" if wanted == "shoots" else None
    rare = site is not None and site.freeze_at(named.crop.frost.killed_below_c).share <= _RARE
    return "yes" if rare else "tight"


def _days(site: Site, today: date) -> tuple[date | None, date | None]:
    """When half the years have had the first night that freezes the ground, and the last that hurts young shoots."""
    first, last = site.freeze_at(f_to_c(_ON_F)).first_autumn, site.freeze_at(f_to_c(_OFF_F)).last_spring
    anchor = site.anchor(today)
    return (first.day(anchor) if first else None), (last.day(anchor) if last else None)


def _worded(question: Request, world: World, found: MulchFinding) -> Answer:
    care = cautions(world.facts, "frost", "forecast")
    return Answer(
        question=question,
        verdict=found.verdict,
        headline=_headline(found, world),
        numbers=numbers(found.figures, _LABELS),
        details=(
            *(() if found.mild and found.wanted == "depth" else (found.mulch.how,)),
            *((found.mulch.shoots,) if found.mulch.shoots and found.wanted != "shoots" else ()),
            *_against_shoots(question, world, found),
        ),
        steps=(found.mulch.off,) if found.wanted == "shoots" else (),
        cautions=care.texts,
        assumptions=("A bed in the open ground.",),
        sources=(*found.sources, *care.sources),
        key_figures=found.key,
    )


def _against_shoots(question: Request, world: World, found: MulchFinding) -> tuple[str, ...]:
    """The depth beside the height of what grows through it, where that is typed."""
    size = height_typed(question)
    if size is None:
        return ()
    tall, most = (show_length_cm(d, world.units) for d in (size.number, found.mulch.depth_cm[1]))
    if size.number > found.mulch.depth_cm[1]:
        return (f"Shoots {tall} tall stand out of {most} of it: lay it between them, and do not bury them.",)
    return (f"Shoots {tall} tall are covered by {most} of it, and find their way through loose straw.",)


def _headline(found: MulchFinding, world: World) -> str:
    units, today, p = world.units, world.today, plants(found.named)
    least, most = (show_length_cm(d, units) for d in found.mulch.depth_cm)
    depth = f"{least.split()[0]} to {most}"
    frost = found.named.crop.frost
    if found.wanted == "shoots":
        hurt, killed = frost_temp(frost.damage_below_c, units), frost_temp(frost.killed_below_c, units)
        tips = f"shoots of {p.word} may yellow at the tips below {hurt}"
        at = "" if found.night is None else f" at {found.night.low_text(units)}"
        if found.verdict == "no":
            return (
                f"Probably lost{at}: shoots of {p.word} are hurt below {hurt}, cloves live to about {killed}."
            )
        return f"No harm done{at}: {tips}, but the cloves live to about {killed}."
    if found.wanted == "off":
        when = f", {world.site.where} about {show_date(found.off, today)}" if found.off and world.site else ""
        return f"Pull the mulch back from {p.word} {found.mulch.off_when}{when}."
    if found.wanted == "stay":
        return _stays(found, depth)
    if found.mild:
        return (
            f"You don't need a winter mulch over {p.word} there: the ground hardly freezes, and a deep wet mulch rots "
            f"{p.them}. A thin layer against weeds is enough."
        )
    when = f" ({world.site.where} about {show_date(found.on, today)})" if found.on and world.site else ""
    if found.wanted == "on":
        return f"Mulch {p.word} {found.mulch.on_when}{when}, {depth} deep."
    off = f"{sentence(f'pull it back {found.mulch.off_when}')}."
    return f"{sentence(f'mulch {p.word} {depth} deep with {found.mulch.what}, {found.mulch.on_when}{when}.')} {off}"


def _stays(found: MulchFinding, depth: str) -> str:
    """Whether it can stay in the ground over winter, and under what."""
    p = plants(found.named)
    cover = f"{depth} of {found.mulch.what}"
    bare = f" Without it, {found.mulch.bare}." if found.mulch.bare else ""
    if found.verdict == "yes":
        return (
            f"Yes, {p.word} can stay in the ground there all winter; {cover} lets you dig in hard frost too."
        )
    return f"Yes, but only under {cover}, put on {found.mulch.on_when}: {p.word} {p.does('keep')} until spring.{bare}"
