"""`gardenmate calendar`: the drawing and every other form, for towns of both hemispheres."""

from __future__ import annotations

import csv
import io
import json
from datetime import date
from pathlib import Path

import icalendar
import pytest

from gardenmate.cli.main import main

CROPS = ("--crop", "pepper", "--crop", "leek", "--crop", "garlic")


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path))
    monkeypatch.setenv("COLUMNS", "80")


def calendar(capsys: pytest.CaptureFixture[str], *words: str, place: str = "Duluth") -> str:
    assert main(["--today", "2027-04-18", "--place", place, "calendar", *words]) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("columns", ["40", "50", "80", "120"])
def test_the_drawing_fits_and_shows_every_crop(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, columns: str
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    lines = calendar(capsys, *CROPS).splitlines()
    assert max(map(len, lines)) <= int(columns)
    for name in ("frost", "pepper", "leek", "garlic"):
        assert any(line.startswith(f"{name} ") for line in lines)
    assert lines[0].startswith("Duluth, MN, from ")


def test_peppers_are_sown_set_out_and_picked_in_that_order(capsys: pytest.CaptureFixture[str]) -> None:
    (bar,) = (line for line in calendar(capsys, *CROPS).splitlines() if line.startswith("pepper "))
    spots = [bar.index("I", 6), bar.index("S", 6), bar.rindex("p")]
    assert spots == sorted(spots)


def test_json_and_csv_carry_the_same_windows(capsys: pytest.CaptureFixture[str]) -> None:
    windows = json.loads(calendar(capsys, *CROPS, "--json"))
    rows = list(csv.DictReader(io.StringIO(calendar(capsys, *CROPS, "--format", "csv"))))
    assert len(windows) == len(rows) > 3
    for window, row in zip(windows, rows, strict=True):
        days = [window[key] for key in ("earliest", "best_from", "best_to", "latest")]
        assert days == [row[key] for key in ("earliest", "best from", "best to", "latest")]
        assert days == sorted(days)
    assert {w["crop"] for w in windows} == {"pepper", "leek", "garlic"}


def test_markdown_is_one_table(capsys: pytest.CaptureFixture[str]) -> None:
    lines = calendar(capsys, *CROPS, "--format", "md").splitlines()
    assert lines[0] == "# Calendar for Duluth, MN"
    assert {line.count("|") for line in lines[2:]} == {7}


def test_icalendar_is_read_back_with_the_good_part_of_each_window(
    capsys: pytest.CaptureFixture[str],
) -> None:
    windows = json.loads(calendar(capsys, *CROPS, "--json"))
    text = calendar(capsys, *CROPS, "--format", "ics")
    events = list(icalendar.Calendar.from_ical(text).walk("VEVENT"))
    starts = {event.decoded("DTSTART") for event in events}
    assert len(events) == len(windows)
    assert starts == {date.fromisoformat(w["best_from"]) for w in windows}
    assert len({str(event["UID"]) for event in events}) == len(events)


def test_a_southern_calendar_starts_in_its_winter(capsys: pytest.CaptureFixture[str]) -> None:
    lines = calendar(capsys, "--crop", "tomato", place="Christchurch").splitlines()
    months = next(line for line in lines if "Dec" in line).split()
    assert months[0] in ("Jun", "Jul", "Aug")
    (bar,) = (line for line in lines if line.startswith("tomato "))
    assert bar.index("S", 7) < bar.rindex("p")


def test_every_crop_of_a_place_is_drawn_without_a_hitch(capsys: pytest.CaptureFixture[str]) -> None:
    assert len(calendar(capsys).splitlines()) > 60


def test_a_calendar_needs_one_place(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--no-garden", "calendar"]) == 3
    assert "--place Duluth" in capsys.readouterr().err
    assert main(["--place", "Minnesota", "calendar"]) == 2
    assert "name one of its towns" in capsys.readouterr().err
    assert main(["--place", "Duluth", "calendar", "--crop", "flumox"]) == 2
    assert "flumox" in capsys.readouterr().err


@pytest.mark.parametrize("place", ["Duluth", "Leeds", "Sydney Airport", "Tucson"])
def test_a_crop_with_a_season_is_picked_or_named_as_not(
    capsys: pytest.CaptureFixture[str], place: str
) -> None:
    lines = calendar(capsys, place=place).splitlines()
    told = " ".join(lines)
    for line in lines[4:]:
        name, bar = line[:20].strip(), line[20:]
        if (
            len(bar) > 40 and set(bar) <= set(".iIoOsSp") and "p" not in bar and "." in bar
        ):  # not sown all year
            assert told.rstrip().count(name) > 1


def test_names_stand_alone_or_between_commas_and_may_be_misspelled(
    capsys: pytest.CaptureFixture[str],
) -> None:
    lines = calendar(capsys, "tomatos", "pepers, leek").splitlines()
    names = [line.split()[0] for line in lines[4:7]]
    assert names == ["tomato", "pepper", "leek"]


def test_my_own_crops_come_first(capsys: pytest.CaptureFixture[str]) -> None:
    day = ["--today", "2027-04-18"]
    for said in ("I garden in Duluth", "I want peppers, leeks", "sowed 30 kale today"):
        assert main([*day, "ask", said]) == 0
    capsys.readouterr()
    assert main([*day, "calendar"]) == 0
    rows = [line.split()[0] for line in capsys.readouterr().out.splitlines() if line[:1].islower()]
    assert rows[rows.index("frost") + 1 :][:3] == ["pepper", "leek", "kale"]
    assert len(rows) > 20


def test_the_frost_row_names_its_summer(capsys: pytest.CaptureFixture[str]) -> None:
    (row,) = (line for line in calendar(capsys, "pea").splitlines() if line.startswith("frost  "))
    assert row.index("9") < row.index("frost-free") < row.rindex("1")
