"""The garden file a command is about: where it is, that it is there, and a restore of it that was cut off."""

from __future__ import annotations

import argparse
from pathlib import Path

from gardenmate.core.errors import UsageError
from gardenmate.garden.exports import own_files, user_path
from gardenmate.garden.store import default_home, garden_path


def garden_named(options: argparse.Namespace, *, new: bool = False) -> Path:
    """The garden file of --garden, else the usual one. A restore that was cut off is finished first.

    ``new``: its folder may be missing, and is then made. Raises UsageError when --garden can be no garden file.
    """
    if options.garden is None:
        path = garden_path(default_home())
    else:
        path = user_path(options.garden)
        if path.is_dir():
            raise UsageError(
                f"--garden {path} is a folder; name the garden file in it, such as {path}/garden.toml."
            )
        if not new and not path.parent.exists():
            raise UsageError(f"--garden {path}: there is no folder {path.parent}.")
    if path.with_name(f"{path.stem}.restore").exists():
        from gardenmate.journal.backup import finish_restore  # start-up seam: only where one was cut off

        finish_restore(path)
    return path


def is_there(path: Path) -> bool:
    """True when anything of a garden is kept there: its file, a journal, a weather record."""
    return path.exists() or any(not own.name.endswith(".lock") for own in own_files(path))


def needs_garden(options: argparse.Namespace) -> None:
    """Raises UsageError when --garden names a garden of which nothing is there."""
    if options.garden is not None and not options.no_garden and not is_there(garden_named(options)):
        raise UsageError(f"There is no garden file {options.garden}.")
