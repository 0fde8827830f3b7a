"""Garden, journal and weather in one file, and back: proved before anything is touched, finished when cut off."""

from __future__ import annotations

import io
import json
import subprocess
import sys
import zipfile
from datetime import date
from pathlib import Path

import pytest

from gardenmate.cli.main import main
from gardenmate.core.effects import GardenChange, LogDecision, RedoDecision, UndoDecision
from gardenmate.garden.store import GardenFile
from gardenmate.journal.store import Journal

REPO = Path(__file__).resolve().parents[1]
SAMPLE = REPO / "tests" / "published" / "data" / "champion.csv.gz"
DAY = date(2027, 4, 18)


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A garden with a journal and a weather record."""
    home = tmp_path / "home"
    with Journal(home / "journal.db", garden=GardenFile(home / "garden.toml")) as journal:
        journal.keep([LogDecision("sow", f"tray {n}", DAY, ("leek",), n) for n in range(9)])
        journal.keep([GardenChange("frost.last", "05-12")], said="last frost May 12", today=DAY)
        journal.keep([UndoDecision(4)])
    assert main(["import-weather", "--garden", str(home / "garden.toml"), str(SAMPLE)]) == 0
    return home


@pytest.fixture
def backup(home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    path = tmp_path / "plot.backup"
    assert main(["backup", "--garden", str(home / "garden.toml"), str(path)]) == 0
    assert "the garden, 11 journal entries and the weather record" in capsys.readouterr().out
    return path


def state(home: Path) -> tuple[object, ...]:
    with Journal(home / "journal.db", garden=GardenFile(home / "garden.toml")) as journal:
        assert journal.check() == []
        entries = journal.entries()
    return (home / "garden.toml").read_bytes(), (home / "garden.weather").read_bytes(), entries


def restore(home: Path, backup: Path) -> int:
    return main(["restore", "--garden", str(home / "garden.toml"), str(backup)])


def test_there_and_back_on_a_new_computer(home: Path, backup: Path, tmp_path: Path) -> None:
    new = tmp_path / "new" / "home"
    assert restore(new, backup) == 0
    assert state(new) == state(home)
    with Journal(new / "journal.db", garden=GardenFile(new / "garden.toml")) as journal:
        assert journal.keep([RedoDecision(4)])
        assert journal.keep([UndoDecision(10)])
    assert "last" not in (new / "garden.toml").read_text()
    assert backup.stat().st_mode & 0o077 == 0
    assert {p.name.split(".")[-1] for p in new.iterdir()} <= {"toml", "db", "weather", "lock"}


def test_what_was_there_is_kept_aside(home: Path, backup: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = state(home)
    with Journal(home / "journal.db", garden=GardenFile(home / "garden.toml")) as journal:
        journal.keep([LogDecision("note", "later", DAY), GardenChange("gear.mat", 2)], today=DAY)
    later = (home / "garden.toml").read_bytes()
    capsys.readouterr()
    assert restore(home, backup) == 0
    assert state(home) == before
    told = capsys.readouterr().out
    (toml,) = home.glob("garden.replaced-*.toml")
    (journal_file,) = home.glob("journal.replaced-*.db")
    assert toml.read_bytes() == later
    assert toml.name in told
    assert journal_file.name in told
    with Journal(journal_file) as journal:
        assert "later" in [d.text for d in journal.everything()]
    assert restore(home, backup) == 0  # nothing to do: nothing more is kept aside
    assert [len(list(home.glob(f"*.replaced-*.{kind}"))) for kind in ("toml", "db", "weather")] == [1, 1, 0]


def test_a_backup_replaces_no_file_unasked(
    home: Path, backup: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    garden = ["--garden", str(home / "garden.toml")]
    before = backup.read_bytes()
    assert main(["backup", *garden, str(backup)]) == 2
    assert "--force" in capsys.readouterr().err
    assert main(["backup", *garden, "--force", str(backup)]) == 0
    assert backup.read_bytes() == before  # equal gardens give equal files
    assert main(["backup", *garden, "--force", str(home / "journal.db")]) == 2
    assert main(["backup", "--garden", str(home / "other" / "garden.toml"), str(backup)]) == 2


def test_any_byte_changed_or_missing_is_found_before_anything_is_touched(
    home: Path, backup: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = backup.read_bytes()
    before = {p.name: p.read_bytes() for p in home.iterdir()}
    touched = 0
    for at in [*range(0, len(data), len(data) // 60), *range(len(data) - 300, len(data), 7)]:
        backup.write_bytes(data[:at] + bytes([data[at] ^ 0x55]) + data[at + 1 :])
        code = restore(home, backup)
        if code:
            assert {p.name: p.read_bytes() for p in home.iterdir()} == before
            touched += 1
        else:  # a byte of the ZIP file that says nothing about the garden: a date, a right
            assert state(home)[0] == before["garden.toml"]
    assert touched > 60
    for length in (0, 10, len(data) // 2, len(data) - 1):
        backup.write_bytes(data[:length])
        assert restore(home, backup) in (2, 5)
    assert {p.name: p.read_bytes() for p in home.iterdir()} == before


@pytest.mark.parametrize(
    ("parts", "code"),
    [
        ({"manifest.json": b"{}"}, 2),
        ({"manifest.json": b"[]"}, 2),
        ({"manifest.json": b'{"kind": "gardenmate backup", "version": 9}'}, 2),
        ({"manifest.json": b'{"kind": "gardenmate backup", "version": 1}'}, 5),
        ({"manifest.json": b'{"kind": "gardenmate backup", "version": 1, "parts": {"../x": {}}}'}, 5),
        ({"manifest.json": b"[" * 100_000}, 5),
        ({"other": b"x"}, 5),
    ],
)
def test_a_file_that_is_no_backup(home: Path, tmp_path: Path, parts: dict[str, bytes], code: int) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        for name, data in parts.items():
            file.writestr(name, data)
    path = tmp_path / "x.backup"
    path.write_bytes(out.getvalue())
    before = state(home)
    assert restore(home, path) == code
    assert state(home) == before
    path.write_bytes(b"leeks")
    assert restore(home, path) == 2


_CUT = """
import os, signal, sys
from gardenmate.cli.main import main
count, last = 0, int(sys.argv[1])
def hook(event, args):
    global count
    if event in ("open", "os.link", "os.rename", "os.remove", "sqlite3.connect") and sys.argv[2] in str(args[0]):
        count += 1
        if count == last:
            os.kill(os.getpid(), signal.SIGKILL)
sys.addaudithook(hook)
sys.exit(main(["restore", "--garden", sys.argv[2] + "/garden.toml", sys.argv[3]]))
"""


def test_a_restore_that_is_killed_is_finished_by_the_next_command(home: Path, backup: Path) -> None:
    wanted = state(home)
    for last in range(1, 200):
        with Journal(home / "journal.db", garden=GardenFile(home / "garden.toml")) as journal:
            journal.keep([LogDecision("note", "later", DAY), GardenChange("gear.mat", last)], today=DAY)
        changed = state(home)
        done = subprocess.run(
            [sys.executable, "-B", "-c", _CUT, str(last), str(home), str(backup)],
            capture_output=True, cwd=REPO, check=False,
        )  # fmt: skip
        main(["log", "--garden", str(home / "garden.toml")])
        assert state(home) in (wanted, changed)
        if done.returncode == 0:
            assert state(home) == wanted
            assert last > 10
            return
    pytest.fail("it never got through")


def test_the_manifest_says_what_is_in_it(backup: Path) -> None:
    with zipfile.ZipFile(backup) as file:
        manifest = json.loads(file.read("manifest.json"))
    assert sorted(manifest["parts"]) == ["garden.toml", "garden.weather", "journal.txt"]
