"""Shared by the stress tests: the program as it is run, and conversations without a garden."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

REPO = Path(__file__).resolve().parents[2]
TODAY = date(2027, 4, 18)
NO_GARDEN = ("--no-garden", "--place", "Duluth", "--today", TODAY.isoformat())


@pytest.fixture(scope="session")
def facts() -> Facts:
    """The bundled facts, read once."""
    return Facts()


@pytest.fixture
def talk(facts: Facts) -> Conversation:
    """A conversation about Duluth, nothing kept."""
    return Conversation(facts, lambda: TODAY, options=PlaceOptions(place="Duluth"), remembers=False)


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """An environment whose garden lies in a fresh folder."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("GARDENMATE", "PYTHON", "LC_", "LANG"))}
    return kept | {"GARDENMATE_HOME": str(tmp_path / "home"), "PYTHONPATH": str(REPO), "LC_ALL": "C.UTF-8"}


@pytest.fixture
def command() -> Callable[..., list[str]]:
    """The command line that runs the program: command("ask", "--json", "-")."""
    return lambda *words: [sys.executable, "-m", "gardenmate", *words]


@pytest.fixture
def run(
    environment: dict[str, str], command: Callable[..., list[str]]
) -> Callable[..., subprocess.CompletedProcess[bytes]]:
    """Runs the program to its end; ``given`` is its standard input, ``more`` changes the environment."""

    def go(
        *words: str | bytes, given: bytes | None = None, more: dict[str, str] | None = None, **options: Any
    ) -> subprocess.CompletedProcess[bytes]:
        options = {
            "stdout": subprocess.PIPE,
            "stderr": subprocess.PIPE,
            "timeout": 120,
        } | options
        return subprocess.run(
            command(*words), check=False, input=given, env=environment | (more or {}), **options
        )

    return go


@pytest.fixture
def fault() -> Callable[[subprocess.CompletedProcess[bytes], int], str]:
    """The one line a failed run wrote to standard error, its exit code checked."""

    def line_of(done: subprocess.CompletedProcess[bytes], code: int) -> str:
        told = done.stderr.decode()
        assert done.returncode == code, told
        (line,) = told.splitlines()
        assert line.startswith("gardenmate: ")
        return line

    return line_of
