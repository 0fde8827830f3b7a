"""Questions about the garden and other places: the frost dates asked for, or two places side by side."""

from __future__ import annotations

from datetime import date

from gardenmate.climate.places import find_place
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.errors import UsageError
from gardenmate.core.question import Request
from gardenmate.core.units import plural, show_date, show_span, show_temp
from gardenmate.core.world import World
from gardenmate.records import dataclass
from gardenmate.topics.frost.dates import answer_dates
from gardenmate.topics.garden.shown import shown

_SAME_DAYS = 3  # nearer than this the two dates are told as alike
_SAME_C = 0.5  # C degrees: nearer is told as alike; design value


@dataclass(frozen=True, slots=True)
class _Season:
    """The frost season of a place: even-chance dates, days between them, year's mean and coldest month."""

    site: Site
    last: date | None
    first: date | None
    mean_c: float
    coldest_c: float

    @property
    def days(self) -> int | None:
        """Frost-free days, None where frost is too rare or too frequent to date."""
        return None if self.last is None or self.first is None else (self.first - self.last).days


def asked(question: Request, world: World) -> Answer:
    """What a question about the garden or a place gets; nothing is kept of it."""
    if question.has("profile", "zone"):
        return shown(question, world)
    compares = question.has("compare", "places")
    if question.slots.place is None and not compares and not question.has("compare", "season-length"):
        return shown(question, world)
    home = world.home or world.site
    if question.has("compare", "own-place") and not compares and home is not None:
        return Answer(question, None, f"Your garden is {home.where}.", assumptions=home.notes)
    if world.site is not None or world.sites:
        return season_asked(question, world) or answer_dates(question, world)
    return shown(question, world)


def season_asked(question: Request, world: World) -> Answer | None:
    """Two places side by side, or the length of one's season, when that is asked; else None."""
    return compared(question, world) or _length(question, world)


def _length(question: Request, world: World) -> Answer | None:
    """How many days lie between the frosts; None when it is not asked or they are too rare to date."""
    if not question.has("compare", "season-length") or world.site is None:
        return None
    season = _season(world.site, world)
    if season.last is None or season.first is None or season.days is None:
        return None
    return Answer(
        question=question,
        verdict=None,
        headline=f"The growing season {world.site.where} is about {plural(season.days, 'day')} between "
        f"frosts: {show_date(season.last, world.today)} to {show_date(season.first, world.today)}.",
        numbers=(
            Number("frost_free_days", season.days, "days", "frost-free days"),
            Number("last_frost_50", season.last, "date", "last frost, half the years by"),
            Number("first_frost_50", season.first, "date", "first frost, half the years by"),
        ),
        details=("Hardy crops use weeks on both sides of it.",),
        assumptions=world.site.notes,
        sources=(*world.site.source_ids, "common-practice"),
        working=(
            f"{season.first.isoformat()} less {season.last.isoformat()}: {plural(season.days, 'day')}.",
        ),
    )


def compared(question: Request, world: World) -> Answer | None:
    """Two places side by side when the question compares them; None when it does not, or names no second."""
    if not question.has("compare", "places") or world.site is None:
        return None
    second = _second(question, world) or world.home
    if second is None or second.label == world.site.label:
        return None
    here, there = _season(world.site, world), _season(second, world)
    return Answer(
        question=question,
        verdict=None,
        headline=_headline(question, here, there, world),
        table=Table(
            ("place", "last frost", "first frost", "frost-free", "coldest month, nights"),
            tuple(_row(s, world) for s in (here, there)),
        ),
        numbers=tuple(n for s in (here, there) for n in _numbers(s)),
        details=("Frost dates are the even-chance ones: in half the years it comes later.",),
        assumptions=tuple(dict.fromkeys((*world.site.notes, *second.notes))),
        sources=tuple(dict.fromkeys((*world.site.source_ids, *second.source_ids))),
    )


def _second(question: Request, world: World) -> Site | None:
    """The other place named; None when none is known by that name, or it is the same one."""
    for name in question.all("other-place"):
        try:
            site = find_place(str(name.value), world.facts).site
        except UsageError:
            continue
        if site is not None and world.site is not None and site.label != world.site.label:
            return site
    return None


def _season(site: Site, world: World) -> _Season:
    freeze = site.freezes[32]
    anchor = site.anchor(world.today)
    last = freeze.last_spring.day(anchor) if freeze.last_spring is not None else None
    first = freeze.first_autumn.day(anchor) if freeze.first_autumn is not None else None
    months = [(a + b) / 2 for a, b in zip(site.monthly_min_c, site.monthly_max_c, strict=True)]
    return _Season(site, last, first, sum(months) / 12, min(site.monthly_min_c))


def _row(season: _Season, world: World) -> tuple[str, ...]:
    days = season.days
    return (
        season.site.label,
        show_date(season.last, world.today) if season.last is not None else "rare",
        show_date(season.first, world.today) if season.first is not None else "rare",
        plural(days, "day") if days is not None else "-",
        show_temp(season.coldest_c, world.units),
    )


def _numbers(season: _Season) -> list[Number]:
    found = []
    for name, day in (("last_frost_50", season.last), ("first_frost_50", season.first)):
        if day is not None:
            found.append(Number(f"{name}_{_slug(season.site.label)}", day, "date", name, shown=False))
    if season.days is not None:
        found.append(
            Number(
                f"frost_free_days_{_slug(season.site.label)}", season.days, "days", "frost-free", shown=False
            )
        )
    return found


def _slug(label: str) -> str:
    kept = "".join(c if c.isascii() and c.isalnum() else " " for c in label.lower())
    return "_".join(kept.split())


# -- the sentence -------------------------------------------------------------------------------------
def _headline(question: Request, here: _Season, there: _Season, world: World) -> str:
    if question.has("compare-by", "warmth"):
        return _colder(question, here, there, world)
    if question.has("compare-by", "season") and here.days and there.days:
        more = here.days - there.days
        said = f"{plural(here.days, 'frost-free day')} {here.site.where}, {there.days} {there.site.where}"
        word = "longer" if more > 0 else "shorter"
        return _opened(question, said, word, abs(more) <= _SAME_DAYS, ("longer", "shorter"))
    first_asked = question.has("compare-by", "first-frost")
    a, b = (here.first, there.first) if first_asked else (here.last, there.last)
    which = "first frost" if first_asked else "last frost"
    if a is None or b is None:
        frosty = there if a is None else here
        rare = here if a is None else there
        return f"Frost is too rare {rare.site.where} to date; {frosty.site.where} it is dated below."
    days = (a - b).days
    gap = "the same day" if days == 0 else f"{plural(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"
    said = (
        f"the {which} {here.site.where} is usually about {show_date(a, world.today)}, {gap} "
        f"{'as' if days == 0 else 'than'} {there.site.where} ({show_date(b, world.today)})"
    )
    word = "later" if days > 0 else "earlier"
    return _opened(question, said, word, abs(days) < _SAME_DAYS, ("later", "earlier"))


def _colder(question: Request, here: _Season, there: _Season, world: World) -> str:
    gap = here.mean_c - there.mean_c
    word = "warmer" if gap > 0 else "colder"
    much = show_span(abs(gap), world.units)
    said = f"over the year {here.site.label} is {much} {word} than {there.site.label}"
    return _opened(question, said, word, abs(gap) < _SAME_C, ("colder", "warmer"))


def _opened(question: Request, said: str, word: str, alike: bool, directions: tuple[str, str]) -> str:
    """ "Yes, later: ...", "No, earlier: ...", "About the same: ..."; plain where no direction was asked."""
    wanted = next((way for way in directions if question.has("direction", way)), None)
    if alike:
        return f"About the same: {said}."
    if wanted is None or not question.has("compare", "whether"):
        return f"{said[0].upper()}{said[1:]}."
    return f"Yes, {word}: {said}." if wanted == word else f"No, {word}: {said}."
