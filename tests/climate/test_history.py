"""A station's own record: readings by day, freeze years, distributions, trend, storage."""

from __future__ import annotations

from array import array
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.climate.history import MISSING, YEAR_CELLS, History, history_site, leap_index
from gardenmate.climate.history_store import load, save, weather_path
from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.errors import DamagedFileError
from gardenmate.knowledge.facts import Facts
from gardenmate.records import replace

FACTS = Facts()


def duluth() -> Site:
    found = resolve_site(place="Duluth", facts=FACTS).site
    assert found is not None
    return found


def made(
    first: int = 1981, years: int = 40, last_frost: int = 120, first_frost: int = 270, drift: float = 0.0
) -> History:
    """A record of mild days but for the winters: the last frost on this day of the year, then ``drift`` days
    later every year; two years out of three a day either side of it."""
    low, high = array("h"), array("h")
    for y in range(years):
        wobble = (y % 3) - 1
        last, first_day = round(last_frost + wobble + drift * y), first_frost + wobble
        for i in range(YEAR_CELLS):
            frost = i <= last or i >= first_day
            low.append(-10 if frost else 80)
            high.append(60 if frost else 200)
        if (first + y) % 4:
            low[y * YEAR_CELLS + 59] = high[y * YEAR_CELLS + 59] = MISSING
    return History("USW00000001", first, low, high, "Made Up Station", 46.8, -92.2, 430.0)


@given(st.dates(date(1900, 1, 1), date(2100, 12, 31)))
def test_days_keep_their_place_in_every_year(day: date) -> None:
    index = leap_index(day)
    assert 0 <= index < YEAR_CELLS
    assert index == leap_index(date(2028, day.month, day.day))


def test_readings_by_day() -> None:
    record = made()
    assert record.min_c(date(1981, 1, 1)) == -1.0
    assert record.max_c(date(1981, 7, 1)) == 20.0
    assert record.min_c(date(1980, 12, 31)) is None
    assert record.min_c(date(2030, 1, 1)) is None
    assert record.max_c(date(1984, 2, 29)) == 6.0
    assert record.last_year == 2020


def test_freeze_years_find_the_last_and_the_first() -> None:
    record = made()
    season = next(s for s in record.freeze_years(0.0, False) if s.year == 1985)
    assert season.spring_known
    assert season.autumn_known
    wobble = (1985 - 1981) % 3 - 1
    assert date(1985, 1, 15) + timedelta(days=season.last_spring or 0) == date(1985, 4, 30) + timedelta(
        days=wobble
    )
    assert date(1985, 1, 15) + timedelta(days=season.first_autumn or 0) == date(1985, 9, 27) + timedelta(
        days=wobble
    )


def test_the_same_year_in_the_south_starts_in_july() -> None:
    record = made()
    seasons = record.freeze_years(0.0, True)
    assert all(s.last_spring is None or -200 < s.last_spring <= 200 for s in seasons)


def test_readings_in_whole_fahrenheit_count_at_their_threshold() -> None:
    """28 F is kept as -2.2 C: it counts as a freeze at 28 F though 28 F is -2.22 C."""
    record = made()
    cold = array("h", (v if v != -10 else -22 for v in record.min_tenths))
    at_28 = replace(record, min_tenths=cold).freeze((28.0 - 32.0) / 1.8, False)
    assert at_28 is not None
    assert at_28.last_spring is not None
    none = record.freeze((28.0 - 32.0) / 1.8, False)
    assert none is not None
    assert none.last_spring is None
    assert none.share == 0.0


def test_distribution_of_the_latest_thirty_years() -> None:
    freeze = made(years=60, drift=0.5).freeze(0.0, False)
    assert freeze is not None
    assert freeze.last_spring is not None
    assert freeze.last_spring.basis == "history"
    # the last 30 of 60 years: centred on year 44.5 of a half day's drift
    assert freeze.last_spring.offset_days == pytest.approx(120 - 14.5 + 0.5 * 44.5, abs=1.5)


def test_a_freak_year_does_not_widen_the_spread() -> None:
    record = made(years=30)
    usual = record.freeze(0.0, False)
    warm = array("h", record.min_tenths)
    for i in range(20, 200):
        warm[10 * YEAR_CELLS + i] = 80
    freak = replace(record, min_tenths=warm).freeze(0.0, False)
    assert usual is not None
    assert freak is not None
    assert usual.last_spring is not None
    assert freak.last_spring is not None
    assert freak.last_spring.sd_days <= usual.last_spring.sd_days + 1.0


def test_too_short_a_record_gives_no_dates_but_keeps_its_years() -> None:
    short = made(years=6)
    assert short.freeze(0.0, False) is None
    base = duluth()
    here = history_site(short, base)
    assert here.freezes == base.freezes
    assert here.history is short
    assert any("too short" in note for note in here.notes)


def test_gaps_leave_a_season_out() -> None:
    record = made()
    holed = array("h", record.min_tenths)
    for i in range(110, 140):
        holed[4 * YEAR_CELLS + i] = MISSING
    seasons = {s.year: s for s in replace(record, min_tenths=holed).freeze_years(0.0, False)}
    assert not seasons[1985].spring_known
    assert seasons[1985].autumn_known
    assert seasons[1984].spring_known


@pytest.mark.parametrize("drift", [-0.4, 0.0, 0.3])
def test_trend_finds_the_drift(drift: float) -> None:
    trend = made(years=50, drift=drift).last_frost_trend()
    assert trend is not None
    assert trend.days_per_decade == pytest.approx(10 * drift, abs=0.3)
    assert trend.years == 50
    assert trend.clear == (drift != 0.0)
    assert made(years=15).last_frost_trend() is None


def test_trend_matches_a_worked_regression() -> None:
    """Slope and its standard error against statistics.linear_regression and the textbook formula."""
    from statistics import linear_regression

    from gardenmate.climate.history import _slope

    points = [(float(x), 100.0 + 0.3 * x + ((x * 7) % 5 - 2)) for x in range(1950, 1990)]
    trend = _slope(points)
    assert trend is not None
    xs, ys = [x for x, _ in points], [y for _, y in points]
    line = linear_regression(xs, ys)
    assert trend.days_per_decade == pytest.approx(10 * line.slope)
    left = sum((y - line.slope * x - line.intercept) ** 2 for x, y in points)
    mean = sum(xs) / len(xs)
    error = (left / (len(xs) - 2) / sum((x - mean) ** 2 for x in xs)) ** 0.5
    assert trend.standard_error == pytest.approx(10 * error)


def test_own_normals_and_dates_replace_the_bundled_ones() -> None:
    base = duluth()
    here = history_site(made(), base)
    assert here.basis == "history"
    assert here.source_ids == ("noaa-ghcn-daily",)
    assert here.normal_min_c != base.normal_min_c
    assert here.monthly_min_c[6] == pytest.approx(8.0)
    assert any("30 years" in note and "Made Up Station" in note for note in here.notes)


def test_own_dates_stand_above_the_record() -> None:
    from gardenmate.garden.profile import Garden

    record = made()
    plain = resolve_site(garden=Garden(place="Duluth"), facts=FACTS, history=record).site
    assert plain is not None
    assert plain.basis == "history"
    own = resolve_site(garden=Garden(place="Duluth", last_frost=(6, 1)), facts=FACTS, history=record).site
    assert own is not None
    assert own.basis == "own"
    assert own.history is record
    away = resolve_site(place="Fargo", garden=Garden(place="Duluth"), facts=FACTS, history=record).site
    assert away is not None
    assert away.history is None


def test_a_record_from_far_away_says_so() -> None:
    from gardenmate.garden.profile import Garden

    found = resolve_site(garden=Garden(place="Fargo"), facts=FACTS, history=made()).site
    assert found is not None
    assert any("Made Up Station" in note and "mile" in note for note in found.notes)
    near = resolve_site(garden=Garden(place="Duluth"), facts=FACTS, history=made()).site
    assert near is not None
    assert not any("from Duluth" in note for note in near.notes)


def test_a_record_that_knows_its_place_needs_no_other() -> None:
    found = resolve_site(facts=FACTS, history=made()).site
    assert found is not None
    assert found.basis == "history"
    assert found.lat == pytest.approx(46.8)


def test_a_span_is_filled_from_normals_where_days_are_missing() -> None:
    record, site = made(), duluth()
    low, high, filled = record.span_c(date(1984, 2, 27), 5, site)
    assert filled == 0
    assert len(low) == len(high) == 5
    low, _, filled = record.span_c(date(2020, 12, 30), 10, site)
    assert filled == 8
    assert low[-1] == pytest.approx(site.min_c(date(2021, 1, 8)))
    assert record.span_c(date(1983, 2, 28), 2, site)[0] == [-1.0, -1.0]


@given(st.dates(date(1975, 1, 1), date(2025, 1, 1)), st.integers(0, 800))
def test_spans_agree_with_single_days(start: date, days: int) -> None:
    record, site = made(years=30), duluth()
    low, high, _ = record.span_c(start, days, site)
    for i in (0, days // 2, days - 1):
        if 0 <= i < days:
            day = start + timedelta(days=i)
            assert low[i] == (record.min_c(day) if record.min_c(day) is not None else site.min_c(day))
            assert high[i] == (record.max_c(day) if record.max_c(day) is not None else site.max_c(day))


def test_stored_and_loaded_it_is_the_same(tmp_path: Path) -> None:
    record = made()
    path = weather_path(tmp_path / "deep" / "garden.toml")
    assert path.name == "garden.weather"
    save(record, path)
    assert load(path) == record
    assert [p.name for p in path.parent.iterdir()] == ["garden.weather"]


def test_no_file_is_no_record(tmp_path: Path) -> None:
    assert load(tmp_path / "none.weather") is None


@pytest.mark.parametrize("harm", ["cut", "turned", "other", "empty", "header"])
def test_a_damaged_record_is_refused_and_left_alone(tmp_path: Path, harm: str) -> None:
    path = tmp_path / "garden.weather"
    save(made(), path)
    data = bytearray(path.read_bytes())
    if harm == "cut":
        data = data[:-100]
    elif harm == "turned":
        data[-50] ^= 0xFF
    elif harm == "other":
        data = bytearray(b"something else entirely\n")
    elif harm == "header":
        data = bytearray(b"gardenmate weather 1\n{}\n")
    else:
        data = bytearray()
    path.write_bytes(data)
    with pytest.raises(DamagedFileError, match="damaged"):
        load(path)
    assert path.read_bytes() == bytes(data)


def test_an_interrupted_write_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "garden.weather"
    save(made(), path)
    before = path.read_bytes()

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("os.replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        save(made(first_frost=280), path)
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["garden.weather"]
