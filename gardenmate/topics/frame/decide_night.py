"""The frame at night: how cold inside, whether what is in it lives, what a blanket or heat adds."""

from __future__ import annotations

from collections.abc import Sequence

from gardenmate.core.answer import Verdict
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import Quantity, temperature
from gardenmate.core.question import Request, Temperature
from gardenmate.core.units import F_DEGREE, f_to_c
from gardenmate.core.world import World
from gardenmate.records import NamedTuple, dataclass, replace
from gardenmate.science.frame_heat import heat_loss_w
from gardenmate.topics.frame.box import FrameFacts, Readings, frame_facts, has_heat, in_greenhouse
from gardenmate.topics.frame.facts import night_row
from gardenmate.topics.frame.house import limit_of, night_gain_c
from gardenmate.topics.frost.decide import unknown_of
from gardenmate.topics.frost.night import Low, doubt_c, governing, lows
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import (
    Limits,
    frame_asks,
    limits,
    stage_of,
)
from gardenmate.topics.shared.raising import Named

_MARGIN_C = 0.9 * F_DEGREE  # design value: less above the hurt figure is no margin
_CLEARLY_C = 2.0 * F_DEGREE  # design value: less over what they need is no reason to rely on a blanket
_EDGE = 1e-6  # C degrees of rounding
BLANKETS = ("blanket", "fleece", "heavy-fleece", "mulch")
_RANK: dict[Verdict, int] = {"no": 0, "tight": 1, "yes": 2}
_HEAT_STEP_W = 5  # design value: heat is told in such steps


class InFrame(NamedTuple):
    """How one crop comes through: its ``limits`` and the ``verdict``. ``lives`` is the same by frost alone; ``chill_c``
    is the night a tender young plant wants, where this one is under it: then it is a no, as on any other night out.
    ``floor_c`` is the low inside it stands. ``slow``: alive, not growing; ``blanket_saves``: clearly above it with one.
    """

    named: Named
    limits: Limits
    verdict: Verdict
    lives: Verdict
    chill_c: float | None
    floor_c: float
    slow: bool
    blanket_saves: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameNight(Finding):
    """A night. ``outside_c`` is the coldest of ``every`` low; it decides. ``inside_c`` is what is reached with the
    blanket on where one is (``blanket``), ``plain_c`` without, ``warm_c`` with. ``doubtful``: judged by the colder
    reading of a figure without a unit. ``heat_w`` is what would keep all of it unhurt."""

    outside_c: float
    typed: Temperature | None
    every: tuple[Low, ...]
    inside_c: float
    plain_c: float
    warm_c: float
    blanket: bool
    house: bool
    heated: bool
    frame: FrameFacts
    fate: tuple[InFrame, ...]
    heat_w: int | None
    unknown: tuple[str, ...] = ()
    doubtful: bool = False


def has_blanket(question: Request) -> bool:
    """True when a blanket, mat or fleece over the lid or the plants is named."""
    return question.cue("cover") in BLANKETS or frame_asks(question) == "blanket"


def decide_night(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> FrameNight:
    """How cold it gets inside on the coldest night, and whether the crops named live through it."""
    assert read.outside_c is not None
    typed = governing(question.ask)
    every = tuple(
        low for low in lows(question) if low.low_c <= read.outside_c + 1.0 or low.typed.role == "low"
    )
    found = _night(question, world, read.outside_c, typed, crops)
    colder_c = doubt_c(typed, question, world) if typed is not None else None
    if colder_c is not None:
        worse = _night(question, world, colder_c, typed, crops, doubtful=True)
        if not crops or _worst(worse.fate) < _worst(found.fate):
            found = worse
    return replace(found, every=every, unknown=unknown_of(question))


def _worst(fate: Sequence[InFrame]) -> int:
    return min(_RANK[one.verdict] for one in fate)


def _night(
    question: Request,
    world: World,
    outside_c: float,
    typed: Temperature | None,
    crops: Sequence[Named],
    *,
    doubtful: bool = False,
) -> FrameNight:
    frame, house, blanket = frame_facts(question, world), in_greenhouse(question), has_blanket(question)
    plain_c = outside_c + night_gain_c(question, world, frame)
    bright = question.cue("sky") not in ("cloudy", "rain")
    warm_c = plain_c if house else outside_c + frame.night_rise_c(bright, blanket=True)
    inside_c = warm_c if blanket else plain_c
    fate = tuple(_fate(n, question, world, inside_c, None if blanket else warm_c) for n in crops)
    heat_w = None if house else _heat_w(frame, fate, outside_c, inside_c)
    verdicts = {one.verdict for one in fate}
    return FrameNight(
        verdict=verdicts.pop() if len(verdicts) == 1 else None,
        figures=tuple(_figures(outside_c, inside_c, None if blanket or house else warm_c, fate, heat_w)),
        key=("inside_low", "hurt_below", "killed_below") if len(fate) == 1 else (),
        sources=unique(
            frame.sources, *(one.limits.sources for one in fate), () if fate else ("hill",),
            frame.table["frame"]["sources"].of("lights_gain_f"),
        ),
        outside_c=outside_c,
        typed=typed,
        every=(),
        inside_c=inside_c,
        plain_c=plain_c,
        warm_c=warm_c,
        blanket=blanket,
        house=house,
        heated=has_heat(question),
        frame=frame,
        fate=fate,
        heat_w=heat_w,
        doubtful=doubtful,
    )  # fmt: skip


def _fate(named: Named, question: Request, world: World, inside_c: float, warmer_c: float | None) -> InFrame:
    """How a crop comes through the low inside. Tender young plants are judged by their chill limit, as when they are
    hardened off: the low inside is an estimate, and near freezing it is off by more than they have to spare."""
    bound = limits(world.facts, named.crop, stage_of(question), world.units)
    lives = _lives(bound, inside_c)
    limit_c = limit_of(question, world, named.crop)
    chilled = lives != "no" and limit_c is not None and inside_c < limit_c - _EDGE
    floor_c = bound.hurt_c + _MARGIN_C if limit_c is None else limit_c
    slow = bound.hurt_c <= inside_c < f_to_c(night_row(world, named)["stall_f"])
    return InFrame(
        named=named,
        limits=bound,
        verdict="no" if chilled else lives,
        lives=lives,
        chill_c=limit_c if chilled else None,
        floor_c=bound.hurt_c if limit_c is None else limit_c,
        slow=slow and named.crop.season == "warm",
        blanket_saves=warmer_c is not None and inside_c < floor_c and warmer_c >= floor_c + _CLEARLY_C,
    )


def _lives(bound: Limits, inside_c: float) -> Verdict:
    if inside_c >= bound.hurt_c + _MARGIN_C:
        return "yes"
    return "tight" if inside_c >= bound.killed_c + 0.01 else "no"


def _heat_w(frame: FrameFacts, fate: Sequence[InFrame], outside_c: float, inside_c: float) -> int | None:
    """Heat that keeps the tenderest of them above its hurt figure, W, when the soil's own does not."""
    short = [one.limits.hurt_c + _MARGIN_C for one in fate if inside_c < one.limits.hurt_c + _MARGIN_C]
    if not short:
        return None
    need = heat_loss_w(frame.loss_w_k("closed"), max(short), outside_c + frame.night_rise_c())
    return max(_HEAT_STEP_W, round(need / _HEAT_STEP_W) * _HEAT_STEP_W)


def _figures(
    outside_c: float, inside_c: float, warm_c: float | None, fate: Sequence[InFrame], heat_w: int | None
) -> list[Figure]:
    found = [Figure("outside_low", temperature(outside_c)), Figure("inside_low", temperature(inside_c))]
    if warm_c is not None:
        found.append(Figure("inside_low_blanket", temperature(warm_c)))
    for one in fate:
        crop = None if len(fate) == 1 else one.named.id
        found.append(Figure("hurt_below", temperature(one.limits.hurt_c), crop))
        found.append(Figure("killed_below", temperature(one.limits.killed_c), crop))
    if heat_w is not None:
        found.append(Figure("heat_w", Quantity(heat_w, "power")))
    return found
