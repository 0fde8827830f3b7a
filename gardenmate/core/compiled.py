"""Files made once from the sources, which a start reads instead (`python -m gardenmate.language` makes them anew).

Each begins with the checksum of what follows: one whose bytes have changed is not used, and the sources are.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from zlib import crc32

_MARK = 8  # hexadecimal digits of the checksum before the text


def folder() -> Path:
    """Where they are kept."""
    return Path(__file__).resolve().parent.parent / "_compiled"


def read_made(path: Path) -> dict[str, Any]:
    """What `write_made` wrote; empty where there is none, or where it is not as it was written."""
    try:
        raw = path.read_bytes()
        if raw[:_MARK] != _mark(raw[_MARK:]):
            return {}
        found = json.loads(raw[_MARK:])
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def write_made(path: Path, data: dict[str, Any]) -> None:
    """Write ``data`` as JSON with its checksum. Raises OSError."""
    text = json.dumps(data, separators=(",", ":")).encode()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(_mark(text) + text)


def _mark(text: bytes) -> bytes:
    return b"%08x" % crc32(text)
