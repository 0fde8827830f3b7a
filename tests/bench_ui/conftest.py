"""A bench without a terminal: a reader that types given lines, and a conversation in a folder of its own."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from gardenmate.bench.readers import PROMPT, Wanted
from gardenmate.cli.parser import make_parser
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.session import make_conversation


class Typed:
    """A reader that types the lines given; an exception among them is raised in its turn."""

    interactive = True

    def __init__(self, *lines: str | BaseException) -> None:
        self._lines: Iterator[str | BaseException] = iter(lines)
        self.asked: list[tuple[str, Wanted]] = []

    def read(self, prompt: str = PROMPT, wanted: Wanted = "question") -> str:
        self.asked.append((prompt, wanted))
        line = next(self._lines, EOFError())
        if isinstance(line, BaseException):
            raise line
        return line


Made = tuple[Conversation, argparse.Namespace]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Made]:
    """Makes a conversation and its options from command-line words, at home in the test's own folder."""
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path / "home"))
    for name in ("NO_COLOR", "SSH_CONNECTION"):
        monkeypatch.delenv(name, raising=False)

    def make(*words: str) -> Made:
        options = make_parser().parse_args(["--today", "2027-04-18", *words])
        return make_conversation(options), options

    return make
