"""When plants that stood out all summer come in: before the nights of autumn reach their limit."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Mark, Number
from gardenmate.core.question import Request
from gardenmate.core.units import f_to_c, show_date, show_temp
from gardenmate.core.world import World
from gardenmate.topics.seedlings.hardening_facts import Hardening
from gardenmate.topics.seedlings.hardening_reply import reply
from gardenmate.topics.shared.grammar import listed

_EARLY_SHARE = 0.1  # in before the day by which one year in ten has had its first night at the limit
_FROST_MOST_C = f_to_c(36.0)  # freeze dates are known up to this; above it the usual lows decide


def asks_when_to_bring_in(question: Request) -> bool:
    """True for "when do they come in", no low typed and no night named."""
    ask = question.ask
    return question.cue("asks_when") == "yes" and ask.temperature_c is None and ask.when is None


def bring_in_by(question: Request, world: World, kept: tuple[Hardening, ...]) -> Answer | None:
    """The day by which they come in; None when the place is unknown or the nights are too cold already."""
    site, today, units = world.site, question.ask.date or world.today, world.units
    if site is None or not kept:
        return None
    limit_c = max(k.hard_night_c for k in kept)
    if site.min_c(today) < limit_c:
        return None
    day = _first_cold(site, limit_c, today)
    if day is None:
        return None
    names, limit = listed(k.plants for k in kept), show_temp(limit_c, units)
    return reply(
        question,
        world,
        kept,
        None,
        f"Bring {names} in by about {show_date(day, world.today)}, before nights go below {limit} at "
        f"{site.label}.",
        numbers=(Number("bring_in_by", day, "date", "bring in by"),),
        marks=(Mark("bring in by", day),),
        extra=("A forecast of a colder night before then decides: bring them in that evening.",),
        more_sources=site.source_ids,
    )


def _first_cold(site: Site, limit_c: float, today: date) -> date | None:
    """The next day by which nights below the limit are usual, or, for frost, no longer rare."""
    days = (today + timedelta(days=ahead) for ahead in range(366))
    usual = next((day for day in days if site.min_c(day) < limit_c), None)
    freeze = site.freeze_at(limit_c).first_autumn if limit_c <= _FROST_MOST_C else None
    if freeze is None:
        return usual
    anchor = site.anchor(today)
    early = freeze.day_at(_EARLY_SHARE, anchor)
    if early < today:
        early = max(today, early) if freeze.day(anchor) >= today else early + timedelta(days=365)
    return early if usual is None else min(early, usual)
