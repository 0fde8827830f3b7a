"""Writes an answer to a stream: in colour or plain, at once or a screenful at a time.

Colour is never a signal: the word and the sentence say everything. No markup is read from the text: pieces are
styled, never parsed.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TextIO

from gardenmate.core.text import encodable
from gardenmate.present.layout import Line, line_text

STYLES = {
    "verdict": "bold",
    "head": "bold",
    "label": "cyan",
    "value": "",
    "strong": "bold",
    "dim": "dim",
    "caution": "yellow",
    "line": "blue",
}
WIDEST = 100
"""Columns of a line, however wide the window is. Design value."""
PROMPT_LINES = 4  # what stands under an answer: a blank line, the prompt, the status line
MORE = "-- Enter: more, q: enough -- "
_ENOUGH = ("q", "quit", "no", "n", "enough")
_GO_ON = ("", "more", "m", "yes", "y", "ok")


def screen_width() -> int:
    """Columns there are for a line of our own."""
    return min(_size().columns, WIDEST)


def _size() -> os.terminal_size:
    import shutil  # start-up seam: a pipe has no size

    return shutil.get_terminal_size((80, 24))


def write_lines(
    lines: Sequence[Line], width: int, stream: TextIO, *, colour: bool, page: bool = False
) -> str | None:
    """Write lines and flush. ``page``: wait for Enter after each screenful (a person is watching).

    Returns what was typed at a pause instead of going on, the next question; else None.
    Raises KeyboardInterrupt when the person stops it.
    """
    height = max(len(lines), 1)
    if page:
        height = max(5, _size().lines - PROMPT_LINES)
    for start in range(0, len(lines), height):
        if start:
            typed = _at_pause(stream)
            if typed.lower() in _ENOUGH:
                return None
            if typed.lower() not in _GO_ON:
                return typed
        if colour:
            _write_rich(lines[start : start + height], width, stream)
        else:
            _write_plain(lines[start : start + height], stream)
    return None


def _write_plain(lines: Sequence[Line], stream: TextIO) -> None:
    text = "".join(line_text(line) + "\n" for line in lines)
    stream.write(encodable(text, stream.encoding or "utf-8"))
    stream.flush()


def _write_rich(lines: Sequence[Line], width: int, stream: TextIO) -> None:
    """Draw with rich, in one write: nothing flickers."""
    from rich.console import Console
    from rich.text import Text

    console = Console(file=stream, highlight=False, markup=False, emoji=False, width=width, soft_wrap=True)
    text = Text()
    for number, line in enumerate(lines):
        text.append("\n" if number else "")
        for piece in line:
            text.append(piece.text, style=STYLES.get(piece.style, ""))
    console.print(text)
    stream.flush()


def _at_pause(stream: TextIO) -> str:
    """What is typed at the foot of a screenful: Enter goes on, q ends the answer, all else is a question.

    Typed-ahead lines are not eaten.
    """
    if _typed_ahead():
        return ""
    try:
        return input(MORE).strip()
    except EOFError:
        stream.write("\n")
        return _ENOUGH[0]


def _typed_ahead() -> bool:
    """True when input already waits, as after a paste into a terminal that does not mark pastes."""
    import select

    try:
        return bool(select.select([sys.stdin], [], [], 0)[0])
    except (OSError, ValueError):  # a system that cannot ask this of its terminal
        return False
