"""Where the garden lives, and its file: read quickly, changed one key at a time, comments kept.

A change is written to a new file beside the old one, synced, and put in its place in one step: a reader or
a power cut sees the garden before or after it, never half of it.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from gardenmate.core.effects import Changed, GardenChange, Value
from gardenmate.core.errors import DamagedFileError, GardenmateError
from gardenmate.core.files import make_folder, open_plain, replace
from gardenmate.core.lock import locked
from gardenmate.garden.profile import NO_GARDEN, Garden

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

MOST_BYTES = 1_000_000
"""The largest garden file that is read (design value; a large garden comes to 10 kB)."""
HOME_VARIABLE = "GARDENMATE_HOME"
NAMED = frozenset({"plants", "varieties", "beds", "gardens"})
"""Sections that hold named sections: [plants.elderberry]."""
_OPENING = "# The garden as told to gardenmate. It may be edited by hand; comments are kept.\n"


class GardenFileError(GardenmateError):
    """The garden file cannot be read or written now; its content is not at fault."""


def default_home() -> Path:
    """The folder of garden and journal: GARDENMATE_HOME when set, else where the system keeps user data.

    Raises GardenFileError when neither is known (a user without a home folder).
    """
    chosen = os.environ.get(HOME_VARIABLE)
    if chosen:
        return Path(os.path.expanduser(chosen))
    from platformdirs import user_data_path

    try:
        home = user_data_path("gardenmate", appauthor=False)
    except RuntimeError:  # newer releases of platformdirs say so themselves
        home = Path("~")
    if not home.is_absolute():
        raise GardenFileError(
            f"No home folder is known; set {HOME_VARIABLE} to the folder to keep the garden in."
        )
    return home


def garden_path(home: Path) -> Path:
    """The garden file in a home folder."""
    return home / "garden.toml"


def journal_path(home: Path) -> Path:
    """The journal in a home folder."""
    return home / "journal.db"


class GardenFile:
    """A garden file that is read again only when it has changed on the disk."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._garden = NO_GARDEN
        self._read: tuple[int, int, int] | None = None

    @property
    def garden(self) -> Garden:
        """The garden as the file says now. Raises DamagedFileError, GardenFileError."""
        stamp = _stamp(self.path)
        if stamp is None:
            self._garden = NO_GARDEN
        elif stamp != self._read:
            self._garden = load_garden(self.path)
        self._read = stamp
        return self._garden

    def apply(self, change: GardenChange) -> None:
        """Make one change; it is on the disk when this returns."""
        self.change([change])

    def change(self, changes: Sequence[GardenChange]) -> tuple[Changed, ...]:
        """Make changes in one step; they are on the disk when this returns. What each key held and holds."""
        try:
            return apply_changes(self.path, changes)
        finally:
            self._read = None

    def values(self, keys: Sequence[str]) -> list[Value]:
        """What each dotted key holds now, None where it is not there."""
        data = _data_of(self.path)
        return [_value_at(data, key) for key in keys]


class GardenInMind:
    """A garden told in a conversation that keeps nothing: it holds until the conversation ends."""

    def __init__(self) -> None:
        self.garden: Garden = NO_GARDEN
        self._text = ""

    def apply(self, change: GardenChange) -> None:
        """Make one change. Raises ValueError when it does not fit a garden file."""
        import tomllib

        import tomlkit

        # start-up seam: only where there is a garden file
        from gardenmate.garden.reading import garden_of

        document = tomlkit.parse(self._text)
        _set(document, change)
        text = tomlkit.dumps(document)
        self.garden = garden_of(tomllib.loads(text), Path("garden"))
        self._text = text


def _stamp(path: Path) -> tuple[int, int, int] | None:
    """What tells one state of a file from another; None when there is no file."""
    try:
        found = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise GardenFileError(f"Cannot read the garden file {path}: {error.strerror}.") from error
    return found.st_mtime_ns, found.st_size, found.st_ino


def load_garden(path: Path) -> Garden:
    """The garden of a file; a missing file is a garden nothing is known of.

    Raises DamagedFileError naming file, line and key, GardenFileError when it may not be read.
    """
    # start-up seam: only where there is a garden file
    from gardenmate.garden.reading import garden_of

    data = _data_of(path)
    return garden_of(data, path) if data else NO_GARDEN


def apply_changes(path: Path, changes: Sequence[GardenChange]) -> tuple[Changed, ...]:
    """Set or remove keys of the garden file, keeping the rest of it, comments too, as it stands.

    Two processes take turns. Returns the value of each key before and after. Raises DamagedFileError when the
    file cannot be read (it is left alone), GardenFileError when it cannot be written, and ValueError when the
    changes do not fit the file.
    """
    path = path.expanduser().resolve()  # a link stays a link
    try:
        make_folder(path.parent)
        with locked(path):
            before = _data_of(path)
            text = _changed(path, changes)
            if text is not None:
                replace(path, text.encode("utf-8"))
            after = _data_of(path)
    except TimeoutError as error:
        raise GardenFileError(f"The garden file {error}; nothing was written.") from error
    except OSError as error:
        raise GardenFileError(
            f"The garden file {path} cannot be written: {error.strerror or error}. Nothing was changed."
        ) from error
    return tuple(Changed(c.key, _value_at(before, c.key), _value_at(after, c.key)) for c in changes)


def _changed(path: Path, changes: Sequence[GardenChange]) -> str | None:
    """The file's text after the changes, None when they change nothing."""
    import tomllib

    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    # start-up seam: only where there is a garden file
    from gardenmate.garden.reading import garden_of

    before = _text_of(path)
    if before is not None:
        load_garden(path)  # a damaged file is told, not built upon
    try:
        document = tomlkit.parse(_OPENING if before is None else before)
    except TOMLKitError as error:
        raise _damaged(path, str(error)) from error
    for change in changes:
        _set(document, change)
    after = tomlkit.dumps(document)
    if after == before or (before is None and after == _OPENING):
        return None
    after = after.rstrip("\n") + "\n"  # a section that was taken away leaves its blank line behind
    try:
        garden_of(tomllib.loads(after), path)
    except (DamagedFileError, tomllib.TOMLDecodeError) as error:
        told = ", ".join(f"{c.key} = {c.value!r}" for c in changes)
        raise ValueError(f"{told} does not fit the garden file: {error}") from error
    return after


def _data_of(path: Path) -> dict[str, Any]:
    """The file's parsed content. Raises DamagedFileError naming file and line."""
    text = _text_of(path)
    return {} if text is None else _parsed(text, path)


def data_of_text(raw: bytes, path: Path) -> dict[str, Any]:
    """The parsed content of a garden file's bytes; ``path`` is named when they are damaged."""
    try:
        return _parsed(raw.decode("utf-8-sig"), path)
    except UnicodeDecodeError as error:
        raise _damaged(path, f"line {raw[: error.start].count(10) + 1} is not UTF-8 text") from error


def _parsed(text: str, path: Path) -> dict[str, Any]:
    import tomllib

    try:
        return tomllib.loads(text)
    except RecursionError as error:
        raise _damaged(path, "it is nested too deeply") from error
    except ValueError as error:  # a fault of the TOML, or a number longer than any number here
        raise _damaged(path, str(error)) from error


def _value_at(data: dict[str, Any], key: str) -> Value:
    """The value of a dotted key, None where it is not there."""
    found: Any = data
    for name in key.split("."):
        if not isinstance(found, dict) or name not in found:
            return None
        found = found[name]
    value: Value = found if isinstance(found, str | int | float | date | list | dict) else str(found)
    return value


def _set(document: TOMLDocument, change: GardenChange) -> None:
    import tomlkit

    *sections, key = change.key.split(".")
    if not sections and change.value is None:
        document.pop(key, None)
        return
    table: Any = document
    for name in sections:
        if name not in table:
            if change.value is None:
                return
            table[name] = tomlkit.table(is_super_table=name in NAMED)
        table = table[name]
    if change.value is None:
        table.pop(key, None)
        _drop_empty(document, sections)
    elif isinstance(change.value, dict):
        section = table[key] = tomlkit.table(is_super_table=key in NAMED)
        for name, value in change.value.items():
            section[name] = _storable(value)
    else:
        table[key] = _storable(change.value)


def _storable(value: Any) -> Any:
    """A value as a text file can hold it: half characters (from bytes that were no text) become "?"."""
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode("utf-8")
    return [_storable(each) for each in value] if isinstance(value, list) else value


def _drop_empty(document: Any, sections: list[str]) -> None:
    """Drop sections that the removal left empty, innermost first."""
    for depth in range(len(sections), 0, -1):
        parent = document
        for name in sections[: depth - 1]:
            parent = parent[name]
        if parent[sections[depth - 1]]:
            return
        del parent[sections[depth - 1]]


def _text_of(path: Path) -> str | None:
    try:
        with open_plain(path) as file:
            raw = file.read(MOST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise GardenFileError(f"Cannot read the garden file {path}: {error.strerror or error}.") from error
    if len(raw) > MOST_BYTES:
        raise _damaged(path, f"it is larger than {MOST_BYTES // 1_000_000} MB")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _damaged(path, f"line {line} is not UTF-8 text") from error


def _damaged(path: Path, why: str) -> DamagedFileError:
    return DamagedFileError(
        f"The garden file {path} is damaged: {why}. Mend it or move it away; I leave it as it is."
    )
