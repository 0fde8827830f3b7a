"""Files a grower asks for by name: read within bounds, written in one step, never over the garden's own."""

from __future__ import annotations

import os
from pathlib import Path

from gardenmate.core.errors import GardenmateError, UsageError
from gardenmate.core.files import open_plain, refuse_odd, replace, same_file
from gardenmate.garden.store import journal_path


def user_path(typed: str) -> Path:
    """The file a name on the command line stands for. Raises UsageError when it can be no name of a file."""
    if "\0" in typed:
        raise UsageError("A file's name cannot hold a NUL sign.")
    if not typed:
        raise UsageError("Name a file: the name is empty.")
    try:
        return Path(typed).expanduser()
    except RuntimeError as error:
        raise UsageError(f"'{typed}': there is no such user on this computer.") from error


def own_files(garden: Path) -> list[Path]:
    """Every file that is there and belongs to the garden file ``garden``: its weather, its journal, what was
    set aside, locks, and the questions of the bench."""
    folder, journal = garden.parent, journal_path(garden.parent)
    stems = (f"{garden.stem}.", f"{journal.stem}.", f".{garden.name}.")
    try:
        names = os.listdir(folder)
    except OSError:
        return []
    return [folder / name for name in names if name.startswith(stems) or name == "history"]


def write_export(path: Path, data: bytes, garden: Path, *, force: bool = False) -> None:
    """Write a file the grower asked for, in one step; a plain file there is replaced only with ``force`` and
    keeps its rights.

    Raises UsageError when the name is taken or is the garden's own, GardenmateError when it is no plain file
    or cannot be written.
    """
    ours = [*own_files(garden), garden, journal_path(garden.parent)]
    if same_file(path, ours):
        raise UsageError(f"{path} is the garden's own file; name another one.")
    try:
        there = refuse_odd(path) is not None
        if there and not force:
            raise UsageError(f"{path} is there already; add --force to replace it, or name another file.")
        replace(path, data)
    except ValueError as error:
        raise UsageError(f"'{path}' can't be a file name: {error}.") from error
    except OSError as error:
        raise GardenmateError(f"Cannot write {path}: {error.strerror or error}.") from error


def read_bounded(path: Path, most: int) -> bytes:
    """A plain file's bytes. Raises UsageError when it cannot be read, is no plain file, or holds more than
    ``most`` bytes."""
    try:
        with open_plain(path) as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        raise UsageError(f"Cannot read {path}: {getattr(error, 'strerror', None) or error}.") from error
    if len(data) > most:
        raise UsageError(f"{path} is too large: I read files of up to {most // 1_000_000} MB here.")
    return data
