"""How the agenda words its jobs: the step, the delay, the small table."""

from __future__ import annotations

from datetime import date

from gardenmate.core.answer import Table
from gardenmate.core.units import plural, show_date
from gardenmate.topics.agenda.item import Item
from gardenmate.topics.shared.grammar import listed

PRESSING = frozenset({"frost", "overdue", "closing", "late", "due"})
STATUS = {
    "frost": "tonight",
    "overdue": "overdue",
    "closing": "closing",
    "late": "late",
    "due": "due",
    "open": "can wait",
    "coming": "from",
    "missed": "missed",
}

FAR_DAYS = 180  # days: a later date is not shown; design value


def step(item: Item, today: date) -> str:
    """One job as a sentence: what, by when, how long."""
    minutes = f"; about {item.minutes} minutes" if item.minutes > 5 else ""
    if item.status == "frost":
        return f"{item.do}: tonight{minutes}."
    if item.status == "coming":
        return f"{item.do}: from {show_date(item.opens, today)}{minutes}."
    last = f", last date {show_date(item.closes, today)}" if item.closes not in (None, item.best_by) else ""
    if today > item.best_by:
        tail = last.lstrip(", ") or "the best time has passed"
    else:
        tail = f"best by {show_date(item.best_by, today)}{last}"
    return f"{item.do}: {tail}{minutes}."


def day_words(day: date) -> str:
    """ "Saturday (24 Apr)"."""
    return f"{day:%A} ({show_date(day)})"


def due_words(item: Item, today: date) -> str:
    """By when a job is best done, or its last date once that is past."""
    if today > item.best_by and item.closes is not None:
        return f"last date {show_date(item.closes, today)}"
    return f"best by {show_date(item.best_by, today)}"


def names(chosen: tuple[Item, ...] | list[Item], most: int) -> str:
    """The first few jobs in running text."""
    return listed(lower(i.do) for i in chosen[:most])


def lower(text: str) -> str:
    """The text with a small first letter."""
    return text[:1].lower() + text[1:]


def delay(item: Item, why: str, today: date) -> str:
    """What putting a job off costs."""
    left = item.days_left(today)
    if item.status == "frost" or left is None:
        return f"{item.do}: {why}; {item.cost}."
    if left <= 0:
        return f"{item.do}: {why}, and today is the last day: {item.cost}."
    if not hurts(item, today):
        return f"{item.do}: {why}; a few days do no harm."
    out = f"; {item.way_out}" if item.way_out and left <= 7 else ""
    return f"{item.do}: {why}; {plural(left, 'day')} left, {item.cost}{out}."


def hurts(item: Item, today: date) -> bool:
    """True when a few days' delay costs something."""
    left = item.days_left(today)
    return item.status in ("frost", "overdue", "closing") or (left is not None and left <= 14)


def good_now(item: Item, today: date) -> bool:
    """True for a job with plenty of time whose good part has begun."""
    good_from = item.good_from
    return item.status == "open" and good_from is not None and good_from <= today <= item.best_by


def table_of(jobs: tuple[Item, ...], today: date, most: int) -> Table:
    """The jobs as rows, ``most`` at most."""
    rows = [
        (
            f"{number}. {item.do}",
            _status(item, today),
            "past" if item.best_by < today else _within(item.best_by, today),
            "-" if item.closes is None else _within(item.closes, today),
            f"{item.minutes} min",
        )
        for number, item in enumerate(jobs[:most], start=1)
    ]
    return Table(("job", "", "best by", "last date", "time"), tuple(rows))


def _status(item: Item, today: date) -> str:
    if item.status == "coming":
        return f"from {show_date(item.opens, today)}"
    if item.status == "open" and item.good_from is not None and today < item.good_from:
        return f"better from {show_date(item.good_from, today)}"
    if item.status == "open" and today > item.best_by:
        return "still possible"
    return "good now" if good_now(item, today) else STATUS[item.status]


def _within(day: date, today: date) -> str:
    """A date that is near enough to plan by; half a year off it is no figure to act on."""
    return show_date(day, today) if (day - today).days <= FAR_DAYS else "-"
