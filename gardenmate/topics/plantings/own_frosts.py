"""The garden's own frosts, year by year: of one year asked about, or all that were told."""

from __future__ import annotations

from datetime import date, timedelta

from gardenmate.climate.own_years import years_seen
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.place import Called
from gardenmate.core.question import Request
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.plantings.own_frosts import frosts_told

_SIDES: tuple[Called, ...] = ("last", "first")
_TELL = "Tell me one with its day: 'first frost last night', 'last frost was 20 May in 2026'."


def of_year(site: Site, world: World, year: int) -> tuple[date | None, date | None]:
    """The last and first frost of a year: as told, else as the imported record has them."""
    told = own_days(site, world)
    found = [told.get((called, year)) for called in _SIDES]
    if site.history is not None and None in found:
        anchor = _anchor(site, year)
        known = next((y for y in site.history.freeze_years(0.0, site.southern) if y.year == year), None)
        days = (None, None) if known is None else (known.last_spring, known.first_autumn)
        found = [
            f or (None if d is None else anchor + timedelta(days=d)) for f, d in zip(found, days, strict=True)
        ]
    return found[0], found[1]


def own_days(site: Site, world: World) -> dict[tuple[Called, int], date]:
    """The frost that counts of every year told, by side and year."""
    base = site if site.own_years is None or site.own_years.base is None else site.own_years.base
    seen = [s for s in frosts_told(world.journal, world.garden.place) if s.on <= world.today]
    return {
        (called, y.year): _anchor(site, y.year) + timedelta(days=y.offset)
        for called in _SIDES
        for y in years_seen(base, seen, called, world.today)
    }


def own_frosts_line(world: World) -> str:
    """ "last 28 May 2025, 20 May 2026; first 25 Sep 2026"; "" when none is told."""
    if world.site is None:
        return ""
    told = own_days(world.site, world)
    sides = []
    for called in _SIDES:
        days = [day for (side, _), day in sorted(told.items(), key=lambda item: item[1]) if side == called]
        if days:
            sides.append(f"{called} {', '.join(f'{show_date(day)} {day.year}' for day in days)}")
    return "; ".join(sides)


def answer(request: Request, world: World, year: int | None) -> Answer:
    """The frosts of the ``year`` asked about; None: every year told."""
    site = world.site
    if site is None:
        return Answer(
            question=request,
            verdict=None,
            headline="I need to know where the garden is to tell a spring frost from a fall one.",
            changes=("Say 'I garden in ...'.",),
        )
    if year is not None:
        return _one_year(request, world, site, year)
    told = own_days(site, world)
    if not told:
        return Answer(
            question=request, verdict=None, headline="You have told me no frosts yet.", changes=(_TELL,)
        )
    rows = [
        (str(y), *(show_date(told[side, y]) if (side, y) in told else "" for side in _SIDES))
        for y in sorted({y for _, y in told})
    ]
    return Answer(
        question=request,
        verdict=None,
        headline=f"Your own frosts: {own_frosts_line(world)}.",
        table=Table(("year", "last frost", "first frost"), tuple(rows), "As you told me"),
        sources=("own-frost-dates",),
    )


def _one_year(request: Request, world: World, site: Site, year: int) -> Answer:
    days = dict(zip(_SIDES, of_year(site, world, year), strict=True))
    typed = request.first("frost-side")
    wanted = [side for side in _SIDES if typed is None or side == typed.value]
    known = [(side, day) for side in wanted if (day := days[side]) is not None]
    if not known:
        which = f"{wanted[0]} frost" if len(wanted) == 1 else "frosts"
        return Answer(
            question=request,
            verdict=None,
            headline=f"I have no {which} of {year} from you.",
            changes=(_TELL,),
        )
    own = own_days(site, world)
    said = " and ".join(f"the {side} frost was {show_date(day)}" for side, day in known)
    from_record = any((side, year) not in own for side, _ in known)
    return Answer(
        question=request,
        verdict=None,
        headline=f"In {year} {said}{', by the imported record' if from_record else ', as you told me'}.",
        numbers=tuple(
            Number(f"{side}_frost", day, "date", f"{side.capitalize()} frost of {year}", shown=False)
            for side, day in known
        ),
        sources=(site.history.source if from_record and site.history is not None else "own-frost-dates",),
    )


def _anchor(site: Site, year: int) -> date:
    return date(year, 7 if site.southern else 1, 15)
