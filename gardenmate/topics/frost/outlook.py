"""How one crop comes through one night with the cover it has: fine, cover it, chilled, marked or lost.

One reckoning for every crop, cover and sky: a colder night, a clearer sky or a lighter cover is never judged
milder. A sky nothing is said of is taken as clear and calm, the usual frosty night. Nothing is worded here.
"""

from __future__ import annotations

from typing import Literal

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import F_DEGREE, f_to_c
from gardenmate.core.world import World
from gardenmate.knowledge.crops import Crop
from gardenmate.records import NamedTuple, dataclass
from gardenmate.topics.frost.night import Night
from gardenmate.topics.shared.protection import (
    Cover,
    Limits,
    chill_limit_c,
    cover_for,
    cover_of,
    covers,
    is_freezing_limit,
    limits,
    stage_of,
)
from gardenmate.topics.shared.raising import Named

# Less than this above the hurt figure is no margin: forecasts and thermometers are not that good (design value).
MARGIN_C = 0.9 * F_DEGREE
_CHILL_LIMIT_C = f_to_c(34.0)  # design value: hurt above this is chill, not frost
# Hurt as soon as the leaf freezes and killed a little below: what kills it is met at leaf height too (design values).
_TENDER_C, _TENDER_GAP_C = f_to_c(30.9), 4.5 * F_DEGREE
_SAVED_C = 0.9 * F_DEGREE  # design value: a cover named must keep the plant this far above what kills it
# Half-hardy: published as burnt, not killed, in air of 26-31 F. On a frosty, clear night the leaf goes under
# that first, so it may be marked; crops hurt only at 25 F and below carry the colder leaf without a mark.
_HALF_HARDY_C = f_to_c(25.5)
_CROWN_LIVES_C = (
    15.0  # design value: a gap this wide between hurt and killed means that only the tops are hurt
)
_GROWN = ("established", "bloom", "fruit")  # past the age at which a cool night sets a plant back
# Plants stand in these night after night, so cool nights count; their roof faces the sky, not the leaf.
_LIVED_IN = ("greenhouse", "frame")
BUILT = ("greenhouse", "cloche", "water-wall", "frame")  # no cover to be laid over plants tonight
_EDGE = 1e-6
_FLOWERS_C = 10.0  # design value: such crops flower once the usual mean of the day is above this
_GROWTH_ENDS, _WINTER_ENDS = 8, 2  # northern months (design values)

Outcome = Literal["fine", "cool", "cover", "chilled", "tips", "burnt", "lost"]
Basis = Literal["leaf", "air"]
"""Where the figures of a crop hold: at leaf height, or for the air at head height as a forecast gives it."""
Exemption = Literal["regrows", "below-ground", "crown", "flowers", "if-in-flower", "snow"]
"""What turns the plain outcome. regrows: the tops are lost, it grows again from below ground; below-ground: the part
in the soil is asked about, or is all that matters late in the year; crown: the tops are only hurt; flowers: it is the
open flowers, the plant lives; if-in-flower: the same, should it be in flower (its stage was not said); snow: snow lying
on it keeps the worst of the cold off."""
_VERDICT: dict[Outcome, Verdict] = {
    "fine": "yes",
    "cool": "tight",
    "cover": "tight",
    "chilled": "tight",
    "tips": "tight",
    "burnt": "tight",
    "lost": "no",
}


class Regrowth(NamedTuple):
    """How a crop grows again after a frost took its tops: when to look, and below what air it does not, degrees C.
    ``young``: only while it is small; ``stores``: what is eaten lies below ground."""

    look_days: tuple[int, int]
    down_to_c: float
    young: bool
    stores: bool


@dataclass(frozen=True, slots=True)
class Outlook:
    """One crop on one night, all on one ``basis``.

    ``worst_c`` is the coldest it meets there, ``margin_c`` worst minus hurt; ``remedy`` the lightest cover that
    carries it, if any does, and ``unhurt`` tells that it does so without a mark; ``chill_c`` what sets it back
    without any frost; ``beaten`` that with what it has now a clear night would kill it. ``leaf_c`` is what a cover
    has to make up for: the coldest its leaf meets, also for a half-hardy crop that is judged by the air.
    """

    named: Named
    limits: Limits
    outcome: Outcome
    basis: Basis
    worst_c: float
    margin_c: float
    remedy: Cover | None
    unhurt: bool = True
    chill_c: float | None = None
    blossom: bool = False
    beaten: bool = False
    leaf_c: float = 0.0
    exemption: Exemption | None = None
    regrowth: Regrowth | None = None

    @property
    def verdict(self) -> Verdict:
        """yes = fine as it is, tight = cover, some hurt, or tops that grow again, no = not without more than it has."""
        if self.exemption == "below-ground":
            return "yes"
        if self.outcome == "lost" and self.exemption == "regrows":
            return "tight"
        return _VERDICT[self.outcome]

    @property
    def crop_id(self) -> str:
        """The contract's id."""
        return self.named.id


class _Met(NamedTuple):
    """What the plant meets under its cover, degrees C: the coldest where the hurt and where the killing figure
    holds, the kindest where the latter does, and the coldest of its leaf."""

    hurt: float
    kill: float
    kindest: float
    leaf: float


def outlook(named: Named, tonight: Night, question: Request, world: World) -> Outlook:
    """How this crop comes through this night with the cover it has.

    Lost: killed in the air at head height already; or killed at leaf height, where that air hurts it too or no
    cover is left that saves it. Tips: the air does not hurt it, but its colder leaf may be.
    """
    stage = stage_now(named.crop, question, world)
    bounds = limits(world.facts, named.crop, stage, world.units)
    cover = cover_for(world.facts, cover_of(question))
    at_leaf = is_freezing_limit(bounds.hurt_c)
    blossom = at_leaf and stage == "bloom"  # open to the sky as a leaf is
    half_hardy = not at_leaf and not bounds.plant_lives and _HALF_HARDY_C < bounds.hurt_c < 0.0
    snow_c = _under_snow_c(question, world)
    met = _met(named.crop, bounds, tonight, cover, blossom, half_hardy)
    if snow_c is not None:
        met = _Met(*(max(each, snow_c) for each in met))
    remedy, unhurt = _remedy(bounds, met, cover, world)
    chill = None if stage in _GROWN else chill_limit_c(world.facts, named.crop)
    keeps_c = cover.plan_c if cover is not None else 0.0
    lived_in = cover is None or cover.id in _LIVED_IN
    outcome: Outcome
    if met.hurt - bounds.hurt_c >= MARGIN_C - _EDGE:
        cool = lived_in and chill is not None and tonight.low_c + keeps_c < chill - _EDGE
        frosty = half_hardy and tonight.low_c < -_EDGE and met.leaf < bounds.hurt_c - _EDGE
        outcome = "cool" if cool else "tips" if frosty else "fine"
    elif _lost(bounds, met, tonight.low_c + keeps_c, blossom, remedy):
        outcome = "lost"
    elif bounds.hurt_c > _CHILL_LIMIT_C:
        outcome = "chilled"
    else:
        outcome = "cover" if at_leaf else "burnt"
    regrowth = regrowth_of(named.crop, world)
    return Outlook(
        named=named,
        limits=bounds,
        outcome=outcome,
        basis="leaf" if at_leaf else "air",
        worst_c=met.hurt,
        margin_c=met.hurt - bounds.hurt_c,
        remedy=None if outcome in ("fine", "cool") else remedy,
        unhurt=unhurt,
        chill_c=chill,
        blossom=blossom,
        beaten=met.kill < bounds.killed_c,
        leaf_c=met.leaf,
        exemption=_exemption(named.crop, outcome, bounds, regrowth, tonight, question, world, snow_c),
        regrowth=regrowth,
    )


def _met(
    crop: Crop, bounds: Limits, tonight: Night, cover: Cover | None, blossom: bool, half_hardy: bool
) -> _Met:
    """What the plant meets under the cover it has, each on the basis its figure holds for."""
    usual = crop.frost
    near = usual.damage_below_c - usual.killed_below_c <= _TENDER_GAP_C
    at_leaf = is_freezing_limit(bounds.hurt_c)
    tender = at_leaf and near and usual.damage_below_c >= _TENDER_C
    kill_at_leaf = tender or blossom or is_freezing_limit(bounds.killed_c)
    lived_in = cover is not None and cover.id in _LIVED_IN
    keeps_c = cover.plan_c if cover is not None else 0.0
    air = tonight.low_c
    worst, kindest = (air, air) if lived_in else (tonight.leaf_worst_c, tonight.leaf_cloudy_c)
    hurt = worst if at_leaf else air
    return _Met(
        hurt + keeps_c,
        (worst if kill_at_leaf else air) + keeps_c,
        (kindest if kill_at_leaf else air) + keeps_c,
        (worst if half_hardy else hurt) + keeps_c,
    )


def _lost(bounds: Limits, met: _Met, air_c: float, blossom: bool, remedy: Cover | None) -> bool:
    """Killed for sure, or on a clear night with no cover left that would save it whole."""
    saved_c, kindest = bounds.killed_c, met.kindest
    if blossom:  # the year's crop: no cover that would not be named is called borderline
        saved_c, kindest = saved_c + _SAVED_C - _EDGE, air_c
    hurt_anyway = not blossom and kindest < bounds.hurt_c - _EDGE
    return kindest < saved_c or (met.kill < saved_c and (remedy is None or hurt_anyway))


def _exemption(
    crop: Crop,
    outcome: Outcome,
    bounds: Limits,
    regrowth: Regrowth | None,
    tonight: Night,
    question: Request,
    world: World,
    snow_c: float | None,
) -> Exemption | None:
    """What turns the plain outcome, if anything does."""
    if snow_c is not None and snow_c > tonight.low_c:
        return "snow"
    stage = stage_now(crop, question, world)
    lives_on = bounds.plant_lives and stage in ("buds", "bloom", "fruit")
    if lives_on:
        return "flowers" if outcome not in ("fine", "cool") else None
    buried = question.has("part", "below-ground") or (outcome in ("lost", "cover") and late_in_year(world))
    if regrowth is not None and regrowth.stores and buried and tonight.low_c >= regrowth.down_to_c - _EDGE:
        return "below-ground"
    warm = bounds.hurt_c > _CHILL_LIMIT_C  # what chill hurts is not counted on to grow back from a frost
    if (
        outcome in ("lost", "cover")
        and not warm
        and regrowth is not None
        and tonight.low_c >= regrowth.down_to_c - _EDGE
    ):
        return "regrows" if not regrowth.young or _is_young(question, world) else None
    if outcome == "burnt" and bounds.hurt_c - bounds.killed_c > _CROWN_LIVES_C:
        return "crown"
    open_flowers = next((row for row in crop.stage_limits if "bloom" in row.stage), None)
    if outcome in ("fine", "burnt", "tips") and open_flowers is not None and stage is None:
        flowering = not late_in_year(world) and tonight.leaf_worst_c < open_flowers.hurt_c
        return "if-in-flower" if flowering else None
    return None


def stage_now(crop: Crop, question: Request, world: World) -> str | None:
    """The stage that was said; else, of a crop that has a resting one, dormant when the year's growth is behind it and
    until spring is warm, and then in flower: its own figure is that of open flowers."""
    stage = stage_of(question)
    if stage is not None or not any("dormant" in row.stage for row in crop.stage_limits):
        return stage
    if late_in_year(world) or _northern_month(world) <= _WINTER_ENDS:
        return "dormant"
    site = world.site
    if site is not None and (site.min_c(world.today) + site.max_c(world.today)) / 2.0 < _FLOWERS_C:
        return "dormant"
    return "bloom"


def regrowth_of(crop: Crop, world: World) -> Regrowth | None:
    """How the crop grows again from below ground; None when it does not."""
    row = world.facts.group_of(crop, "aftermath")
    if row is None or "look_days" not in row:
        return None
    first, last = row["look_days"]
    return Regrowth(
        (first, last), f_to_c(row["regrows_down_to_f"]), row.get("only_young", False), "tuber" in crop.traits
    )


TALL_CM = 30.0  # design value: a foot high, corn has about six leaves and its growing point above ground


def _is_young(question: Request, world: World) -> bool:
    """True while the plant is small: said to be, or spring with nothing said against it."""
    height = question.first("size", "plants")
    if height is not None:
        return height.number <= TALL_CM
    stage = stage_of(question)
    if stage is not None:
        return stage not in _GROWN
    return not late_in_year(world)


def _northern_month(world: World) -> int:
    """The month of the year as it would be in the north."""
    lat = world.site.lat if world.site is not None else world.garden.lat or 0.0
    return world.today.month if lat >= 0.0 else (world.today.month + 5) % 12 + 1


def late_in_year(world: World) -> bool:
    """True from late summer to midwinter: the year's growth is behind it."""
    return _northern_month(world) >= _GROWTH_ENDS


_SNOW_KEEPS_CM = 10.0  # design value: less lying snow is not counted on


def _under_snow_c(question: Request, world: World) -> float | None:
    """What plants under lying snow meet at the coldest, degrees C; None without enough snow on them."""
    snow = question.first("snow", "lying")
    if snow is None or snow.number < _SNOW_KEEPS_CM:
        return None
    return f_to_c(world.facts.table("protection")["snow"]["under_f"])


def _remedy(bounds: Limits, met: _Met, has: Cover | None, world: World) -> tuple[Cover | None, bool]:
    """The lightest cover (better than the one it has) that keeps the plant unhurt, else the best of those
    that keep it well above what kills it, so that no better one is left to name; and whether it stays unhurt.
    A cover under which it would still be killed is never named."""
    gain_c = has.plan_c if has is not None else 0.0
    better = [c for c in laid_covers(world) if c.plan_c > gain_c]
    worst, worst_kill = met.leaf - gain_c, met.kill - gain_c
    safe = [c for c in better if worst_kill + c.plan_c >= bounds.killed_c + _SAVED_C - _EDGE]
    whole = [c for c in safe if worst + c.plan_c >= bounds.hurt_c + MARGIN_C - _EDGE]
    if whole:
        return whole[0], True
    return (safe[-1] if safe else None), False


def laid_covers(world: World) -> tuple[Cover, ...]:
    """Covers that can be laid over plants tonight, the one to count on least first."""
    return tuple(sorted((c for c in covers(world.facts) if c.id not in BUILT), key=lambda c: c.plan_c))


def no_cover_saves(worst_c: float, killed_c: float, world: World) -> bool:
    """True when even the best cover laid over plants leaves them at what kills them."""
    return worst_c + laid_covers(world)[-1].plan_c < killed_c + _SAVED_C - _EDGE
