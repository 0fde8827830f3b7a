"""A lock between processes, so that two benches do not write one file at once.

The operating system's own file lock: it is gone with the process that held it, so nothing is ever left
locked. (The usual library for this imports asyncio, which costs more than a whole answer.)
"""

from __future__ import annotations

import os
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

_TRY_AGAIN_S = 0.002  # seconds to the second try; it doubles
_LONGEST_PAUSE_S = 0.03  # seconds; nobody notices less
_PRIVATE = 0o600  # rights: the owner alone


def lock_path(path: Path) -> Path:
    """The lock file of ``path``, beside it."""
    return path.with_name(path.name + ".lock")


@contextmanager
def locked(path: Path, wait_s: float = 5.0, *, shared: bool = False) -> Iterator[IO[bytes]]:
    """Hold the lock of ``path`` (a file ``path``.lock beside it, only for its owner) for the block.

    ``shared`` lets other holders of a shared lock in as well: many readers, or one writer. Gives the open
    lock file. Raises TimeoutError when another process keeps it longer than ``wait_s`` seconds, OSError when
    the lock file cannot be opened (a link or a device in its place included).
    """
    with _open(lock_path(path)) as file:
        deadline = time.monotonic() + wait_s
        pause = _TRY_AGAIN_S
        while not _take(file, shared):
            if time.monotonic() >= deadline:
                raise TimeoutError(f"{path} is in use by another program (waited {wait_s:g} seconds)")
            time.sleep(pause)
            pause = min(2 * pause, _LONGEST_PAUSE_S)
        try:
            yield file
        finally:
            _give_back(file)


def _open(lock: Path) -> IO[bytes]:
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)
    handle = os.open(lock, flags | getattr(os, "O_NONBLOCK", 0), _PRIVATE)
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OSError(f"{lock} is not a plain file")
    return os.fdopen(handle, "r+b", buffering=0)


if sys.platform == "win32":
    import msvcrt

    def _take(file: IO[bytes], shared: bool) -> bool:
        del shared  # the system locks for one holder only: readers wait for each other, which is safe
        try:
            file.seek(1 << 20)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _give_back(file: IO[bytes]) -> None:
        file.seek(1 << 20)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _take(file: IO[bytes], shared: bool) -> bool:
        try:
            fcntl.flock(file, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def _give_back(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_UN)
