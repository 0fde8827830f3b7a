"""The journal's file: opened, locked, proved, mended. What is read and written in it is the caller's `work`.

Every process takes the lock beside the file, readers together and writers one at a time, so that a file is
never replaced under anybody's hands. The writer leaves in the lock file what tells this state of the journal
from any other (`_stamp`). A file that does not look as it was left - edited, restored, copied over, cut, or
left by a process that was killed - is read through once and compared with its own entries before it is
trusted.
"""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path
from typing import IO, TypeVar

from gardenmate.core.files import PRIVATE_FILE, make_folder, refuse_odd
from gardenmate.core.lock import locked
from gardenmate.journal import audit, faults, mend, rows, schema
from gardenmate.journal.faults import JournalError, NotSoundError, OlderFormatError
from gardenmate.journal.frames import EntryRow, NotKeepableError
from gardenmate.journal.rebuild import with_gaps_shown

T = TypeVar("T")
_STAMP_BYTES = 120  # bytes of the stamp, filled up with blanks
_SETTLED_S = 2.0  # a file changed just now may change again within one tick of the disk's clock
_TOUCHED = (sqlite3.Error, NotSoundError, UnicodeDecodeError)


def _no_more() -> None:
    """Nothing else was changed that a failed transaction should put back."""


class JournalFile:
    """One journal file, open from its first use to `close`.

    ``warn`` is told in one sentence when a file is damaged, and when it was mended.
    """

    def __init__(
        self, path: Path, wait_s: float, warn: Callable[[str], None], today: Callable[[], date]
    ) -> None:
        self.path = Path(os.path.realpath(path))  # a link stays a link
        self._wait_s = wait_s
        self._warn = warn
        self._today = today
        self._db: sqlite3.Connection | None = None
        self._opened: tuple[int, int] | None = None
        self._view: tuple[object, sqlite3.Connection] | None = None

    def read(self, work: Callable[[sqlite3.Connection], T], nothing: T) -> T:
        """Run ``work`` on one consistent view of the journal; ``nothing`` when there is none yet.

        A damaged file is left as it is, and everything that can still be read of it is shown.
        """
        with self._told():
            if self._db is None and not self._is_there():
                return nothing
            if mend.mended_path(self.path).exists():
                self._take_up()
            with self._held(shared=True) as lock:
                try:
                    db = self._open(lock, writing=False)
                    return nothing if db is None else self._looked_at(db, work)
                except _TOUCHED as error:
                    self.close()
                    if not faults.is_damage(error):
                        raise
                    return work(self._what_can_be_read(error))

    def write(
        self,
        work: Callable[[sqlite3.Connection], tuple[T, Sequence[int]]],
        failed: Callable[[], None] = _no_more,
    ) -> T:
        """Run ``work`` in one transaction; it is durable, and can be listed again, when this returns.

        ``work`` gives its result and the numbers of the decisions it wrote; ``failed`` is called when its
        transaction was rolled back. A damaged file is mended first.
        """
        with self._told():
            self._make_folder()
            with self._held(shared=False) as lock:
                if mend.mended_path(self.path).exists():
                    mend.finish(self.path, self._today())
                try:
                    result, numbers = self._transact(lock, work, failed)
                except _TOUCHED as error:
                    self.close()
                    if not faults.is_damage(error):
                        raise
                    self._mend(error)
                    result, numbers = self._transact(lock, work, failed)
                self._prove(numbers)
                self._stamp(lock)
                return result

    def check(self) -> list[str]:
        """What is wrong with the file, as sentences, whatever it looks like; empty when it is sound."""
        with self._told():
            if mend.mended_path(self.path).exists():
                self._take_up()
            if _identity(self.path) is None:
                return []
            with self._held(shared=True):
                try:
                    db = self._open(None, writing=False)  # no lock file: nothing is taken on trust
                    return [] if db is None else audit.problems(db)
                except _TOUCHED as error:
                    self.close()
                    if not faults.is_damage(error):
                        raise
                    if isinstance(error, OlderFormatError):
                        return []
                    found = mend.whole_entries(self.path)
                    kept = _counted(len(found.rows), len(found.broken))
                    return [f"The journal {self.path} is damaged ({error}); {kept} can still be read."]

    def replace(self, entries: Sequence[EntryRow]) -> Path | None:
        """Put a journal of these entries in place of what there is, which is kept aside under a dated
        name."""
        with self._told():
            self._make_folder()
            with self._held(shared=False):
                self.close()
                mend.build(self.path, list(entries))
                return mend.finish(self.path, self._today(), kept_as=f"replaced-{self._today().isoformat()}")

    def close(self) -> None:
        """Close the file; it opens again when next used."""
        if self._db is not None:
            self._db.close()
            self._db = None

    # -- opening ------------------------------------------------------------------------------------
    def _is_there(self) -> bool:
        return self.path.exists() or mend.mended_path(self.path).exists()

    def _open(self, lock: IO[bytes] | None, *, writing: bool) -> sqlite3.Connection | None:
        refuse_odd(self.path)
        identity = _identity(self.path)
        if self._db is not None and self._opened == identity and (lock is not None or not writing):
            self._examine(self._db, lock, writing)
            return self._db
        self.close()  # renamed, deleted or replaced behind our back
        if identity is None and not writing:
            return None
        db = self._connect(writing, new=identity is None)
        try:
            if self.path.stat().st_size == 0:
                if not writing:
                    db.close()
                    return None
                self._begin(db)
            self._examine(db, lock, writing)
        except BaseException:
            db.close()
            raise
        self._db, self._opened = db, _identity(self.path)
        return db

    def _make_folder(self) -> None:
        try:
            make_folder(self.path.parent)
        except OSError as error:
            raise faults.no_folder(error, self.path.parent) from error

    def _connect(self, writing: bool, new: bool) -> sqlite3.Connection:
        if new:
            os.close(os.open(self.path, os.O_RDWR | os.O_CREAT | os.O_EXCL, PRIVATE_FILE))
        elif writing:
            mode = self.path.stat().st_mode
            if mode & 0o077 and mode & 0o200:
                self.path.chmod(PRIVATE_FILE)
        try:
            db = schema.connect(self.path, wait_s=self._wait_s)
            db.execute("BEGIN")
            db.execute("SELECT 1 FROM sqlite_master").fetchone()
            db.execute("ROLLBACK")
        except sqlite3.Error as error:
            if writing or not faults.is_unwritable(error):
                raise
            return schema.connect(self.path, wait_s=self._wait_s, frozen=True)  # on read-only ground
        return db

    def _begin(self, db: sqlite3.Connection) -> None:
        db.execute("BEGIN IMMEDIATE")
        try:
            schema.create(db)
            db.execute("COMMIT")
        except BaseException:
            if db.in_transaction:
                db.execute("ROLLBACK")
            raise

    def _examine(self, db: sqlite3.Connection, lock: IO[bytes] | None, writing: bool) -> None:
        """Prove a file that does not look as it was left. Raises what tells of its damage, and JournalError
        for a file of another program or of a newer one."""
        stamp = _stamp_of(self.path)
        if lock is not None and stamp is not None and _read_stamp(lock) == stamp:
            return
        version = schema.version_of(db)
        if version == schema.FORMAT and schema.meta(db, "format") == str(version):
            problems = audit.structure(db)
            if problems:
                raise NotSoundError(problems[0].rstrip("."))
            if lock is not None and not writing and time.time() - self.path.stat().st_mtime > _SETTLED_S:
                _write_stamp(lock, _stamp_of(self.path))
            return
        if version > schema.FORMAT and schema.meta(db, "format") == str(version):
            raise faults.newer(self.path, version, schema.FORMAT)
        if schema.is_foreign(db) and not _has_entries(self.path):
            raise faults.foreign(self.path)
        if 0 < version < schema.FORMAT:
            raise OlderFormatError(f"it is of format {version}")
        raise NotSoundError(f"its format is told as {version}")

    @staticmethod
    def _looked_at(db: sqlite3.Connection, work: Callable[[sqlite3.Connection], T]) -> T:
        db.execute("BEGIN")
        try:
            return work(db)
        finally:
            if db.in_transaction:
                db.execute("ROLLBACK")

    # -- damage -------------------------------------------------------------------------------------
    def _what_can_be_read(self, error: Exception) -> sqlite3.Connection:
        """All whole entries of a damaged file, as a journal in memory."""
        stamp = _stamp_of(self.path)
        if self._view is not None and self._view[0] == stamp:
            return self._view[1]
        found = mend.whole_entries(self.path)
        if not found.rows and not isinstance(error, OlderFormatError):
            raise error
        view = mend.in_memory(with_gaps_shown(found))
        self._view = stamp, view
        if not isinstance(error, OlderFormatError):
            counted = _counted(len(found.rows), len(found.broken))
            self._warn(
                f"The journal {self.path} is damaged ({error}); {counted} can still be read and are "
                "shown. The next thing you log mends the file."
            )
        return view

    def _mend(self, error: Exception) -> None:
        older = isinstance(error, OlderFormatError)
        done = mend.mend(
            self.path, self._today(), kept_as=f"before-format-{schema.FORMAT}" if older else None
        )
        if older:
            return
        carried = f"with {_counted(done.kept, done.lost)} that could still be read"
        self._warn(
            f"The journal was damaged; I set it aside as {done.aside} and began a new one "
            f"{carried if done.kept else '(nothing in it could be read)'}."
        )

    def _take_up(self) -> None:
        """Go on with a replacement that a killed process left waiting."""
        try:
            with locked(self.path, self._wait_s):
                self.close()
                if mend.mended_path(self.path).exists():
                    mend.finish(self.path, self._today())
        except OSError as error:
            raise faults.of_the_system(error, self.path) from error

    # -- writing ------------------------------------------------------------------------------------
    def _transact(
        self,
        lock: IO[bytes] | None,
        work: Callable[[sqlite3.Connection], tuple[T, Sequence[int]]],
        failed: Callable[[], None],
    ) -> tuple[T, Sequence[int]]:
        db = self._open(lock, writing=True)
        assert db is not None
        db.execute("BEGIN IMMEDIATE")
        try:
            done = work(db)
            db.execute("COMMIT")
        except BaseException:
            failed()
            if db.in_transaction:
                db.execute("ROLLBACK")
            raise
        return done

    def _prove(self, numbers: Sequence[int]) -> None:
        """Read what was written from the disk anew: nothing is acknowledged that cannot be listed."""
        problem = self._not_listed(numbers)
        if problem is None:
            return
        self.close()
        self._mend(problem)
        problem = self._not_listed(numbers)
        if problem is not None:
            raise JournalError(f"The journal {self.path} does not keep what is written to it: {problem}.")

    def _not_listed(self, numbers: Sequence[int]) -> Exception | None:
        try:
            with closing(schema.connect(self.path, wait_s=self._wait_s)) as db:
                for number in numbers:
                    rows.standing(db, number)
                newest = rows.newest(db)
        except _TOUCHED as error:
            return error
        return None if newest >= max(numbers, default=0) else NotSoundError("the newest entry is not there")

    def _stamp(self, lock: IO[bytes] | None) -> None:
        """Give this state of the file a time of its own, and leave it in the lock file."""
        if lock is None:
            return
        # Thousands of nanoseconds that no clock tick gives: a write after this one shows for certain.
        moment = time.time_ns() // 10**6 * 10**6 + int.from_bytes(os.urandom(2), "big") % 900_000 + 50_000
        os.utime(self.path, ns=(moment, moment))
        _write_stamp(lock, _stamp_of(self.path))

    # -- locks and errors ---------------------------------------------------------------------------
    @contextmanager
    def _held(self, *, shared: bool) -> Iterator[IO[bytes] | None]:
        with _lock_or_none(self.path, self._wait_s, shared) as lock:
            yield lock

    @contextmanager
    def _told(self) -> Iterator[None]:
        """Turn errors of SQLite and of the system into ours; leave no half-usable connection behind."""
        try:
            yield
        except NotKeepableError as error:
            raise JournalError(f"That cannot be kept: {error}. Nothing was written.") from error
        except _TOUCHED as error:
            self.close()
            raise faults.explain(error, self.path, self._wait_s) from error
        except TimeoutError as error:
            raise faults.busy(self.path, self._wait_s) from error
        except OSError as error:
            self.close()
            raise faults.of_the_system(error, self.path) from error


@contextmanager
def _lock_or_none(path: Path, wait_s: float, shared: bool) -> Iterator[IO[bytes] | None]:
    """The lock; for a reader on ground where no lock file can be made, nothing."""
    try:
        taken = locked(path, wait_s, shared=shared)
        lock = taken.__enter__()
    except TimeoutError:
        raise
    except OSError:
        if not shared:
            raise
        yield None
        return
    try:
        yield lock
    finally:
        taken.__exit__(None, None, None)


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file a name stands for now."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _stamp_of(path: Path) -> bytes | None:
    """What tells one state of a file from another."""
    try:
        found = path.stat()
    except OSError:
        return None
    hot = path.with_name(path.name + "-journal").exists()  # a transaction was cut off
    return f"2 {found.st_ino} {found.st_size} {found.st_mtime_ns} {int(hot)}".encode().ljust(_STAMP_BYTES)


def _read_stamp(lock: IO[bytes]) -> bytes:
    lock.seek(0)
    return lock.read(_STAMP_BYTES)


def _write_stamp(lock: IO[bytes], stamp: bytes | None) -> None:
    lock.seek(0)
    lock.write(stamp or b" " * _STAMP_BYTES)


def _has_entries(path: Path) -> bool:
    return bool(mend.whole_entries(path).rows)


def _counted(kept: int, lost: int) -> str:
    said = f"the {kept} entries"
    return f"{said} (of {kept + lost} found)" if lost else said
