"""Fact files already parsed, kept beside the package so that a one-shot question does not parse TOML.

Made when the package is installed (see build_hook.py) from the files of knowledge/. Each entry carries the
checksum of the file it came from: an edited file no longer fits its entry and is simply parsed again, so
the TOML stays the only truth and nothing needs rebuilding after an edit.

Layout: ``facts.json`` maps a path under knowledge/ to [checksum of the file, offset, length, checksum of the
parsed form] in ``facts.dat``, where the parsed files stand one after the other as JSON. A parsed form whose
bytes have changed is not used: the TOML is read instead.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any
from zlib import crc32

from gardenmate.core.compiled import folder, read_made, write_made

INDEX = "facts.json"
DATA = "facts.dat"
Entry = tuple[int, int, int, int]
"""Checksum of the TOML file, offset and length of its parsed form, and the checksum of that."""


def lookup(path: Path, raw: bytes) -> dict[str, Any] | None:
    """The parsed content of the fact file ``path`` whose bytes are ``raw``; None when it must be parsed."""
    index, data = _store()
    parts = path.parts
    for depth in (1, 2, 3):
        entry = index.get("/".join(parts[-depth:]))
        if entry is not None and entry[0] == crc32(raw):
            _, offset, length, mark = entry
            blob = data[offset : offset + length]
            if len(blob) != length or crc32(blob) != mark:
                return None
            found: dict[str, Any] = json.loads(blob)
            return found
    return None


@cache
def _store() -> tuple[dict[str, Entry], bytes]:
    """Index and data; empty when there are none or they do not read (then everything is parsed)."""
    try:
        return read_made(folder() / INDEX), (folder() / DATA).read_bytes()
    except OSError:
        return {}, b""


def write(knowledge: Path, target: Path) -> int:
    """Parse every TOML file under ``knowledge`` into ``target``. Returns how many there were.

    Raises tomllib.TOMLDecodeError for a damaged file.
    """
    import tomllib

    index: dict[str, Entry] = {}
    data = bytearray()
    for path in sorted(knowledge.rglob("*.toml")):
        raw = path.read_bytes()
        blob = json.dumps(tomllib.loads(raw.decode("utf-8")), separators=(",", ":")).encode()
        index[path.relative_to(knowledge).as_posix()] = (crc32(raw), len(data), len(blob), crc32(blob))
        data += blob
    target.mkdir(parents=True, exist_ok=True)
    (target / DATA).write_bytes(data)
    write_made(target / INDEX, index)
    return len(index)
