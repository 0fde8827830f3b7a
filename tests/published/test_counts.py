"""Seed counts against scipy; spacing, plants per person and yields against published garden tables; jars."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.question import CropRef, Request, Slots
from gardenmate.core.units import INCH_CM, LB_PER_KG
from gardenmate.core.world import World
from gardenmate.garden.profile import NO_GARDEN
from gardenmate.knowledge.facts import Facts
from gardenmate.science.seed_counts import chance_of_at_least, tries_needed
from gardenmate.topics.quantities.amounts import spacing_of, yield_per_plant
from gardenmate.topics.quantities.answer import answer
from gardenmate.topics.quantities.household import need_of, wanted

FT_CM = 30.48


@pytest.fixture(scope="module")
def world() -> World:
    return World(today=date(2027, 4, 18), facts=Facts(), garden=NO_GARDEN, units="us")


def test_binomial_agrees_with_scipy() -> None:
    """scipy.stats.binom, version in the first line of the table; made by tests/bench/binomial_scipy.py."""
    path = Path(__file__).parent / "binomial_scipy.csv"
    with path.open() as file:
        assert file.readline().startswith("# scipy 1.")
        rows = list(csv.DictReader(file))
    assert len(rows) > 300
    for row in rows:
        wanted_n, chance, tries = int(row["wanted"]), float(row["chance"]), int(row["tries"])
        assert chance_of_at_least(wanted_n, tries, chance) == pytest.approx(
            float(row["chance_at_tries"]), abs=1e-9
        )
        assert chance_of_at_least(wanted_n, tries - 1, chance) == pytest.approx(
            float(row["chance_one_less"]), abs=1e-9
        )
        assert tries_needed(wanted_n, chance, float(row["confidence"])) == tries


# University of Maine Cooperative Extension, Planting Chart for the Home Vegetable Garden:
# distance between plants in the row and between rows, inches.
MAINE_SPACING = [
    ("asparagus", (18, 18), (36, 48)),
    ("bush-bean", (2, 4), (24, 24)),
    ("beet", (2, 3), (12, 18)),
    ("broccoli", (24, 30), (24, 36)),
    ("cabbage", (12, 18), (24, 36)),
    ("carrot", (2, 3), (12, 18)),
    ("eggplant", (18, 18), (24, 36)),
    ("parsnip", (2, 4), (18, 24)),
    ("pea", (1, 2), (18, 36)),
    ("pepper", (18, 18), (18, 24)),
    ("potato", (8, 12), (30, 36)),
    ("spinach", (3, 4), (12, 18)),
    ("tomato", (18, 36), (24, 48)),
]


@pytest.mark.parametrize(("crop_id", "in_row", "rows"), MAINE_SPACING)
def test_spacing_is_that_of_the_maine_chart(
    world: World, crop_id: str, in_row: tuple[int, int], rows: tuple[int, int]
) -> None:
    """Our ranges join several charts, which part by up to a factor of two (beet 3 or 6 in): each end of ours
    lies within that factor of Maine's, and the spacing used when nothing is said within a third of Maine's
    range."""
    spacing = spacing_of(world.facts.crop(crop_id))
    assert spacing is not None
    for ours, theirs in ((spacing.in_row, in_row), (spacing.rows, rows)):
        for mine, printed in zip(ours, theirs, strict=True):
            assert printed / 2 - 0.05 <= mine / INCH_CM <= printed * 2 + 0.05, crop_id
    assert in_row[0] * 0.74 <= spacing.usual / INCH_CM <= in_row[1] * 1.35, crop_id


# The same chart: "Average yield", pounds per plant.
MAINE_YIELD_PER_PLANT = [("tomato", 8.0, 8.0), ("broccoli", 1.75, 1.75), ("eggplant", 4.0, 5.0)]


@pytest.mark.parametrize(("crop_id", "low", "high"), MAINE_YIELD_PER_PLANT)
def test_usual_yield_of_a_plant_is_maines(world: World, crop_id: str, low: float, high: float) -> None:
    found = yield_per_plant(world.facts.crop(crop_id))
    assert found is not None
    assert low - 0.05 <= found.usual * LB_PER_KG <= high + 0.05


# The same chart: pounds per 10 ft of row.
MAINE_YIELD_PER_ROW = [
    ("bush-bean", 8.0),
    ("beet", 10.0),
    ("carrot", 10.0),
    ("parsnip", 15.0),
    ("spinach", 4.5),
    ("pea", 10.0),
]


@pytest.mark.parametrize(("crop_id", "pounds"), MAINE_YIELD_PER_ROW)
def test_expected_yield_of_ten_feet_covers_maines(world: World, crop_id: str, pounds: float) -> None:
    question = Request(
        "", "how-many", (CropRef(crop_id),), Slots(count=10), cues={"amount": "yield", "count_unit": "ft"}
    )
    numbers = {n.name: n.value for n in answer(question, world).numbers}
    low, high = numbers["yield_min_kg"], numbers["yield_max_kg"]
    assert isinstance(low, float | int)
    assert isinstance(high, float | int)
    assert low * LB_PER_KG - 0.2 <= pounds <= high * LB_PER_KG + 0.2
    # Not wider than gardens are: other charts run from half of Maine's figure to twice it.
    if crop_id != "pea":  # Maine weighs peas in the pod; our low end is of shelled ones
        assert low * LB_PER_KG >= pounds / 2 - 0.2
    assert high * LB_PER_KG <= pounds * 2 + 0.2


# Kansas State University, MF315 Vegetable Garden Planting Guide (the same table as Kentucky ID-128):
# approximate planting per person, plants or feet of row.
KANSAS_PER_PERSON = [
    ("asparagus", "plants", 10, 15),
    ("broccoli", "plants", 3, 5),
    ("brussels-sprouts", "plants", 2, 5),
    ("cabbage", "plants", 3, 4),
    ("cauliflower", "plants", 3, 5),
    ("chard", "plants", 3, 5),
    ("eggplant", "plants", 2, 3),
    ("pepper", "plants", 3, 5),
    ("sweet-potato", "plants", 5, 10),
    ("bush-bean", "feet", 15, 16),
    ("pole-bean", "feet", 5, 6),
    ("lima-bean", "feet", 10, 15),
    ("beet", "feet", 5, 10),
    ("carrot", "feet", 5, 10),
    ("kale", "feet", 5, 10),
    ("okra", "feet", 4, 6),
    ("parsley", "feet", 1, 3),
    ("pea", "feet", 15, 20),
    ("spinach", "feet", 5, 10),
    ("sweet-corn", "feet", 10, 15),
    ("southern-pea", "feet", 10, 15),
]


@pytest.mark.parametrize(("crop_id", "unit", "low", "high"), KANSAS_PER_PERSON)
def test_amount_for_one_person_is_that_of_the_kansas_guide(
    world: World, crop_id: str, unit: str, low: float, high: float
) -> None:
    """Within a factor of two at either end, as far as other guides part from it (broccoli 3 to 5 plants here,
    10 in another), and overlapping: half or twice a person's share is the most a household differs from the
    guide."""
    crop = world.facts.crop(crop_id)
    w = wanted(CropRef(crop.base, crop.kind), world)
    need = need_of(w, 1, world.facts)
    spacing = spacing_of(crop)
    assert need is not None
    assert need.fresh is not None
    assert spacing is not None
    ours = need.fresh if unit == "plants" else tuple(p * spacing.usual / FT_CM for p in need.fresh)
    assert ours[0] <= high + 1e-6, f"{crop_id}: {ours}"
    assert ours[1] >= low - 1e-6, f"{crop_id}: {ours}"
    for mine, printed in zip(ours, (low, high), strict=True):
        assert printed / 2 - 1e-6 <= mine <= printed * 2 + 1e-6, f"{crop_id}: {ours}"


# USDA Complete Guide to Home Canning (2015), as in the National Center for Home Food Preservation:
# "an average of N pounds is needed per canner load of 7 quarts".
POUNDS_FOR_SEVEN_QUARTS = [
    ("tomato", 35.0), ("bush-bean", 14.0), ("lima-bean", 28.0), ("beet", 21.0), ("carrot", 17.5),
    ("sweet-corn", 31.5), ("okra", 11.0), ("pea", 31.5), ("pumpkin", 16.0), ("sweet-potato", 17.5),
    ("spinach", 28.0),
]  # fmt: skip


@pytest.mark.parametrize(("crop_id", "pounds"), POUNDS_FOR_SEVEN_QUARTS)
def test_pounds_for_a_canner_load(world: World, crop_id: str, pounds: float) -> None:
    per_quart = world.facts.crop(crop_id).amounts.lb_per_quart
    assert per_quart is not None
    assert 7 * per_quart == pytest.approx(pounds, rel=0.05)


def test_seven_quarts_of_sauce_take_thirty_five_pounds_of_plants(world: World) -> None:
    """35 lb (NCHFP) at 8 lb a plant (Maine) is 4.4, so five plants."""
    question = Request("", "how-many", (CropRef("tomato"),), Slots(count=7), cues={"count_unit": "quart"})
    numbers = {n.name: n.value for n in answer(question, world).numbers}
    assert numbers["plants"] == 5
