"""Files of ours on the disk: replaced in one step, never through a link or over a device.

A new file is made beside the old one under a name nobody can foresee, made only if nothing has that name, is
synced and put in place in one step; a reader or a power cut sees the old file or the new one.
"""

from __future__ import annotations

import io
import os
import re
import stat
from collections.abc import Iterable
from pathlib import Path

PRIVATE_FILE = 0o600  # rights: the owner alone
PRIVATE_FOLDER = 0o700  # rights: the owner alone
_LEFT = re.compile(r"\.([1-9][0-9]{0,9})-[0-9a-f]{16}\.part")
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, for their owner only; one that is there stays as it is."""
    missing = []
    while not folder.is_dir():
        missing.append(folder)
        if folder == folder.parent:
            break
        folder = folder.parent
    for each in reversed(missing):
        each.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)


def replace(path: Path, data: bytes, mode: int | None = None) -> None:
    """Put ``data`` in place of a plain file, or where nothing is, durably and in one step.

    The mode of the file that was there is kept; a new one has ``mode``, or is for its owner only. Raises
    OSError when something other than a plain file has the name, or the disk refuses.
    """
    before = refuse_odd(path)
    clear_parts(path)
    part = path.with_name(f".{path.name[:100]}.{os.getpid()}-{os.urandom(8).hex()}.part")
    try:
        handle = os.open(part, _NEW, PRIVATE_FILE)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if before is not None or mode is not None:
            part.chmod(before if before is not None else mode or PRIVATE_FILE)
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def refuse_odd(path: Path) -> int | None:
    """The mode of the plain file at ``path``, None where nothing is. Raises OSError for anything else there:
    a link, a folder, a pipe, a device."""
    try:
        found = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    if not stat.S_ISREG(found.st_mode):
        raise OSError(f"{path} is {_odd(found.st_mode)}, not a plain file; it is left as it is")
    return stat.S_IMODE(found.st_mode)


def _odd(mode: int) -> str:
    kinds = ((stat.S_ISLNK, "a link"), (stat.S_ISDIR, "a folder"), (stat.S_ISFIFO, "a pipe"))
    return next((name for test, name in kinds if test(mode)), "a device")


def open_plain(path: Path) -> io.BufferedReader:
    """Open a plain file to be read; never waits for the other end of a pipe. Raises OSError."""
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    mode = os.fstat(handle).st_mode
    if not stat.S_ISREG(mode):
        os.close(handle)
        raise OSError(f"it is {_odd(mode)}, not a plain file")
    return os.fdopen(handle, "rb")


def same_file(path: Path, others: Iterable[Path]) -> bool:
    """True when ``path`` is one of the others, by whatever name or link it goes."""
    for other in others:
        try:
            if path.resolve() == other.resolve() or path.samefile(other):
                return True
        except OSError:
            continue  # one of them is not there: then only their names could agree
    return False


def clear_parts(path: Path) -> None:
    """Remove what killed processes left while they replaced ``path``."""
    try:
        names = os.listdir(path.parent)
    except OSError:
        return
    before = f".{path.name[:100]}"
    for name in names:
        left = _LEFT.fullmatch(name, len(before)) if name.startswith(before) else None
        if left is not None and _is_gone(int(left[1])):
            path.with_name(name).unlink(missing_ok=True)


def _is_gone(process: int) -> bool:
    """True when no process has this number any more. (Windows cannot be asked without ending it.)"""
    if os.name == "nt":
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False


def sync_folder(folder: Path) -> None:
    """Make a new name in a folder durable, where the system can (Windows has no such call)."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
