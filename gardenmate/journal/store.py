"""The journal: decisions, durable once `apply` returns, listed and searched as they stand.

SQLite is loaded and the file opened when the journal is first used; a journal that was never written needs
no file. Opened by each process for itself; any number of processes may read and write at once.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Self, TypeVar

from gardenmate.core.answer import Answer
from gardenmate.core.effects import CorrectDecision, LogDecision, RedoDecision, UndoDecision
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.world import Decision, Rewind
from gardenmate.garden.lock import locked

if TYPE_CHECKING:
    import sqlite3

    from gardenmate.journal.decision import Content, KeptDecision

T = TypeVar("T")
WAIT_S = 5.0
RESTS_ON = "rests_on"
"""Key of `LogDecision.detail`: "previous" ties the decision to the answer before it."""

JournalEffect = LogDecision | CorrectDecision | UndoDecision | RedoDecision


def _now() -> datetime:
    return datetime.now(UTC)


def _to_stderr(sentence: str) -> None:
    print(f"gardenmate: {sentence}", file=sys.stderr)


@dataclass(frozen=True, slots=True)
class Merged:
    """What an import did: decisions added, brought up to date, and already here."""

    added: int
    updated: int
    known: int


class Journal:
    """The journal in one file.

    ``wait_s``: how long to wait for another process that is writing. ``clock`` dates the entries (UTC).
    ``warn`` is told, in one sentence, when a damaged file was set aside.

    Methods raise JournalError when the file cannot be used now (locked, read-only, disk full, newer format)
    and DamagedFileError when its content cannot be read.
    """

    def __init__(
        self,
        path: Path,
        *,
        wait_s: float = WAIT_S,
        clock: Callable[[], datetime] = _now,
        warn: Callable[[str], None] = _to_stderr,
    ) -> None:
        self.path = path
        self.wait_s = wait_s
        self._clock = clock
        self._warn = warn
        self._db: sqlite3.Connection | None = None
        self._frozen = False
        self._identity: tuple[int, int] | None = None

    # -- writing ------------------------------------------------------------------------------------
    def apply(
        self, effect: JournalEffect, *, place: str, answer: Answer | None, knowledge_version: str
    ) -> Decision | None:
        """Carry out one effect; it is on the disk when this returns.

        ``answer`` is the answer before; it is kept with the decision when the effect says that the decision
        rests on it. Returns the decision as it now stands (for an undo: as it stood), None when there is
        nothing to undo, redo or correct. A damaged file is set aside and a new one begun.
        """

        def work(db: sqlite3.Connection) -> KeptDecision | None:
            return self._carry_out(db, effect, place, answer, knowledge_version)

        return self._write(work)

    def _carry_out(
        self,
        db: sqlite3.Connection,
        effect: JournalEffect,
        place: str,
        answer: Answer | None,
        knowledge_version: str,
    ) -> KeptDecision | None:
        from dataclasses import replace

        from gardenmate.journal import rows
        from gardenmate.journal.decision import changed_by, content_of

        now = self._written_at()
        if isinstance(effect, LogDecision):
            detail = dict(effect.detail)
            basis = answer if detail.pop(RESTS_ON, None) == "previous" else None
            effect = replace(effect, detail=detail)
            content = content_of(effect, place=place, answer=basis, knowledge_version=knowledge_version)
            return rows.standing(db, rows.add_record(db, content, now))
        if isinstance(effect, CorrectDecision):
            if rows.standing(db, effect.decision_id) is None:
                return None
            rows.add_correction(db, effect.decision_id, changed_by(effect), now)
            return rows.standing(db, effect.decision_id)
        if isinstance(effect, UndoDecision):
            return self._undo(db, effect.decision_id, now)
        entry = rows.last_undone(db)
        if entry is None:
            return None
        rows.add_redo(db, entry, now)
        return rows.standing(db, rows.record_of(db, entry))

    @staticmethod
    def _undo(db: sqlite3.Connection, decision_id: int | None, now: str) -> KeptDecision | None:
        from gardenmate.journal import rows

        if decision_id is not None:
            before = rows.standing(db, decision_id)
            if before is not None:
                rows.add_undo(db, decision_id, now)
            return before
        latest = rows.changes(db, 1)
        if not latest:
            return None
        entry, _, number = latest[0]
        before = rows.standing(db, number)
        rows.add_undo(db, entry, now)
        return before

    def add_all(self, contents: Iterable[tuple[str | None, str, Content]]) -> Merged:
        """Merge decisions given as (uid, written_at, content) in one transaction: all of them or none.

        A decision already here (same uid, or without a uid the same content) is not added again; when its
        content differs and was written later than ours, it becomes a correction.
        """
        from gardenmate.journal.merge import merge

        return self._write(lambda db: merge(db, contents, self._written_at()))

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
        """Standing decisions that fit every given filter, newest day first."""

        def work(db: sqlite3.Connection) -> list[KeptDecision]:
            from gardenmate.journal import rows

            return rows.find(db, crop=crop, action=action, since=since, until=until, text=text, limit=limit)

        return self._read(work, [])

    def entry(self, number: int) -> KeptDecision | None:
        """The standing decision of that number, None when there is none."""

        def work(db: sqlite3.Connection) -> KeptDecision | None:
            from gardenmate.journal import rows

            return rows.standing(db, number)

        return self._read(work, None)

    def everything(self) -> Sequence[KeptDecision]:
        """Every standing decision, oldest day first."""

        def work(db: sqlite3.Connection) -> list[KeptDecision]:
            from gardenmate.journal import rows

            return list(rows.everything(db))

        return self._read(work, [])

    def would_undo(self, steps: int = 1) -> Sequence[Rewind]:
        """What the next ``steps`` undos would take back, in order; shorter when there is less."""

        def work(db: sqlite3.Connection) -> list[Rewind]:
            from gardenmate.journal import rows

            found = []
            for entry, kind, number in rows.changes(db, steps):
                before = rows.standing(db, number)
                after = rows.without(db, number, entry) if kind == "correct" else None
                if before is not None:
                    found.append(Rewind(before, after))
            return found

        return self._read(work, [])

    def would_redo(self) -> Decision | None:
        """The decision the next redo would put back (or whose correction it would), None when none."""

        def work(db: sqlite3.Connection) -> KeptDecision | None:
            from gardenmate.journal import rows

            return rows.after_redo(db)

        return self._read(work, None)

    def check(self) -> list[str]:
        """Problems found in the whole file, as sentences; empty when it is sound. Reads everything."""
        from gardenmate.journal.audit import problems

        try:
            return self._read(problems, [])
        except DamagedFileError as error:
            return [str(error)]

    def close(self) -> None:
        """Close the file; it opens again when next used."""
        if self._db is not None:
            self._db.close()
            self._db = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # -- the file -----------------------------------------------------------------------------------
    def _read(self, work: Callable[[sqlite3.Connection], T], nothing: T) -> T:
        """Run ``work`` on one consistent view of the file; ``nothing`` when there is no file yet."""
        if self._db is None and not self.path.exists():
            return nothing
        with self._explained():
            db = self._open(writing=False)
            if db is None:
                return nothing
            db.execute("BEGIN")
            try:
                return work(db)
            finally:
                db.execute("ROLLBACK")

    def _write(self, work: Callable[[sqlite3.Connection], T]) -> T:
        """Run ``work`` in one transaction that is durable afterwards; start afresh over a damaged file."""
        import sqlite3

        try:
            return self._transact(work)
        except DamagedFileError as error:
            if not isinstance(error.__cause__, sqlite3.Error):
                raise  # one entry is unreadable, the file itself is sound
            self._set_aside(error)
            return self._transact(work)

    def _transact(self, work: Callable[[sqlite3.Connection], T]) -> T:
        with self._explained():
            db = self._open(writing=True)
            assert db is not None
            db.execute("BEGIN IMMEDIATE")
            try:
                result = work(db)
                db.execute("COMMIT")
            except BaseException:
                if db.in_transaction:
                    db.execute("ROLLBACK")
                raise
            return result

    @contextmanager
    def _explained(self) -> Iterator[None]:
        """Turn SQLite's errors into ours and leave no half-usable connection behind."""
        import sqlite3

        from gardenmate.journal.faults import explain
        from gardenmate.journal.rows import UnreadableEntryError

        try:
            yield
        except sqlite3.Error as error:
            self.close()
            raise explain(error, self.path, self.wait_s) from error
        except UnreadableEntryError as error:
            raise DamagedFileError(f"In the journal {self.path} {error}.") from error

    def _open(self, *, writing: bool) -> sqlite3.Connection | None:
        import sqlite3

        from gardenmate.journal import faults, schema

        if self._db is not None:
            if self._identity == _identity(self.path) and not (writing and self._frozen):
                return self._db
            # Renamed or deleted behind our back: what went into the open file would be lost.
            self.close()
            if not writing and not self.path.exists():
                return None
        if writing:
            self._make_folder()
        try:
            db = schema.connect(self.path, wait_s=self.wait_s)
            self._use(db, self._prepare)
            self._frozen = False
        except sqlite3.Error as error:
            if writing or not faults.is_unwritable(error) or not self.path.exists():
                raise
            # A journal on read-only ground can still be read.
            db = schema.connect(self.path, wait_s=self.wait_s, frozen=True)
            self._use(db, self._check_version)
            self._frozen = True
        self._db = db
        self._identity = _identity(self.path)
        return db

    @staticmethod
    def _use(db: sqlite3.Connection, check: Callable[[sqlite3.Connection], object]) -> None:
        """Run a check on a fresh connection, which is closed when it fails."""
        try:
            check(db)
        except BaseException:
            db.close()
            raise

    def _prepare(self, db: sqlite3.Connection) -> None:
        from gardenmate.journal import faults, schema

        version = self._check_version(db)
        if version == len(schema.MIGRATIONS):
            return
        if schema.is_foreign(db):
            raise faults.foreign(self.path)
        try:
            with locked(self.path, self.wait_s):
                schema.migrate(db, self._back_up)
        except TimeoutError as error:
            raise faults.JournalError(f"The journal {error}; nothing was written.") from error
        except OSError as error:
            raise faults.JournalError(
                f"The journal {self.path} cannot be prepared: {error.strerror}."
            ) from error

    def _check_version(self, db: sqlite3.Connection) -> int:
        from gardenmate.journal import faults, schema

        version = schema.version_of(db)
        if version > len(schema.MIGRATIONS):
            raise faults.newer(self.path, version, len(schema.MIGRATIONS))
        return version

    def _back_up(self, version: int) -> None:
        """Copy the file, whole and consistent, before its format changes."""
        import sqlite3

        copy = self.path.with_name(f"{self.path.stem}.before-format-{version + 1}{self.path.suffix}")
        source, target = sqlite3.connect(self.path), sqlite3.connect(copy)
        try:
            source.backup(target)
        finally:
            source.close()
            target.close()

    def _make_folder(self) -> None:
        from gardenmate.journal.faults import JournalError

        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise JournalError(
                f"The folder {self.path.parent} for the journal cannot be made: {error.strerror or error}."
            ) from error

    def _set_aside(self, error: DamagedFileError) -> None:
        """Rename the damaged file, begin a new one and carry over what can still be read."""
        from gardenmate.journal import faults

        try:
            with locked(self.path, self.wait_s):
                if self._is_sound():
                    return  # another process has done it meanwhile
                aside = faults.set_aside(self.path, self._clock().date())
        except OSError as problem:
            raise faults.JournalError(f"{error} It cannot be set aside: {problem}.") from error
        self._warn(
            f"The journal was damaged; I set it aside as {aside} and began a new one {self._rescue(aside)}."
        )

    def _rescue(self, aside: Path) -> str:
        from gardenmate.journal import salvage

        entries = salvage.readable_entries(aside)
        if not entries:
            return "(nothing in it could be read)"
        self._transact(lambda db: salvage.carry_over(db, entries))
        return f"with the {len(entries)} entries that could still be read"

    def _is_sound(self) -> bool:
        import sqlite3

        from gardenmate.journal import audit, schema

        try:
            with closing(schema.connect(self.path, wait_s=self.wait_s)) as db:
                return not schema.is_foreign(db) and not audit.problems(db)
        except sqlite3.Error:
            return False


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file a name stands for now."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
