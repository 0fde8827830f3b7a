"""The frame by day: open it now or leave it, how wide, and what a reading teaches about this frame."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from gardenmate.core.answer import Verdict
from gardenmate.core.effects import Effect, GardenChange
from gardenmate.core.finding import Figure, Finding
from gardenmate.core.quantity import temperature
from gardenmate.core.question import Request
from gardenmate.core.world import World
from gardenmate.records import NamedTuple, dataclass
from gardenmate.topics.frame.box import (
    FrameFacts,
    Readings,
    frame_facts,
    has_heat,
    in_greenhouse,
    noon_sun_w_m2,
    sky_share,
)
from gardenmate.topics.frame.facts import SUN_SOURCE, Vent, vent_limits
from gardenmate.topics.shared.grammar import unique
from gardenmate.topics.shared.protection import frame_asks
from gardenmate.topics.shared.raising import Named, gear

Width = Literal["wide", "propped", "crack"]
Lesson = Literal["kept", "say-more", "too-far"]
"""What a reading taught: kept for this frame, worth keeping if more is said, or too far off to be the frame's own."""
_FACTOR = (0.5, 2.0)  # design value: a day reading further off than this is not the frame's own doing
_DIM_W_M2 = 100.0  # design value: with less sun a reading says nothing of the lid
_FREEZING_C = 0.0  # degrees C


class Learnt(NamedTuple):
    """What a day reading teaches: how much warmer it is than outside, what was expected, the factor between them
    for this answer, and what is to be kept."""

    factor: float = 1.0
    lesson: Lesson | None = None
    measured_c: float = 0.0
    expected_c: float = 0.0
    effects: tuple[Effect, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameDay(Finding):
    """Open or shut. ``turned``: asked whether to leave it shut, so yes = shut; then ``opener`` tells that one is
    fitted. ``now_c`` is the reading, or what it would reach shut; ``needs_c`` the air outside from which a shut
    frame must be opened on a sunny day. None in ``outside_c`` and in ``inside_c``: no reading at all."""

    inside_c: float | None
    outside_c: float | None
    now_c: float
    needs_c: float
    width: Width
    opens: Verdict
    turned: bool
    opener: bool
    house: bool
    vent: Vent
    frame: FrameFacts
    sun_w_m2: float
    share: float
    sky: str
    learnt: Learnt
    below_freezing: bool
    assumed_sun: tuple[str, ...] = ()


def has_opener(question: Request, world: World) -> bool:
    """True when a wax opener is fitted or named."""
    return world.garden.frame.opener or "opener" in gear(question)


def decide_day(question: Request, world: World, read: Readings, crops: Sequence[Named]) -> FrameDay:
    """Open it? From the reading inside when there is one, else from outside and the sky."""
    frame, vent = frame_facts(question, world), vent_limits(world, crops)
    sun, assumed_sun = noon_sun_w_m2(question, world)
    share, sky = sky_share(question, world)
    learnt = _learnt(question, world, read, frame, sun * share)
    shut_c = None
    if read.outside_c is not None:
        shut_c = read.outside_c + learnt.factor * frame.day_rise_c(sun * share, "closed")
    now_c = read.inside_c if read.inside_c is not None else shut_c
    assert now_c is not None
    opens = _opens(now_c, read, vent, sky)
    turned = frame_asks(question) == "leave-shut"
    opener = has_opener(question, world)
    needs_c = vent.open_c - learnt.factor * frame.day_rise_c(sun, "closed")
    return FrameDay(
        verdict=verdict_of(opens, turned=turned, opener=opener),
        figures=tuple(_figures(read, frame, vent, needs_c, sun * share, learnt.factor)),
        key=("open_at_inside", "noon_closed", "open_at_outside"),
        sources=unique(frame.sources, frame.table["venting"]["sources"], SUN_SOURCE),
        inside_c=read.inside_c,
        outside_c=read.outside_c,
        now_c=now_c,
        needs_c=needs_c,
        width=_width(read.outside_c, now_c if read.inside_c is not None else vent.open_c, vent),
        opens=opens,
        turned=turned,
        opener=opener,
        house=in_greenhouse(question),
        vent=vent,
        frame=frame,
        sun_w_m2=sun,
        share=share,
        sky=sky,
        learnt=learnt,
        below_freezing=needs_c < _FREEZING_C,
        assumed_sun=assumed_sun,
    )


def verdict_of(opens: Verdict, *, turned: bool, opener: bool) -> Verdict:
    """The verdict on what was asked: open it, or (``turned``) leave it shut, which only an opener makes possible."""
    if not turned or opens == "tight":
        return opens
    if opens == "no":
        return "yes"
    return "tight" if opener else "no"


def _opens(now_c: float, read: Readings, vent: Vent, sky: str) -> Verdict:
    if now_c >= vent.open_c:
        return "yes"
    outside = read.outside_c
    sunny = sky in ("clear", "hazy") and outside is not None and outside >= vent.prop_outside_c
    if read.inside_c is None and sunny:
        return "yes"  # sunny and over 40 F outside: prop it, whatever the balance says
    return "tight" if now_c >= vent.crack_c else "no"


def _width(outside_c: float | None, now_c: float, vent: Vent) -> Width:
    """How wide: lid right back, propped by a hand's breadth, or a crack."""
    if now_c >= vent.harm_c:
        return "wide"
    if outside_c is None:
        return "propped"
    if outside_c >= vent.wide_outside_c:
        return "wide"
    return "propped" if outside_c >= vent.prop_outside_c else "crack"


def _figures(
    read: Readings, frame: FrameFacts, vent: Vent, needs_c: float, sun_w_m2: float, factor: float
) -> list[Figure]:
    found = []
    if read.inside_c is not None:
        found.append(Figure("inside", temperature(read.inside_c)))
    if read.outside_c is not None:
        found.append(Figure("outside", temperature(read.outside_c)))
        found += [
            Figure(f"noon_{how}", temperature(read.outside_c + noon_rise_c(frame, sun_w_m2, how, factor)))
            for how in ("closed", "propped", "open")
        ]
    found.append(Figure("open_at_inside", temperature(vent.open_c)))
    found.append(Figure("open_at_outside", temperature(needs_c)))
    return found


def noon_rise_c(frame: FrameFacts, sun_w_m2: float, how: str, factor: float) -> float:
    """What noon sun adds with the lid closed, propped or open, C degrees; only a lid that holds heat scales."""
    return frame.day_rise_c(sun_w_m2, how) * (factor if how != "open" else 1.0)


def _learnt(question: Request, world: World, read: Readings, frame: FrameFacts, sun_w_m2: float) -> Learnt:
    """What a day reading teaches. Kept only when the lid was said to be shut, the sky was named and the place is
    known: otherwise the sun behind the reading is a guess."""
    if read.inside_c is None or read.outside_c is None or has_heat(question) or in_greenhouse(question):
        return Learnt()
    if frame_asks(question) in ("close", "leave-shut"):
        return Learnt()
    vent = question.cue("vent")
    if vent not in (None, "closed") or question.cue("sky") is None or sun_w_m2 < _DIM_W_M2:
        return Learnt()
    measured, expected = read.inside_c - read.outside_c, frame.day_rise_c(sun_w_m2, "closed")
    factor = measured / expected
    if not _FACTOR[0] <= factor <= _FACTOR[1]:
        return Learnt(1.0, "too-far" if vent is not None else None, measured, expected)
    if vent != "closed" or world.site is None:
        return Learnt(max(1.0, factor), "say-more", measured, expected)
    kept = GardenChange("frame.gain_factor", round(frame.gain_factor * factor, 2))
    return Learnt(factor, "kept", measured, expected, (kept,))
