"""Where the lines come from: a pipe, a plain prompt, or (in gardenmate.bench.session) the full one."""

from __future__ import annotations

import sys
from typing import Protocol, TextIO

PROMPT = "> "


class Reader(Protocol):
    """A source of lines. ``interactive`` readers are greeted, asked first questions and paged."""

    interactive: bool

    def read(self, prompt: str = PROMPT) -> str:
        """The next line or pasted block, without its line end.

        Raises EOFError at the end and KeyboardInterrupt when the line was thrown away.
        """
        ...


class PipedLines:
    """Lines of a pipe or file: no prompt, no greeting; bytes that are not UTF-8 are replaced."""

    interactive = False

    def __init__(self, stream: TextIO) -> None:
        import io

        buffer = getattr(stream, "buffer", None)
        self._lines = iter(
            stream if buffer is None else io.TextIOWrapper(buffer, encoding="utf-8", errors="replace")
        )

    def read(self, prompt: str = PROMPT) -> str:
        """The next line; EOFError at the end."""
        try:
            return next(self._lines).rstrip("\r\n")
        except StopIteration:
            raise EOFError from None


class PlainPrompt:
    """input() with the system's line editing: for dumb terminals and screen readers."""

    interactive = True

    def __init__(self) -> None:
        try:
            import readline  # noqa: F401  (importing it gives input() editing and history)
        except ImportError:
            self.editing = False
        else:
            self.editing = True

    def read(self, prompt: str = PROMPT) -> str:
        """One typed line."""
        sys.stdout.flush()
        return input(prompt)
