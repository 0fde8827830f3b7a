"""Freeze dates and their spread from real daily weather, against published freeze tables.

Sources: NOAA NCEI U.S. Climate Normals 1981-2010, probability of the last and first 32 F freeze (North Platte
and Goodland, Nebraska and Kansas, stand for the Champion record; Greenville-Spartanburg for Clemson; Sea-Tac
for Seattle), its spread by region (5395 stations: sd = |p50 - p90| / 1.2816), and Met Office counts of
air-frost days (Cambridge). The daily records are described in data/README.md.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest

from gardenmate.climate.freezes import FreezeDate
from gardenmate.climate.history import History, history_site
from gardenmate.climate.import_weather import import_weather
from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.knowledge.facts import Facts

DATA = Path(__file__).parent / "data"
FACTS = Facts()


@cache
def bundled(name: str) -> Site:
    site = resolve_site(place=name, facts=FACTS).site
    assert site is not None
    return site


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> dict[str, History]:
    """Every daily record, through the importer."""
    store = tmp_path_factory.mktemp("weather")
    return {
        path.name.split(".")[0]: import_weather(path, store / path.name).history
        for path in sorted(DATA.glob("*.csv.gz"))
    }


def dates(record: History, year: int, southern: bool = False) -> tuple[date | None, date | None]:
    season = next(s for s in record.freeze_years(0.0, southern) if s.year == year)
    anchor = date(year, 7 if southern else 1, 15)
    spring, autumn = season.last_spring, season.first_autumn
    return (
        None if spring is None else anchor + timedelta(days=spring),
        None if autumn is None else anchor + timedelta(days=autumn),
    )


def both(record: History, years: int = 100) -> tuple[FreezeDate, FreezeDate]:
    freeze = record.freeze(0.0, False, last_years=years)
    assert freeze is not None
    assert freeze.last_spring is not None
    assert freeze.first_autumn is not None
    return freeze.last_spring, freeze.first_autumn


@pytest.mark.parametrize(
    ("name", "year", "last", "first"),
    [
        ("seattle", 2012, (3, 19), (11, 10)),
        ("seattle", 2013, (3, 4), (11, 21)),
        ("seattle", 2014, (2, 9), (11, 12)),
        ("seattle", 2015, (3, 4), (11, 23)),
        ("champion", 1982, (4, 30), (9, 21)),
        ("champion", 1983, (5, 19), (9, 20)),
        ("champion", 1984, (5, 9), (9, 27)),
        ("brussels", 1981, (5, 3), (11, 8)),
        ("brussels", 1996, (5, 5), (11, 14)),
        ("cambridge", 2010, (5, 12), (10, 20)),
        ("cambridge", 2020, (5, 12), (12, 6)),
    ],
)
def test_dates_of_single_years(
    records: dict[str, History], name: str, year: int, last: tuple[int, int], first: tuple[int, int]
) -> None:
    """Counted apart from this code, same files: last day at or below 0 C before 1 August, first after it."""
    assert dates(records[name], year) == (date(year, *last), date(year, *first))


def test_extreme_years_at_champion(records: dict[str, History]) -> None:
    seasons = records["champion"].freeze_years(0.0, False)
    latest = max(s.last_spring or 0 for s in seasons if s.spring_known)
    earliest = min(s.first_autumn or 999 for s in seasons if s.autumn_known)
    assert date(1995, 1, 15) + timedelta(days=latest) == date(1995, 6, 15)
    assert date(2010, 1, 15) + timedelta(days=earliest) == date(2010, 9, 7)


@pytest.mark.parametrize(
    ("name", "place", "days"),
    [
        ("champion", "North Platte", 4),
        ("champion", "Goodland", 11),
        ("clemson", "Greenville-Spartanburg", 8),
    ],
)
def test_average_dates_match_the_published_table_of_a_neighbour(
    records: dict[str, History], name: str, place: str, days: int
) -> None:
    spring, autumn = both(records[name])
    published = bundled(place).freezes[32]
    assert bundled(place).basis == "published"
    assert published.last_spring is not None
    assert published.first_autumn is not None
    assert abs(spring.offset_days - published.last_spring.offset_days) <= days
    assert abs(autumn.offset_days - published.first_autumn.offset_days) <= days


def test_cambridge_matches_the_met_office_counts(records: dict[str, History]) -> None:
    spring, autumn = both(records["cambridge"])
    counted = bundled("Cambridge, England").freezes[32]
    assert counted.last_spring is not None
    assert counted.first_autumn is not None
    assert abs(spring.offset_days - counted.last_spring.offset_days) <= 8
    assert abs(autumn.offset_days - counted.first_autumn.offset_days) <= 8
    assert abs(spring.sd_days - counted.last_spring.sd_days) <= 4


@pytest.mark.parametrize(
    ("name", "spring_sd", "autumn_sd"),
    [
        ("champion", (9.4, 10.1), (9.4, 10.1)),  # Northern Plains, middle half of 403 stations
        ("clemson", (12.5, 16.4), (12.5, 15.6)),  # Southeast, middle half of 686 stations
        ("brussels", (11.0, 18.0), (16.0, 19.0)),  # ten KNMI stations
        ("cambridge", (11.0, 18.0), (16.0, 19.0)),
    ],
)
def test_spread_is_that_of_the_region(
    records: dict[str, History], name: str, spring_sd: tuple[float, float], autumn_sd: tuple[float, float]
) -> None:
    """Within a fifth of the published range: an sd from 30 years is itself that uncertain."""
    spring, autumn = both(records[name])
    assert 0.8 * spring_sd[0] <= spring.sd_days <= 1.2 * spring_sd[1]
    assert 0.8 * autumn_sd[0] <= autumn.sd_days <= 1.2 * autumn_sd[1]


@pytest.mark.parametrize("name", ["champion", "clemson", "brussels", "cambridge"])
def test_one_spring_in_ten_comes_later_than_the_ten_percent_date(
    records: dict[str, History], name: str
) -> None:
    """A normal distribution is fair: 3 to 20 percent of the years lie beyond its 90% date, on either side."""
    spring, autumn = both(records[name])
    seasons = records[name].freeze_years(0.0, False)
    for known, values in (
        (spring, [s.last_spring for s in seasons if s.spring_known]),
        (autumn, [s.first_autumn for s in seasons if s.autumn_known]),
    ):
        anchor = date(2027, 1, 15)
        late = (known.day_at(0.9, anchor) - anchor).days
        early = (known.day_at(0.1, anchor) - anchor).days
        counted = [v for v in values if v is not None]
        assert 0.03 <= sum(v > late for v in counted) / len(counted) <= 0.2
        assert 0.03 <= sum(v < early for v in counted) / len(counted) <= 0.2


@pytest.mark.parametrize(
    ("name", "place", "days"),
    [("champion", "North Platte", 9), ("cambridge", "Cambridge, England", 12), ("clemson", "Athens, GA", 12)],
)
def test_the_estimate_from_monthly_means_is_near_the_counted_dates(
    records: dict[str, History], name: str, place: str, days: int
) -> None:
    """What a place without freeze dates would get, against the dates its daily record gives."""
    from gardenmate.climate.freezes import MinimumCurve, estimate, freeze_fit, predictors
    from gardenmate.climate.normals import daily_normals

    base = bundled(place)
    means = records[name].normals()
    assert means is not None
    guess = estimate(
        MinimumCurve(daily_normals(means[0]), False),
        freeze_fit(FACTS.table("climate")),
        predictors(base.lat, base.lon, base.country, *means),
        0.0,
    )
    counted = records[name].freeze(0.0, False)
    assert counted is not None
    for estimated, known in (
        (guess.last_spring, counted.last_spring),
        (guess.first_autumn, counted.first_autumn),
    ):
        assert estimated is not None
        assert known is not None
        assert abs(estimated.offset_days - known.offset_days) <= days


def test_last_frost_at_clemson_has_come_earlier_since_1930(records: dict[str, History]) -> None:
    trend = records["clemson"].last_frost_trend()
    assert trend is not None
    assert trend.years >= 85
    assert -3.0 < trend.days_per_decade < 0.0
    assert trend.clear


def test_southern_record_has_its_winter_in_july(records: dict[str, History]) -> None:
    season = records["cordoba"].freeze(0.0, True, last_years=100)
    assert season is not None
    assert season.last_spring is not None
    anchor = date(2026, 7, 15)
    assert season.last_spring.day(anchor).month in (8, 9)
    assert season.last_spring.day(anchor).year == 2026


def test_a_garden_with_the_record_uses_it(records: dict[str, History]) -> None:
    site = history_site(records["champion"], bundled("North Platte"))
    assert site.basis == "history"
    assert site.history is records["champion"]
    assert any("30 years" in note for note in site.notes)
    spring = site.freezes[32].last_spring
    assert spring is not None
    assert spring.basis == "history"
    assert site.freezes[28].last_spring is not None
    assert site.freezes[28].last_spring.offset_days < spring.offset_days
