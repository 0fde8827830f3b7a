"""A signal that ends the bench leaves the terminal as it was: echo on, lines as typed."""

from __future__ import annotations

import os
import signal
import sys
import termios
import time
from pathlib import Path

import pytest

ptyprocess = pytest.importorskip("ptyprocess")
REPO = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGQUIT"])
def test_the_terminal_is_put_back(tmp_path: Path, name: str) -> None:
    environment = {**os.environ, "GARDENMATE_HOME": str(tmp_path), "TERM": "xterm", "PYTHONPATH": str(REPO)}
    child = ptyprocess.PtyProcess.spawn(
        [sys.executable, "-m", "gardenmate", "--place", "Duluth"], env=environment
    )
    try:
        _until_raw(child.fd)
        os.kill(child.pid, getattr(signal, name))
        deadline = time.monotonic() + 20
        while not termios.tcgetattr(child.fd)[3] & termios.ECHO:
            assert time.monotonic() < deadline, "the terminal stays raw"
            time.sleep(0.05)
    finally:
        child.terminate(force=True)


def _until_raw(handle: int) -> None:
    """Wait until the bench has taken the terminal."""
    deadline = time.monotonic() + 60
    while termios.tcgetattr(handle)[3] & termios.ECHO:
        assert time.monotonic() < deadline, "the bench never began"
        time.sleep(0.05)
