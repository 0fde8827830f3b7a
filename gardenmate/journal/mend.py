"""A damaged journal, or one of an older format, made anew of all its entries that are whole.

The order is what makes it safe. All of it happens under the writers' lock: (1) every whole entry is read from
the bytes of the damaged file and of what SQLite kept beside it; (2) the new journal is built beside it as
`NAME.building`, synced, and renamed to `NAME.mended`; (3) the damaged file gets its dated name as a second
link; (4) the new one is renamed over it. Killed before the end of (2), nothing has happened; after it, the
next opening goes on from (3). At no point is there no journal, or one with less in it.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

from gardenmate.core.files import PRIVATE_FILE, refuse_odd, sync_folder
from gardenmate.journal import legacy, schema
from gardenmate.journal.frames import EntryRow, Scanned, scan
from gardenmate.journal.rebuild import fill, with_gaps_shown
from gardenmate.records import NamedTuple

SIDE_FILES = ("-journal", "-wal", "-shm")


class Mended(NamedTuple):
    """What mending did: the file set aside (None: there was none), entries kept, decisions found damaged."""

    aside: Path | None
    kept: int
    lost: int


def whole_entries(path: Path) -> Scanned:
    """Every entry that is whole somewhere in a journal's file and those beside it; nothing is changed."""
    files = []
    for ending in ("", *SIDE_FILES[:2]):
        try:
            files.append(path.with_name(path.name + ending).read_bytes())
        except FileNotFoundError:
            continue
    found = scan(files)
    if found.rows or found.broken:
        return found
    return Scanned(legacy.entries(path, files), frozenset())


def in_memory(entries: list[EntryRow]) -> sqlite3.Connection:
    """A journal of these entries that is nowhere on the disk."""
    db = schema.in_memory()
    fill(db, entries)
    return db


def mended_path(path: Path) -> Path:
    """Where a finished replacement waits until it is put in place."""
    return path.with_name(path.name + ".mended")


def building_path(path: Path) -> Path:
    """Where a replacement is built."""
    return path.with_name(path.name + ".building")


def mend(path: Path, today: date, *, kept_as: str | None = None) -> Mended:
    """Replace the journal at ``path`` by one of all its whole entries. Only call while holding its lock.

    Raises OSError or sqlite3.Error when the disk refuses; then nothing has changed.
    """
    found = whole_entries(path)
    build(path, with_gaps_shown(found))
    aside = finish(path, today, kept_as=kept_as)
    return Mended(aside, len(found.rows), len(found.broken))


def build(path: Path, entries: list[EntryRow]) -> None:
    """Make a complete, synced journal of these entries and leave it waiting beside ``path``."""
    building = building_path(path)
    building.unlink(missing_ok=True)  # of a run that was killed
    try:
        os.close(os.open(building, os.O_RDWR | os.O_CREAT | os.O_EXCL, PRIVATE_FILE))
        with closing(schema.connect(building, wait_s=0)) as db:
            db.execute("PRAGMA journal_mode = MEMORY")
            db.execute("BEGIN IMMEDIATE")
            schema.create(db)
            fill(db, entries)
            db.execute("COMMIT")
        with building.open("rb+") as file:
            os.fsync(file.fileno())
        building.replace(mended_path(path))
    except BaseException:
        building.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def finish(path: Path, today: date, *, kept_as: str | None = None) -> Path | None:
    """Put a waiting replacement in place; what it replaces is kept under a dated name, which is returned.

    May be called again after it was interrupted at any point. Only call while holding the journal's lock.
    """
    aside = None
    if refuse_odd(path) is not None:
        aside = _second_name(path, kept_as or f"damaged-{today.isoformat()}")
        for ending in SIDE_FILES:
            side = path.with_name(path.name + ending)
            if side.exists():
                side.replace(aside.with_name(aside.name + ending))
    mended_path(path).replace(path)
    sync_folder(path.parent)
    return aside


def set_aside(path: Path) -> list[Path]:
    """The damaged files that were set aside beside a journal, oldest first."""
    return sorted(path.parent.glob(f"{path.stem}.damaged-*{path.suffix}"))


def _second_name(path: Path, named: str) -> Path:
    """Give a file a second, dated name that is free; the name it has when it was given one before."""
    number = 1
    while True:
        aside = path.with_name(f"{path.stem}.{named}-{number}{path.suffix}")
        number += 1
        if aside.exists() or aside.is_symlink():
            if aside.is_file() and aside.samefile(path):
                return aside
            continue
        try:
            os.link(path, aside)
        except OSError:
            _copy(path, aside)  # a disk that knows no second names
        return aside


def _copy(path: Path, aside: Path) -> None:
    part = aside.with_name(aside.name + ".part")
    part.unlink(missing_ok=True)
    try:
        with path.open("rb") as old, part.open("xb") as new:
            shutil.copyfileobj(old, new)
            new.flush()
            os.fsync(new.fileno())
        part.replace(aside)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
