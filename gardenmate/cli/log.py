"""`gardenmate log`: list, search, export, import and check the journal."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from gardenmate.core.errors import DamagedFileError, GardenmateError, UsageError
from gardenmate.core.units import plural, show_date
from gardenmate.garden.store import default_home, garden_path, journal_path
from gardenmate.journal.store import Journal
from gardenmate.present.text import encodable, harmless

if TYPE_CHECKING:
    from gardenmate.journal.decision import KeptDecision

SHOWN = 20
_ALL = 2**31 - 1


def run(options: argparse.Namespace) -> int:
    """Carry out `gardenmate log` and return its exit code."""
    if options.no_garden:
        raise UsageError("'log' shows the stored log; it cannot be used with --no-garden.")
    if options.limit is not None and options.limit < 1:
        raise UsageError(f"--limit {options.limit} shows nothing; give a number from 1 up.")
    garden = Path(options.garden).expanduser() if options.garden else garden_path(default_home())
    with Journal(journal_path(garden.parent)) as journal:
        if options.words == ["check"]:
            return _check(journal)
        if options.words[:1] == ["import"] and len(options.words) == 2:
            return _import(journal, Path(options.words[1]).expanduser())
        return _list(journal, options, garden)


def _check(journal: Journal) -> int:
    problems = journal.check()
    for problem in problems:
        print(harmless(problem))
    if problems:
        return DamagedFileError.exit_code
    count = plural(len(journal.everything()), "entry", "entries")
    print(f"The journal {harmless(str(journal.path))} is sound: {count}.")
    return 0


def _import(journal: Journal, path: Path) -> int:
    from gardenmate.journal.export import read_export

    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise UsageError(f"Cannot read {path}: {error.strerror or error}.") from error
    except UnicodeDecodeError as error:
        raise UsageError(f"{path} is not UTF-8 text, so it is no exported log.") from error
    merged = journal.add_all(read_export(text))
    print(
        f"{plural(merged.added, 'entry', 'entries')} added, {merged.updated} brought up to date, "
        f"{merged.known} already here."
    )
    return 0


def _list(journal: Journal, options: argparse.Namespace, garden: Path) -> int:
    text_wanted = options.format == "text"
    if options.since and options.until and options.since > options.until:
        raise UsageError(f"--since {options.since} is after --until {options.until}.")
    limit = options.limit or (SHOWN + 1 if text_wanted else _ALL)
    found = journal.search(
        crop=crop_id(options.crop) if options.crop else None,
        since=options.since,
        until=options.until,
        text=" ".join(options.words) or None,
        limit=limit,
    )
    if text_wanted:
        more = options.limit is None and len(found) > SHOWN
        lines = log_lines(found[:SHOWN] if more else found)
        if more:
            lines.append(f"(the newest {SHOWN}; --limit 1000 shows more)")
        data = "".join(f"{line}\n" for line in lines).encode("utf-8", "replace")
    else:
        from gardenmate.journal.export import export

        data = export(reversed(found), options.format)  # a file reads from the oldest on
    if options.out and options.out != "-":
        _write(Path(options.out).expanduser(), data, (journal.path, garden))
        print(f"{plural(len(found), 'entry', 'entries')} written to {harmless(options.out)}.")
    else:
        _to_stdout(data, text_wanted)
    return 0


def log_lines(decisions: Sequence[KeptDecision]) -> list[str]:
    """The entries as lines: day, number, words."""
    if not decisions:
        return ["I have no notes that match."]
    width = max(len(str(d.id)) for d in decisions)
    return [f"{show_date(d.on):>6} {d.on.year:04}  {d.id:>{width}}  {harmless(d.text)}" for d in decisions]


def crop_id(name: str) -> str:
    """The crop a name on the command line stands for. Raises UsageError with what is spelled like it."""
    from gardenmate.knowledge.facts import Facts

    names = Facts().names
    entry = names.get(name.strip().lower())
    if entry is not None:
        return entry.ref.id
    ids = {e.ref.id for e in names.values()}
    if name in ids:
        return name
    from rapidfuzz import process

    near = [found for found, score, _ in process.extract(name.lower(), list(names), limit=3) if score >= 75]
    hint = f"; did you mean {' or '.join(near)}?" if near else "."
    raise UsageError(f"I know no crop '{name}'{hint}")


def _write(path: Path, data: bytes, kept: Sequence[Path]) -> None:
    """Write an export in one step, so that a full disk leaves no half file; never over the garden's own."""
    if path.exists() and any(own.exists() and path.samefile(own) for own in kept):
        raise UsageError(f"{path} is the garden's own file; name another one for --out.")
    part = path.with_name(f".{path.name}.part")
    try:
        if path.exists() and (path.is_symlink() or not path.is_file()):
            # A link, a pipe or a device is written to, never replaced by a file.
            with path.open("wb") as stream:
                stream.write(data)
            return
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise GardenmateError(f"Cannot write {path}: {error.strerror or error}.") from error


def _to_stdout(data: bytes, text: bool) -> None:
    """Files go out byte for byte; text in the terminal's encoding."""
    buffer = getattr(sys.stdout, "buffer", None)
    if text or buffer is None:
        decoded = data.decode("utf-8")
        sys.stdout.write(encodable(decoded, sys.stdout.encoding or "utf-8"))
        return
    sys.stdout.flush()
    buffer.write(data)
    buffer.flush()
