"""A damaged journal is mended while things go wrong: killed, interrupted or out of room at every step of it.

Every step is a call of the system that Python reports to audit hooks (opening, linking, renaming, removing a
file, opening a database). A child process runs one log request on a damaged journal and comes to grief at its
n-th such call, for every n there is. Held each time: nothing that was whole in the damaged file is ever out of
sight, what was acknowledged is listed, the next request finishes the work and leaves nothing lying about.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.effects import LogDecision
from gardenmate.journal.store import Journal

REPO = Path(__file__).resolve().parents[2]
DAY = date(2027, 4, 18)
ENTRIES = 40
_CHILD = """
import os, signal, sys
from datetime import date
from pathlib import Path
from gardenmate.core.effects import LogDecision
from gardenmate.core.errors import GardenmateError
from gardenmate.journal.store import Journal

path, way, last = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
EVENTS = ("open", "os.link", "os.rename", "os.remove", "os.mkdir", "os.utime", "os.chmod", "sqlite3.connect")
count = 0

def hook(event, args):
    global count
    if event not in EVENTS or str(path.parent) not in str(args[0]):
        return
    count += 1
    if count != last:
        return
    if way == "kill":
        os.kill(os.getpid(), signal.SIGKILL)
    raise KeyboardInterrupt if way == "interrupt" else OSError(28, os.strerror(28))

journal = Journal(path, warn=lambda told: None)
sys.addaudithook(hook)
try:
    journal.keep([LogDecision("note", "after the fault", date(2027, 4, 18))])
    print("acknowledged")
except (KeyboardInterrupt, GardenmateError) as error:
    print("failed", error)
print("calls", count)
"""


def of_the_schema(data: bytes) -> bytes:
    at = data.index(b"CREATE TABLE entry")
    return data[: at + 3] + b"K" + data[at + 4 :]


def of_the_header(data: bytes) -> bytes:
    return b"\0" * 60 + data[60:]


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("sound") / "journal.db"
    with Journal(path) as journal:
        journal.keep([LogDecision("sow", f"sowed tray {n}", DAY, ("leek",)) for n in range(ENTRIES)])
    return path.read_bytes()


def texts(path: Path) -> set[str]:
    with Journal(path, warn=lambda _: None) as journal:
        return {d.text for d in journal.everything()}


def run(path: Path, way: str, last: int) -> tuple[bool, bool]:
    """One request that comes to grief at call ``last``: whether it was acknowledged, whether it got through."""
    done = subprocess.run(
        [sys.executable, "-B", "-c", _CHILD, str(path), way, str(last)],
        capture_output=True, text=True, cwd=REPO, timeout=60, check=False,
    )  # fmt: skip
    assert "Traceback" not in done.stderr
    lines = done.stdout.split()
    calls = int(lines[-1]) if "calls" in lines else last
    return "acknowledged" in lines, calls < last


@pytest.mark.parametrize("damage", [of_the_schema, of_the_header])
@pytest.mark.parametrize("way", ["kill", "interrupt", "full"])
def test_at_every_step(tmp_path: Path, sound: bytes, way: str, damage: Callable[[bytes], bytes]) -> None:
    old = {f"sowed tray {n}" for n in range(ENTRIES)}
    for last in range(1, 200):
        path = tmp_path / f"{last}" / "journal.db"
        path.parent.mkdir()
        path.write_bytes(damage(sound))
        acknowledged, through = run(path, way, last)
        seen = texts(path)
        assert old <= seen, last
        assert not acknowledged or "after the fault" in seen, last
        with Journal(path, warn=lambda _: None) as journal:
            journal.keep([LogDecision("note", "next", DAY)])
            assert journal.check() == [], last
        assert old | {"next"} <= texts(path), last
        names = {p.name for p in path.parent.iterdir()}
        assert names == {"journal.db", "journal.db.lock", *(n for n in names if ".damaged-" in n)}, last
        asides = [p for p in path.parent.iterdir() if ".damaged-" in p.name]
        assert any(p.read_bytes() == damage(sound) for p in asides), last
        if through:
            assert last > 8  # there were steps to come to grief at
            return
    pytest.fail("it never got through")


def test_several_writers_at_once(tmp_path: Path, sound: bytes) -> None:
    path = tmp_path / "journal.db"
    for damage in (of_the_schema, of_the_header, of_the_schema):
        path.write_bytes(damage(sound))
        writers = [
            subprocess.Popen([sys.executable, "-B", "-c", _CHILD, str(path), "kill", "0"], cwd=REPO,
                             stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
            for _ in range(6)
        ]  # fmt: skip
        told = [writer.communicate(timeout=120) for writer in writers]
        assert all(out.startswith("acknowledged") for out, _ in told), told
        with Journal(path) as journal:
            found = [d.text for d in journal.everything()]
            assert found.count("after the fault") == 6
            assert len(found) == ENTRIES + 6
            assert journal.check() == []
        for each in tmp_path.iterdir():
            each.unlink()


def test_a_full_temporary_folder_is_no_hindrance(tmp_path: Path, sound: bytes) -> None:
    """Nothing is put there: it is a folder nobody may write to, named for whatever asks."""
    path = tmp_path / "home" / "journal.db"
    path.parent.mkdir()
    path.write_bytes(of_the_schema(sound))
    code = _CHILD.replace(
        "count = 0", "count = 0\nos.environ['TMPDIR'] = os.environ['SQLITE_TMPDIR'] = '/proc'", 1
    )
    done = subprocess.run(
        [sys.executable, "-B", "-c", code, str(path), "kill", "0"],
        capture_output=True, text=True, cwd=REPO, check=False,
    )  # fmt: skip
    assert done.stdout.startswith("acknowledged"), done.stdout + done.stderr
    assert len(texts(path)) == ENTRIES + 1
