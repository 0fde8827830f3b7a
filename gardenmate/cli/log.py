"""`gardenmate log [list | search WORDS | export | check | import FILE]`."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from gardenmate.core.errors import DamagedFileError, UsageError
from gardenmate.core.text import encodable, harmless
from gardenmate.core.units import plural, show_date
from gardenmate.dialogue.home import (
    garden_named,
    needs_garden,
)
from gardenmate.garden.exports import read_bounded, user_path, write_export
from gardenmate.garden.store import journal_path
from gardenmate.journal.export import export
from gardenmate.journal.imports import read_import
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

if TYPE_CHECKING:
    from gardenmate.journal.decision import KeptDecision

SHOWN = 20  # entries, where no --limit is given; design value
MOST_IMPORT_BYTES = 64_000_000  # bytes of a file to import: over a hundred thousand entries; design value
_ALL = 2**31 - 1
_FILE_FORMAT = "md"  # of an export that names none
_WAYS = "list, search WORDS, export, check, import FILE"


def run(options: argparse.Namespace) -> int:
    """Carry out `gardenmate log` and return its exit code."""
    if options.no_garden:
        raise UsageError("'log' shows the stored log; it cannot be used with --no-garden.")
    if options.limit is not None and options.limit < 1:
        raise UsageError(f"--limit {options.limit} shows nothing; give a number from 1 up.")
    way, *rest = options.words or ["list"]
    ways: dict[str, Callable[[Journal, argparse.Namespace, list[str], Path], int]] = {
        "list": _list,
        "search": _list,
        "export": _export,
        "check": _check,
        "import": _import,
    }
    if way not in ways:
        raise UsageError(
            f"'log {way}' is not known; it takes {_WAYS}. To find entries with these words: "
            f"gardenmate log search {' '.join(options.words)}"
        )
    garden = garden_named(options, new=way == "import")
    if way != "import":
        needs_garden(options)
    with Journal(journal_path(garden.parent)) as journal:
        return ways[way](journal, options, rest, garden)


def _check(journal: Journal, options: argparse.Namespace, rest: list[str], garden: Path) -> int:
    del options, garden
    _nothing_more("check", rest)
    problems = journal.check()
    for problem in problems:
        print(harmless(problem))
    for line in _set_aside(journal):
        print(harmless(line))
    if problems:
        return DamagedFileError.exit_code
    count = plural(len(journal.everything()), "entry", "entries")
    print(f"The journal {harmless(str(journal.path))} is sound: {count}.")
    return 0


def _set_aside(journal: Journal) -> list[str]:
    """A line for each damaged file kept beside the journal: whether all that is whole in it is here too."""
    lines = []
    for path, whole, missing in journal.set_aside():
        if missing:
            told = (
                f"{plural(missing, 'entry', 'entries')} of {whole} in it are not in the journal; "
                f"'gardenmate log import {path}' brings them in"
            )
        else:
            told = f"all {whole} entries that can be read in it are in the journal"
        lines.append(f"A damaged journal was set aside as {path.name}: {told}.")
    return lines


def _import(journal: Journal, options: argparse.Namespace, rest: list[str], garden: Path) -> int:
    del options, garden
    if len(rest) != 1:
        raise UsageError("'log import' takes one file: gardenmate log import FILE")
    path = user_path(rest[0])
    merged = journal.add_all(read_import(path, read_bounded(path, MOST_IMPORT_BYTES)))
    print(
        f"{plural(merged.added, 'entry', 'entries')} added, {merged.updated} brought up to date, "
        f"{merged.known} already here."
    )
    return 0


def _list(journal: Journal, options: argparse.Namespace, rest: list[str], garden: Path) -> int:
    searching = options.words[:1] == ["search"]
    if searching and not " ".join(rest).strip():
        raise UsageError("'log search' needs words: gardenmate log search leeks")
    if not searching:
        _nothing_more("list", rest)
    text = " ".join(rest) or None
    if options.format is not None and options.format != "text":
        return _to_file(
            _found(journal, options, text, options.limit or _ALL), options, options.format, garden
        )
    found = _found(journal, options, text, options.limit or SHOWN + 1)
    more = options.limit is None and len(found) > SHOWN
    lines = log_lines(found[:SHOWN] if more else found)
    if more:
        lines.append(f"(the newest {SHOWN}; --limit 1000 shows more)")
    _write_out(
        "".join(f"{line}\n" for line in lines).encode("utf-8", "replace"), len(found), options, garden, True
    )
    return 0


def _export(journal: Journal, options: argparse.Namespace, rest: list[str], garden: Path) -> int:
    _nothing_more("export", rest)
    if options.format == "text":
        raise UsageError("'log export' writes md, csv, ics or json: --format csv")
    found = _found(journal, options, None, options.limit or _ALL)
    return _to_file(found, options, options.format or _FILE_FORMAT, garden)


def _nothing_more(way: str, rest: list[str]) -> None:
    if rest:
        raise UsageError(
            f"'log {way}' takes no words; to look for some: gardenmate log search {' '.join(rest)}"
        )


def _found(
    journal: Journal, options: argparse.Namespace, text: str | None, limit: int
) -> Sequence[KeptDecision]:
    if options.since and options.until and options.since > options.until:
        raise UsageError(f"--since {options.since} is after --until {options.until}.")
    return journal.search(
        crop=crop_id(options.crop) if options.crop else None,
        since=options.since,
        until=options.until,
        text=text,
        limit=limit,
    )


def _to_file(found: Sequence[KeptDecision], options: argparse.Namespace, fmt: str, garden: Path) -> int:
    data = export(reversed(found), fmt)  # a file reads from the oldest on
    _write_out(data, len(found), options, garden, False)
    return 0


def _write_out(data: bytes, count: int, options: argparse.Namespace, garden: Path, text: bool) -> None:
    if options.out and options.out != "-":
        write_export(user_path(options.out), data, garden, force=options.force)
        print(f"{plural(count, 'entry', 'entries')} written to {harmless(options.out)}.")
    else:
        to_stdout(data, text)


def log_lines(decisions: Sequence[KeptDecision]) -> list[str]:
    """The entries as lines: day, number, words."""
    if not decisions:
        return ["I have no notes that match."]
    width = max(len(str(d.id)) for d in decisions)
    return [f"{show_date(d.on):>6} {d.on.year:04}  {d.id:>{width}}  {harmless(d.text)}" for d in decisions]


def crop_id(name: str) -> str:
    """The crop a name on the command line stands for. Raises UsageError with what is spelled like it."""
    names = Facts().names
    entry = names.get(name.strip().lower())
    if entry is not None:
        return entry.ref.id
    ids = {e.ref.id for e in names.values()}
    if name in ids:
        return name
    from rapidfuzz import process

    typed = name[:LONGEST_NAME]
    near = [n for n, score, _ in process.extract(typed.lower(), list(names), limit=3) if score >= 75]
    hint = f"; did you mean {' or '.join(near)}?" if near else "."
    raise UsageError(f"I don't know a crop called '{typed}'{hint}")


LONGEST_NAME = 60
"""Signs of a name that are compared with those known; no crop's name is longer."""


def to_stdout(data: bytes, text: bool) -> None:
    """Files go out byte for byte; text in the terminal's encoding."""
    buffer = getattr(sys.stdout, "buffer", None)
    if text or buffer is None:
        decoded = data.decode("utf-8")
        sys.stdout.write(encodable(decoded, sys.stdout.encoding or "utf-8"))
        return
    sys.stdout.flush()
    buffer.write(data)
    buffer.flush()
