"""Listing and searching the log: by crop, days, deed and words; "when did I", and how it went after."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from gardenmate.core.answer import Answer, Number, Table
from gardenmate.core.question import CropRef, Request
from gardenmate.core.units import plural, show_date
from gardenmate.core.world import Decision, JournalView, World
from gardenmate.knowledge.deeds import DeedKind, deed_named
from gardenmate.plantings.batches import OLDER
from gardenmate.records import dataclass, replace
from gardenmate.topics.shared.plant_names import plant_names

SHOWN = 20  # entries shown; design value
_MANY = 500  # entries counted; beyond, "or more" is said
_CELL = 70  # signs of an entry in a table


@dataclass(frozen=True, slots=True)
class Period:
    """The days an entry search covers, both ends included, and how to say it ("in March 2027")."""

    since: date
    until: date
    said: str


@dataclass(frozen=True, slots=True)
class _Search:
    """What is looked for, and what was found."""

    found: Sequence[Decision]
    period: Period | None
    deed: DeedKind | None
    words: tuple[str, ...] = ()
    missed_words: tuple[str, ...] = ()
    missed_deed: DeedKind | None = None


def listing(question: Request, world: World) -> Answer:
    """The entries asked for, newest first, with a sentence that says how many and what about."""
    journal = world.journal
    if journal is None:
        return Answer(
            question=question, verdict=None, headline="No log is kept here, so there is nothing to show."
        )
    search = _search(question, world, journal)
    if not question.crops:  # what comes next may be about what is listed
        about_these = tuple(
            CropRef(c) for c in dict.fromkeys(c for d in search.found[:SHOWN] for c in d.crops)
        )
        return replace(_listed(question, search, world), question=replace(question, crops=about_these))
    return _listed(question, search, world)


def _listed(question: Request, search: _Search, world: World) -> Answer:
    about = _about(question, search, world)
    numbers = _numbers(search.found)
    if not search.found:
        return Answer(question=question, verdict=None, headline=f"Nothing is noted{about}.", numbers=numbers)
    details: list[str] = []
    if search.missed_words:
        details.append(
            f"No entry says '{' '.join(search.missed_words)}', so this is everything else that fits."
        )
    if search.missed_deed is not None:
        names = plant_names(question.crops, world.facts)
        details.append(f"No entry says '{search.missed_deed.done}'; this is what is noted about {names}.")
    if question.has("asks", "course"):
        return _course(question, search, world, details)
    first = search.found[0]
    if question.has("asks", "how-many") and question.crops and all(d.count is not None for d in search.found):
        return _total(question, search, about, details)
    if question.has("asks", "latest"):
        return _one(question, first, f"The latest entry{about}", details)
    if len(search.found) == 1:
        return _one(question, first, "In the log", details)
    if question.has("asks", "when"):
        headline = f"You noted{about} {_times(search.found)}, the latest: {told(first)}."
    else:
        headline = f"{_count(search.found)} noted{about}."
    if len(search.found) > SHOWN:
        details.append(f"The newest {SHOWN} are shown; 'gardenmate log' lists them all.")
    return Answer(
        question=question,
        verdict=None,
        headline=headline,
        numbers=numbers,
        details=tuple(details),
        table=_table(search.found[:SHOWN]),
    )


def told(decision: Decision) -> str:
    """An entry in one line: "planted 12 leeks, 10 Apr 2027"."""
    return f"{short(decision.text)}, {shown_day(decision.on)}"


def shown_day(day: date) -> str:
    """A day of the log, always with its year: "10 Apr 2027"."""
    return f"{show_date(day)} {day.year}"


# -- searching ----------------------------------------------------------------------------------------
def _search(question: Request, world: World, journal: JournalView) -> _Search:
    period = _period(question, world)
    told_deed = question.first("deed")
    deed = deed_named(str(told_deed.value), world.facts) if told_deed is not None else None
    since, until = (period.since, period.until) if period else (None, None)
    crops: list[str | None] = [ref.id for ref in question.crops] or [None]

    def find(action: str | None, text: str | None) -> list[Decision]:
        older = [name for name, now in OLDER.items() if now == action]
        found = {
            d.id: d
            for crop in crops
            for name in (action, *older)
            for d in journal.search(crop=crop, action=name, since=since, until=until, text=text, limit=_MANY)
        }
        return sorted(found.values(), key=lambda d: (d.on, d.id), reverse=True)

    if deed is not None:
        found = find(deed.id, None)
        if found or question.crops:
            # "When did I plant the garlic": the word for it may differ, the crop does not.
            if found:
                return _Search(found, period, deed)
            return _Search(find(None, None), period, None, missed_deed=deed)
    typed = question.first("words")
    words = () if question.crops or typed is None else tuple(str(typed.value).split())
    if not words:
        return _Search(find(None, None), period, None)
    found = find(None, " ".join(words))
    if found:
        return _Search(found, period, None, words)
    scored = [(word, find(None, word)) for word in words]
    hits = [(word, some) for word, some in scored if some]
    if hits:
        some_word, some = min(hits, key=lambda hit: len(hit[1]))  # the rarest word says most
        return _Search(some, period, None, (some_word,), tuple(w for w in words if w != some_word))
    if period is not None:
        return _Search(find(None, None), period, None, (), words)
    return _Search([], None, None, words)


_SEASON_MONTH = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}


def _period(question: Request, world: World) -> Period | None:
    """The days asked about; a season is that of the place's hemisphere."""
    season = question.first("season")
    if season is not None:
        return _season(season.role or "this", str(season.value), world)
    since, until = question.first("since"), question.first("until")
    if (
        since is None
        or until is None
        or not isinstance(since.value, date)
        or not isinstance(until.value, date)
    ):
        return None
    return Period(since.value, until.value, _said_days(since.value, until.value, world.today))


def _said_days(since: date, until: date, today: date) -> str:
    if since == until:
        return f"on {shown_day(since)}"
    if (since.month, since.day, until.month, until.day) == (1, 1, 12, 31) and since.year == until.year:
        return f"in {since.year}"
    month_end = (until + timedelta(days=1)).day == 1
    if since.day == 1 and month_end and (since.year, since.month) == (until.year, until.month):
        return f"in {since:%B %Y}"
    if until == today:
        return f"since {shown_day(since)}"
    return f"from {shown_day(since)} to {shown_day(until)}"


def _season(which: str, name: str, world: World) -> Period:
    """The latest such season that has begun; "last" one of a season running now is the year before's."""
    start = _SEASON_MONTH[name]
    if world.site is not None and world.site.southern:
        start = (start + 5) % 12 + 1
    year = world.today.year
    first = date(year, start, 1)
    if first > world.today:
        first = date(max(year - 1, 1), start, 1)
    end = _months_on(first, 3)
    if which == "last" and first <= world.today < end and first.year > 1:
        first = date(first.year - 1, start, 1)
        end = _months_on(first, 3)
    return Period(first, end - timedelta(days=1), f"in the {name} of {first.year}")


def _months_on(first: date, months: int) -> date:
    index = first.month - 1 + months
    year = first.year + index // 12
    return date.max if year > date.max.year else date(year, index % 12 + 1, 1)


# -- saying -------------------------------------------------------------------------------------------
def _about(question: Request, search: _Search, world: World) -> str:
    parts = []
    if search.deed is not None:
        parts.append(f"for '{search.deed.done}'")
    if question.crops:
        parts.append(f"about {plant_names(question.crops, world.facts)}")
    if search.words:
        parts.append(f"with '{' '.join(search.words)}'")
    if search.period is not None:
        parts.append(search.period.said)
    return "".join(f" {part}" for part in parts)


def _count(found: Sequence[Decision]) -> str:
    more = " or more" if len(found) >= _MANY else ""
    return f"{len(found)}{more} {'entry' if len(found) == 1 else 'entries'}"


def _times(found: Sequence[Decision]) -> str:
    return "once" if len(found) == 1 else f"{len(found)} times"


def _one(question: Request, decision: Decision, opening: str, details: Sequence[str]) -> Answer:
    more = list(details)
    if decision.verdict:
        more.append(f"It rested on the answer '{decision.verdict}' to '{decision.question}'.")
    if decision.place:
        more.append(f"Noted for {decision.place}.")
    return Answer(
        question=question,
        verdict=None,
        headline=f"{opening}: {decision.text}, {shown_day(decision.on)}.",
        numbers=_numbers([decision]),
        details=tuple(more),
    )


def _total(question: Request, search: _Search, about: str, details: Sequence[str]) -> Answer:
    """ "How many leeks did I plant": the counts of the entries added up, and the entries."""
    total = sum(d.count or 0.0 for d in search.found)
    more = details if len(search.found) > 1 else (*details, f"Noted: {told(search.found[0])}.")
    return Answer(
        question=question,
        verdict=None,
        headline=f"{total:g} in all, in {_count(search.found)}{about}.",
        numbers=(Number("logged_total", total, "", "In all", shown=False), *_numbers(search.found)),
        details=tuple(more),
        table=_table(search.found[:SHOWN]) if len(search.found) > 1 else None,
    )


def _course(question: Request, search: _Search, world: World, details: list[str]) -> Answer:
    """From the first entry on, in order of time, with the days between start and first harvest."""
    assert world.journal is not None
    first = search.found[-1]
    later = {
        d.id: d
        for crop in tuple(ref.id for ref in question.crops) or first.crops or (None,)
        for d in world.journal.search(crop=crop, since=first.on, until=_season_end(first.on), limit=_MANY)
    }
    course = sorted(later.values(), key=lambda d: (d.on, d.id))
    harvest = next((d for d in course if d.action == "harvest"), None)
    if harvest is not None:
        days = (harvest.on - first.on).days
        details.append(f"First harvest {shown_day(harvest.on)}, {plural(days, 'day')} after that.")
    elif len(course) > 1:
        details.append("No harvest was noted.")
    else:
        details.append("Nothing was noted of it afterwards, so I cannot say how it went.")
    return Answer(
        question=question,
        verdict=None,
        headline=f"Started: {told(first)}.",
        numbers=_numbers(course),
        details=tuple(details),
        table=_table(course[:SHOWN]) if len(course) > 1 else None,
    )


def _season_end(day: date) -> date:
    """A year on: what was noted of the same planting."""
    return (
        date.max if day.toordinal() + 365 > date.max.toordinal() else date.fromordinal(day.toordinal() + 365)
    )


def _numbers(found: Sequence[Decision]) -> tuple[Number, ...]:
    numbers = [Number("entries", len(found), "", "Entries", shown=False)]
    if found:
        days = [d.on for d in found]
        numbers.append(Number("first_entry", min(days), "date", "First", shown=False))
        numbers.append(Number("last_entry", max(days), "date", "Latest", shown=False))
    return tuple(numbers)


def _table(found: Sequence[Decision]) -> Table:
    return Table(
        heads=("Date", "Entry", "No."),
        rows=tuple((shown_day(d.on), short(d.text), str(d.id)) for d in found),
    )


def short(text: str) -> str:
    """An entry's words cut to one line."""
    flat = " ".join(text.split())
    return flat if len(flat) <= _CELL else flat[: _CELL - 4].rsplit(" ", 1)[0] + " ..."
