"""The day a woody-plant question is about: today, or the date, month or season it names."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.records import dataclass, replace

# The part of a season in which such work is thought of, northern (month, day) (common practice).
_SEASONS = {"fall": (10, 5), "winter": (1, 25), "spring": (4, 5), "summer": (7, 20)}
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_NEAR_DAYS = 45


@dataclass(frozen=True, slots=True)
class AskedDay:
    """The world on the day asked about; ``word`` is how an answer calls that day ("now", "in November")."""

    world: World
    word: str = "now"
    assumed: tuple[str, ...] = ()


def asked_day(question: Request, world: World) -> AskedDay:
    """The day a question is about; a month means its middle, a season its usual working time."""
    day = question.ask.date
    if day is not None and day >= world.today:
        word = "now" if day == world.today else f"on {show_date(day, world.today)}"
        return AskedDay(replace(world, today=day), word)
    month = question.cue("asked_month")
    if month is not None:
        name = _MONTHS[int(month) - 1]
        if int(month) == world.today.month:
            return AskedDay(world)
        then = replace(world, today=_next(world.today, int(month), 15))
        return AskedDay(then, f"in {name}", (f"Answered for the middle of {name}.",))
    told = question.cue("job_in") or ""
    first, _, last = told.partition("/")
    if last and not date.fromisoformat(first) <= world.today <= date.fromisoformat(last):
        a, b = date.fromisoformat(first), date.fromisoformat(last)
        middle = a + (b - a) / 2
        then = replace(world, today=_next(world.today, middle.month, min(middle.day, 28)))
        on = show_date(then.today, world.today)
        return AskedDay(then, f"about {on}", (f"Answered for about {on}.",))
    season = question.cue("asked_season")
    if not season or question.first("season", "fruit") is not None:
        return AskedDay(world)
    when = _in_season(world, season)
    if abs((when - world.today).days) <= _NEAR_DAYS:
        return AskedDay(world)
    assumed = f"Answered for {season}, about {_MONTHS[when.month - 1]}."
    return AskedDay(replace(world, today=when), f"in {season}", (assumed,))


def _in_season(world: World, season: str) -> date:
    month, day = _SEASONS[season]
    lat = world.site.lat if world.site else world.sites[0].lat if world.sites else world.garden.lat or 0.0
    if lat < 0:
        month = (month + 5) % 12 + 1
    coming = _next(world.today, month, day)
    last = date(coming.year - 1, coming.month, coming.day)
    return last if (world.today - last) <= timedelta(days=_NEAR_DAYS) else coming


def _next(today: date, month: int, day: int) -> date:
    here = date(today.year, month, day)
    return here if here >= today else date(today.year + 1, month, day)
