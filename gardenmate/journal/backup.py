"""Garden, journal and weather in one file, and back.

A backup is a ZIP file: the garden file and the weather record as they are, every entry of the journal as its
own line with its checksum, and `manifest.json` with the length and digest of each. A restore looks through all
of it before it touches anything; then it writes down what it is about to do (`NAME.restore`, a copy of the
backup beside the garden file), does it, and takes the note away. A restore that was killed is finished by the
next command. What was there before is kept under dated names.
"""

from __future__ import annotations

import io
import json
import os
import zipfile
import zlib
from collections.abc import Mapping
from datetime import date
from hashlib import blake2b
from pathlib import Path

from gardenmate.climate.history_store import parse, weather_path
from gardenmate.core.errors import DamagedFileError, GardenmateError, UsageError
from gardenmate.core.files import make_folder, open_plain, replace
from gardenmate.core.units import plural
from gardenmate.garden.exports import read_bounded
from gardenmate.garden.reading import garden_of
from gardenmate.garden.store import data_of_text, journal_path
from gardenmate.journal.frames import EntryRow, frame, unframe
from gardenmate.journal.store import Journal
from gardenmate.records import dataclass

KIND, VERSION = "gardenmate backup", 1
MOST_BYTES = 400_000_000
"""The largest backup, and the largest part of one, that is read (design value: a million entries)."""
_GARDEN, _JOURNAL, _WEATHER, _MANIFEST = "garden.toml", "journal.txt", "garden.weather", "manifest.json"
_PARTS = (_GARDEN, _JOURNAL, _WEATHER)
_EPOCH = (1980, 1, 1, 0, 0, 0)  # the first day a ZIP file can tell: equal gardens give equal files


@dataclass(frozen=True, slots=True)
class Backup:
    """What a backup holds: the bytes of garden file and weather record (None: there is none), the entries."""

    garden: bytes | None
    weather: bytes | None
    entries: tuple[EntryRow, ...]

    @property
    def told(self) -> str:
        """What it holds, for the grower."""
        parts = ["the garden"] if self.garden is not None else []
        parts.append(plural(len(self.entries), "journal entry", "journal entries"))
        parts += ["the weather record"] if self.weather is not None else []
        return ", ".join(parts[:-1]) + f" and {parts[-1]}" if len(parts) > 1 else parts[0]


def backup_of(garden: Path) -> Backup:
    """What stands in and beside a garden file now. Raises GardenmateError for what cannot be read."""
    with Journal(journal_path(garden.parent)) as journal:
        return Backup(_bytes(garden), _bytes(weather_path(garden)), tuple(journal.entries()))


def restore(backup: Backup, garden: Path) -> list[str]:
    """Put a backup in place of what there is; a restore cut off is finished by `finish_restore`. Returns what was
    kept aside. Raises GardenmateError."""
    try:
        make_folder(garden.parent)
        replace(pending_path(garden), packed(backup))
    except OSError as error:
        raise _not_written(garden, error) from error
    return _put_in_place(backup, garden)


def pending_path(garden: Path) -> Path:
    """Where a restore that is under way is written down."""
    return garden.with_name(f"{garden.stem}.restore")


def finish_restore(garden: Path) -> None:
    """Finish a restore that was cut off; nothing where there is none."""
    pending = pending_path(garden)
    if pending.exists():
        _put_in_place(unpacked(read_bounded(pending, MOST_BYTES), pending), garden)  # told when it was begun


def packed(backup: Backup) -> bytes:
    """A backup as the bytes of its file."""
    lines = "".join(f"{frame(row)}\n" for row in backup.entries).encode("ascii")
    parts = {_GARDEN: backup.garden, _JOURNAL: lines, _WEATHER: backup.weather}
    there = {name: data for name, data in parts.items() if data is not None}
    told = {name: {"bytes": len(data), "blake2b": _digest(data)} for name, data in there.items()}
    manifest = json.dumps({"kind": KIND, "version": VERSION, "parts": told}, indent=1).encode()
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for name, data in {_MANIFEST: manifest, **there}.items():
            file.writestr(zipfile.ZipInfo(name, _EPOCH), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def unpacked(data: bytes, path: Path) -> Backup:
    """The backup in the bytes of a file, all of it proved. Raises UsageError when it is none, DamagedFileError
    when it is damaged."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as file:
            manifest = json.loads(_part(file, _MANIFEST))
            if not isinstance(manifest, dict) or manifest.get("kind") != KIND:
                raise UsageError(f"{path} is not a gardenmate backup.")
            if manifest.get("version") != VERSION:
                raise UsageError(
                    f"{path} was written by a newer gardenmate; update gardenmate to restore it."
                )
            parts = {name: _part(file, name) for name in manifest["parts"] if name in _PARTS}
        _prove(parts, manifest["parts"])
        backup = Backup(parts.get(_GARDEN), parts.get(_WEATHER), _entries(parts[_JOURNAL]))
        if backup.weather is not None:
            parse(backup.weather, path)
    except zipfile.BadZipFile as error:
        raise UsageError(f"{path} is not a gardenmate backup, or it is cut short.") from error
    except (
        ValueError,
        KeyError,
        TypeError,
        RecursionError,
        NotImplementedError,
        RuntimeError,
        zlib.error,
    ) as error:
        raise DamagedFileError(f"The backup {path} is damaged ({error}). Nothing was changed.") from error
    if backup.garden is not None:
        garden_of(data_of_text(backup.garden, path), path)
    return backup


def _part(file: zipfile.ZipFile, name: str) -> bytes:
    with file.open(name) as part:
        data = part.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise ValueError(f"{name} is too large")
    return data


def _prove(parts: Mapping[str, bytes], told: Mapping[str, Mapping[str, object]]) -> None:
    for name, data in parts.items():
        if told[name]["bytes"] != len(data) or told[name]["blake2b"] != _digest(data):
            raise ValueError(f"{name} has changed")


def _digest(data: bytes) -> str:
    return blake2b(data, digest_size=32).hexdigest()


def _entries(lines: bytes) -> tuple[EntryRow, ...]:
    rows = tuple(unframe(line) for line in lines.splitlines())
    if len({row.number for row in rows}) != len(rows):
        raise ValueError("two entries have one number")
    return rows


def _put_in_place(backup: Backup, garden: Path) -> list[str]:
    """Put garden, weather and journal in place, each in one step. Returns what was kept aside."""
    kept: list[Path] = []
    today = date.today().isoformat()
    try:
        for name, data in ((garden, backup.garden), (weather_path(garden), backup.weather)):
            path = Path(os.path.realpath(name))
            before = _bytes(path)
            if before == data:
                continue
            if before is not None:
                aside = _free(path, today)
                replace(aside, before)
                kept.append(aside)
            if data is not None:
                replace(path, data)
            else:
                path.unlink()
        with Journal(journal_path(garden.parent)) as journal:
            if list(backup.entries) != journal.entries() or journal.check():
                aside_journal = journal.replace_all(backup.entries)
                kept += [aside_journal] if aside_journal is not None else []
        pending_path(garden).unlink(missing_ok=True)
    except OSError as error:
        raise _not_written(garden, error) from error
    return [f"What was there before is kept as {path}." for path in kept]


def _free(path: Path, today: str) -> Path:
    number = 1
    while (aside := path.with_name(f"{path.stem}.replaced-{today}-{number}{path.suffix}")).exists():
        number += 1
    return aside


def _bytes(path: Path) -> bytes | None:
    """A file's bytes, None where there is none."""
    try:
        with open_plain(path) as file:
            return file.read()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise GardenmateError(f"Cannot read {path}: {error.strerror or error}.") from error


def _not_written(garden: Path, error: OSError) -> GardenmateError:
    return GardenmateError(f"{garden.parent} cannot be written: {error.strerror or error}.")
