"""Own frosts laid over the stations' dates."""

from __future__ import annotations

import sys
from datetime import date, timedelta
from math import exp, sqrt
from pathlib import Path

import pytest

from gardenmate.climate.history import History
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.own_years import (
    errors_of,
    learned_offset,
    updated,
    with_own_years,
    years_seen,
)
from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.place import FrostSeen
from gardenmate.garden.profile import Garden
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
TODAY = date(2030, 1, 1)
RECORD = Path(__file__).parents[1] / "published" / "data" / "champion.csv.gz"
sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))


def site_at(place: str) -> Site:
    found = resolve_site(place=place, facts=FACTS).site
    assert found is not None
    return found


def last(*days: date) -> list[FrostSeen]:
    return [FrostSeen(day, None, "last", n) for n, day in enumerate(days, start=1)]


def test_the_update_is_that_of_a_textbook() -> None:
    """Hoff, A First Course in Bayesian Statistical Methods, Springer 2009, section 5.3 (midge wings, here in hundredths
    of a millimetre; from memory): prior mean 1.9 worth one observation, nine lengths of mean 1.804, posterior mean
    1.814. A prior worth one observation has the spread of one."""
    wings = [164, 170, 172, 174, 182, 182, 182, 190, 208]
    mean, error = updated(190.0, 13.0, 13.0, wings)
    assert mean == pytest.approx(181.4, abs=0.05)
    assert error == pytest.approx(13.0 / sqrt(10.0))


def test_the_update_is_that_of_a_sum_over_every_mean() -> None:
    """Bayes' rule worked by brute force on a grid of possible means."""
    seen, prior, error, spread = [112, 118, 131], 120.0, 6.0, 9.0
    grid = [prior + 0.05 * i for i in range(-1000, 1001)]
    weight = [
        exp(-0.5 * ((m - prior) / error) ** 2 - 0.5 * sum(((y - m) / spread) ** 2 for y in seen))
        for m in grid
    ]
    total = sum(weight)
    middle = sum(w * m for w, m in zip(weight, grid, strict=True)) / total
    wide = sqrt(sum(w * (m - middle) ** 2 for w, m in zip(weight, grid, strict=True)) / total)
    mean, left = updated(prior, error, spread, seen)
    assert mean == pytest.approx(middle, abs=0.01)
    assert left == pytest.approx(wide, abs=0.01)


def test_later_years_move_the_date_later_and_make_it_surer() -> None:
    plain = site_at("Gunnison, CO")
    known = plain.freezes[32].last_spring
    assert known is not None
    late = plain.anchor(date(2026, 6, 1)) + timedelta(days=round(known.offset_days) + 12)
    own = with_own_years(plain, last(late, late.replace(year=2027), late.replace(year=2028)), TODAY)
    moved = own.freezes[32].last_spring
    assert moved is not None
    assert own.own_years is not None
    assert own.own_years.last is not None
    assert 1.0 < moved.offset_days - known.offset_days < 12.0
    assert own.own_years.last.error_days < own.own_years.last.prior_error_days
    assert moved.sd_days <= known.sd_days
    for f in (36, 28):
        before, after = plain.freezes[f].last_spring, own.freezes[f].last_spring
        assert before is not None
        assert after is not None
        assert after.offset_days - before.offset_days == pytest.approx(moved.offset_days - known.offset_days)
    assert own.freezes[32].first_autumn == plain.freezes[32].first_autumn


def test_more_years_count_for_more() -> None:
    plain = site_at("Duluth")
    moved = []
    for count in (1, 3, 10):
        site = with_own_years(plain, last(*(date(2010 + n, 6, 1) for n in range(count))), TODAY)
        assert site.own_years is not None
        assert site.own_years.last is not None
        moved.append(site.own_years.last.moved_days)
    assert 0.0 < moved[0] < moved[1] < moved[2] < 15.0


def test_one_freak_year_is_drawn_in() -> None:
    plain = site_at("Duluth")
    error, spread = errors_of(plain, plain.freezes[32].last_spring, "last")  # type: ignore[arg-type]
    far, further = (updated(120.0, error, spread, [day])[0] for day in (240, 300))
    assert far == further


def test_which_frost_of_a_year_counts() -> None:
    site = site_at(
        "Duluth"
    )  # last frost about 17 May, first about 27 Sep (NOAA 1981-2010, 32 F, even chance)
    seen = [
        FrostSeen(date(2026, 5, 12), -1.0, None, 1),
        FrostSeen(date(2026, 5, 20), -2.0, None, 2),
        FrostSeen(date(2026, 1, 30), -20.0, None, 3),  # deep winter tells nothing of spring
        FrostSeen(date(2026, 6, 2), 1.5, None, 4),  # above freezing
        FrostSeen(date(2026, 10, 2), -1.0, None, 5),
        FrostSeen(date(2026, 9, 30), None, None, 6),
        FrostSeen(date(2026, 12, 20), -12.0, None, 7),
        FrostSeen(date(2025, 5, 1), None, "last", 8),
        FrostSeen(date(2025, 5, 4), None, "last", 9),  # said again: the newest report counts
        FrostSeen(date(2025, 5, 25), -0.5, None, 10),  # read after all: later still
    ]

    def days(side: str) -> list[date]:
        found = years_seen(site, seen, side, TODAY)  # type: ignore[arg-type]
        return [date(y.year, 1, 15) + timedelta(days=y.offset) for y in found]

    assert days("last") == [date(2025, 5, 25), date(2026, 5, 20)]
    assert days("first") == [date(2026, 9, 30)]


def test_a_spring_under_way_has_no_last_frost_yet() -> None:
    site = site_at("Duluth")
    seen = [FrostSeen(date(2027, 5, 16), -1.0, None, 1)]
    assert years_seen(site, seen, "last", date(2027, 5, 18)) == ()
    assert len(years_seen(site, seen, "last", date(2027, 7, 1))) == 1


def test_seasons_of_the_south_span_new_year() -> None:
    site = site_at("Hobart")
    found = years_seen(site, last(date(2026, 10, 20)), "last", TODAY)
    assert [y.year for y in found] == [2026]
    first = [FrostSeen(date(2027, 4, 28), None, "first", 1)]
    assert [y.year for y in years_seen(site, first, "first", TODAY)] == [2026]


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> History:
    return import_weather(RECORD, tmp_path_factory.mktemp("weather") / "w").history


def test_a_low_spot_is_learned_from_mornings_beside_the_record(record: History) -> None:
    mornings = [date(2017, 5, 1) + timedelta(days=n) for n in range(20)]
    readings = [
        FrostSeen(day, there - 2.5, None, n)
        for n, day in enumerate(mornings)
        if (there := record.min_c(day)) is not None
    ]
    assert learned_offset(readings[:2], record) is None
    few, many = learned_offset(readings[:3], record), learned_offset(readings, record)
    assert few is not None
    assert many is not None
    assert -2.5 < many[0] < few[0] < -1.5
    assert many[0] == pytest.approx(-2.5, abs=0.15)
    indoors = [FrostSeen(day, 20.0, None) for day in mornings]
    assert learned_offset(indoors, record) is None
    garden = Garden(place="North Platte")

    def last_frost(seen: list[FrostSeen]) -> float:
        site = resolve_site(garden=garden, facts=FACTS, history=record, seen=seen, today=TODAY).site
        assert site is not None
        base = site if site.own_years is None else site.own_years.base or site
        assert base.freezes[32].last_spring is not None
        return base.freezes[32].last_spring.offset_days

    assert last_frost(readings) > last_frost([]) + 4.0


def test_own_years_bring_the_date_nearer_on_years_not_used() -> None:
    """On five daily records (see tests/published/data/README.md): the error of the mean date and of a single year,
    averaged over gardens and sides, falls with every further own year."""
    import own_years  # the bench of the same name: what README prints

    found = own_years.table()
    for value in ("mean_date", "one_year"):
        errors = [
            sum(getattr(scores[i], value) for scores in found.values()) / len(found)
            for i in range(len(own_years.YEARS))
        ]
        assert errors == sorted(errors, reverse=True)
        assert errors[-1] < errors[0] - 0.5
