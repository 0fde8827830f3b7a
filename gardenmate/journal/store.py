"""The journal: what a grower did, decided, planned and told, durable once written, listed as it stands.

What others build on it:

- `keep` writes the effects of one turn: deeds, plans, postponements, reminders, dropped and returned jobs are
  all `LogDecision` (an action, words, a day, crops, a count, and `detail`, any names and values as text);
  corrections, undo and redo refer to a decision by its number, or to the newest change. A `GardenChange` is
  carried out in the garden file and kept as an entry of action "garden", so that undo takes it back as well.
- `latest`, `search`, `entry` and `everything` list what stands; garden changes only when asked for
  (``action="garden"``).
- `version` tells one state of the journal from any other; `added_since` gives what came since, so that a fold
  of the entries is brought up to date; `derived` and `put_derived` keep that fold in the journal's own file.
  Call `put_derived` in a turn that wrote something: a question leaves the file untouched.

Any number of processes may read and write at once.
"""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Self

from gardenmate.core.answer import Answer
from gardenmate.core.effects import (
    CorrectDecision,
    Effect,
    LogDecision,
    RedoDecision,
    UndoDecision,
)
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.world import Rewind
from gardenmate.garden.store import GardenFile
from gardenmate.journal import audit, mend, rows
from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.file import JournalFile
from gardenmate.journal.frames import Content, EntryRow, unframe
from gardenmate.journal.merge import Merged, merge
from gardenmate.journal.write import RESTS_ON, GardenInTurn, JournalTurn, write_turn
from gardenmate.records import dataclass

__all__ = ["RESTS_ON", "Derived", "Journal", "KeptDecision", "Merged"]
WAIT_S = 5.0  # seconds to wait for another program; design value
JournalEffect = LogDecision | CorrectDecision | UndoDecision | RedoDecision


def _now() -> datetime:
    return datetime.now(UTC)


def _to_stderr(sentence: str) -> None:
    print(f"gardenmate: {sentence}", file=sys.stderr)


@dataclass(frozen=True, slots=True)
class Derived:
    """A text worked out of the entries, and the version of the journal it was worked out of."""

    version: str
    text: str


class Journal:
    """The journal in one file, opened when first used; one that was never written needs no file.

    ``wait_s``: how long to wait for another process that is writing. ``clock`` dates the entries (UTC).
    ``warn`` is told, in one sentence, when a file is damaged or was mended. ``garden`` is the garden file
    that garden changes are carried out in; without one they cannot be kept.

    Methods raise JournalError when the file cannot be used now (locked, read-only, disk full, newer format)
    and DamagedFileError when nothing in it can be read.
    """

    def __init__(
        self,
        path: Path,
        *,
        wait_s: float = WAIT_S,
        clock: Callable[[], datetime] = _now,
        warn: Callable[[str], None] = _to_stderr,
        garden: GardenFile | None = None,
    ) -> None:
        self.path = path
        self.garden = garden
        self._clock = clock
        self._warn = warn
        self._file = JournalFile(path, wait_s, warn, lambda: clock().date())

    # -- writing ------------------------------------------------------------------------------------
    def keep(
        self,
        effects: Sequence[Effect],
        *,
        place: str = "",
        answer: Answer | None = None,
        knowledge_version: str = "",
        said: str = "",
        today: date | None = None,
    ) -> tuple[KeptDecision, ...]:
        """Carry out the effects of one turn, all or none; durable, and listed, when this returns.

        ``place`` is kept with what is logged; ``answer`` is the answer before, kept with a decision whose
        detail says that it rests on it (RESTS_ON); ``said`` are the grower's words and ``today`` the day, for
        changes of the garden. All garden changes of one turn are one entry, taken back as one.

        Returns the decisions as they now stand, in order; for an undo, what was taken back, as it stood.
        What there was nothing to undo, redo or correct of is left out.
        """
        turn = JournalTurn(
            place, answer, knowledge_version, said, today or self._clock().date(), self._written_at()
        )
        garden = GardenInTurn(self.garden, self._warn)
        return self._file.write(lambda db: write_turn(db, effects, turn, garden), garden.put_back)

    def apply(
        self, effect: JournalEffect, *, place: str, answer: Answer | None, knowledge_version: str
    ) -> KeptDecision | None:
        """`keep` for one effect; None when there was nothing to undo, redo or correct."""
        done = self.keep([effect], place=place, answer=answer, knowledge_version=knowledge_version)
        return done[0] if done else None

    def add_all(self, contents: Iterable[tuple[str | None, str, Content]]) -> Merged:
        """Merge decisions given as (uid, written_at, content) in one transaction: all of them or none.

        A decision already here (same uid, or without a uid the same content) is not added again; when its
        content differs and was written later than ours, it becomes a correction.
        """
        given = list(contents)
        return self._file.write(lambda db: (merge(db, given, self._written_at()), ()))

    def _written_at(self) -> str:
        return self._clock().astimezone(UTC).isoformat(timespec="microseconds")

    # -- reading ------------------------------------------------------------------------------------
    def latest(self, limit: int = 20) -> Sequence[KeptDecision]:
        """The newest standing decisions, newest day first."""
        return self.search(limit=limit)

    def search(
        self,
        *,
        crop: str | None = None,
        action: str | None = None,
        since: date | None = None,
        until: date | None = None,
        text: str | None = None,
        limit: int = 200,
    ) -> Sequence[KeptDecision]:
        """Standing decisions that fit every given filter, newest day first. ``action`` "garden" lists what
        was told of the garden, newest first, and takes no other filter."""

        def work(db: sqlite3.Connection) -> list[KeptDecision]:
            most = min(limit, 2**31 - 1)
            return rows.find(db, crop=crop, action=action, since=since, until=until, text=text, limit=most)

        return self._file.read(work, [])

    def entry(self, number: int) -> KeptDecision | None:
        """The standing decision of that number, None when there is none."""
        return self._file.read(lambda db: rows.standing(db, min(number, 2**62)), None)

    def everything(self) -> Sequence[KeptDecision]:
        """Every standing decision, oldest day first; no garden changes."""
        return self._file.read(rows.everything, [])

    def would_undo(self, steps: int = 1) -> Sequence[Rewind]:
        """What the next ``steps`` undos would take back, in order; shorter when there is less."""

        def work(db: sqlite3.Connection) -> list[Rewind]:
            found = []
            for entry, kind, number in rows.changes(db, steps):
                before = rows.standing(db, number)
                after = rows.without(db, number, entry) if kind == "correct" else None
                if before is not None:
                    found.append(Rewind(before, after))
            return found

        return self._file.read(work, [])

    def would_redo(self, number: int | None = None) -> KeptDecision | None:
        """The decision the next redo would put back (or whose correction it would), None when none."""

        def work(db: sqlite3.Connection) -> KeptDecision | None:
            entry = rows.last_undone(db, number)
            return None if entry is None else rows.after_redo(db, entry)

        return self._file.read(work, None)

    # -- versions, and what is worked out of the entries ----------------------------------------------
    def version(self) -> str:
        """What tells this state of the journal from any other; "" for an empty one. Costs one look-up."""
        return self._file.read(rows.version, "")

    def added_since(self, version: str) -> Sequence[KeptDecision] | None:
        """Decisions recorded since the journal was at ``version``, in the order written, garden changes too;
        None when an older one was corrected, taken back or put back since, or the version is another
        journal's: then everything must be worked out anew."""

        def work(db: sqlite3.Connection) -> list[KeptDecision] | None:
            name, _, number = version.rpartition("-")
            mine = rows.version(db).rpartition("-")[0]
            return rows.added_since(db, int(number)) if name == mine and number.isdigit() else None

        none: list[KeptDecision] | None = [] if version == "" else None
        return self._file.read(work, none)

    def derived(self, name: str) -> Derived | None:
        """What was kept under ``name``, of whatever version; None when nothing is, or it is damaged."""
        kept = self._file.read(lambda db: rows.derived(db, name), None)
        return None if kept is None else Derived(*kept)

    def put_derived(self, name: str, version: str, text: str) -> bool:
        """Keep ``text`` under ``name`` when the journal is still at ``version``; False when it no longer
        is."""

        def work(db: sqlite3.Connection) -> tuple[bool, Sequence[int]]:
            current = rows.version(db) == version
            if current:
                rows.put_derived(db, name, version, text)
            return current, ()

        return self._file.write(work)

    # -- the file -----------------------------------------------------------------------------------
    def check(self) -> list[str]:
        """Problems found in the whole file, as sentences; empty when it is sound. Reads everything."""
        try:
            return self._file.check()
        except DamagedFileError as error:
            return [str(error)]

    def set_aside(self) -> list[tuple[Path, int, int]]:
        """Damaged files set aside beside the journal, oldest first: how many entries are whole in each, and how
        many of those the journal has not."""
        told = []
        for path in mend.set_aside(self.path):
            whole = [r for r in mend.whole_entries(path).rows.values() if r.kind == "record"]
            names = [row.uid for row in whole if row.uid is not None]
            known = self._known(names)
            told.append((path, len(whole), sum(name not in known for name in names)))
        return told

    def _known(self, names: Sequence[str]) -> set[str]:
        nothing: set[str] = set()
        return self._file.read(lambda db: rows.known(db, names), nothing)

    def entries(self) -> list[EntryRow]:
        """Every entry that is whole, in the order written, for a backup."""

        def work(db: sqlite3.Connection) -> list[EntryRow]:
            lines = [(n, line) for n, line in db.execute("SELECT id, line FROM entry ORDER BY id")]
            return [unframe(line) for n, line in lines if audit.reads(n, line)]

        return self._file.read(work, [])

    def replace_all(self, entries: Sequence[EntryRow]) -> Path | None:
        """Make these the journal's entries; what was there is kept in a file whose name is returned."""
        return self._file.replace(entries)

    def close(self) -> None:
        """Close the file; it opens again when next used."""
        self._file.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()
