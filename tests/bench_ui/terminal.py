"""The bench on a pseudo-terminal, seen through a terminal in memory."""

from __future__ import annotations

import os
import select
import sys
import time
from pathlib import Path
from types import TracebackType

import pyte
from ptyprocess import PtyProcess

PATIENCE_S = 20.0
ROOT = Path(__file__).resolve().parents[2]


class _Screen(pyte.HistoryScreen):
    """A screen that answers the program's questions, such as where the cursor is."""

    reply = b""

    def write_process_input(self, data: str) -> None:
        self.reply += data.encode()


class Terminal:
    """`with Terminal(home, columns=50) as t`: type with `send`, look with `wait_for` and `text`."""

    def __init__(
        self,
        home: Path,
        *words: str,
        columns: int = 80,
        rows: int = 30,
        today: str = "2027-04-18",
        tells_cursor: bool = True,
        **environment: str,
    ) -> None:
        self._screen = _Screen(columns, rows, history=5000, ratio=1)
        self._stream = pyte.ByteStream(self._screen)
        self._tells_cursor = tells_cursor
        self.raw = b""
        clean = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "COLUMNS", "LINES")}
        env = {
            **clean,
            "TERM": "xterm-256color",
            "LANG": "C.UTF-8",
            "GARDENMATE_HOME": str(home),
            **environment,
        }
        env["PYTHONPATH"] = str(ROOT)
        self._process = PtyProcess.spawn(
            [sys.executable, "-m", "gardenmate", "--today", today, *words],
            dimensions=(rows, columns),
            env=env,
            cwd=str(ROOT),
        )

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, where: TracebackType | None
    ) -> None:
        self._process.close(force=True)

    def send(self, keys: str) -> None:
        """Type keys."""
        self._process.write(keys.encode())

    def resize(self, columns: int, rows: int) -> None:
        """Change the size of the window."""
        self._screen.resize(rows, columns)
        self._process.setwinsize(rows, columns)

    @property
    def text(self) -> str:
        """What stands on the screen now."""
        return "\n".join(line.rstrip() for line in self._screen.display).rstrip()

    @property
    def all_text(self) -> str:
        """The screen with what has scrolled off it."""
        gone = [
            "".join(row[x].data for x in range(self._screen.columns)).rstrip()
            for row in self._screen.history.top
        ]
        return "\n".join([*gone, self.text])

    def wait_for(self, *wanted: str, gone: str = "") -> str:
        """Read until all of ``wanted`` are on the screen and ``gone`` is not; the screen then."""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            text = self.text
            if all(w in text for w in wanted) and (not gone or gone not in text):
                return text
            self._read()
        raise AssertionError(f"waited for {wanted} (without '{gone}'), the screen shows:\n{self.text}")

    def wait_all(self, wanted: str, times: int = 1) -> str:
        """Read until ``wanted`` has been shown so many times, on the screen or above it."""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            text = self.all_text
            if text.count(wanted) >= times:
                return text
            self._read()
        raise AssertionError(f"waited for {times} x '{wanted}', the screen shows:\n{self.all_text}")

    def end(self) -> int:
        """Wait for the program to leave; its exit code."""
        end = time.monotonic() + PATIENCE_S
        while self._process.isalive() and time.monotonic() < end:
            self._read()
        assert not self._process.isalive(), f"still running:\n{self.text}"
        return int(self._process.exitstatus)

    def _read(self) -> None:
        if not select.select([self._process.fd], [], [], 0.2)[0]:
            return
        try:
            data = self._process.read(65536)
        except EOFError:
            time.sleep(0.02)
            return
        self.raw += data
        self._stream.feed(data)
        if self._screen.reply and self._tells_cursor:
            self._process.write(self._screen.reply)
            self._screen.reply = b""
