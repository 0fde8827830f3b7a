from __future__ import annotations

import json
import os
from datetime import date
from pathlib import Path

import pytest

from gardenmate.cli.main import main
from gardenmate.core.effects import LogDecision, UndoDecision
from gardenmate.journal.store import Journal

KEEP = {"place": "Larch Hollow", "answer": None, "knowledge_version": "test"}


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home with three entries."""
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path))
    with Journal(tmp_path / "journal.db") as journal:
        for day, text, crop in (
            (1, "sowed 48 peppers", "pepper"),
            (10, "potted up", "pepper"),
            (12, "\x1b[2Jleeks", "leek"),
        ):
            journal.apply(LogDecision("sow", text, date(2027, 4, day), (crop,)), **KEEP)
    return tmp_path


@pytest.mark.usefixtures("home")
class TestListing:
    def run(self, capsys: pytest.CaptureFixture[str], *words: str) -> list[str]:
        assert main(["log", *words]) == 0
        return capsys.readouterr().out.splitlines()

    def test_newest_first_and_harmless(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert self.run(capsys) == [
            "12 Apr 2027  3  [2Jleeks",
            "10 Apr 2027  2  potted up",
            " 1 Apr 2027  1  sowed 48 peppers",
        ]

    def test_filters(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert len(self.run(capsys, "--crop", "peppers")) == 2
        assert self.run(capsys, "--since", "2027-04-11") == ["12 Apr 2027  3  [2Jleeks"]
        assert len(self.run(capsys, "--until", "2027-04-10")) == 2
        assert self.run(capsys, "search", "48", "peppers") == [" 1 Apr 2027  1  sowed 48 peppers"]
        assert self.run(capsys, "--limit", "1") == ["12 Apr 2027  3  [2Jleeks"]
        assert self.run(capsys, "search", "quince") == ["I have no notes that match."]

    def test_a_long_log_is_cut_and_says_so(self, capsys: pytest.CaptureFixture[str], home: Path) -> None:
        with Journal(home / "journal.db") as journal:
            for number in range(30):
                journal.apply(LogDecision("note", f"n{number}", date(2027, 5, 1)), **KEEP)
        lines = self.run(capsys)
        assert len(lines) == 21
        assert lines[-1] == "(the newest 20; --limit 1000 shows more)"

    def test_check(self, capsys: pytest.CaptureFixture[str], home: Path) -> None:
        assert self.run(capsys, "check") == [f"The journal {home / 'journal.db'} is sound: 3 entries."]


def test_check_of_a_damaged_file_leaves_with_5(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (home / "journal.db").write_bytes(b"leeks " * 1000)
    assert main(["log", "check"]) == 5
    assert "damaged" in capsys.readouterr().out
    assert main(["log"]) == 5
    assert "damaged" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--crop", "leeeks"], "did you mean leeks"),
        (["--since", "2027-05-01", "--until", "2027-04-01"], "is after"),
        (["--limit", "0"], "from 1 up"),
        (["import", "no-such-file.json"], "Cannot read"),
        (["--no-garden"], "--no-garden"),
        (["leeks"], "gardenmate log search leeks"),
        (["search"], "needs words"),
        (["list", "leeks"], "takes no words"),
        (["check", "leeks"], "takes no words"),
        (["export", "leeks"], "takes no words"),
        (["export", "--format", "text"], "md, csv, ics or json"),
        (["import"], "one file"),
        (["export", "--out", "~nosuchuser/x.csv"], "no such user"),
        (["export", "--out", "a\0b"], "NUL"),
    ],
)
@pytest.mark.usefixtures("home")
def test_wrong_words_leave_with_2(words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["log", *words]) == 2
    assert told in capsys.readouterr().err


@pytest.mark.usefixtures("home")
class TestFiles:
    @pytest.mark.parametrize("fmt", ["md", "csv", "json", "ics"])
    def test_to_a_file_oldest_first(
        self, tmp_path: Path, fmt: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        out = tmp_path / f"garden log.{fmt}"
        assert main(["log", "--format", fmt, "--out", str(out)]) == 0
        assert capsys.readouterr().out == f"3 entries written to {out}.\n"
        text = out.read_bytes().decode("utf-8")
        assert text.index("sowed 48 peppers") < text.index("potted up")
        assert not list(tmp_path.glob(".*.part"))

    def test_the_words_of_the_command(self, capsys: pytest.CaptureFixture[str]) -> None:
        for words in (["list"], ["search", "up"], ["list", "--crop", "leek"]):
            assert main(["log", *words]) == 0
        assert capsys.readouterr().out.count("potted up") == 2
        for fmt, begins in (
            ("md", "# Garden log"),
            ("csv", "date,"),
            ("ics", "BEGIN:VCALENDAR"),
            ("json", "{"),
        ):
            for words in (["export", "--format", fmt], ["--format", fmt], ["search", "up", "--format", fmt]):
                assert main(["log", *words]) == 0
                assert capsys.readouterr().out.startswith(begins)

    def test_a_file_is_replaced_only_with_force_and_keeps_its_rights(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        out = tmp_path / "log.csv"
        out.write_text("mine")
        out.chmod(0o640)
        assert main(["log", "export", "--format", "csv", "--out", str(out)]) == 2
        assert "--force" in capsys.readouterr().err
        assert out.read_text() == "mine"
        assert main(["log", "export", "--format", "csv", "--out", str(out), "--force"]) == 0
        assert out.read_text().startswith("date,")
        assert out.stat().st_mode & 0o777 == 0o640

    @pytest.mark.parametrize("kind", ["link", "dangling", "folder", "pipe", "device"])
    def test_only_plain_files_are_replaced(
        self, tmp_path: Path, kind: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        target, out = tmp_path / "target", tmp_path / "out"
        target.write_text("mine")
        if kind == "folder":
            out.mkdir()
        elif kind == "pipe":
            os.mkfifo(out)
        elif kind == "device":
            out = Path("/dev/null")
        else:
            out.symlink_to(target if kind == "link" else tmp_path / "nowhere")
        for force in ([], ["--force"]):
            assert main(["log", "export", "--out", str(out), *force]) == 1
            assert "left as it is" in capsys.readouterr().err
        assert target.read_text() == "mine"
        assert not (tmp_path / "nowhere").exists()
        assert not out.is_file() or out.is_symlink()

    @pytest.mark.parametrize(
        "name",
        ["journal.db", "journal.db.lock", "garden.toml", "garden.weather", "history", "journal.damaged-x.db"],
    )
    def test_files_of_the_garden_are_known_whatever_they_are_called(
        self, home: Path, tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        own = home / name
        if not own.exists():
            own.write_text("kept")
        before = own.read_bytes()
        other = tmp_path / "harmless.csv"
        os.link(own, other)
        for out in (own, other):
            assert main(["log", "export", "--out", str(out), "--force"]) == 2
            assert "own file" in capsys.readouterr().err
        assert own.read_bytes() == before

    def test_to_the_screen(self, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
        assert main(["log", "--format", "json", "--crop", "leek"]) == 0
        data = json.loads(capfdbinary.readouterr().out)
        assert [d["text"] for d in data["decisions"]] == ["\x1b[2Jleeks"]

    def test_never_over_the_gardens_own_files(self, home: Path, capsys: pytest.CaptureFixture[str]) -> None:
        before = (home / "journal.db").read_bytes()
        assert main(["log", "--format", "csv", "--out", str(home / "." / "journal.db")]) == 2
        assert "own file" in capsys.readouterr().err
        assert (home / "journal.db").read_bytes() == before

    def test_where_it_cannot_be_written(self, home: Path, capsys: pytest.CaptureFixture[str]) -> None:
        assert main(["log", "--format", "csv", "--out", str(home / "no" / "folder.csv")]) == 1
        assert "Cannot write" in capsys.readouterr().err

    def test_there_and_back_into_another_garden(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        out = tmp_path / "log.json"
        main(["log", "--format", "json", "--out", str(out)])
        other = tmp_path / "other" / "garden.toml"
        capsys.readouterr()
        for told in (
            "3 entries added, 0 brought up to date, 0 already here.",
            "0 entries added, 0 brought up to date, 3",
        ):
            assert main(["log", "--garden", str(other), "import", str(out)]) == 0
            assert capsys.readouterr().out.startswith(told)
        with Journal(other.parent / "journal.db") as journal:
            assert len(journal.everything()) == 3
            assert journal.apply(UndoDecision(), **KEEP) is not None


@pytest.mark.usefixtures("home")
def test_an_import_of_bytes_that_are_no_text(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "x.json").write_bytes(b"\xff\xfe\x00leeks")
    assert main(["log", "import", str(tmp_path / "x.json")]) == 2
    assert "not UTF-8" in capsys.readouterr().err
