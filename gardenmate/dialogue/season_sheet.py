"""The season sheet of a garden: what stands on it, gathered, and written to a file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Literal

from gardenmate.climate.site import Site
from gardenmate.core.errors import GardenmateError, NeedPlaceError, UsageError
from gardenmate.core.units import show_date
from gardenmate.core.world import World
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.season_rows import calendar_row, my_crops, odds_of_the_year, planted, season_start
from gardenmate.knowledge.crops import Crop
from gardenmate.plantings.batches import Batch
from gardenmate.present.sheet import PAPERS, Paper, Planting, Sheet, SheetRow, html, svg, weeks_of
from gardenmate.present.vocabulary import speaker, speaks_american
from gardenmate.records import replace
from gardenmate.topics.agenda.item import crop_words, wanted_crops
from gardenmate.topics.agenda.items import items
from gardenmate.topics.agenda.windows import job_of
from gardenmate.topics.plantings.last_year import lines, review
from gardenmate.topics.season.calendar import calendar_windows, crops_named

Form = Literal["html", "svg"]
DEFAULT_NAME = "my-season"
AHEAD_DAYS = 260
"""How far the jobs reach: from spring to the last of fall. Design value."""
MOST_ROWS = 30  # crops that fit one page
_LETTER = frozenset({"US", "CA", "MX"})
_SPRING = ("sow-indoors", "sow-outdoors", "set-out")
_JOBS_ALIKE = {"set-out-bought": "set-out"}


def season_sheet(conversation: Conversation, names: Iterable[str] = (), paper: Paper = PAPERS["a4"]) -> Sheet:
    """The sheet for the crops named, else the grower's own, else the usual ones of a household.

    Raises NeedPlaceError without a place, UsageError for a name that is no crop or a region of many climates.
    """
    world = conversation.world()
    if world.site is None:
        if world.sites:
            raise UsageError(f"{world.region} has many climates: name one of its towns.")
        raise NeedPlaceError(
            "The season sheet needs a place: --place Duluth, or say 'I garden in Duluth' first."
        )
    site, today = world.site, world.today
    start = season_start(site, today)
    chosen = crops_named(names, world.facts) or my_crops(world, start - timedelta(days=120))
    crops = (chosen or wanted_crops(world)[0])[:MOST_ROWS]
    notes = () if chosen else ("Usual crops: say 'I want leeks and peppers' to have your own.",)
    american = speaks_american(site.country, world.units)
    say = speaker(world.facts, american)
    rows = sorted((replace(row, name=say(row.name)) for row in _rows(crops, world, site, start)), key=_begins)
    return Sheet(
        title=f"{site.label}: {'my ' if chosen else ''}season {_year_of(start)}",
        start=start,
        today=today,
        frost_odds=tuple(odds_of_the_year(site, start)),
        frost_marks=tuple(_frost_marks(site, start)),
        rows=tuple(rows),
        weeks=weeks_of([(day, say(job)) for day, job in _jobs(crops, world, site)], today),
        notes=notes,
        last_year=_last_year(world, start, say),
        autumn="fall" if american else "autumn",
        paper=paper,
    )


def _last_year(world: World, start: date, say: Callable[[str], str]) -> tuple[str, ...]:
    """What came of the year before the one drawn, and what to move; () where the log tells of none."""
    year = start.year - 1
    said = lines(review(world, year))
    return (f"{year} in the log", *map(say, said)) if said else ()


def write_sheet(
    conversation: Conversation,
    path: Path,
    form: Form = "html",
    names: Iterable[str] = (),
    paper: Paper = PAPERS["a4"],
) -> Path:
    """Write the sheet to a file and return its path. Raises GardenmateError when it cannot be written."""
    sheet = season_sheet(conversation, names, paper)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(svg(sheet) if form == "svg" else html(sheet), "utf-8")
    except OSError as error:
        raise GardenmateError(f"The sheet cannot be written to {path}: {error.strerror or error}.") from error
    return path


def default_paper(conversation: Conversation) -> Paper:
    """Letter where it is sold, A4 everywhere else."""
    site = conversation.world().site
    return PAPERS["letter" if site is not None and site.country in _LETTER else "a4"]


def _year_of(start: date) -> str:
    end = start + timedelta(days=364)
    return f"{start.year}" if end.year == start.year else f"{start.year}/{end.year}"


def _frost_marks(site: Site, start: date) -> Iterator[tuple[date, str]]:
    freeze = site.freezes.get(32)
    if freeze is None:
        return
    anchor = site.anchor(start + timedelta(days=200))
    for frost, label in ((freeze.last_spring, "last frost"), (freeze.first_autumn, "first frost")):
        if frost is not None:
            day = frost.day(anchor)
            yield day, f"average {label} {show_date(day)}"


def _rows(crops: Iterable[Crop], world: World, site: Site, start: date) -> Iterator[SheetRow]:
    """A row for each crop, or for each variety of it whose days to maturity were told."""
    done = planted(world, start)
    for crop in crops:
        mine = [batch for other, batch in done if other.id == crop.id]
        varieties = [v for v in world.garden.varieties_of(crop.base) if v.kind in (None, crop.kind)]
        timed = [v for v in varieties if v.days is not None]
        if not timed:
            yield _sheet_row(crop, ", ".join(v.name for v in varieties), None, mine, world, site)
        for number, variety in enumerate(timed):
            others = {v.name for v in timed if v is not variety}
            own = [b for b in mine if b.variety == variety.name or (number == 0 and b.variety not in others)]
            yield _sheet_row(crop, variety.name, variety.days, own, world, site)


def _sheet_row(
    crop: Crop, variety: str, days: int | None, batches: Iterable[Batch], world: World, site: Site
) -> SheetRow:
    row = calendar_row(crop, site, world.facts, world.today, days)
    words = crop_words(crop)
    title = words[:1].upper() + words[1:]
    name = f"{title}: {variety}" if variety else title
    return SheetRow(name, row.windows, row.picks, tuple(map(_planting, batches)))


def _planting(batch: Batch) -> Planting:
    """A mark on the day it began: "24 sown 2 Apr, potted on"."""
    plants = batch.count if batch.count is not None else batch.started
    count = f"{plants:g} " if plants else ""
    at_once = batch.stage == "out" and batch.since == batch.begun
    begun = "set out" if at_once else "bought" if batch.bought else "sown"
    stage = "" if at_once or batch.stage == "sown" else f", {batch.stage}"
    return Planting(batch.begun, f"{count}{begun} {show_date(batch.begun)}{stage}")


def _begins(row: SheetRow) -> tuple[date, str]:
    return min((w.best_from for w in row.windows), default=date.max), row.name


def _jobs(crops: tuple[Crop, ...], world: World, site: Site) -> Iterator[tuple[date, str]]:
    """The jobs ahead: those of the agenda, and every other window of the crops as it opens. A crop that was sown or
    set out this season goes on by the jobs of its batch."""
    until = world.today + timedelta(days=AHEAD_DAYS)
    mine = replace(world, garden=replace(world.garden, wanted=tuple(crop.id for crop in crops)))
    told = {
        (crop.base, kind) for crop, _ in planted(world, season_start(site, world.today)) for kind in _SPRING
    }
    for item in items(mine, until):
        if item.status != "missed":
            told.add((item.crop, _JOBS_ALIKE.get(item.job, item.job)))
            yield item.good_from or item.opens, f"{item.do} (by {show_date(item.best_by)})"
    jobs = world.facts.table("work")["job"]
    for crop in crops:
        for window in calendar_windows(site, world.facts, world.today, (crop,)):
            job = job_of(crop, window)
            job = _JOBS_ALIKE.get(job, job)
            if window.best_to >= world.today and (crop.base, job) not in told:
                does = jobs[job]["do"].format(crop=crop_words(crop))
                yield window.best_from, f"{does} (by {show_date(window.best_to)})"
