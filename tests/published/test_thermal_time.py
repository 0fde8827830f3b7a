"""Thermal time against published worked values, a reference library and the crop files of FAO AquaCrop.

Sources: gddPy 1.0.3 (values below computed with it: Baskerville-Emin, daily average with cut-off); the
crop files of FAO AquaCrop in the aquacrop package 3.1.0 (MIT): base and upper temperature, degree-days and
calendar days to maturity; the daily record of Champion, Nebraska (data/README.md); Iowa State University
Extension PM 819 (fall vegetables, central Iowa) and Virginia Cooperative Extension 426-334 (count-back).
"""

from __future__ import annotations

import csv
import gzip
from datetime import date
from pathlib import Path

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.knowledge.facts import Facts
from gardenmate.science.thermal_time import (
    cumulative,
    day_reached,
    degree_days_sine,
)
from gardenmate.topics.season.plan import count_back, make_plan
from gardenmate.topics.season.site_year import site_year
from gardenmate.topics.season.terms import terms_for

FACTS = Facts()
DATA = Path(__file__).parent / "data"


@pytest.mark.parametrize(
    ("low", "high", "base", "expected"),
    [
        (2, 18, 10, 2.5465),
        (8, 25, 10, 6.7947),
        (-3, 12, 4.4, 2.4375),
        (0, 9, 4.4, 1.4827),
        (5, 31, 10, 8.9497),
    ],
)
def test_sine_degree_days_match_gddpy(low: float, high: float, base: float, expected: float) -> None:
    assert degree_days_sine(low, high, base, 99.0) == pytest.approx(expected, abs=5e-4)


# name: AquaCrop base, upper, degree-days to maturity, calendar days to maturity; our crop
AQUACROP = {
    "Maize": (8.0, 30.0, 1700.0, 132.0, "sweet-corn"),
    "Tomato": (7.0, 28.0, 1933.0, 130.0, "tomato"),
    "DryBean": (9.0, 30.0, 1298.0, 115.0, "dry-bean"),
    "Potato": (2.0, 26.0, 1276.0, 80.0, "potato"),
    "PotatoLocal": (2.0, 26.0, 1613.0, 125.0, "potato"),
    "Sunflower": (4.0, 30.0, 2400.0, 138.0, "sunflower"),
}


@pytest.mark.parametrize("name", AQUACROP)
def test_reference_temperature_turns_aquacrop_degree_days_into_its_days(name: str) -> None:
    """AquaCrop gives a crop's time both ways; at our reference temperature the two agree to a fifth, which is
    one C degree of it (the field's own mean is not told). Its sugar beet is left out: no garden beet, and
    sown in April."""
    base, upper, degree_days, days, crop_id = AQUACROP[name]
    reference = terms_for(FACTS.crop(crop_id), FACTS).reference_c
    assert degree_days / (min(reference, upper) - base) == pytest.approx(days, rel=0.2)


@pytest.mark.parametrize("name", ["Maize", "Tomato", "DryBean", "Potato", "Sunflower"])
def test_base_temperatures_are_near_aquacrop(name: str) -> None:
    """Within 3 C either way: published bases of one crop part by as much (tomato 7 to 10 C), the rounder ones
    of extension services lying above those of crop models."""
    base, _, _, _, crop_id = AQUACROP[name]
    assert terms_for(FACTS.crop(crop_id), FACTS).base_c == pytest.approx(base, abs=3.0)


def test_champion_maize_matures_when_aquacrop_says() -> None:
    """AquaCrop's maize: 1,700 degree-days C over 8 C, 132 days. Sown 1 May on Champion's daily record; its
    calendar days are those of a somewhat warmer field."""
    with gzip.open(DATA / "champion.csv.gz", "rt", encoding="ascii") as file:
        rows = [
            (date.fromisoformat(r["DATE"]), float(r["TMIN"]), float(r["TMAX"])) for r in csv.DictReader(file)
        ]
    taken = []
    for year in range(1982, 2019):
        season = [(a, b) for d, a, b in rows if d.year == year and d >= date(year, 5, 1)]
        total = cumulative([degree_days_sine(a, b, 8.0, 30.0) for a, b in season])
        reached = day_reached(total, 0, 1700.0)
        if reached is not None:
            taken.append(reached)
    assert len(taken) >= 30
    assert sorted(taken)[len(taken) // 2] == pytest.approx(132, rel=0.15)


@pytest.mark.parametrize(
    ("crop", "last"),
    [
        ("beet", (8, 1)),
        ("carrot", (8, 1)),
        ("chard", (8, 1)),
        ("bush-bean", (8, 1)),
        ("radish", (9, 15)),
        ("turnip", (8, 25)),
    ],
)
def test_autumn_slow_down_against_the_iowa_fall_table(crop: str, last: tuple[int, int]) -> None:
    """Sown on Iowa's last date, the crop is ready in fall, not before 10 September nor after the ground
    closes in the middle of November, and its days grow longer than in June, but not twice as long."""
    site = resolve_site(place="Des Moines 17 E", facts=FACTS).site
    assert site is not None
    year, terms = site_year(site), terms_for(FACTS.crop(crop), FACTS)
    autumn = make_plan(terms, year, "outdoors", date(2027, *last), wait=False)
    june = make_plan(terms, year, "outdoors", date(2027, 6, 1), wait=False)
    assert autumn.first_pick is not None
    assert june.first_pick is not None
    assert date(2027, 9, 10) <= autumn.first_pick < date(2027, 11, 15)
    assert 1 < (autumn.first_pick - autumn.start) / (june.first_pick - june.start) < 2


def test_count_back_is_virginias_arithmetic() -> None:
    """Days to maturity + harvest + 14 for short days + 14 for frost-tender crops, back from average frost."""
    site = resolve_site(place="Roanoke, VA", facts=FACTS).site
    assert site is not None
    year, terms = site_year(site), terms_for(FACTS.crop("bush-bean"), FACTS)
    frost = year.first_autumn(0.0)
    assert frost is not None
    origin = year.origin(date(2027, 7, 1))
    back = count_back(terms, year, "outdoors", origin)
    assert back is not None
    assert (frost.day(origin) - back).days == pytest.approx(55 + terms.wanted_days + 14 + 14, abs=1)
