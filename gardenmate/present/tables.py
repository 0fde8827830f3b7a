"""Small tables: in columns where they fit, the widest column folded where that is enough, else row by row."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from textwrap import wrap

from gardenmate.core.answer import Table
from gardenmate.core.text import harmless

_GAP = 2  # columns between two of a table
_NARROWEST_FOLDED = 14  # columns of text that may still be folded; design value
_FIGURE = re.compile(r"[-+]?[$£€]?[\d.,]+\s?%?")


def table_lines(table: Table, width: int, stacked: bool = False) -> list[str]:
    """The heads and rows of a table as lines no wider than ``width``. ``stacked`` asks for row by row."""
    heads = [harmless(h) for h in table.heads]
    rows = [[harmless(cell) for cell in row] for row in table.rows]
    keep = [n for n, head in enumerate(heads) if n == 0 or any(row[n] for row in rows)]
    heads, rows = [heads[n] for n in keep], [[row[n] for n in keep] for row in rows]
    widths = None if stacked else _widths([heads, *rows], width)
    if widths is None:
        return list(_row_by_row(heads, rows, width))
    right = [_is_figures([row[n] for row in rows]) for n in range(len(heads))]
    lines: list[str] = []
    for row in [heads, *rows] if any(heads) else rows:
        lines += _folded(row, widths, right)
    return lines


def fits_in_columns(table: Table, width: int) -> bool:
    """True when no cell has to be folded."""
    rows = [table.heads, *table.rows]
    widths = [max(len(harmless(row[n])) for row in rows) for n in range(len(table.heads))]
    return sum(widths) + _GAP * (len(widths) - 1) <= width


def _widths(rows: Sequence[Sequence[str]], width: int) -> list[int] | None:
    """Column widths that fit, with at most the widest column folded; None when that is not enough."""
    widths = [max(len(row[n]) for row in rows) for n in range(len(rows[0]))]
    room = width - _GAP * (len(widths) - 1)
    if sum(widths) <= room:
        return widths
    widest = max(range(len(widths)), key=widths.__getitem__)
    left = room - (sum(widths) - widths[widest])
    longest_word = max(len(word) for row in rows for word in (row[widest].split() or [""]))
    if left < max(_NARROWEST_FOLDED, longest_word):
        return None
    widths[widest] = left
    return widths


def _is_figures(cells: Sequence[str]) -> bool:
    said = [c for c in cells if c]
    return bool(said) and all(_FIGURE.fullmatch(c) for c in said)


def _folded(row: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> Iterator[str]:
    cells = [wrap(cell, w) or [""] for cell, w in zip(row, widths, strict=True)]
    for n in range(max(len(c) for c in cells)):
        parts = [c[n] if n < len(c) else "" for c in cells]
        yield (
            (" " * _GAP)
            .join(
                part.rjust(w) if r else part.ljust(w) for part, w, r in zip(parts, widths, right, strict=True)
            )
            .rstrip()
        )


def _row_by_row(heads: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> Iterator[str]:
    """Each row as one labelled sentence."""
    for name, *cells in rows:
        said = [
            f"{head}: {cell}" if head else cell
            for head, cell in zip(heads[1:], cells, strict=True)
            if cell and cell != "-"
        ]
        yield from wrap(f"{name} - {'; '.join(said)}" if said else name, width, subsequent_indent="  ")
