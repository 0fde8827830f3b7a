"""What can go wrong with the journal's file, told by its true cause; and setting a damaged file aside."""

from __future__ import annotations

import sqlite3
from datetime import date
from pathlib import Path

from gardenmate.core.errors import DamagedFileError, GardenmateError

_DAMAGED = ("SQLITE_CORRUPT", "SQLITE_NOTADB")
_SIDE_FILES = ("-wal", "-shm", "-journal")


class JournalError(GardenmateError):
    """The journal cannot be read or written now; the file itself is sound."""


def is_damage(error: sqlite3.Error) -> bool:
    """True when the file's content is at fault, not the disk or another process."""
    return _name(error).startswith(_DAMAGED)


def is_unwritable(error: sqlite3.Error) -> bool:
    """True when the file or its folder may not be written."""
    return _name(error).startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM"))


def explain(error: sqlite3.Error, path: Path, wait_s: float) -> GardenmateError:
    """The failure as one plain sentence that names its cause."""
    name = _name(error)
    if name.startswith(_DAMAGED):
        return DamagedFileError(
            f"The journal {path} is damaged ({error}). It was left as it is; the next entry sets it "
            "aside and begins a new one."
        )
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return JournalError(
            f"Another program is writing to the journal {path}; I waited {wait_s:g} seconds "
            "and wrote nothing."
        )
    if name == "SQLITE_FULL" or (name.startswith("SQLITE_IOERR") and _disk_is_full(path)):
        return JournalError(f"The disk that holds the journal {path} is full; nothing was written.")
    if name.startswith("SQLITE_READONLY"):
        return JournalError(f"The journal {path} is read-only; nothing was written.")
    if name.startswith(("SQLITE_CANTOPEN", "SQLITE_PERM")):
        return JournalError(f"The journal {path} cannot be opened: {_why_not_open(path)}.")
    if "no such module: fts5" in str(error):
        return JournalError("This Python's SQLite has no full-text search (FTS5), which the journal needs.")
    return JournalError(f"The journal {path} cannot be used: {error}.")


def newer(path: Path, version: int, known: int) -> JournalError:
    """The error for a file of a newer program."""
    return JournalError(
        f"The journal {path} was written by a newer gardenmate (format {version}, this one knows {known}); "
        "update gardenmate. Nothing was changed."
    )


def foreign(path: Path) -> JournalError:
    """The error for a database that is not a journal."""
    return JournalError(f"{path} is a database of another program, not a journal; nothing was changed.")


def set_aside(path: Path, today: date) -> Path:
    """Rename a damaged file, and what SQLite keeps beside it, to a free dated name. Returns the new name."""
    number = 1
    while True:
        aside = path.with_name(f"{path.stem}.damaged-{today.isoformat()}-{number}{path.suffix}")
        if not aside.exists():
            break
        number += 1
    path.rename(aside)
    for ending in _SIDE_FILES:
        side = path.with_name(path.name + ending)
        if side.exists():
            side.rename(aside.with_name(aside.name + ending))
    return aside


def _name(error: sqlite3.Error) -> str:
    return getattr(error, "sqlite_errorname", None) or ""


def _disk_is_full(path: Path) -> bool:
    import shutil

    try:
        return shutil.disk_usage(path.parent).free < 64 * 1024
    except OSError:
        return False


def _why_not_open(path: Path) -> str:
    import os

    if path.is_dir():
        return "it is a folder"
    if not path.parent.exists():
        return f"the folder {path.parent} does not exist"
    if path.exists() and not os.access(path, os.R_OK):
        return "I may not read it"
    if not os.access(path.parent, os.W_OK):
        return f"the folder {path.parent} is read-only"
    if _disk_is_full(path):
        return "the disk is full"
    return "the system refuses it"
