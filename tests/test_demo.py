"""Demo conversations: their form is read strictly, they play with a garden of their own, they refresh."""

from __future__ import annotations

from pathlib import Path

import pytest

from gardenmate.bench.demo import play
from gardenmate.bench.transcripts import read, transcripts
from gardenmate.cli import demo
from gardenmate.cli.main import main
from gardenmate.core.errors import DamagedFileError, UsageError

SHORT = """\
# A short one.
@ today 2027-04-18 | place Duluth | units metric | width 50

> note that I sowed 4 kale today
Noted.

> what have I decided?
old words
"""


@pytest.fixture
def short(tmp_path: Path) -> Path:
    path = tmp_path / "short.txt"
    path.write_text(SHORT, "utf-8")
    return path


def test_a_transcript_is_read_piece_by_piece(short: Path) -> None:
    kinds = [(piece.kind, piece.text) for piece in read(short)]
    assert kinds == [
        ("note", "A short one."),
        ("scene", "today 2027-04-18 | place Duluth | units metric | width 50"),
        ("turn", "note that I sowed 4 kale today"),
        ("turn", "what have I decided?"),
    ]
    assert read(short)[2].answer == "Noted."


def test_an_answer_before_any_question_is_a_fault(tmp_path: Path) -> None:
    path = tmp_path / "bad.txt"
    path.write_text("lost words\n", "utf-8")
    with pytest.raises(DamagedFileError, match="line 1: an answer stands before"):
        read(path)


def test_an_unknown_scene_is_a_fault(tmp_path: Path) -> None:
    path = tmp_path / "bad.txt"
    path.write_text("@ weather wet\n", "utf-8")
    with pytest.raises(DamagedFileError, match="'weather wet' is not known"):
        list(play(path, tmp_path))


def test_playing_uses_the_scene_and_its_own_log(short: Path, tmp_path: Path) -> None:
    said = [p.said for p in play(short, tmp_path / "home") if p.piece.kind == "turn"]
    assert "sowed 4 kale" in said[0]
    assert "18 Apr 2027" in said[1]
    assert max(len(line) for text in said for line in text.splitlines()) <= 50


def test_refreshing_takes_in_todays_answers_and_then_changes_nothing(short: Path) -> None:
    assert demo.refresh([short]) == [short]
    fresh = short.read_text("utf-8")
    assert "old words" not in fresh
    assert fresh.startswith("# A short one.\n@ today 2027-04-18")
    assert demo.refresh([short]) == []


def test_refresh_is_a_command_with_names(capsys: pytest.CaptureFixture[str]) -> None:
    assert demo.main(["other"]) == 2
    assert "refresh [NAME]" in capsys.readouterr().err
    with pytest.raises(UsageError, match="not one demo conversation"):
        demo.main(["refresh", "no-such-thing"])


def test_every_conversation_is_listed_with_its_title(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == len(transcripts()) + 1
    assert all(len(line.split(": ", 1)[1]) > 20 for line in lines[:-1])


def test_one_is_played_by_a_part_of_its_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "log-and-undo"]) == 0
    out = capsys.readouterr().out
    assert "> undo that" in out
    assert "\x1b" not in out


def test_an_unknown_name_lists_what_there_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "nothing-such"]) == 2
    assert "02-late-peppers" in capsys.readouterr().err
