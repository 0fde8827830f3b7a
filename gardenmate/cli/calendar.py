"""`gardenmate calendar`: the year's windows drawn as bars, or as Markdown, CSV, iCalendar or JSON."""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from textwrap import wrap
from typing import TYPE_CHECKING

from gardenmate.climate.place_words import doubt_sentence
from gardenmate.climate.site import Site
from gardenmate.core.answer import Window
from gardenmate.core.errors import NeedPlaceError, UsageError
from gardenmate.core.text import encodable
from gardenmate.core.units import show_date
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.home import needs_garden
from gardenmate.dialogue.season_rows import calendar_row, my_crops, odds_of_the_year, season_start
from gardenmate.dialogue.session import make_conversation
from gardenmate.knowledge.crops import Crop
from gardenmate.present.json_out import window_dict
from gardenmate.present.screen import screen_width
from gardenmate.present.season_bars import FROST_KEY, KEY, season_bars
from gardenmate.topics.season.calendar import calendar_windows, crops_named

if TYPE_CHECKING:
    from gardenmate.knowledge.facts import Facts

SAYS = {
    "sow-indoors": "sow indoors",
    "sow-outdoors": "sow outdoors",
    "set-out": "set out",
    "fall-sow": "sow for autumn",
    "fall-set-out": "set out for autumn",
}
BEFORE_DAYS = 120
"""A crop planted this long before the season began (garlic) is still one's own in it."""
HEADS = ("crop", "what", "earliest", "best from", "best to", "latest")


def run(options: argparse.Namespace) -> int:
    """Print the calendar. Raises NeedPlaceError, UsageError."""
    needs_garden(options)
    conversation = make_conversation(options)
    place = conversation.place()
    if place is None:
        raise NeedPlaceError(
            "The calendar needs a place: --place Duluth, or --last-frost 05-17 --first-frost 09-27."
        )
    if place.site is None:
        towns = ", ".join(s.name for s in place.sites[:6])
        raise UsageError(f"{place.region} has many climates: name one of its towns, such as {towns}.")
    facts, today = conversation.facts, conversation.clock()
    crops = _chosen((*options.name, *options.crop), conversation, place.site)
    form = "json" if options.json else options.format
    if form == "text":
        _write(drawn(place.site, facts, today, crops, screen_width()))
        return 0
    windows = calendar_windows(place.site, facts, today, crops)
    if form == "json":
        _write([json.dumps([window_dict(w) for w in windows])])
    elif form == "md":
        _write(_markdown(windows, place.site))
    elif form == "csv":
        _write_csv(windows)
    else:
        sys.stdout.write(_icalendar(windows, place.site))
    return 0


def _chosen(names: Sequence[str], conversation: Conversation, site: Site) -> tuple[Crop, ...]:
    """The crops named (one name or several between commas), else every crop, the grower's own first."""
    facts = conversation.facts
    if names:
        return crops_named([part for name in names for part in name.split(",") if part.strip()], facts)
    mine = my_crops(
        conversation.world(), season_start(site, conversation.clock()) - timedelta(days=BEFORE_DAYS)
    )
    own = {crop.id for crop in mine}
    return (*mine, *(crop for crop in facts.crops() if crop.id not in own))


def _write(lines: Sequence[str] | Iterator[str]) -> None:
    for line in lines:
        sys.stdout.write(encodable(line, sys.stdout.encoding or "utf-8") + "\n")


def drawn(site: Site, facts: Facts, today: date, crops: Sequence[Crop], width: int) -> Iterator[str]:
    """The calendar as lines no wider than ``width``: a bar for each crop, frost odds along the top."""
    start = season_start(site, today)
    yield f"{site.label}, from {show_date(start)} {start.year}"
    yield from _folded(KEY, width)
    rows = [calendar_row(c, site, facts, today) for c in crops]
    yield from season_bars(rows, start, odds_of_the_year(site, start), width)
    if any(odds_of_the_year(site, start)):
        yield from _folded(FROST_KEY, width)
    unpicked = [row.name for row in rows if row.windows and not row.picks]
    if unpicked:
        yield from _folded(f"No picking in the year of planting: {', '.join(unpicked)}.", width)
    closed = [row.name for row in rows if not row.windows]
    if closed:
        yield from _folded(f"No season in the open here, only under glass: {', '.join(closed)}.", width)
    doubt = doubt_sentence(site, "us" if site.country == "US" else "metric")
    for note in (*([doubt] if doubt is not None else []), *site.notes):
        yield from _folded(note, width)


def _folded(text: str, width: int) -> list[str]:
    return wrap(text, width)


def _cells(window: Window) -> tuple[str, ...]:
    name = window.crop if window.kind is None else f"{window.crop} ({window.kind})"
    dates = (window.earliest, window.best_from, window.best_to, window.latest)
    return (name, SAYS[window.activity], *(d.isoformat() for d in dates))


def _markdown(windows: Sequence[Window], site: Site) -> Iterator[str]:
    yield f"# Calendar for {site.label}"
    yield ""
    yield "| " + " | ".join(HEADS) + " |"
    yield "|" + "---|" * len(HEADS)
    for window in windows:
        yield "| " + " | ".join(_cells(window)) + " |"


def _write_csv(windows: Sequence[Window]) -> None:
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(HEADS)
    writer.writerows(_cells(w) for w in windows)


def _icalendar(windows: Sequence[Window], site: Site) -> str:
    """The good part of every window as an event."""
    # start-up seam: only for an iCalendar file
    from gardenmate.journal.ics import Event, calendar_file

    events = []
    for window in windows:
        name, what, *_ = _cells(window)
        events.append(
            Event(
                uid=f"{window.crop}-{window.kind or 'any'}-{window.activity}-{window.best_from}",
                on=window.best_from,
                until=window.best_to,
                summary=f"{what}: {name}",
                # The same calendar is the same file: stamped with the year it is for, not with the clock.
                written_at=datetime(window.best_from.year, 1, 1, tzinfo=UTC),
                description=f"Possible from {window.earliest} to {window.latest}.",
                location=site.label,
            )
        )
    return calendar_file(events, f"Planting windows, {site.label}").decode("utf-8")
