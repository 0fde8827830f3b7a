"""Weather files: layouts, units, flags, bad lines, duplicates, merging, the report.

Layouts: NOAA NCEI, GHCN-Daily readme (fixed columns, quality flags) and daily-summaries CSV.
"""

from __future__ import annotations

import gzip
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.climate.history_store import load
from gardenmate.climate.import_weather import Report, import_weather
from gardenmate.climate.weather_files import read_weather, sniff_unit
from gardenmate.core.errors import DamagedFileError, UsageError

STATION = "USW00014913"
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def dly_line(year: int, month: int, element: str, values: dict[int, tuple[int, str]]) -> str:
    """One GHCN-Daily line: 269 characters, value and three flags per day."""
    days = "".join(
        f"{values[d][0]:5d} {values[d][1]:1s}0" if d in values else "-9999   " for d in range(1, 32)
    )
    line = f"{STATION}{year}{month:02d}{element}{days}"
    assert len(line) == 269
    return line


def dly(years: range, skip: tuple[int, int] | None = None) -> str:
    lines = []
    for year in years:
        for month, days in enumerate(DAYS, start=1):
            if (year, month) == skip:
                continue
            cold = abs(month - 7) * 40
            lines.append(dly_line(year, month, "TMAX", dict.fromkeys(range(1, days + 1), (250 - cold, " "))))
            lines.append(dly_line(year, month, "TMIN", dict.fromkeys(range(1, days + 1), (130 - cold, " "))))
            lines.append(dly_line(year, month, "PRCP", dict.fromkeys(range(1, days + 1), (5, " "))))
    return "\n".join(lines) + "\n"


def write(path: Path, text: str) -> Path:
    path.write_text(text, "utf-8")
    return path


def run(tmp_path: Path, text: str, name: str = "x.dly") -> Report:
    return import_weather(write(tmp_path / name, text), tmp_path / "garden.weather")


def test_dly(tmp_path: Path) -> None:
    report = run(tmp_path, dly(range(1991, 2021)))
    assert report.values == 2 * 30 * 365
    assert report.new == report.values
    assert report.history.station == STATION
    assert report.history.min_c(date(1995, 7, 4)) == 13.0
    assert report.history.max_c(date(1995, 1, 4)) == 1.0
    assert report.bad_lines == ()
    assert report.missing_days == 8  # the made-up leap years have no 29 February
    stored = load(tmp_path / "garden.weather")
    assert stored == report.history


def test_flagged_values_are_dropped_and_counted(tmp_path: Path) -> None:
    text = dly(range(1991, 1993)) + dly_line(1993, 5, "TMIN", {1: (20, "I"), 2: (30, " ")}) + "\n"
    report = run(tmp_path, text)
    assert report.flagged == 1
    assert report.history.min_c(date(1993, 5, 1)) is None
    assert report.history.min_c(date(1993, 5, 2)) == 3.0
    assert any("quality check" in line for line in report.lines)


def test_bad_and_impossible_lines_are_named(tmp_path: Path) -> None:
    good = dly(range(1991, 1993)).splitlines()
    bad = good[1][:60]
    wild = dly_line(1993, 6, "TMAX", {3: (990, " "), 4: (220, " ")})
    lettered = (
        good[4].replace("  130", "  1x0", 1) if "  130" in good[4] else good[4][:25] + "x" + good[4][26:]
    )
    report = run(tmp_path, "\n".join([*good, bad, wild, "some note", lettered]) + "\n")
    numbers = [number for number, _ in report.bad_lines]
    assert len(good) + 1 in numbers
    assert len(good) + 2 in numbers
    assert len(good) + 3 in numbers
    assert report.history.max_c(date(1993, 6, 4)) == 22.0
    assert report.history.max_c(date(1993, 6, 3)) is None
    assert any(f"Line {len(good) + 2}" in line for line in report.lines)


def test_duplicates_keep_the_first(tmp_path: Path) -> None:
    text = dly(range(1991, 1993))
    again = dly_line(1991, 1, "TMIN", {1: (99, " ")})
    report = run(tmp_path, text + again + "\n")
    assert report.duplicate_lines == (len(text.splitlines()) + 1,)
    assert report.history.min_c(date(1991, 1, 1)) == -11.0
    assert any("twice" in line for line in report.lines)


def test_gaps_are_counted(tmp_path: Path) -> None:
    report = run(tmp_path, dly(range(1991, 1994), skip=(1992, 4)))
    assert report.missing_days == 30 + 1  # April, and 29 February 1992
    assert report.longest_gap_days == 30
    assert any("longest gap is 30 days" in line for line in report.lines)


def test_a_minimum_above_the_maximum_drops_both(tmp_path: Path) -> None:
    text = dly_line(2001, 7, "TMAX", {1: (100, " "), 2: (200, " ")}) + "\n"
    text += dly_line(2001, 7, "TMIN", {1: (150, " "), 2: (90, " ")}) + "\n"
    report = run(tmp_path, text)
    assert report.history.min_c(date(2001, 7, 1)) is None
    assert report.history.max_c(date(2001, 7, 1)) is None
    assert report.history.min_c(date(2001, 7, 2)) == 9.0
    assert any("minimum above maximum" in problem for _, problem in report.bad_lines)


def test_importing_again_merges(tmp_path: Path) -> None:
    run(tmp_path, dly(range(1991, 1996)))
    same = run(tmp_path, dly(range(1991, 1996)))
    assert (same.new, same.changed) == (0, 0)
    assert any("Nothing in it was new" in line for line in same.lines)
    more = run(tmp_path, dly(range(1995, 2001)))
    assert more.new == 2 * 5 * 365
    assert more.changed == 0
    assert (more.history.first_year, more.history.last_year) == (1991, 2000)
    changed = run(tmp_path, dly_line(1993, 1, "TMIN", {1: (-300, " ")}) + "\n")
    assert (changed.new, changed.changed) == (0, 1)
    assert changed.history.min_c(date(1993, 1, 1)) == -30.0
    assert changed.history.min_c(date(2000, 7, 1)) == 13.0


def test_another_station_is_set_aside_not_mixed_in(tmp_path: Path) -> None:
    run(tmp_path, dly(range(1991, 1994)))
    other = run(tmp_path, dly(range(2001, 2004)).replace(STATION, "USW00099999"))
    assert other.history.first_year == 2001
    assert other.history.station == "USW00099999"
    kept = load(tmp_path / f"garden.weather.{STATION}")
    assert kept is not None
    assert kept.first_year == 1991
    assert any("set aside" in line for line in other.lines)


def by_year_line(day: date, element: str, tenths: int, quality: str = "") -> str:
    return f"{STATION},{day:%Y%m%d},{element},{tenths},,{quality},7,0700"


def test_by_year_csv(tmp_path: Path) -> None:
    start = date(2012, 1, 1)
    lines = []
    for i in range(366):
        day = start + timedelta(days=i)
        lines += [by_year_line(day, "TMAX", 150), by_year_line(day, "TMIN", 50), by_year_line(day, "PRCP", 3)]
    lines += [
        by_year_line(date(2013, 1, 1), "TMIN", 40, "S"),
        "USW00014913,2013",
        by_year_line(start, "TMIN", -9999),
    ]
    report = run(tmp_path, "\n".join(lines) + "\n", "2012.csv")
    assert report.values == 2 * 366
    assert report.flagged == 1
    assert len(report.bad_lines) == 1
    assert report.history.min_c(date(2012, 2, 29)) == 5.0


def test_several_stations_in_one_file_are_asked_about(tmp_path: Path) -> None:
    text = by_year_line(date(2012, 1, 1), "TMIN", 50) + "\n" + "USC00111111,20120101,TMIN,40,,,7,0700\n"
    path = write(tmp_path / "2012.csv", text)
    with pytest.raises(UsageError, match="more than one station"):
        import_weather(path, tmp_path / "garden.weather")
    one = import_weather(path, tmp_path / "garden.weather", station="USC00111111")
    assert one.history.min_c(date(2012, 1, 1)) == 4.0


def access(unit: str, days: int = 800) -> str:
    """A by-station CSV in one of the three units NOAA's orders come in."""
    lines = [
        '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"'
    ]
    for i in range(days):
        day = date(2001, 1, 1) + timedelta(days=i)
        warm = 28.0 - abs((day.timetuple().tm_yday - 200) / 200.0) * 38.0
        low, high = warm - 12.0, warm
        shown = {
            "tenths": (f"{round(low * 10)}", f"{round(high * 10)}"),
            "C": (f"{low:.1f}", f"{high:.1f}"),
            "F": (f"{round(low * 1.8 + 32)}", f"{round(high * 1.8 + 32)}"),
        }[unit]
        lines.append(
            f'"{STATION}","{day}","46.83","-92.18","432.4","MADE UP STATION, MN US",'
            f'"{shown[1]}",",,W,0700","{shown[0]}",",,W"'
        )
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    ("unit", "told"), [("tenths", "tenths of a degree C"), ("C", "degrees C"), ("F", "degrees F")]
)
def test_by_station_csv_in_every_unit(tmp_path: Path, unit: str, told: str) -> None:
    path = write(tmp_path / "access.csv", access(unit))
    readings = read_weather(path)
    assert readings.unit == told
    report = import_weather(path, tmp_path / "garden.weather")
    assert report.history.max_c(date(2001, 7, 19)) == pytest.approx(28.0, abs=0.4)
    assert report.history.name == "MADE UP STATION, MN US"
    assert report.history.lat == 46.83
    assert report.history.elev_m == 432.4


def test_one_wild_value_does_not_decide_the_unit(tmp_path: Path) -> None:
    text = access("C") + f'"{STATION}","2004-01-01","46.83","-92.18","432.4","X","999",",,W","-5.0",",,W"\n'
    report = import_weather(write(tmp_path / "a.csv", text), tmp_path / "garden.weather")
    assert report.history.min_c(date(2004, 1, 1)) == -5.0
    assert report.history.max_c(date(2004, 1, 1)) is None
    assert len(report.bad_lines) == 1


@given(st.lists(st.floats(-35, 38), min_size=300, max_size=400), st.sampled_from(["tenths", "C", "F"]))
def test_units_of_any_real_year(celsius: list[float], unit: str) -> None:
    year = [*celsius, *([32.0] * 20), *([-15.0] * 20)]  # a summer and a winter belong to every year
    change = {"tenths": lambda c: round(c * 10), "C": lambda c: c, "F": lambda c: c * 1.8 + 32}[unit]
    told = {"tenths": "tenths of a degree C", "C": "degrees C", "F": "degrees F"}[unit]
    assert sniff_unit([float(change(c)) for c in year]) == told


def test_access_rows_that_do_not_read(tmp_path: Path) -> None:
    head, *rows = access("tenths", 400).splitlines()
    rows[3] = rows[3].replace("2001-01-04", "2001-13-04")
    rows[5] = ",".join(rows[5].split(",")[:4])
    rows[7] = rows[7].replace(',",,W,0700"', ',",X,W,0700"')
    report = import_weather(
        write(tmp_path / "a.csv", "\n".join([head, *rows, ""])), tmp_path / "garden.weather"
    )
    assert [number for number, _ in report.bad_lines] == [5, 7]
    assert report.flagged == 1


def test_empty_cells_are_missing_not_zero(tmp_path: Path) -> None:
    text = "DATE,TMIN,TMAX\n2001-07-01,10.5,28.0\n2001-07-02,,29.5\n2001-07-03,11.0,\n" + "".join(
        f"2001-08-{d:02d},12.0,30.0\n" for d in range(1, 29)
    )
    report = import_weather(write(tmp_path / "a.csv", text), tmp_path / "garden.weather")
    assert report.history.min_c(date(2001, 7, 2)) is None
    assert report.history.max_c(date(2001, 7, 3)) is None
    assert report.history.station == ""


def test_packed_files_read_the_same(tmp_path: Path) -> None:
    path = tmp_path / "x.dly.gz"
    path.write_bytes(gzip.compress(dly(range(1991, 1993)).encode()))
    seen: list[tuple[int, int]] = []
    report = import_weather(path, tmp_path / "garden.weather", lambda done, total: seen.append((done, total)))
    assert report.values == 2 * 2 * 365
    assert seen[-1][0] == seen[-1][1] == path.stat().st_size
    path.write_bytes(path.read_bytes()[:200])
    with pytest.raises(UsageError):
        import_weather(path, tmp_path / "garden.weather")


def test_progress_runs_to_the_end(tmp_path: Path) -> None:
    path = write(tmp_path / "x.dly", dly(range(1951, 2021)))
    seen: list[int] = []
    import_weather(path, tmp_path / "garden.weather", lambda done, _total: seen.append(done))
    assert seen == sorted(seen)
    assert seen[-1] == path.stat().st_size
    assert len(seen) > 3


@pytest.mark.parametrize(
    "text",
    ["", "hello\n", "a,b,c\n1,2,3\n", "DATE,RAIN\n2001-01-01,3\n", "DATE,TMIN,TMAX\n", "\x00\x01\x02\n"],
)
def test_other_files_are_refused_in_one_sentence(tmp_path: Path, text: str) -> None:
    path = write(tmp_path / "x.csv", text)
    with pytest.raises(UsageError) as error:
        import_weather(path, tmp_path / "garden.weather")
    assert "x.csv" in str(error.value)
    assert not (tmp_path / "garden.weather").exists()


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match=r"none\.dly"):
        import_weather(tmp_path / "none.dly", tmp_path / "garden.weather")


def test_a_damaged_record_is_not_written_over(tmp_path: Path) -> None:
    store = tmp_path / "garden.weather"
    store.write_bytes(b"broken")
    with pytest.raises(DamagedFileError):
        import_weather(write(tmp_path / "x.dly", dly(range(1991, 1993))), store)
    assert store.read_bytes() == b"broken"


@given(st.binary(max_size=400))
def test_any_bytes_are_refused_or_read(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.mktemp("fuzz") / "x.dly"
    path.write_bytes(dly(range(1991, 1992)).encode() + data)
    report = import_weather(path, path.with_name("garden.weather"))
    assert report.values >= 2 * 365 - 62
