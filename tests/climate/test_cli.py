"""`gardenmate import-weather`: what it prints and where it keeps the record."""

from __future__ import annotations

import re
from argparse import Namespace
from pathlib import Path

import pytest

from gardenmate.cli.weather import climate_lines, run, trend_line
from gardenmate.climate.history import Trend
from gardenmate.climate.history_store import load
from gardenmate.core.errors import UsageError

DATA = Path(__file__).parents[1] / "published" / "data"


def options(tmp_path: Path, file: Path, lat: float | None = None) -> Namespace:
    return Namespace(garden=str(tmp_path / "plot.toml"), file=str(file), lat=lat)


def test_import_prints_sentences_and_keeps_the_record(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(options(tmp_path, DATA / "champion.csv.gz")) == 0
    printed = capsys.readouterr().out
    record = load(tmp_path / "plot.weather")
    assert record is not None
    assert (record.first_year, record.last_year) == (1982, 2018)
    assert "1982 to 2018" in printed
    assert re.search(r"Average last frost: \d+ May, give or take 1\d days", printed)
    assert "per decade" in printed
    assert str(tmp_path / "plot.weather") in printed
    assert all(line.endswith(".") for line in printed.splitlines())


def test_a_southern_record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(options(tmp_path, DATA / "cordoba.csv.gz", lat=-31.4)) == 0
    assert "Average last frost: 2" in capsys.readouterr().out
    record = load(tmp_path / "plot.weather")
    assert record is not None
    assert any("Aug" in line for line in climate_lines(record, southern=True))


def test_a_short_record_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(options(tmp_path, DATA / "seattle.csv.gz")) == 0
    assert "fewer than ten full seasons" in capsys.readouterr().out


def test_a_missing_file_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(UsageError):
        run(options(tmp_path, tmp_path / "none.dly"))


def test_trend_in_words() -> None:
    assert trend_line("last frost", Trend(-3.0, 1.0, 60)) == (
        "Your last frost has come 3.0 days earlier per decade, +-1.0 (60 years)."
    )
    assert "within the scatter" in trend_line("first frost", Trend(0.5, 1.0, 30))
