"""How a year went, worked from the plantings: for each crop what was planned, when it was done against its window,
whether it was picked or lost, what the frost did, and what to move next year."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Literal

from gardenmate.climate.own_years import is_frost, side_of
from gardenmate.climate.site import Site
from gardenmate.core.answer import Answer, Number, Table, Window
from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import Decision, World
from gardenmate.knowledge.crops import Crop
from gardenmate.plantings.batches import Batch
from gardenmate.plantings.current import batches_of
from gardenmate.plantings.own_frosts import frosts_told
from gardenmate.records import dataclass
from gardenmate.topics.agenda.batches import is_outdoors
from gardenmate.topics.agenda.item import crop_words
from gardenmate.topics.plantings.own_frosts import of_year
from gardenmate.topics.season.season import ACTIVITIES, Season, season_for
from gardenmate.topics.season.season_dates import one_site

Outcome = Literal["picked", "lost", "growing", "not told"]
MOST_MOVES = 3  # things to move, told; design value
SLIP_DAYS = 3  # a start so few days outside the good part is as good as in it (design value)
FROST_NEAR_DAYS = 2  # a loss so soon after a frost is put down to it (design value)
_MOST_ENTRIES = 2000  # entries of a year looked through; design value
_WORDS = {"indoors": "sow indoors", "outdoors": "sow", "setout": "set out"}
_DONE = {"indoors": "sown indoors", "outdoors": "sown", "setout": "set out"}


@dataclass(frozen=True, slots=True)
class Started:
    """One start of a batch: the way, the day, the window it belongs to (None: none was near), and how many days it
    fell before (negative) or after (positive) the good part; 0 inside it."""

    method: str
    on: date
    window: Window | None
    off_days: int

    @property
    def outside(self) -> bool:
        """True when it fell outside the whole window."""
        return self.window is not None and not self.window.earliest <= self.on <= self.window.latest


@dataclass(frozen=True, slots=True)
class CropYear:
    """What became of one batch in its year. ``frost`` tells what a frost did to it, "" nothing that is known;
    ``lost`` how many of its plants were lost."""

    batch: Batch
    name: str
    planned: date | None
    starts: tuple[Started, ...]
    outcome: Outcome
    ended: date | None
    frost: str = ""
    lost: float = 0.0


@dataclass(frozen=True, slots=True)
class NextYear:
    """Something to move next year; ``weight`` orders the moves (days it would gain, losses first)."""

    said: str
    weight: float


@dataclass(frozen=True, slots=True)
class Review:
    """A year as the plantings tell it: its own last and first frost where known, the crops, and what to move."""

    year: int
    last_frost: date | None
    first_frost: date | None
    crops: tuple[CropYear, ...]
    moves: tuple[NextYear, ...]


def year_asked(request: Request, world: World) -> int:
    """The year asked about: the one named, this one, or the last."""
    typed = request.first("season-year")
    this = (
        world.today.year
        if world.site is None or not world.site.southern
        else _season_year(world.site, world.today)
    )
    if typed is not None and isinstance(typed.value, int):
        return typed.value if typed.value > 0 else this + typed.value
    return this - 1


def _season_year(site: Site, day: date) -> int:
    return site.anchor(day).year


def answer(request: Request, world: World) -> Answer:
    """How the year asked about went."""
    year = year_asked(request, world)
    found = review(world, year)
    if not found.crops:
        return Answer(
            question=request,
            verdict=None,
            headline=f"I have no plantings of {year} in the log, so I can't say how it went.",
            changes=(
                "Tell me what you sow, set out, pick and lose, with the day; next year I can look back.",
            ),
        )
    picked = sum(c.outcome == "picked" for c in found.crops)
    lost = sum(c.outcome == "lost" for c in found.crops)
    counts = [f"{picked} picked", *([f"{lost} lost"] if lost else [])]
    first = f" {found.moves[0].said}" if found.moves else " I see nothing to move next year."
    headline = f"{year}: {plural(len(found.crops), 'planting')}, {', '.join(counts)}.{first}"
    return Answer(
        question=request,
        verdict=None,
        headline=headline,
        numbers=(
            Number("plantings", len(found.crops), "", "Plantings", shown=False),
            Number("picked", picked, "", "Picked", shown=False),
            Number("lost", lost, "", "Lost", shown=False),
        ),
        details=tuple(_details(found)),
        steps=tuple(move.said for move in found.moves),
        table=_table(found),
        sources=("own-days", *(("own-frost-dates",) if found.last_frost or found.first_frost else ())),
    )


def review(world: World, year: int) -> Review:
    """The year's plantings (begun in it, or before and still growing into it), by their begin."""
    site, _ = one_site(world)
    begins, ends = _span(site, year)
    last, first = (None, None) if site is None else of_year(site, world, year)
    entries = _entries(world, begins, ends)
    mine = [b for b in batches_of(world.journal) if _of_year(b, begins, ends)]
    crops = []
    for batch in sorted(mine, key=lambda b: (b.begun, b.id)):
        crop = world.facts.crop_for(CropRef(batch.crop, batch.kind))
        if crop is not None:
            crops.append(_crop_year(batch, crop, site, world, entries, (last, first), ends))
    return Review(year, last, first, tuple(crops), tuple(_moves(crops, last, first)))


def lines(found: Review) -> tuple[str, ...]:
    """A few lines of a year for a printed page: what came of it, and what to move."""
    if not found.crops:
        return ()
    picked = sum(c.outcome == "picked" for c in found.crops)
    lost = sum(c.outcome == "lost" for c in found.crops)
    told = f"{plural(len(found.crops), 'planting')}, {picked} picked, {lost} lost."
    return (told, *(move.said for move in found.moves))


# -- the year ------------------------------------------------------------------------------------------
def _span(site: Site | None, year: int) -> tuple[date, date]:
    month = 7 if site is not None and site.southern else 1
    return date(year, month, 1), date(year + 1, month, 1)


def _of_year(batch: Batch, begins: date, ends: date) -> bool:
    done = batch.picked or (batch.since if not batch.alive else None)
    return begins <= batch.begun < ends or (
        batch.begun < begins and done is not None and begins <= done < ends
    )


def _entries(world: World, begins: date, ends: date) -> Sequence[Decision]:
    if world.journal is None:
        return ()
    found = world.journal.search(since=begins, until=ends, limit=_MOST_ENTRIES)
    return sorted(found, key=lambda entry: (entry.on, entry.id))


# -- one batch -----------------------------------------------------------------------------------------
def _crop_year(
    batch: Batch,
    crop: Crop,
    site: Site | None,
    world: World,
    entries: Sequence[Decision],
    frosts: tuple[date | None, date | None],
    ends: date,
) -> CropYear:
    words = crop_words(crop)
    name = f"{words} ({batch.variety})" if batch.variety else words
    outcome: Outcome = (
        "lost" if batch.stage == "lost"
        else "picked" if batch.picked is not None
        else "growing" if world.today < ends
        else "not told"
    )  # fmt: skip
    season = None if site is None else season_for(crop, site, world.facts, _variety(batch, world))
    ended = batch.since if outcome == "lost" else batch.picked
    return CropYear(
        batch,
        name,
        _planned(batch, entries),
        tuple(_starts(batch, crop, season, world)),
        outcome,
        ended,
        _by_frost(batch, entries, frosts, world),
        sum(e.count or 0.0 for e in entries if e.action == "lost" and e.id in batch.entries),
    )


def _variety(batch: Batch, world: World) -> Slots | None:
    known = next((v for v in world.garden.varieties_of(batch.crop) if v.name == batch.variety), None)
    return None if known is None or known.days is None else Slots(days_to_maturity=known.days)


def _planned(batch: Batch, entries: Iterable[Decision]) -> date | None:
    """The day it was planned for: the last plan with a day, told of the crop before it was begun."""
    plans = [
        e.on
        for e in entries
        if e.action in ("decide", "remind", "postpone")
        and batch.crop in e.crops
        and e.detail.get("open") is None
        and e.id < batch.began
    ]
    return plans[-1] if plans else None


def _starts(batch: Batch, crop: Crop, season: Season | None, world: World) -> Iterable[Started]:
    """Its sowing and its setting out, each against its window."""
    planted = batch.out is not None and batch.out == batch.begun
    if not batch.bought and not planted:
        yield _started(
            "outdoors" if is_outdoors(_at_first(batch), crop, world) else "indoors", batch.begun, season
        )
    if batch.out is not None:
        piece = planted and "indoors" not in crop.methods
        yield _started("outdoors" if piece else "setout", batch.out, season)


def _at_first(batch: Batch) -> Batch:
    """The batch as it was sown: where it stands now says nothing of where it was sown."""
    return Batch(
        batch.id,
        batch.crop,
        batch.began,
        batch.begun,
        "sown",
        batch.begun,
        where=batch.sown_in,
        text=batch.text,
    )


def _started(method: str, on: date, season: Season | None) -> Started:
    window = None if season is None else _window_of(season, method, on)
    if window is None:
        return Started(method, on, None, 0)
    off = min(0, (on - window.best_from).days) + max(0, (on - window.best_to).days)
    return Started(method, on, window, off)


def _window_of(season: Season, method: str, on: date) -> Window | None:
    """The window of this way of starting a day belongs to: the one it lies in, else the nearest."""
    origins = (season.year.origin(on), season.next_origin(season.year.origin(on)))
    mine = [w for o in origins for w in season.of_season(o) if w.activity in ACTIVITIES[method]]

    def away(w: Window) -> int:
        return max(0, (w.earliest - on).days, (on - w.latest).days)

    return min(mine, key=away, default=None)


def _by_frost(
    batch: Batch, entries: Iterable[Decision], frosts: tuple[date | None, date | None], world: World
) -> str:
    """What the frost did to it, as far as the days tell."""
    last, _ = frosts
    if batch.stage == "lost":
        site = world.site
        cold = [f for f in frosts_told(world.journal, world.garden.place) if is_frost(f)]
        near = next((f for f in cold if 0 <= (batch.since - f.on).days <= FROST_NEAR_DAYS), None)
        said = any(
            e.action == "lost" and batch.crop in e.crops and "frost" in e.text.lower() for e in entries
        )
        if near is not None or said:
            side = side_of(site, batch.since)[1] if site is not None else "last"
            return (
                f"lost to frost {'in spring' if side == 'last' else 'at the end'}, {show_date(batch.since)}"
            )
    if last is not None and batch.out is not None and 0 < (last - batch.out).days <= 60:
        return f"out {plural((last - batch.out).days, 'day')} before the last frost"
    return ""


# -- what to move --------------------------------------------------------------------------------------
def _moves(crops: Sequence[CropYear], last: date | None, first: date | None) -> list[NextYear]:
    """The two or three things that would have gained most, one a crop."""
    best: dict[str, NextYear] = {}
    for one in crops:
        for move in _moves_of(one, last, first):
            if one.name not in best or move.weight > best[one.name].weight:
                best[one.name] = move
    return sorted(best.values(), key=lambda m: (-m.weight, m.said))[:MOST_MOVES]


def _moves_of(one: CropYear, last: date | None, first: date | None) -> Iterable[NextYear]:
    out = one.batch.out
    lost = one.outcome == "lost"
    if lost and "lost to frost" in one.frost:
        if out is not None and last is not None and out < last:
            wait = (last - out).days + 1
            yield NextYear(
                f"Set {one.name} out {plural(wait, 'day')} later, or cover it: frost took it.", 200.0 + wait
            )
        else:
            yield NextYear(f"Cover {one.name}, or pick before the first frost: frost took it.", 150.0)
    for start in one.starts:
        if start.window is None or abs(start.off_days) <= SLIP_DAYS:
            continue
        good = start.window.best_to if start.off_days > 0 else start.window.best_from
        day = show_date(good)
        weight = (
            abs(start.off_days)
            + (60.0 if start.outside else 0.0)
            + (30.0 if one.outcome != "picked" else 0.0)
        )
        does = _WORDS[start.method]
        verb, _, rest = does.partition(" ")
        what = f"{verb.capitalize()} {one.name}{f' {rest}' if rest else ''}"
        if start.off_days > 0:
            yield NextYear(f"{what} {plural(start.off_days, 'day')} earlier, by {day}.", weight)
        elif start.outside or one.outcome == "lost":
            yield NextYear(f"{what} {plural(-start.off_days, 'day')} later, from {day}.", weight)
    if one.outcome == "not told" and first is not None and one.starts:
        yield NextYear(
            f"Note when you pick {one.name}, or choose a quicker variety: no picking is in the log.", 20.0
        )


# -- words ---------------------------------------------------------------------------------------------
def _details(found: Review) -> Iterable[str]:
    frosts = [
        f"{name} frost {show_date(day)}"
        for name, day in (("last", found.last_frost), ("first", found.first_frost))
        if day is not None
    ]
    if frosts:
        yield f"That year's {' and '.join(frosts)}."
    yield from (f"{c.name[:1].upper()}{c.name[1:]}: {c.frost}." for c in found.crops if c.frost)


def _table(found: Review) -> Table:
    planned = any(c.planned for c in found.crops)
    head = ("crop", *(("planned",) if planned else ()), "done, against its window", "came of it")
    rows = [
        (
            c.name,
            *(("" if c.planned is None else show_date(c.planned),) if planned else ()),
            "; ".join(map(_done, c.starts)) or f"bought {show_date(c.batch.begun)}",
            _came_of_it(c),
        )
        for c in found.crops
    ]
    return Table(head, tuple(rows), f"{found.year}, from your log")


def _done(start: Started) -> str:
    """ "set out 12 May, 24 days early" """
    told = f"{_DONE[start.method]} {show_date(start.on)}"
    if start.window is None:
        return told
    if abs(start.off_days) <= SLIP_DAYS:
        return f"{told}, in good time"
    way = "late" if start.off_days > 0 else "early"
    return f"{told}, {plural(abs(start.off_days), 'day')} {way}{' (outside it)' if start.outside else ''}"


def _came_of_it(one: CropYear) -> str:
    some = f", {one.lost:g} lost" if one.lost and one.outcome != "lost" else ""
    if one.outcome == "growing":
        return f"still growing{some}"
    if one.outcome == "not told":
        return f"no picking noted{some}"
    return (f"{one.outcome} {show_date(one.ended)}" if one.ended is not None else one.outcome) + some
