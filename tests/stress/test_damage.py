"""Fact files that are damaged, half written, empty or gone: one line that names the file, exit code 5."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from gardenmate.cli.main import main
from gardenmate.knowledge import facts as facts_module

REPO = Path(__file__).resolve().parents[2]
PEPPERS = "is it too late to start peppers?"
FROST = "frost tonight at 28, tomatoes?"
APPLE = "when do I prune the apple?"


def half(path: Path) -> None:
    raw = path.read_bytes()
    path.write_bytes(raw[: len(raw) // 2] + b'\n"half = ')


def noise(path: Path) -> None:
    path.write_bytes(bytes(range(256)) * 20)


def emptied(path: Path) -> None:
    path.write_bytes(b"")


def gone(path: Path) -> None:
    path.unlink()


@pytest.fixture
def knowledge(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the facts that the program reads instead of its own."""
    copy = tmp_path / "data" / "knowledge"
    shutil.copytree(REPO / "knowledge", copy)
    monkeypatch.setattr(facts_module, "data_root", lambda: copy.parent)
    return copy


def ask(question: str, *more: str) -> int:
    return main(["ask", "--no-garden", "--place", "Duluth", "--today", "2027-04-18", *more, question])


FILES = (
    ("crops/pepper.toml", PEPPERS),
    ("season.toml", PEPPERS),
    ("protection.toml", FROST),
    ("woody/apple.toml", APPLE),
    ("chilling.toml", APPLE),
    ("language/words.toml", PEPPERS),
    ("language/signals.toml", FROST),
    ("cautions.toml", FROST),
)
CASES = [(damage, *row) for row in FILES for damage in (half, noise, emptied, gone)]
CASES.remove((gone, "woody/apple.toml", APPLE))  # named by other files: the facts' own tests see to that


@pytest.mark.parametrize(("damage", "name", "question"), CASES)
def test_a_damaged_fact_file_is_named(
    knowledge: Path,
    capsys: pytest.CaptureFixture[str],
    damage: Callable[[Path], None],
    name: str,
    question: str,
) -> None:
    damage(knowledge / name)
    code = ask(question)
    told = capsys.readouterr()
    if code in (0, 4):  # a file less: one crop or topic is not known, and nothing is made up in its place
        assert damage is gone
        assert told.out
        return
    (line,) = told.err.splitlines()
    assert code == 5
    assert told.out == ""
    assert Path(name).name in line


@pytest.mark.parametrize("damage", [half, noise, emptied, gone])
def test_damaged_places_are_named(
    knowledge: Path, capsys: pytest.CaptureFixture[str], damage: Callable[[Path], None]
) -> None:
    damage(knowledge / "places.csv")
    code = ask(PEPPERS)
    told = capsys.readouterr()
    (line,) = told.err.splitlines()
    assert code in (2, 5)
    assert "places.csv" in line or "Duluth" in line
    assert told.out == ""


@pytest.mark.parametrize("damage", [noise, gone])
@pytest.mark.parametrize(
    ("name", "place"),
    [("stations.csv", "Bozeman, MT"), ("towns.csv", "Bozeman, MT"), ("postcodes.csv", "59715")],
)
def test_damaged_tables_of_stations_towns_and_codes_are_named(
    knowledge: Path, capsys: pytest.CaptureFixture[str], damage: Callable[[Path], None], name: str, place: str
) -> None:
    damage(knowledge / name)
    code = ask(PEPPERS, "--place", place)
    told = capsys.readouterr()
    (line,) = told.err.splitlines()
    assert code in (2, 3, 5)
    assert name in line or place.partition(",")[0] in line
    assert told.out == ""


@pytest.mark.parametrize("damage", [half, noise, emptied, gone])
def test_sources_that_do_not_read_are_told_when_they_are_wanted(
    knowledge: Path, capsys: pytest.CaptureFixture[str], damage: Callable[[Path], None]
) -> None:
    damage(knowledge / "sources.toml")
    code = ask(PEPPERS, "--json")
    told = capsys.readouterr()
    assert code == 5
    assert "sources.toml" in told.err
    assert told.out == ""


@pytest.mark.parametrize("damage", [half, noise, emptied, gone])
@pytest.mark.parametrize("name", ["weights/turn.txt", "ordinary.txt"])
def test_words_that_do_not_read_are_told(
    knowledge: Path, capsys: pytest.CaptureFixture[str], damage: Callable[[Path], None], name: str
) -> None:
    damage(knowledge / "language" / name)
    code = ask(PEPPERS)
    told = capsys.readouterr()
    if code == 5:
        assert Path(name).name in told.err
        assert len(told.err.splitlines()) == 1
    else:
        assert code in (0, 4)
        assert told.out


@pytest.mark.parametrize("damage", [half, noise, emptied])
def test_imported_weather_that_does_not_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], damage: Callable[[Path], None]
) -> None:
    garden = tmp_path / "plot.toml"
    garden.write_text('[place]\nname = "Duluth, MN"\n')
    sample = REPO / "tests" / "published" / "data" / "champion.csv.gz"
    assert main(["import-weather", "--garden", str(garden), str(sample)]) == 0
    capsys.readouterr()
    weather = tmp_path / "plot.weather"
    damage(weather)
    code = main(["ask", "--garden", str(garden), "--today", "2027-04-18", PEPPERS])
    told = capsys.readouterr()
    assert code == 5
    (line,) = told.err.splitlines()
    assert "plot.weather" in line


@pytest.mark.parametrize("raw", [b"", b"\x00" * 4096, b"STATION,DATE,TMAX,TMIN\n", b"a,b\n" * 1000])
def test_weather_that_is_none(tmp_path: Path, capsys: pytest.CaptureFixture[str], raw: bytes) -> None:
    given = tmp_path / "weather.csv"
    given.write_bytes(raw)
    code = main(["import-weather", "--garden", str(tmp_path / "plot.toml"), str(given)])
    told = capsys.readouterr()
    assert code in (2, 5)
    (line,) = told.err.splitlines()
    assert "weather.csv" in line
    assert not (tmp_path / "plot.weather").exists()
