"""What a log from elsewhere may not hold: each is refused with its entry named, and nothing is taken over."""

from __future__ import annotations

import json
import time
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from gardenmate.cli.main import main
from gardenmate.core.effects import LogDecision, UndoDecision
from gardenmate.core.errors import UsageError
from gardenmate.journal.imports import read_export
from gardenmate.journal.store import Journal

GOOD: dict[str, Any] = {"on": "2027-04-18", "action": "sow", "text": "sowed leeks", "uid": "a"}


def exported(*entries: Any) -> str:
    return json.dumps({"kind": "gardenmate log", "version": 1, "decisions": list(entries)})


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"numbers": [1]}, "'numbers' should be"),
        ({"numbers": [{"name": "a", "value": {}, "unit": ""}]}, "'numbers' should be"),
        ({"numbers": [{"name": "a", "value": 1, "unit": "", "more": 1}]}, "'numbers' should be"),
        ({"count": float("inf")}, "Infinity is no number"),
        ({"count": float("nan")}, "NaN is no number"),
        ({"count": 1e12}, "count that is not from 0"),
        ({"count": -1}, "count that is not from 0"),
        ({"temp_c": 9000}, "temp_c that is not from"),
        ({"on": "9999-12-31"}, "outside 1900 to 2200"),
        ({"on": "0211-01-01"}, "outside 1900 to 2200"),
        ({"on": 20270418}, "'on' cannot be"),
        ({"uid": "\ud800"}, "uid"),
        ({"action": "s" * 201}, "action"),
        ({"crops": ["\udfff"]}, "'crops' should be"),
        ({"crops": ["leek"] * 100_000}, "'crops' should be"),
        ({"text": "x" * 1_000_001}, "text that is longer"),
        ({"detail": {str(n): "x" for n in range(101)}}, "'detail' should be"),
        ({"detail": {"a": 1}}, "'detail' should be"),
        ({"verdict": "\x1b[2Jyes"}, "verdict that is none"),
        ({"written_at": "0001-01-01T00:00:00+14:00"}, "cannot be read"),
        ({"count": 10**400}, "count"),
    ],
)
def test_a_value_that_cannot_be(tmp_path: Path, wrong: dict[str, Any], told: str) -> None:
    path = tmp_path / "log.json"
    path.write_text(exported(GOOD, GOOD | {"uid": "b"} | wrong))
    start = time.monotonic()
    with pytest.raises(UsageError) as caught:
        read_export(path.read_text())
    assert told in str(caught.value)
    assert len(str(caught.value)) < 200
    assert time.monotonic() - start < 2.0
    assert main(["log", "--garden", str(tmp_path / "garden.toml"), "import", str(path)]) == 2
    assert not (tmp_path / "journal.db").exists()


@pytest.mark.parametrize(
    "text", ["[" * 100_000, '{"a":' * 100_000, "", "null", "3", '{"kind": "gardenmate log"}', "9" * 10_000]
)
def test_a_file_that_is_no_log(text: str) -> None:
    with pytest.raises(UsageError):
        read_export(text)


def test_files_without_end_and_things_that_are_no_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    garden = ["log", "--garden", str(tmp_path / "garden.toml"), "import"]
    for odd in ("/dev/zero", str(tmp_path)):
        assert main([*garden, odd]) == 2
        assert "Cannot read" in capsys.readouterr().err
    huge = tmp_path / "huge.json"
    with huge.open("wb") as file:
        file.truncate(65_000_000)
    assert main([*garden, str(huge)]) == 2
    assert "too large" in capsys.readouterr().err


def test_what_is_whole_in_a_journal_that_was_set_aside_can_be_brought_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Journal(tmp_path / "journal.db") as journal:
        journal.keep([LogDecision("sow", f"tray {n}", date(2027, 4, 18)) for n in range(20)])
        journal.keep([UndoDecision(3)])
    data = (tmp_path / "journal.db").read_bytes()
    aside = tmp_path / "journal.damaged-2027-04-18-1.db"
    aside.write_bytes(b"\0" * 50 + data[50:])
    (tmp_path / "journal.db").unlink()
    garden = ["log", "--garden", str(tmp_path / "garden.toml")]
    assert main([*garden, "check"]) == 0
    assert "20 entries of 20 in it are not in the journal" in capsys.readouterr().out
    assert main([*garden, "import", str(aside)]) == 0
    assert capsys.readouterr().out.startswith("19 entries added")
    assert main([*garden, "check"]) == 0
    assert "1 entry of 20 in it are not" in capsys.readouterr().out
