"""A lock between processes, so that two benches do not write one file at once.

The operating system's own file lock: it is gone with the process that held it, so nothing is ever left
locked. (The usual library for this imports asyncio, which costs more than a whole answer.)
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

_TRY_AGAIN_S = 0.02


@contextmanager
def locked(path: Path, wait_s: float = 5.0) -> Iterator[None]:
    """Hold the lock of ``path`` (a file ``path``.lock beside it) for the block.

    Raises TimeoutError when another process keeps it longer than ``wait_s`` seconds, OSError when the lock
    file cannot be made.
    """
    with path.with_name(path.name + ".lock").open("a+b") as file:
        deadline = time.monotonic() + wait_s
        while not _take(file):
            if time.monotonic() >= deadline:
                raise TimeoutError(f"{path} is in use by another program (waited {wait_s:g} seconds)")
            time.sleep(_TRY_AGAIN_S)
        try:
            yield
        finally:
            _give_back(file)


if sys.platform == "win32":
    import msvcrt

    def _take(file: IO[bytes]) -> bool:
        try:
            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _give_back(file: IO[bytes]) -> None:
        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _take(file: IO[bytes]) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def _give_back(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_UN)
