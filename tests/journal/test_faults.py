from __future__ import annotations

import contextlib
import os
import re
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gardenmate.core.effects import LogDecision
from gardenmate.core.errors import DamagedFileError
from gardenmate.core.world import Decision
from gardenmate.journal import schema
from gardenmate.journal.faults import JournalError
from gardenmate.journal.store import Journal

KEEP = {"place": "", "answer": None, "knowledge_version": "test"}
REPO = Path(__file__).resolve().parents[2]
NOTE = LogDecision("note", "after the fault", date(2027, 4, 18))
Log = Callable[..., Decision]


@pytest.fixture
def full(journal: Journal, log: Log, path: Path) -> bytes:
    """A closed journal of 200 entries; its bytes."""
    for number in range(200):
        log(f"entry {number} about leeks", "leek")
    journal.close()
    return path.read_bytes()


def warned(path: Path) -> tuple[Journal, list[str]]:
    told: list[str] = []
    return Journal(path, clock=lambda: datetime(2027, 4, 18, tzinfo=UTC), warn=told.append), told


def over(data: bytes, at: int, length: int) -> bytes:
    """The bytes with a stretch overwritten."""
    return data[:at] + b"\xff" * length + data[at + length :]


DAMAGE: dict[str, Callable[[bytes], bytes]] = {
    "not a database": lambda _: b"dear diary, today I sowed leeks\n" * 40,
    "first page overwritten": lambda data: b"\0" * 100 + data[100:],
    "cut off in the middle": lambda data: data[: len(data) // 2 + 1000],
    "a stretch overwritten": lambda data: data[:8192] + b"\xff" * 30_000 + data[38_192:],
    "entries overwritten": lambda data: over(data, data.index(b"entry 100 about") // 4096 * 4096, 8192),
    "only half a header": lambda data: data[:50],
}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE.keys())
def test_a_damaged_file_is_told_on_reading_and_set_aside_on_writing(
    full: bytes, path: Path, damage: Callable[[bytes], bytes]
) -> None:
    damaged = damage(full)
    path.write_bytes(damaged)
    journal, told = warned(path)
    shown: set[str] = set()
    with contextlib.suppress(DamagedFileError):  # said when nothing at all can be read
        shown = {d.text for d in journal.everything()}
    assert len(told) == bool(shown)
    told.clear()
    journal.close()
    assert path.read_bytes() == damaged  # reading leaves it alone
    kept = journal.apply(NOTE, **KEEP)
    assert kept is not None
    assert {d.text for d in journal.everything()} == shown | {"after the fault"}
    assert journal.check() == []
    aside = path.with_name("journal.damaged-2027-04-18-1.db")
    assert aside.read_bytes() == damaged  # never overwritten
    assert len(told) == 1
    assert aside.name in told[0]


@pytest.mark.parametrize(
    ("damage", "least", "most"),
    [
        ("not a database", 0, 0),
        ("only half a header", 0, 0),
        ("first page overwritten", 200, 200),  # no entry stands there
        ("cut off in the middle", 20, 199),
        ("entries overwritten", 20, 199),
    ],
)
def test_what_can_still_be_read_is_carried_over(
    full: bytes, path: Path, damage: str, least: int, most: int
) -> None:
    path.write_bytes(DAMAGE[damage](full))
    journal, told = warned(path)
    journal.apply(NOTE, **KEEP)
    carried = {d.id: d for d in journal.everything() if d.action not in ("note", "unreadable")}
    assert least <= len(carried) <= most
    for number, kept in carried.items():
        assert kept.text == f"entry {number - 1} about leeks"
        assert kept.crops == ("leek",)
    if carried:
        assert re.search(rf"the {len(carried)} entries( \(of \d+ found\))? that could still be read", told[0])
        assert len(journal.search(text="leeks", limit=500)) == len(carried)
    else:
        assert "nothing in it could be read" in told[0]


def test_check_tells_damage_as_a_sentence(full: bytes, path: Path) -> None:
    path.write_bytes(DAMAGE["a stretch overwritten"](full))
    (problem, *_) = Journal(path).check()
    assert "damaged" in problem


def test_a_second_damaged_file_gets_its_own_name(full: bytes, path: Path) -> None:
    for number in (1, 2):
        path.write_bytes(b"x" * 5000)
        journal, _ = warned(path)
        journal.apply(NOTE, **KEEP)
        journal.close()
        assert path.with_name(f"journal.damaged-2027-04-18-{number}.db").read_bytes() == b"x" * 5000


def test_damage_to_the_index_alone_loses_no_entry(full: bytes, path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("DELETE FROM words_data WHERE id > 10")
    db.execute("UPDATE words_data SET block = x'ffffffffff' WHERE id = 10")
    db.commit()
    db.close()
    journal, told = warned(path)
    assert any("damaged" in p for p in journal.check())
    journal.apply(NOTE, **KEEP)
    assert "with the 200 entries" in told[0]
    assert journal.check() == []
    assert len(journal.search(text="leeks", limit=500)) == 200
    assert journal.latest(1)[0].id == 201


def test_lists_out_of_step_are_told(full: bytes, path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("DELETE FROM standing WHERE id = 7")
    db.commit()
    db.close()
    (problem,) = Journal(path).check()
    assert "Decision 7 is missing from the list of what stands" in problem
    journal, told = warned(path)
    assert len(journal.everything()) == 200  # worked out anew of the entries
    assert len(told) == 1


def test_one_unreadable_entry_is_named_and_the_file_stays_in_use(full: bytes, path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("DROP TRIGGER entry_never_changes")
    db.execute("UPDATE entry SET line = replace(line, 'leeks', 'leekz') WHERE id = 9")
    db.execute(schema._TABLES[2])  # the trigger, put back
    db.commit()
    db.close()
    journal, told = warned(path)
    shown = journal.everything()
    assert len(shown) == 200
    assert [d.text for d in shown if d.action == "unreadable"] == ["(entry 9 is damaged and cannot be read)"]
    assert journal.check() == ["Entry 9 holds no decision that can be read."]
    journal.apply(NOTE, **KEEP)
    assert journal.latest(1)[0].text == "after the fault"
    assert told == []


def test_locked_by_another_process(full: bytes, path: Path) -> None:
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(JournalError, match=r"Another program is writing .* waited 0\.2 seconds"):
        Journal(path, wait_s=0.2).apply(NOTE, **KEEP)
    assert len(Journal(path).everything()) == 200  # reading goes on meanwhile
    other.execute("COMMIT")
    other.close()
    Journal(path, wait_s=0.2).apply(NOTE, **KEEP)


def test_written_by_a_newer_program(full: bytes, path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("PRAGMA user_version = 99")
    db.execute("UPDATE meta SET value = '99' WHERE name = 'format'")
    db.commit()
    db.close()
    before = path.read_bytes()
    for work in (lambda j: j.apply(NOTE, **KEEP), lambda j: j.latest()):
        with pytest.raises(JournalError, match=r"newer gardenmate \(format 99, this one knows 2\)"):
            work(Journal(path))
    assert path.read_bytes() == before


def test_a_database_of_another_program_is_left_alone(path: Path) -> None:
    path.parent.mkdir()
    db = sqlite3.connect(path)
    db.execute("CREATE TABLE photo (name TEXT)")
    db.commit()
    db.close()
    before = path.read_bytes()
    for work in (lambda j: j.apply(NOTE, **KEEP), lambda j: j.latest()):
        with pytest.raises(JournalError, match="another program"):
            work(Journal(path))
    assert path.read_bytes() == before


def test_an_empty_file_is_a_journal_begun(path: Path) -> None:
    path.parent.mkdir()
    path.touch()
    assert list(Journal(path).latest()) == []
    Journal(path).apply(NOTE, **KEEP)
    assert len(Journal(path).everything()) == 1


def test_a_folder_in_its_place(path: Path) -> None:
    path.mkdir(parents=True)
    with pytest.raises(JournalError, match="is a folder, not a plain file"):
        Journal(path).apply(NOTE, **KEEP)


def test_a_home_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(JournalError, match="cannot be made"):
        Journal(tmp_path / "file" / "home" / "journal.db").apply(NOTE, **KEEP)


# -- disks and rights (POSIX) --------------------------------------------------------------------------
WRITER = """
import sys
from datetime import date
from pathlib import Path
sys.path.insert(0, {repo!r})
from gardenmate.core.effects import LogDecision
from gardenmate.core.errors import GardenmateError
from gardenmate.journal.store import Journal
{before}
journal = Journal(Path({path!r}))
number = 0
try:
    while number < {most}:
        effect = LogDecision("note", "entry %d " % number + "x" * 3000, date(2027, 4, 18))
        journal.apply(effect, place="", answer=None, knowledge_version="test")
        number += 1
        print(number, flush=True)
except GardenmateError as error:
    print(type(error).__name__, error, sep=": ", flush=True)
print("read", len(journal.latest(100000)), flush=True)
"""


def write_until_it_fails(path: Path, before: str = "", most: int = 5000) -> list[str]:
    """Lines a writing process printed: a number for each acknowledged entry, then the error."""
    code = WRITER.format(repo=str(REPO), path=str(path), before=before, most=most)
    done = subprocess.run(
        [sys.executable, "-B", "-c", code], capture_output=True, text=True, timeout=120, check=False
    )
    assert done.stderr == ""
    return done.stdout.splitlines()


def acknowledged(lines: list[str]) -> int:
    return sum(line.isdigit() for line in lines)


def test_no_room_for_more(path: Path) -> None:
    """The system refuses to let the file grow, as a quota or a full disk does."""
    limit = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (2_000_000, 2_000_000))"
    lines = write_until_it_fails(path, limit)
    count = acknowledged(lines)
    assert count > 20
    assert lines[count].startswith("JournalError: ")
    assert lines[-1] == f"read {count}"
    assert len(Journal(path).everything()) == count
    assert Journal(path).check() == []
    Journal(path).apply(NOTE, **KEEP)  # with room again it goes on
    assert len(Journal(path).everything()) == count + 1


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of four megabytes where the system lets us mount one, else a folder with a file-size limit."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mounted = (
        sys.platform == "linux"
        and os.geteuid() == 0
        and shutil.which("mount") is not None
        and subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(folder)], capture_output=True, check=False
        ).returncode
        == 0
    )
    yield folder
    if mounted:
        subprocess.run(["umount", "-l", str(folder)], check=True)


def test_full_disk(small_disk: Path) -> None:
    limit = ""
    if not os.path.ismount(small_disk):
        limit = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (3_000_000, 3_000_000))"
    path = small_disk / "journal.db"
    lines = write_until_it_fails(path, limit)
    count = acknowledged(lines)
    assert count > 20
    error = lines[count]
    assert re.match(r"JournalError: The disk that holds the journal .* is full; nothing was written\.", error)
    assert len(Journal(path).everything()) == count
    assert Journal(path).check() == []


NOBODY = 65534
# Root passes over file rights, so the writer gives them up - once everything it needs is loaded.
GIVE_UP_RIGHTS = f"""
import os, sqlite3, urllib.parse
os.setgid({NOBODY})
os.setuid({NOBODY})
"""


@pytest.fixture
def bound_by_rights(tmp_path: Path) -> str:
    """What the writer runs first so that file rights count for it."""
    if sys.platform == "win32" or os.geteuid() != 0:
        return ""
    for folder in (tmp_path, *tmp_path.parents):
        if "/pytest-" in folder.as_posix():
            folder.chmod(0o755)
    tmp_path.chmod(0o755)
    return GIVE_UP_RIGHTS


def test_a_read_only_folder_reads_but_does_not_write(full: bytes, path: Path, bound_by_rights: str) -> None:
    path.chmod(0o444)
    path.parent.chmod(0o555)
    try:
        lines = write_until_it_fails(path, bound_by_rights)
    finally:
        path.parent.chmod(0o755)
        path.chmod(0o644)
    assert len(lines) == 2
    assert re.match(r"JournalError: The journal .* (read-only|cannot be opened).*", lines[0])
    assert lines[1] == "read 200"
    assert path.read_bytes() == full


def test_a_file_that_may_not_be_read(full: bytes, path: Path, bound_by_rights: str) -> None:
    path.chmod(0o000)
    path.parent.chmod(0o755)
    code = WRITER.format(repo=str(REPO), path=str(path), before=bound_by_rights, most=1)
    try:
        done = subprocess.run([sys.executable, "-B", "-c", code], capture_output=True, text=True, check=False)
    finally:
        path.chmod(0o644)
    assert "JournalError: The journal" in done.stdout
    assert "cannot be opened: I may not read it" in done.stdout
