"""The parsed copies of the facts are checked before use: a changed byte is found, and the TOML read instead."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from gardenmate.cli.main import main
from gardenmate.knowledge import compiled

REPO = Path(__file__).resolve().parents[2]
ASKED = ["ask", "--no-garden", "--place", "Duluth", "--today", "2027-04-18", "frost tonight at 28, tomatoes?"]
TIMES = 40


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The compiled files."""
    folder = tmp_path_factory.mktemp("compiled")
    compiled.write(REPO / "knowledge", folder)
    return {name: (folder / name).read_bytes() for name in (compiled.INDEX, compiled.DATA)}


def _answer(capsys: pytest.CaptureFixture[str]) -> str:
    assert main(ASKED) == 0
    told = capsys.readouterr()
    assert told.err == ""
    return told.out


def test_a_damaged_copy_changes_no_answer(
    tmp_path: Path,
    sound: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    right = _answer(capsys)
    monkeypatch.setattr(compiled, "folder", lambda: tmp_path)
    chance = random.Random(5)
    for number in range(TIMES):
        files = {name: bytearray(data) for name, data in sound.items()}
        name = compiled.DATA if number % 2 else compiled.INDEX
        kind = number % 4
        if kind < 2:
            for _ in range(200):
                files[name][chance.randrange(len(files[name]))] ^= 1 << chance.randrange(8)
        else:
            del files[name][chance.randrange(len(files[name])) :]
        for each, data in files.items():
            (tmp_path / each).write_bytes(data)
        compiled._store.cache_clear()
        assert _answer(capsys) == right
    compiled._store.cache_clear()


def test_a_figure_altered_in_the_copy_is_not_believed(
    tmp_path: Path,
    sound: dict[str, bytes],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    right = _answer(capsys)
    data = sound[compiled.DATA]
    assert data.count(b'"killed_below_f":30') > 0
    (tmp_path / compiled.INDEX).write_bytes(sound[compiled.INDEX])
    (tmp_path / compiled.DATA).write_bytes(data.replace(b'"killed_below_f":30', b'"killed_below_f":10'))
    monkeypatch.setattr(compiled, "folder", lambda: tmp_path)
    compiled._store.cache_clear()
    assert _answer(capsys) == right
    compiled._store.cache_clear()


@pytest.mark.parametrize(
    "index", ["[]", "{}", "3", '{"season.toml": 3}', '{"season.toml": [1, 2]}', "[" * 50_000]
)
def test_an_index_that_is_none(
    tmp_path: Path, sound: dict[str, bytes], monkeypatch: pytest.MonkeyPatch, index: str
) -> None:
    (tmp_path / compiled.INDEX).write_text(index)
    (tmp_path / compiled.DATA).write_bytes(sound[compiled.DATA])
    monkeypatch.setattr(compiled, "folder", lambda: tmp_path)
    compiled._store.cache_clear()
    path = REPO / "knowledge" / "season.toml"
    assert compiled.lookup(path, path.read_bytes()) is None
    compiled._store.cache_clear()
