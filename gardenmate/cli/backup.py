"""`gardenmate backup FILE` and `gardenmate restore FILE`: garden, journal and weather in one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from gardenmate.core.errors import UsageError
from gardenmate.core.text import harmless
from gardenmate.dialogue.home import garden_named, needs_garden
from gardenmate.garden.exports import read_bounded, user_path, write_export
from gardenmate.journal.backup import MOST_BYTES, Backup, backup_of, packed, restore, unpacked


def run_backup(options: argparse.Namespace) -> int:
    """Write the backup file named. Raises UsageError, GardenmateError."""
    needs_garden(options)
    garden = _garden(options, new=False)
    target = user_path(options.file)
    backup = backup_of(garden)
    if backup == Backup(None, None, ()):
        raise UsageError(
            f"There is nothing to back up: no garden file {garden}, no journal, no weather record."
        )
    write_export(target, packed(backup), garden, force=options.force)
    print(f"{harmless(str(target))} holds {backup.told}.")
    return 0


def run_restore(options: argparse.Namespace) -> int:
    """Put the state of a backup file in place of what there is. Raises UsageError, DamagedFileError."""
    garden = _garden(options, new=True)
    path = user_path(options.file)
    backup = unpacked(read_bounded(path, MOST_BYTES), path)
    for line in restore(backup, garden):
        print(harmless(line))
    print(f"Restored from {harmless(str(path))}: {backup.told}.")
    return 0


def _garden(options: argparse.Namespace, *, new: bool) -> Path:
    if options.no_garden:
        raise UsageError("--no-garden leaves out what a backup is made of.")
    return garden_named(options, new=new)
