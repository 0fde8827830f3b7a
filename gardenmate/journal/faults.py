"""What can go wrong with the journal's file, told by its true cause."""

from __future__ import annotations

import errno
import os
import shutil
import sqlite3
from pathlib import Path

from gardenmate.core.errors import DamagedFileError, GardenmateError

_NOW = ("SQLITE_BUSY", "SQLITE_LOCKED", "SQLITE_FULL", "SQLITE_PERM", "SQLITE_NOMEM", "SQLITE_INTERRUPT")
_UNWRITABLE = ("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")
_CUT_SHORT = "SQLITE_IOERR_SHORT_READ"


class JournalError(GardenmateError):
    """The journal cannot be read or written now; the file itself is sound."""


class NotSoundError(Exception):
    """The file reads, but holds something else than it should; told in one sentence."""


class OlderFormatError(NotSoundError):
    """The file was written by an older program; everything in it can be carried over."""


def is_damage(error: Exception) -> bool:
    """True when the file's content is at fault, not the disk or another process.

    A tree that is whole but lacks a table or a column we made is damage of its schema; so is one whose names
    are no text, which SQLite tells in an error that cannot be decoded.
    """
    if not isinstance(error, sqlite3.Error):
        return isinstance(error, NotSoundError | UnicodeDecodeError)
    name = _name(error)
    if name.startswith("SQLITE_IOERR"):
        return name == _CUT_SHORT
    no_search = "no such module: fts5" in str(error)
    return not name.startswith((*_NOW, *_UNWRITABLE)) and not no_search


def is_unwritable(error: sqlite3.Error) -> bool:
    """True when the file or its folder may not be written."""
    return _name(error).startswith(_UNWRITABLE)


def explain(error: Exception, path: Path, wait_s: float) -> GardenmateError:
    """The failure as one plain sentence that names its cause."""
    name = _name(error)
    if is_damage(error):
        return DamagedFileError(
            f"The journal {path} is damaged ({error}) and nothing in it can be read. It was left as it is; "
            "the next entry sets it aside and begins a new one."
        )
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return busy(path, wait_s)
    if name == "SQLITE_FULL" or (name.startswith("SQLITE_IOERR") and _disk_is_full(path)):
        return JournalError(f"The disk that holds the journal {path} is full; nothing was written.")
    if name.startswith("SQLITE_READONLY"):
        return JournalError(f"The journal {path} is read-only; nothing was written.")
    if name.startswith(("SQLITE_CANTOPEN", "SQLITE_PERM")):
        return JournalError(f"The journal {path} cannot be opened: {_why_not_open(path)}.")
    if "no such module: fts5" in str(error):
        return JournalError("This Python's SQLite has no full-text search (FTS5), which the journal needs.")
    return JournalError(f"The journal {path} cannot be used: {error}.")


def busy(path: Path, wait_s: float) -> JournalError:
    """The error when another process does not give way."""
    return JournalError(
        f"Another program is writing to the journal {path}; I waited {wait_s:g} seconds and wrote nothing."
    )


def newer(path: Path, version: int, known: int) -> JournalError:
    """The error for a file of a newer program."""
    return JournalError(
        f"The journal {path} was written by a newer gardenmate (format {version}, this one knows {known}); "
        "update gardenmate. Nothing was changed."
    )


def foreign(path: Path) -> JournalError:
    """The error for a database that is not a journal."""
    return JournalError(f"{path} is a database of another program, not a journal; nothing was changed.")


def of_the_system(error: OSError, path: Path) -> JournalError:
    """The error when the system refuses a file beside the journal, or a folder."""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return JournalError(f"The disk that holds the journal {path} is full; nothing was written.")
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return JournalError(
            f"The journal {path} cannot be opened: {_why_not_open(path)}; nothing was written."
        )
    if error.errno is None:
        return JournalError(f"The journal cannot be used: {error}.")
    return JournalError(f"The journal {path} cannot be written: {error.strerror}.")


def no_folder(error: OSError, folder: Path) -> JournalError:
    """The error when the folder of the journal cannot be made."""
    return JournalError(f"The folder {folder} for the journal cannot be made: {error.strerror or error}.")


def _name(error: Exception) -> str:
    return getattr(error, "sqlite_errorname", None) or ""


def _disk_is_full(path: Path) -> bool:
    try:
        return shutil.disk_usage(path.parent).free < 64 * 1024
    except OSError:
        return False


def _why_not_open(path: Path) -> str:
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
