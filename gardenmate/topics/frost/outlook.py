"""How one crop comes through one night with the cover it has: fine, cover it, chilled, burnt or lost.

One reckoning for every crop, cover and sky: a colder night, a clearer sky or a lighter cover is never judged
milder. A sky nothing is said of is taken as clear and calm, the usual frosty night.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from gardenmate.core.answer import Verdict
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c
from gardenmate.core.world import World
from gardenmate.topics.frost.sky import Night
from gardenmate.topics.frost.words import Plants, plants
from gardenmate.topics.shared.protection import (
    F_DEGREE,
    Cover,
    Limits,
    chill_limit_c,
    cover_for,
    cover_of,
    covers,
    is_freezing_limit,
    limits,
)
from gardenmate.topics.shared.raising import Named

# Less than this above the hurt figure is no margin: forecasts and thermometers are not that good.
MARGIN_C = 0.9 * F_DEGREE
_CHILL_LIMIT_C = f_to_c(34.0)
# Hurt as soon as the leaf freezes and killed a little below: what kills it is met at leaf height too.
_TENDER_C, _TENDER_GAP_C = f_to_c(30.9), 4.5 * F_DEGREE
_SAVED_C = 0.9 * F_DEGREE  # a cover must keep the plant this far above what kills it to be named at all
# Half-hardy: published as burnt, not killed, in air of 26-31 F. On a frosty, clear night the leaf goes under
# that first, so it may be marked; crops hurt only at 25 F and below carry the colder leaf without a mark.
_HALF_HARDY_C = f_to_c(25.5)
_GROWN = ("established", "bloom", "fruit")  # past the age at which a cool night sets a plant back
# Plants stand in these night after night, so cool nights count; their roof faces the sky, not the leaf.
_LIVED_IN = ("greenhouse", "frame")
BUILT = ("greenhouse", "cloche", "water-wall", "frame")  # no cover to be laid over plants tonight

Outcome = Literal["fine", "cool", "cover", "chilled", "tips", "burnt", "lost"]
_VERDICT: dict[Outcome, Verdict] = {
    "fine": "yes",
    "cool": "tight",
    "cover": "tight",
    "chilled": "tight",
    "tips": "tight",
    "burnt": "tight",
    "lost": "no",
}


@dataclass(frozen=True, slots=True)
class Outlook:
    """One crop on one night.

    ``worst_c``/``best_c`` is the temperature range met by the plant where the hurt figure applies;
    ``margin_c`` is worst minus hurt; ``remedy`` the lightest cover that carries it, if any does, and
    ``unhurt`` tells that it does so without a mark; ``chill_c`` what sets it back without any frost;
    ``beaten`` that with what it has now a clear night would kill it. ``leaf_c`` is what a cover has to make
    up for: the coldest its leaf meets, also for a half-hardy crop that is judged by the air.
    """

    named: Named
    plants: Plants
    limits: Limits
    outcome: Outcome
    worst_c: float
    margin_c: float
    remedy: Cover | None
    unhurt: bool = True
    chill_c: float | None = None
    blossom: bool = False
    beaten: bool = False
    leaf_c: float = 0.0

    @property
    def verdict(self) -> Verdict:
        """yes = fine as it is, tight = cover or some hurt, no = not without more than it has."""
        return _VERDICT[self.outcome]


def outlook(named: Named, tonight: Night, question: Request, world: World) -> Outlook:
    """How this crop comes through this night with the cover it has.

    Lost: killed in the air at thermometer height already; or killed at leaf height, where that air hurts
    it too or no cover is left that saves it. Tips: the air does not hurt it, but its colder leaf may be.
    """
    bounds = limits(world.facts, named.crop, question.cue("stage"), world.units)
    cover = cover_for(world.facts, cover_of(question))
    keeps_c = cover.plan_c if cover is not None else 0.0
    at_leaf = is_freezing_limit(bounds.hurt_c)
    usual = named.crop.frost
    near = usual.damage_below_c - usual.killed_below_c <= _TENDER_GAP_C
    tender = at_leaf and near and usual.damage_below_c >= _TENDER_C
    blossom = at_leaf and question.cue("stage") == "bloom"  # open to the sky as a leaf is
    kill_at_leaf = tender or blossom or is_freezing_limit(bounds.killed_c)
    lived_in = cover is not None and cover.id in _LIVED_IN
    leaf = (tonight.low_c, tonight.low_c) if lived_in else (tonight.leaf_worst_c, tonight.leaf_cloudy_c)
    worst = (leaf[0] if at_leaf else tonight.low_c) + keeps_c
    worst_kill = (leaf[0] if kill_at_leaf else tonight.low_c) + keeps_c
    kindest = (leaf[1] if kill_at_leaf else tonight.low_c) + keeps_c
    chill = None if question.cue("stage") in _GROWN else chill_limit_c(world.facts, named.crop)
    half_hardy = not at_leaf and _HALF_HARDY_C < bounds.hurt_c < 0.0
    leaf_met = leaf[0] + keeps_c if half_hardy else worst
    remedy, unhurt = _remedy(bounds, (leaf_met, worst_kill), cover, world)
    saved_c = bounds.killed_c
    if blossom:  # the year's crop: no cover that would not be named is called borderline
        saved_c += _SAVED_C - 1e-6
        kindest = tonight.low_c + keeps_c
    hurt_anyway = not blossom and kindest < bounds.hurt_c - 1e-6
    outcome: Outcome
    if worst - bounds.hurt_c >= MARGIN_C - 1e-6:
        cool = (cover is None or lived_in) and chill is not None and tonight.low_c + keeps_c < chill - 1e-6
        frosty = half_hardy and tonight.low_c < -1e-6 and leaf_met < bounds.hurt_c - 1e-6
        outcome = "cool" if cool else "tips" if frosty else "fine"
    elif kindest < saved_c or (worst_kill < saved_c and (remedy is None or hurt_anyway)):
        outcome = "lost"
    elif bounds.hurt_c > _CHILL_LIMIT_C:
        outcome = "chilled"
    elif at_leaf:
        outcome = "cover"
    else:
        outcome = "burnt"
    if outcome in ("fine", "cool"):
        remedy = None
    return Outlook(
        named, plants(named), bounds, outcome, worst, worst - bounds.hurt_c, remedy, unhurt, chill, blossom,
        worst_kill < bounds.killed_c, leaf_met,
    )  # fmt: skip


def _remedy(
    bounds: Limits, met: tuple[float, float], has: Cover | None, world: World
) -> tuple[Cover | None, bool]:
    """The lightest cover (better than the one it has) that keeps the plant unhurt, else the best of those
    that keep it well above what kills it, so that no better one is left to name; and whether it stays unhurt.
    ``met``: the coldest it meets, where the hurt and where the killing figure applies. A cover under which it
    would still be killed is never named."""
    gain_c = has.plan_c if has is not None else 0.0
    better = [c for c in laid_covers(world) if c.plan_c > gain_c]
    worst, worst_kill = (t - gain_c for t in met)
    safe = [c for c in better if worst_kill + c.plan_c >= bounds.killed_c + _SAVED_C - 1e-6]
    whole = [c for c in safe if worst + c.plan_c >= bounds.hurt_c + MARGIN_C - 1e-6]
    if whole:
        return whole[0], True
    return (safe[-1] if safe else None), False


def laid_covers(world: World) -> tuple[Cover, ...]:
    """Covers that can be laid over plants tonight, the one to count on least first."""
    return tuple(sorted((c for c in covers(world.facts) if c.id not in BUILT), key=lambda c: c.plan_c))


def no_cover_saves(worst_c: float, killed_c: float, world: World) -> bool:
    """True when even the best cover laid over plants leaves them at what kills them."""
    return worst_c + laid_covers(world)[-1].plan_c < killed_c + _SAVED_C - 1e-6
