"""Fact texts in the grower's units and half of the year."""

import pytest

from gardenmate.knowledge.woody import woody
from gardenmate.topics.shared.woody_text import clause, in_season, in_south, in_units, joined, sentence
from tests.topics.woody_bench import FACTS


@pytest.mark.parametrize(
    ("us", "metric"),
    [
        ("Cut 2-6 inches above the soil.", "Cut 5-15 cm above the soil."),
        ("Cut 1/4 inch above an outward bud.", "Cut 6 mm above an outward bud."),
        ("wood 1/4 to 1/3 inch thick", "wood 6 to 8 mm thick"),
        ("canes end 48-60 inches tall", "canes end 120-150 cm tall"),
        ("outside a 2-3 foot clump", "outside a 0.6-0.9 m clump"),
        ("Do not cut in 100 F heat.", "Do not cut in 38 C heat."),
        ("2.5 lb of 10-10-10 per 100 sq ft", "1.1 kg of 10-10-10 per 9.3 square metres"),
        ("one- and two-year canes", "one- and two-year canes"),
        ("3-4 buds", "3-4 buds"),
    ],
)
def test_units(us: str, metric: str) -> None:
    assert in_units(us, "metric") == metric
    assert in_units(us, "us") == us


def test_months_turn_half_a_year_in_the_south() -> None:
    assert in_season("late July-early August", southern=True) == "late January-early February"
    assert in_season("late July", southern=False) == "late July"


def test_months_told_of_a_region_stay() -> None:
    assert in_season("soon after picking; early June in Florida", southern=True).endswith(
        "early June in Florida"
    )


def test_a_whole_plant_is_told_for_the_south() -> None:
    plum = in_south(woody(FACTS, "plum"))
    assert "December to February" in plum.limits.wet_winter
    assert plum.seasons[0].months == woody(FACTS, "plum").seasons[0].months
    strawberry = in_south(woody(FACTS, "strawberry-june"))
    assert "June-bearing strawberry" in strawberry.names
    assert strawberry.seasons[0].finish_by == "07-15"


def test_sentences_and_clauses() -> None:
    assert sentence("wait until spring") == "Wait until spring."
    assert sentence("") == ""
    assert clause("Wait.") == "wait"
    assert clause("Group 3 fine.") == "Group 3 fine"
    assert joined(["a", "b", "c"]) == "a, b and c"
    assert joined(["a"], "or") == "a"
