"""Writes an answer to a terminal in colour. Colour is never the only signal: sign and word stand first."""

from __future__ import annotations

from typing import TextIO

from gardenmate.answer import Answer
from gardenmate.present.layout import Look, layout

STYLES = {
    "verdict.yes": "bold green",
    "verdict.tight": "bold yellow",
    "verdict.no": "bold red",
    "head": "bold",
    "label": "cyan",
    "value": "",
    "strong": "bold",
    "dim": "dim",
    "caution": "yellow",
    "line": "blue",
}


def write_rich(answer: Answer, look: Look, stream: TextIO, page: bool = False) -> None:
    """Draw the answer with rich. No markup is read from the text: pieces are styled, never parsed.

    ``page``: wait for Enter after each screenful (the caller is a person at a terminal).
    """
    from rich.console import Console
    from rich.text import Text

    console = Console(
        file=stream, highlight=False, markup=False, emoji=False, width=look.width, soft_wrap=True
    )
    height = max(5, console.height - 2)
    for number, line in enumerate(layout(answer, look)):
        if page and number and number % height == 0 and not _more():
            break
        text = Text()
        for piece in line:
            text.append(piece.text, style=STYLES.get(piece.style, ""))
        console.print(text)


def _more() -> bool:
    """Wait at the foot of a screenful: Enter goes on, q or Ctrl-C ends the answer."""
    try:
        return input("-- Enter: more, q: enough -- ").strip().lower() not in ("q", "quit")
    except (EOFError, KeyboardInterrupt):
        return False
