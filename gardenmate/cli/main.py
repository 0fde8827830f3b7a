"""The command line: `ask` for one answer, no words for the bench, and the small commands around them.

Everything that is not needed for the words typed is imported late: a one-shot question costs little more
than its libraries.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from gardenmate import __version__
from gardenmate.core.errors import GardenmateError, UsageError

if TYPE_CHECKING:
    from gardenmate.core.answer import Answer
    from gardenmate.dialogue.conversation import Conversation, PlaceOptions
    from gardenmate.present.layout import Line, Look
    from gardenmate.present.so_far import SoFar

_SETTLED = frozenset({0, 20, 200})  # lines of a list after which most facts in use are read
FIRST_YEAR, LAST_YEAR = 1900, 2200
EXIT_CLOSED_PIPE = 0
EXIT_INTERRUPTED = 130
EXIT_NOT_WRITTEN = 1


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code (see gardenmate.core.errors for the codes)."""
    words = list(sys.argv[1:] if argv is None else argv)
    _open_what_is_closed()
    try:
        options = make_parser(words).parse_args(words)
        handler: Callable[[argparse.Namespace], int] = options.run
        code = handler(options)
        sys.stdout.flush()
        return code
    except GardenmateError as error:
        print(f"gardenmate: {_one_line(error)}", file=sys.stderr)
        return error.exit_code
    except BrokenPipeError:
        # The reader went away (`| head`): nothing more to say, and no traceback when Python flushes.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return EXIT_CLOSED_PIPE
    except KeyboardInterrupt:
        return EXIT_INTERRUPTED
    except OSError as error:
        # Faults of files are told where they are met; what is left is the output itself (a full disk).
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"gardenmate: the answer cannot be written: {error.strerror or error}.", file=sys.stderr)
        return EXIT_NOT_WRITTEN


def _open_what_is_closed() -> None:
    """A standard stream closed by the caller becomes an empty one: nothing to read, nobody to tell."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115 (lives as long as the process)


def make_parser(words: Sequence[str] | None = None) -> argparse.ArgumentParser:
    """The parser of the command line; for ``words``, of the commands among them (argparse is slow)."""
    parser = argparse.ArgumentParser(
        prog="gardenmate",
        description="Answers planting-window questions offline. Without a command: the bench.",
    )
    parser.add_argument("--version", action="version", version=f"gardenmate {__version__}")
    _place_options(parser, after_command=False)
    parser.set_defaults(run=_bench)
    place = argparse.ArgumentParser(add_help=False)
    _place_options(place)
    commands = parser.add_subparsers(metavar="COMMAND")
    for name, (says, options) in COMMANDS.items():
        if words is None or name in words:
            about_place = name != "completion"
            options(commands.add_parser(name, parents=[place] if about_place else [], help=says))
        else:  # named in the help and in what is said of a wrong word
            commands.add_parser(name, help=says)
    return parser


def _ask_options(ask: argparse.ArgumentParser) -> None:
    ask.add_argument("question", nargs="+", help="the question; - reads questions from standard input")
    ask.add_argument("--json", action="store_true", help="one JSON object per question, one line each")
    ask.add_argument("--conversation", action="store_true", help="questions from stdin share context")
    ask.add_argument("--full", action="store_true", help="the whole answer instead of its short form")
    ask.add_argument("--explain-reading", action="store_true", help="show which words led to the reading")
    ask.set_defaults(run=_ask)


def _calendar_options(calendar: argparse.ArgumentParser) -> None:
    calendar.add_argument("name", nargs="*", help="crops; none: all, your own first")
    calendar.add_argument("--crop", action="append", default=[], metavar="NAME", help="only this crop")
    calendar.add_argument("--json", action="store_true", help="JSON instead of a drawing")
    calendar.add_argument("--format", choices=("text", "md", "csv", "ics", "json"), default="text")
    calendar.set_defaults(run=_calendar)


def _sheet_options(sheet: argparse.ArgumentParser) -> None:
    form = sheet.add_mutually_exclusive_group()
    form.add_argument("--html", action="store_true", help="a page for the browser (this is the default)")
    form.add_argument("--svg", action="store_true", help="a drawing")
    sheet.add_argument("--out", metavar="FILE", help="where to write it; - for the output")
    sheet.add_argument("--paper", choices=("a4", "letter"), help="default: as sold where you garden")
    sheet.add_argument("--crop", action="append", default=[], metavar="NAME", help="only this crop")
    sheet.set_defaults(run=_sheet)


def _agenda_options(agenda: argparse.ArgumentParser) -> None:
    agenda.add_argument("--days", type=_whole(1, 366), default=14, metavar="N", help="how far ahead (14)")
    agenda.add_argument("--format", choices=("text", "ics"), default="text")
    agenda.set_defaults(run=_agenda)


def _log_options(log: argparse.ArgumentParser) -> None:
    log.add_argument("words", nargs="*", help="text to search for; or: check; or: import FILE")
    log.add_argument("--crop", metavar="NAME")
    log.add_argument("--since", metavar="YYYY-MM-DD", type=_date)
    log.add_argument("--until", metavar="YYYY-MM-DD", type=_date)
    log.add_argument("--limit", type=int, default=None)
    log.add_argument("--format", choices=("text", "md", "csv", "ics", "json"), default="text")
    log.add_argument("--out", metavar="FILE", help="write to a file instead of the screen")
    log.set_defaults(run=_log)


def _weather_options(weather: argparse.ArgumentParser) -> None:
    weather.add_argument("file", metavar="FILE")
    weather.set_defaults(run=_import_weather)


def _demo_options(demo: argparse.ArgumentParser) -> None:
    demo.add_argument("name", nargs="?", help="which one; none lists them")
    demo.set_defaults(run=_demo)


def _completion_options(completion: argparse.ArgumentParser) -> None:
    completion.add_argument("shell", choices=("bash", "zsh", "fish"))
    completion.set_defaults(run=_completion)


COMMANDS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "ask": ("answer one question, or many from standard input", _ask_options),
    "calendar": ("the year's windows for every crop", _calendar_options),
    "sheet": ("one printable page of your own season", _sheet_options),
    "agenda": ("what is due in the coming days", _agenda_options),
    "log": ("list, search, check and export what was decided", _log_options),
    "import-weather": ("GHCN-Daily .dly or .csv", _weather_options),
    "demo": ("play a demo conversation", _demo_options),
    "completion": ("a script that completes these words in a shell", _completion_options),
}


def _place_options(parser: argparse.ArgumentParser, after_command: bool = True) -> None:
    """Options about the day and the place. Behind a command a missing one leaves what stood before it."""
    unset = argparse.SUPPRESS if after_command else None
    off = argparse.SUPPRESS if after_command else False
    add = parser.add_argument
    add("--today", metavar="YYYY-MM-DD", type=_date, default=unset, help="the date to answer for")
    add("--place", metavar="NAME", default=unset, help="a bundled place (fuzzy)")
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
        raise argparse.ArgumentTypeError(f"'{text}' is not a date such as 2027-04-18") from None


def _month_day(text: str) -> tuple[int, int]:
    month, _, day = text.partition("-")
    try:
        found = date(2000, int(month), int(day))
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a month and day such as 05-12") from None
    return found.month, found.day


def _whole(low: int, high: int) -> Callable[[str], int]:
    def read(text: str) -> int:
        if not text.isascii() or not text.isdigit() or not low <= int(text) <= high:
            raise argparse.ArgumentTypeError(f"'{text}' is not a whole number from {low} to {high}")
        return int(text)

    return read


def _number(low: float, high: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"'{text}' is not a number from {low:g} to {high:g}")
        return value

    return read


# -- commands ------------------------------------------------------------------------------------------
def _ask(options: argparse.Namespace) -> int:
    conversation = make_conversation(options)
    if options.question != ["-"]:
        text = " ".join(options.question)
        if options.explain_reading:
            return _explain_reading(conversation, text)
        _say(conversation, conversation.ask(text), options, _screen(conversation, options))
        return conversation.exit_code
    conversation.remembers = options.conversation
    screen = _screen(conversation, options)
    for number, line in enumerate(_stdin_lines()):
        if line.strip():
            _reply(conversation, line.rstrip("\r\n"), options, screen)
        if number in _SETTLED:
            # words and facts stay to the end: the collector need not look through them again and again
            gc.freeze()
    return 0


def _screen(conversation: Conversation, options: argparse.Namespace) -> SoFar:
    from gardenmate.present.so_far import SoFar

    return SoFar(conversation.facts, full=options.full)


def _reply(conversation: Conversation, text: str, options: argparse.Namespace, screen: SoFar) -> None:
    """Answer one line of several. "more" is about the answer before where they share a conversation."""
    from gardenmate.present.so_far import asks_more

    if not options.conversation:
        screen.forget()
    elif screen.waits and asks_more(text) and not options.json:
        _write(screen.rest(look_for(conversation, options)), look_for(conversation, options), options)
        return
    _say(conversation, conversation.ask(text), options, screen)


def _stdin_lines() -> Sequence[str] | TextIO:
    """Standard input line by line; bytes that are not UTF-8 are replaced, never a failure."""
    import io

    buffer = getattr(sys.stdin, "buffer", None)
    if buffer is None:
        return sys.stdin
    return io.TextIOWrapper(buffer, encoding="utf-8", errors="replace", newline="\n")


def _explain_reading(conversation: Conversation, text: str) -> int:
    from gardenmate.present.text import harmless

    for line in conversation.read(text).trace:
        print(harmless(line))
    return 0


def _say(conversation: Conversation, answer: Answer, options: argparse.Namespace, screen: SoFar) -> None:
    """Write one answer, flushed, in the form asked for."""
    if options.json:
        from gardenmate.present.json_out import to_json_line

        sys.stdout.write(to_json_line(answer, conversation.facts) + "\n")
        sys.stdout.flush()
        return
    look = look_for(conversation, options)
    _write(screen.first(answer, look), look, options)


def _write(lines: Sequence[Line], look: Look, options: argparse.Namespace) -> None:
    from gardenmate.present.screen import write_lines

    write_lines(lines, look.width, sys.stdout, colour=colourful(sys.stdout, options))


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
    from gardenmate.present.layout import Look

    width = 80
    if os.environ.get("COLUMNS") or (sys.__stdout__ is not None and sys.__stdout__.isatty()):
        import shutil

        width = min(shutil.get_terminal_size((80, 24)).columns, 100)
    return Look(
        width=width,
        units=conversation.shown_units(),
        today=conversation.clock(),
        linear=is_linear(options),
    )


def make_conversation(options: argparse.Namespace) -> Conversation:
    """A conversation with the place, the garden and the journal the options name."""
    from gardenmate.dialogue.conversation import Conversation
    from gardenmate.knowledge.facts import Facts

    garden_file = journal = None
    if not options.no_garden:
        from gardenmate.garden.store import GardenFile, default_home, garden_path, journal_path
        from gardenmate.journal.store import Journal

        home = Path(options.garden).expanduser().parent if options.garden else default_home()
        garden_file = GardenFile(Path(options.garden).expanduser() if options.garden else garden_path(home))
        journal = Journal(journal_path(home), garden=garden_file)
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
    from gardenmate.dialogue.conversation import PlaceOptions

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


def _calendar(options: argparse.Namespace) -> int:
    from gardenmate.cli.calendar import run

    return run(options, make_conversation(options))


def _sheet(options: argparse.Namespace) -> int:
    from gardenmate.cli.sheet import run

    return run(options, make_conversation(options))


def _agenda(options: argparse.Namespace) -> int:
    from gardenmate.cli.agenda import run

    return run(options, make_conversation(options))


def _log(options: argparse.Namespace) -> int:
    from gardenmate.cli.log import run

    return run(options)


def _import_weather(options: argparse.Namespace) -> int:
    from gardenmate.cli.weather import run

    return run(options)


def _demo(options: argparse.Namespace) -> int:
    from gardenmate.cli.demo import run

    return run(options)


def _completion(options: argparse.Namespace) -> int:
    from gardenmate.cli.completion import run

    return run(options)


def _bench(options: argparse.Namespace) -> int:
    from gardenmate.bench import run

    return run(options)


def _one_line(error: Exception) -> str:
    from gardenmate.present.text import harmless

    return harmless(" ".join(str(error).split()))
