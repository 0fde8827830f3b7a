"""The decision on named crops and one or several nights: what is asked, how each comes through, what governs."""

from __future__ import annotations

from collections.abc import Sequence
from types import MappingProxyType
from typing import Literal

from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import Quantity, difference, temperature
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.records import dataclass, replace
from gardenmate.science.frost_night import forecast_product
from gardenmate.topics.frost.night import Night, hours_of_frost, night_at, nights, under_cloud
from gardenmate.topics.frost.outlook import Outcome, Outlook, outlook
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import Cover, cover_for, cover_of, frost_asks
from gardenmate.topics.shared.raising import Named
from gardenmate.topics.shared.verdicts import of_all

Asked = Literal["lives", "cover", "bring-in", "pick"]
_OTHERWISE = ("aftermath", "others")  # questions with a verdict of their own
# Covers that are laid for a night: named beside "should I cover", they are not on yet, unless said to be.
_LAID = ("fleece", "heavy-fleece", "blanket", "plastic", "cloche")
_NEED: dict[Outcome, Verdict] = {
    "fine": "no",
    "cool": "tight",
    "tips": "tight",
    "burnt": "tight",
    "cover": "yes",
    "chilled": "yes",
    "lost": "yes",
}
_UNPICKED: tuple[Outcome, ...] = ("fine", "cool", "tips")
_RANK: dict[Verdict, int] = {"no": 0, "tight": 1, "yes": 2}
_TURNED: dict[Verdict, Verdict] = {"yes": "no", "tight": "tight", "no": "yes"}


@dataclass(frozen=True, slots=True, kw_only=True)
class CropNight(Finding):
    """Crops on a night. ``night`` is the coldest of ``every`` one typed; it decides. ``asked`` is what the verdict
    answers. ``fate`` is how each comes through, ``by_night`` how they fare on every night; ``kinder``
    what it would be under cloud, for those it would help, as nothing was said of the sky. ``unknown`` names plants no
    figures are kept for, ``tall`` that their height was typed, ``planted`` that they stand in the ground, so that none
    can be carried in. ``doubtful``: the verdict rests on the colder reading of a figure without a unit.
    """

    asked: Asked
    night: Night
    every: tuple[Night, ...]
    fate: tuple[Outlook, ...]
    cover: Cover | None
    kinder: tuple[Outlook, ...] = ()
    by_night: tuple[tuple[Outlook, ...], ...] = ()
    unknown: tuple[str, ...] = ()
    hours: float | None = None
    doubtful: bool = False
    tall: bool = False
    planted: bool = False


def asked_of(question: Request) -> Asked:
    """What the verdict is to answer: whether they live, or whether something has to be done."""
    if frost_asks(question) == "pick" or question.cue("pick_or_cover") is not None:
        return "pick"
    need = "cover" if question.has("needs", "cover") else question.cue("needed")
    if frost_asks(question) in _OTHERWISE or need not in ("cover", "bring-in"):
        return "lives"
    return "cover" if need == "cover" else "bring-in"


def as_it_is(question: Request) -> Request:
    """The question without a cover that is only thought of: "should I cover them with fleece?", "pick or cover?"."""
    asked = asked_of(question)
    laid = asked == "cover" and question.cue("cover") in _LAID and not question.has("cover", "on-already")
    if not laid and question.cue("pick_or_cover") is None:
        return question
    cues = {name: value for name, value in question.cues.items() if name not in ("cover", "cover_weight")}
    typed = tuple(t for t in question.typed if t.kind != "cover-by-weight")
    return replace(question, cues=MappingProxyType(cues), typed=typed)


def decide(
    question: Request, world: World, crops: Sequence[Named], tonight: Night | None = None
) -> CropNight:
    """The crops named on the coldest night typed, or on ``tonight`` when one is taken instead."""
    asked = asked_of(question)
    bare = as_it_is(question)
    every = nights(question, world) if tonight is None else (tonight,)
    coldest = min(every, key=lambda n: n.low_c)
    fate = tuple(outlook(named, coldest, bare, world) for named in crops)
    verdict = _verdict(asked, fate)
    doubtful = False
    if coldest.doubt_c is not None:
        colder = night_at(coldest.doubt_c, question, world)
        worse = tuple(outlook(named, colder, bare, world) for named in crops)
        if _worst(worse) != _worst(fate):
            doubtful, fate, verdict = True, worse, _verdict(asked, worse)
            coldest = replace(colder, typed=coldest.typed, on=coldest.on, doubt_c=coldest.doubt_c)
    cover = cover_for(world.facts, cover_of(bare))
    kinder = _kinder(fate, coldest, bare, world)
    table = world.facts.table("protection")
    product = forecast_product(coldest.low_c)
    return CropNight(
        verdict=verdict,
        figures=tuple(_figures(fate, coldest, product)),
        key=_KEY[fate[0].basis] if len(fate) == 1 else (),
        sources=unique(
            *(o.limits.sources for o in fate),
            coldest.sources,
            cover.sources if cover else (),
            *(o.remedy.sources for o in fate if o.remedy),
            table["products"]["sources"] if product else (),
            table["help"]["sources"],
            *(_exemption_sources(o, world) for o in fate),
        ),
        asked=asked,
        night=coldest,
        every=every,
        fate=fate,
        cover=cover,
        kinder=kinder,
        by_night=tuple(tuple(outlook(named, n, bare, world) for named in crops) for n in every),
        unknown=unknown_of(question),
        hours=hours_of_frost(question, world, coldest),
        doubtful=doubtful,
        tall=question.has("size"),
        planted=question.has("stand", "planted"),
    )


def unknown_of(question: Request) -> tuple[str, ...]:
    """Plants named that nothing is known of."""
    one = question.cue("unknown")
    return unique((one,) if one else (), (str(t.value) for t in question.all("unknown-plant")))


_KEY = {
    "leaf": ("leaf_low_clear", "leaf_low_cloudy", "hurt_below", "killed_below"),
    "air": ("hurt_below", "killed_below", "margin"),
}


def _verdict(asked: Asked, fate: Sequence[Outlook]) -> Verdict | None:
    """One verdict when it holds for every crop, else None: the headline then says which."""
    if asked == "lives":
        return of_all(o.verdict for o in fate)
    if asked == "pick":
        return "yes" if any(o.outcome not in _UNPICKED for o in fate) else "no"
    found = {_NEED[o.outcome] for o in fate}
    return found.pop() if len(found) == 1 else None


def turned(verdict: Verdict | None) -> Verdict | None:
    """Whether something has to be done, where only how they live is judged."""
    return None if verdict is None else _TURNED[verdict]


def _worst(fate: Sequence[Outlook]) -> int:
    return min(_RANK[o.verdict] for o in fate)


def _kinder(fate: Sequence[Outlook], tonight: Night, question: Request, world: World) -> tuple[Outlook, ...]:
    """How those fare under cloud or in wind whom that would help, as nothing was said of the sky."""
    if tonight.sky != "unknown":
        return ()
    seen = (outlook(o.named, under_cloud(tonight), question, world) for o in fate)
    return tuple(k for k, o in zip(seen, fate, strict=True) if _RANK[k.verdict] > _RANK[o.verdict])


def _figures(fate: Sequence[Outlook], tonight: Night, product: str | None) -> list[Figure]:
    """The lows, and each crop's limits and margin on the basis it is judged by."""
    at_leaf = any(o.basis == "leaf" for o in fate)
    clear = tonight.sky != "cloudy"
    found = [
        Figure("low", temperature(tonight.low_c)),
        Figure("leaf_low_clear", temperature(tonight.leaf_clear_c), shown=at_leaf and clear),
        Figure("leaf_low_cloudy", temperature(tonight.leaf_cloudy_c), shown=at_leaf and not clear),
    ]
    if product:
        found.append(Figure("frost_product", Quantity(product, "word"), shown=False))
    for o in fate:
        crop = None if len(fate) == 1 else o.crop_id
        short = round(o.margin_c, 1) < 0.0
        found += [
            Figure("hurt_below", temperature(o.limits.hurt_c), crop),
            Figure("killed_below", temperature(o.limits.killed_c), crop),
            Figure("margin", difference(o.margin_c), crop, shown=not short),
            *((Figure("too_cold_by", difference(-o.margin_c), crop),) if short else ()),
            Figure("outcome", Quantity(o.outcome, "word"), crop, shown=False),
        ]
    return found


def _exemption_sources(o: Outlook, world: World) -> tuple[str, ...]:
    row = world.facts.group_of(o.named.crop, "aftermath")
    if o.exemption == "snow":
        return tuple(world.facts.table("protection")["snow"]["sources"].of("under_f"))
    if o.exemption == "regrows" and row is not None:
        return tuple(row["sources"].of("look_days", "regrows_down_to_f"))
    return ()
