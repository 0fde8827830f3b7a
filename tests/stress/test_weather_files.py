"""Weather files made to hurt: all of one is looked through before the stored record is touched."""

from __future__ import annotations

import gzip
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from gardenmate.cli.main import main
from gardenmate.climate.history_store import load

REPO = Path(__file__).resolve().parents[2]
HEAD = "STATION,NAME,LATITUDE,LONGITUDE,ELEVATION,DATE,TMAX,TMIN\n"


def rows(years: int = 12, lat: str = "46.8", name: str = "Plot") -> list[str]:
    """A daily record, tenths of a degree C, cold in winter."""
    first = date(2000, 1, 1)
    found = []
    for number in range(365 * years):
        day = first + timedelta(days=number)
        low = -150 + int(250 * min(day.timetuple().tm_yday, 366 - day.timetuple().tm_yday) / 183)
        found.append(f"USX00000001,{name},{lat},-92.1,430,{day},{low + 100},{low}\n")
    return found


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    """A garden with a good record."""
    garden = tmp_path / "home" / "garden.toml"
    garden.parent.mkdir()
    garden.write_text('[place]\nname = "Duluth"\n')
    good = tmp_path / "good.csv"
    good.write_text(HEAD + "".join(rows()))
    assert main(["import-weather", "--garden", str(garden), str(good)]) == 0
    return garden


def answers(garden: Path) -> int:
    return main(["ask", "--garden", str(garden), "--today", "2027-04-18", "is it too late to start peppers?"])


@pytest.mark.parametrize(
    "line",
    [
        "USX00000001,Plot,46.8,-92.1,430,0211-01-01,10,5\n",
        "USX00000001,Plot,46.8,-92.1,430,9999-12-31,10,5\n",
        "USX00000001,Plot,46.8,-92.1,430,2013-01-01,nan,inf\n",
        "USX00000001,Plot,46.8,-92.1,430,2013-01-01,1e400,-1e400\n",
        'USX00000001,"Plot,46.8,-92.1,430,2013-01-01,10,5\n',
        "USX00000001,Plot,46.8,-92.1,430,2013-01-01,99999999,88888888\n",
        "\x00\x01\x02\n",
        "USX00000001,Plot,46.8,-92.1,430,2013-13-45,10,5\n",
    ],
)
def test_one_bad_line_costs_that_line(garden: Path, tmp_path: Path, line: str) -> None:
    given = rows(13)
    given.insert(100, line)
    path = tmp_path / "given.csv"
    path.write_text(HEAD + "".join(given))
    assert main(["import-weather", "--garden", str(garden), str(path)]) == 0
    stored = load(garden.with_suffix(".weather"))
    assert stored is not None
    assert (stored.first_year, stored.last_year) == (2000, 2012)
    assert answers(garden) == 0


@pytest.mark.parametrize("lat", ["inf", "nan", "-inf", "1e999", "91", "abc", ""])
def test_a_latitude_that_cannot_be_is_left_out(garden: Path, tmp_path: Path, lat: str) -> None:
    path = tmp_path / "given.csv"
    path.write_text(HEAD + "".join(rows(lat=lat)))
    assert main(["import-weather", "--garden", str(garden), str(path)]) == 0
    assert answers(garden) == 0


def endless(path: Path) -> None:
    path.write_text(HEAD + "".join(rows(1)) + "x" * 3_000_000)


def burst(path: Path) -> None:
    with gzip.open(path, "wb", compresslevel=9) as file:
        file.write(HEAD.encode())
        for _ in range(300):
            file.write(b"\n" * 1_000_000)


def other_station(path: Path) -> None:
    path.write_text(HEAD + "".join(rows(1)) + "USX00000002,Plot,1,1,1,2013-01-01,1,1\n")


def cut_gzip(path: Path) -> None:
    packed = gzip.compress((HEAD + "".join(rows())).encode())
    path.write_bytes(packed[: len(packed) // 2])


def nonsense(path: Path) -> None:
    path.write_text(HEAD + "x\n" * 200_000)


def pipe(path: Path) -> None:
    os.mkfifo(path)


def device(path: Path) -> None:
    path.symlink_to("/dev/zero")


@pytest.mark.parametrize("made", [endless, burst, other_station, cut_gzip, nonsense, pipe, device])
def test_a_file_that_is_refused_leaves_the_record(
    garden: Path, tmp_path: Path, made: Callable[[Path], None], capsys: pytest.CaptureFixture[str]
) -> None:
    before = {p.name: p.read_bytes() for p in garden.parent.iterdir()}
    path = tmp_path / "given.csv"
    made(path)
    assert main(["import-weather", "--garden", str(garden), str(path)]) == 2
    assert "given.csv" in capsys.readouterr().err or made in (nonsense, device)
    assert {p.name: p.read_bytes() for p in garden.parent.iterdir()} == before


def test_a_name_that_steers_the_terminal_is_made_harmless(
    garden: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "given.csv"
    path.write_text(HEAD + "".join(rows(name="Pl\x1b[2Jot\x9b1m\u202e")))
    assert main(["import-weather", "--garden", str(garden), str(path)]) == 0
    place = ["--garden", str(garden), "--today", "2027-04-18"]
    for fmt in ("text", "md", "csv", "ics", "json"):
        assert main(["calendar", *place, "--crop", "leek", "--format", fmt]) == 0
    told = capsys.readouterr().out
    assert not {"\x1b", "\x9b", "\u202e"} & set(told)


_CUT = """
import os, signal, sys
from gardenmate.cli.main import main
count, last = 0, int(sys.argv[1])
def hook(event, args):
    global count
    if event in ("open", "os.rename", "os.remove", "os.chmod") and sys.argv[2] in str(args[0]):
        count += 1
        if count == last:
            os.kill(os.getpid(), signal.SIGKILL)
sys.addaudithook(hook)
sys.exit(main(["import-weather", "--garden", sys.argv[2] + "/garden.toml", sys.argv[3]]))
"""


def test_an_import_that_is_killed_leaves_the_old_record_or_the_new(garden: Path, tmp_path: Path) -> None:
    store = garden.with_suffix(".weather")
    old = store.read_bytes()
    path = tmp_path / "given.csv"
    path.write_text(HEAD + "".join(rows(13)))
    for last in range(1, 40):
        store.write_bytes(old)
        done = subprocess.run(
            [sys.executable, "-B", "-c", _CUT, str(last), str(garden.parent), str(path)],
            cwd=REPO, capture_output=True, check=False,
        )  # fmt: skip
        stored = load(store)
        assert stored is not None
        if done.returncode == 0:
            assert stored.last_year == 2012
            assert last > 3
            assert not [p for p in garden.parent.iterdir() if p.name.endswith(".part")]
            return
        assert store.read_bytes() == old or stored.last_year == 2012
    pytest.fail("it never got through")
