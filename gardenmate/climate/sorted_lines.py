"""Lines of a sorted text file, found by bisection: a table of thousands of lines costs a question a few reads.

The files are made by tests/bench/place_tables.py: sorted by their bytes, comment lines ("#") first.
"""

from __future__ import annotations

from pathlib import Path
from typing import BinaryIO

from gardenmate.core.errors import DamagedFileError

_COMMENT = b"#"  # the tables begin with lines that say what they are


def lines_between(path: Path, low: str, high: str) -> list[str]:
    """The lines of the file that sort from ``low`` up to but not including ``high``.

    Raises DamagedFileError when the file cannot be read or is no such table.
    """
    first, last = low.encode(), high.encode()
    found: list[str] = []
    try:
        with path.open("rb") as table:
            if table.read(1) != _COMMENT:
                raise DamagedFileError(f"{path} is damaged: it does not begin as it should.")
            _to_first_line(table, first)
            for line in table:
                if line >= last:
                    break
                found.append(line.decode("utf-8").rstrip("\n"))
    except (OSError, UnicodeDecodeError) as error:
        raise DamagedFileError(f"Cannot read {path}: {error}.") from error
    return found


def cell(lat: float, lon: float) -> str:
    """The one-degree cell of a spot, as stations.csv is sorted: "136087" is 46 N, 93 W."""
    return f"{int(lat // 1) + 90:03d}{int(lon // 1) + 180:03d}"


def _to_first_line(table: BinaryIO, wanted: bytes) -> None:
    """Move to the start of the first line that does not sort before ``wanted``."""
    low, high = 0, table.seek(0, 2)
    while low < high:
        middle = (low + high) // 2
        table.seek(middle)
        if middle:
            table.readline()  # the rest of a line that began before the middle
        line = table.readline()
        if line and line < wanted:
            low = middle + 1
        else:
            high = middle
    table.seek(low)
    if low:
        table.readline()
