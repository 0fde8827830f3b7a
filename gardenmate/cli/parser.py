"""The words of the command line: its commands, their options, and how the values of options are read."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from datetime import date
from functools import partial

from gardenmate import __version__

_WHILE_MADE = partial(argparse.HelpFormatter, width=80)
"""Every option asks for a formatter, which would load shutil to ask how wide the terminal is; 80 is never seen."""
LONGEST_NAME = 100  # letters; of a place with its county, state and country, or of a crop


def make_parser(words: Sequence[str] | None = None) -> argparse.ArgumentParser:
    """The parser of the command line; for ``words`` that begin with a command, of that alone (argparse is slow)."""
    parser = argparse.ArgumentParser(
        prog="gardenmate",
        description="Answers planting-window questions offline. Without a command: the bench.",
        formatter_class=_WHILE_MADE,
    )
    parser.add_argument("--version", action="version", version=f"gardenmate {__version__}")
    _place_options(parser, after_command=False)
    place = argparse.ArgumentParser(add_help=False, formatter_class=_WHILE_MADE)
    _place_options(place)
    commands = parser.add_subparsers(metavar="COMMAND", dest="command")
    for name in words[:1] if words and words[0] in COMMANDS else COMMANDS:
        says, options = COMMANDS[name]
        parents = [place] if name not in ("completion", "help") else []
        options(commands.add_parser(name, parents=parents, help=says, formatter_class=_WHILE_MADE))
    for each in (parser, *commands.choices.values()):
        each.formatter_class = argparse.HelpFormatter
    return parser


def _ask_options(ask: argparse.ArgumentParser) -> None:
    ask.add_argument("question", nargs="+", help="the question; - reads questions from standard input")
    ask.add_argument("--json", action="store_true", help="one JSON object per question, one line each")
    ask.add_argument("--conversation", action="store_true", help="questions from stdin share context")
    ask.add_argument("--full", action="store_true", help="the whole answer instead of its short form")
    ask.add_argument("--explain-reading", action="store_true", help="show which words led to the reading")


def _calendar_options(calendar: argparse.ArgumentParser) -> None:
    calendar.add_argument("name", nargs="*", help="crops; none: all, your own first")
    calendar.add_argument(
        "--crop", action="append", type=_name, default=[], metavar="NAME", help="only this crop"
    )
    calendar.add_argument("--json", action="store_true", help="JSON instead of a drawing")
    calendar.add_argument("--format", choices=("text", "md", "csv", "ics", "json"), default="text")


def _sheet_options(sheet: argparse.ArgumentParser) -> None:
    form = sheet.add_mutually_exclusive_group()
    form.add_argument("--html", action="store_true", help="a page for the browser (this is the default)")
    form.add_argument("--svg", action="store_true", help="a drawing")
    sheet.add_argument("--out", metavar="FILE", help="where to write it; - for the output")
    sheet.add_argument("--paper", choices=("a4", "letter"), help="default: as sold where you garden")
    sheet.add_argument(
        "--crop", action="append", type=_name, default=[], metavar="NAME", help="only this crop"
    )


def _agenda_options(agenda: argparse.ArgumentParser) -> None:
    agenda.add_argument("--days", type=_whole(1, 366), default=14, metavar="N", help="how far ahead (14)")
    agenda.add_argument("--json", action="store_true", help="JSON: the jobs with their numbers")
    agenda.add_argument("--format", choices=("text", "ics"), default="text")


def _plantings_options(plantings: argparse.ArgumentParser) -> None:
    plantings.add_argument("--json", action="store_true", help="JSON: every batch, also those that are over")


def _log_options(log: argparse.ArgumentParser) -> None:
    log.add_argument(
        "words", nargs="*", metavar="list | search WORDS | export | check | import FILE", help="no word: list"
    )
    log.add_argument("--crop", metavar="NAME", type=_name)
    log.add_argument("--since", metavar="YYYY-MM-DD", type=_date)
    log.add_argument("--until", metavar="YYYY-MM-DD", type=_date)
    log.add_argument("--limit", type=_entries, default=None, metavar="N")
    log.add_argument("--format", choices=("text", "md", "csv", "ics", "json"), help="of an export (md)")
    log.add_argument("--out", metavar="FILE", help="write to a file instead of the screen")
    log.add_argument("--force", action="store_true", help="replace the file --out names")


def _backup_options(backup: argparse.ArgumentParser) -> None:
    backup.add_argument("file", metavar="FILE")
    backup.add_argument("--force", action="store_true", help="replace FILE when it is there")


def _restore_options(restore: argparse.ArgumentParser) -> None:
    restore.add_argument("file", metavar="FILE")


def _weather_options(weather: argparse.ArgumentParser) -> None:
    weather.add_argument("file", metavar="FILE")


def _help_options(helps: argparse.ArgumentParser) -> None:
    helps.add_argument("topic", nargs="*", help="a topic such as frost; json: the names in the JSON")


def _demo_options(demo: argparse.ArgumentParser) -> None:
    demo.add_argument("name", nargs="?", help="which one; none lists them")


def _completion_options(completion: argparse.ArgumentParser) -> None:
    completion.add_argument("shell", choices=("bash", "zsh", "fish"))


COMMANDS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "ask": ("answer one question, or many from standard input", _ask_options),
    "calendar": ("the year's windows for every crop", _calendar_options),
    "sheet": ("one printable page of your own season", _sheet_options),
    "agenda": ("what is due in the coming days", _agenda_options),
    "plantings": ("what is growing, where, and what comes next", _plantings_options),
    "log": ("list, search, check and export what was decided", _log_options),
    "backup": ("garden, journal and weather in one file", _backup_options),
    "restore": ("what a backup holds, in place of what there is", _restore_options),
    "import-weather": ("GHCN-Daily .dly or .csv", _weather_options),
    "help": ("what to type, by example", _help_options),
    "demo": ("play a demo conversation", _demo_options),
    "completion": ("a script that completes these words in a shell", _completion_options),
}


def _place_options(parser: argparse.ArgumentParser, after_command: bool = True) -> None:
    """Options about the day and the place. Behind a command a missing one leaves what stood before it."""
    unset = argparse.SUPPRESS if after_command else None
    off = argparse.SUPPRESS if after_command else False
    add = parser.add_argument
    add("--today", metavar="YYYY-MM-DD", type=_date, default=unset, help="the date to answer for")
    add("--place", metavar="NAME", type=_name, default=unset, help="a bundled place (fuzzy)")
    add("--last-frost", metavar="MM-DD", type=_month_day, default=unset, help="your average last frost")
    add("--first-frost", metavar="MM-DD", type=_month_day, default=unset, help="your average first frost")
    add("--lat", type=_number(-90, 90), default=unset, help="degrees north")
    add("--lon", type=_number(-180, 180), default=unset, help="degrees east")
    add("--elevation", type=_number(-430, 6000), metavar="M", default=unset, help="metres")
    add("--garden", metavar="FILE", default=unset, help="another garden file")
    add("--no-garden", action="store_true", default=off, help="ignore the stored garden")
    add("--units", choices=("us", "metric"), default=unset)
    add("--plain", action="store_true", default=off, help="labelled lines, no colour, no drawing")


def _date(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text[:20]}' is not a date such as 2027-04-18") from None


def _month_day(text: str) -> tuple[int, int]:
    month, _, day = text.partition("-")
    try:
        found = date(2000, int(month), int(day))
    except (ValueError, OverflowError):
        raise argparse.ArgumentTypeError(f"'{text[:20]}' is not a month and day such as 05-12") from None
    return found.month, found.day


def _name(text: str) -> str:
    if len(text) > LONGEST_NAME:
        raise argparse.ArgumentTypeError(f"a name of {len(text)} letters is longer than any I know")
    return text


def _entries(text: str) -> int:
    if not text.lstrip("-").isascii() or not text.lstrip("-").isdigit() or len(text) > 9:
        raise argparse.ArgumentTypeError(f"'{text[:20]}' is not a number of entries")
    return int(text)


def _whole(low: int, high: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not text.isascii() or not text.isdigit() or len(text) > 9 or not low <= int(text) <= high:
            raise argparse.ArgumentTypeError(f"'{text[:20]}' is not a whole number from {low} to {high}")
        return int(text)

    return read


def _number(low: float, high: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"'{text[:20]}' is not a number from {low:g} to {high:g}")
        return value

    return read
