"""Where the lines come from: a pipe, a plain prompt, or (in gardenmate.bench.session) the full one."""

from __future__ import annotations

import io
import sys
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol, TextIO

from gardenmate.core.files import make_folder, refuse_odd, replace

if TYPE_CHECKING:
    from gardenmate.dialogue.conversation import Conversation

PROMPT = "> "
Wanted = Literal["question", "place", "gear", "text"]


class Reader(Protocol):
    """A source of lines. ``interactive`` readers are greeted, asked first questions and paged."""

    interactive: bool

    def read(self, prompt: str = PROMPT, wanted: Wanted = "question") -> str:
        """The next line or pasted block, without its line end. ``wanted`` tells what is asked for.

        Raises EOFError at the end and KeyboardInterrupt when the line was thrown away.
        """
        ...


class PipedLines:
    """Lines of a pipe or file: no prompt, no greeting; bytes that are not UTF-8 are replaced."""

    interactive = False

    def __init__(self, stream: TextIO | None) -> None:
        buffer = getattr(stream, "buffer", None)
        self._lines = iter(
            stream or () if buffer is None else io.TextIOWrapper(buffer, encoding="utf-8", errors="replace")
        )

    def read(self, prompt: str = PROMPT, wanted: Wanted = "question") -> str:
        """The next line; EOFError at the end."""
        try:
            return next(self._lines).rstrip("\r\n")
        except StopIteration:
            raise EOFError from None


class PlainPrompt:
    """input() with the system's line editing and history: for dumb terminals and screen readers."""

    interactive = True

    def __init__(self, conversation: Conversation) -> None:
        self._history = history_path(conversation)
        try:
            import readline  # importing it is what gives input() editing and ctrl-R
        except ImportError:
            return
        # Neither marks of pastes nor a meta key: nothing but the words reaches a screen reader.
        readline.parse_and_bind("set enable-bracketed-paste off")
        readline.parse_and_bind("set enable-meta-key off")
        for line in past_questions(self._history):
            readline.add_history(line)

    def read(self, prompt: str = PROMPT, wanted: Wanted = "question") -> str:
        """One typed line."""
        sys.stdout.flush()
        try:
            line = input(prompt)
        except KeyboardInterrupt:
            sys.stdout.write("\n")
            raise
        if wanted == "question" and line.strip() and self._history is not None:
            remember(self._history, line)
        return line


def history_path(conversation: Conversation) -> Path | None:
    """Where typed questions are kept: beside the garden file; None when it may not be or cannot be."""
    if conversation.garden_file is None:
        return None
    path = Path(conversation.garden_file.path).parent / "history"
    try:
        make_folder(path.parent)
        if refuse_odd(path) is None:
            replace(path, b"")
        with path.open("ab"):
            pass
    except OSError:  # a read-only home: the bench works, it just does not remember
        return None
    return path


def remember(path: Path, line: str) -> None:
    """Add a question to a history file, in the form the full prompt keeps it in."""
    with suppress(OSError), path.open("a", encoding="utf-8", errors="replace") as file:
        file.write(f"\n# {datetime.now()}\n+{line}\n")  # a full disk costs the memory of a question, no more


def past_questions(path: Path | None) -> list[str]:
    """The questions of a history file, oldest first: the lines that begin with "+"."""
    if path is None:
        return []
    lines = path.read_text("utf-8", errors="replace").splitlines()
    return [line[1:] for line in lines if line.startswith("+")]
