"""What every command that answers needs: the conversation its options name, and how to draw."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import date
from typing import TextIO

from gardenmate.core.errors import UsageError
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look
from gardenmate.present.screen import screen_width

FIRST_YEAR, LAST_YEAR = 1900, 2200  # years the season can be worked for; design value


def colourful(stream: TextIO, options: argparse.Namespace) -> bool:
    """True when escape codes are welcome: a terminal that is not dumb, no NO_COLOR, no --plain."""
    if is_linear(options) or os.environ.get("NO_COLOR") or os.environ.get("TERM", "") in ("", "dumb"):
        return False
    return stream.isatty() and (stream.encoding or "").lower().replace("-", "") in ("utf8", "utf16")


def is_linear(options: argparse.Namespace) -> bool:
    """True when labelled lines without any drawing or colour are asked for (--plain)."""
    return bool(getattr(options, "plain", False))


def look_for(conversation: Conversation, options: argparse.Namespace) -> Look:
    """Width, units and day for drawing."""
    width = 80
    if os.environ.get("COLUMNS") or (sys.__stdout__ is not None and sys.__stdout__.isatty()):
        width = screen_width()
    return Look(
        width=width,
        units=conversation.shown_units(),
        today=conversation.clock(),
        linear=is_linear(options),
    )


def make_conversation(options: argparse.Namespace) -> Conversation:
    """A conversation with the place, the garden and the journal the options name."""
    garden_file = journal = None
    if not options.no_garden:
        # start-up seam: without a garden neither SQLite nor the writer of TOML is loaded
        from gardenmate.dialogue.home import garden_named

        # start-up seam: without a garden neither is loaded
        from gardenmate.garden.store import GardenFile, journal_path
        from gardenmate.journal.store import Journal

        garden_file = GardenFile(garden_named(options))
        journal = Journal(journal_path(garden_file.path.parent), garden=garden_file)
    today: date | None = options.today
    now = today if today is not None else date.today()
    if not FIRST_YEAR <= now.year <= LAST_YEAR:
        raise UsageError(f"I can only work with dates from {FIRST_YEAR} to {LAST_YEAR}, not {now}.")
    return Conversation(
        facts=Facts(),
        clock=(lambda: today) if today is not None else date.today,
        options=_place_of(options),
        units=options.units,
        garden_file=garden_file,
        journal=journal,
    )


def _place_of(options: argparse.Namespace) -> PlaceOptions:
    if (options.lat is None) != (options.lon is None):
        raise UsageError("--lat and --lon go together, for example --lat 46.8 --lon -92.1.")
    return PlaceOptions(
        place=options.place,
        lat=options.lat,
        lon=options.lon,
        elevation_m=options.elevation,
        last_frost=options.last_frost,
        first_frost=options.first_frost,
    )
