"""Fact texts in the grower's units and half of the year: what is marked by braces, and that every mark can be read."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.marked import MONTHS, Manner, parts, worded
from gardenmate.knowledge.woody import woody, woody_kinds

FACTS = Facts()
_TEMPLATES = frozenset({"{word}", "{them}"})  # filled in by the job lists of crops
METRIC, SOUTH = Manner("metric"), Manner("us", southern=True)


@pytest.mark.parametrize(
    ("text", "us", "metric"),
    [
        ("Cut {2-6 inches} above.", "Cut 2-6 inches above.", "Cut 5-15 cm above."),
        ("{1/4 inch} above a bud", "1/4 inch above a bud", "6 mm above a bud"),
        ("{1/4 to 1/3 inch} thick", "1/4 to 1/3 inch thick", "6 to 8 mm thick"),
        ("a {2-3 foot} clump", "a 2-3 foot clump", "a 0.6-0.9 m clump"),
        ("{an inch} long", "an inch long", "2.5 cm long"),
        ("in {100 F} heat", "in 100 F heat", "in 38 C heat"),
        ("{25-28 F}", "25-28 F", "-4 to -2 C"),
        ("about {26-31 F} burns", "about 26-31 F burns", "about -3.5 to -0.5 C burns"),
        ("{2-5 degrees F} below freezing", "2-5 degrees F below freezing", "1-3 degrees C below freezing"),
        ("{4 degrees F} below", "4 degrees F below", "2 degrees C below"),
        ("{2.5 lb} per {100 sq ft}", "2.5 lb per 100 sq ft", "1.1 kg per 9.3 square metres"),
        ("3-4 buds", "3-4 buds", "3-4 buds"),
    ],
)
def test_quantities_are_told_in_either_units(text: str, us: str, metric: str) -> None:
    """Conversions: 1 in = 2.54 cm, 1 ft = 0.3048 m, 1 lb = 0.4536 kg, C = (F - 32) / 1.8 (NIST SP 811)."""
    assert worded(text) == us
    assert worded(text, METRIC) == metric


def test_months_turn_half_a_year_in_the_south_and_published_ones_stay() -> None:
    text = "late {July}-early {August}; early June in Florida"
    assert worded(text) == "late July-early August; early June in Florida"
    assert worded(text, SOUTH) == "late January-early February; early June in Florida"


@pytest.mark.parametrize("text", ["{6 furlongs}", "{Juli}", "{6 inches", "{}"])
def test_a_mark_that_cannot_be_read_is_no_text(text: str) -> None:
    with pytest.raises(ValueError, match=r"brace|no quantity"):
        parts(text)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item)
    elif isinstance(value, list):
        for item in value:
            yield from _texts(item)


def test_every_mark_in_the_fact_files_can_be_read() -> None:
    marks = 0
    named = (FACTS.root / f"{name}.toml" for name in ("pruning", "propagation", "protection"))
    files = [*FACTS.root.glob("woody/*.toml"), *FACTS.root.glob("crops/*.toml"), *named]
    for path in files:
        for text in _texts(tomllib.loads(path.read_text("utf-8"))):
            if not _TEMPLATES & set(text.split()):
                marks += sum(not isinstance(part, str) for part in parts(text))
    assert marks > 150


def test_no_reader_of_plants_lets_a_mark_through() -> None:
    for plant_id in FACTS.ids("woody"):
        for manner in (Manner(), METRIC, SOUTH):
            assert "{" not in repr(woody(FACTS, plant_id, manner)).replace("{'", "").replace(
                "mappingproxy({", ""
            )


def test_a_whole_plant_is_told_for_the_south() -> None:
    plum = woody(FACTS, "plum", SOUTH)
    assert "December to February" in plum.limits.wet_winter
    assert plum.seasons[0].months == woody(FACTS, "plum").seasons[0].months
    strawberry = woody(FACTS, "strawberry-june", SOUTH)
    assert "June-bearing strawberry" in strawberry.names
    assert strawberry.seasons[0].finish_by == "07-15"
    assert woody_kinds(FACTS, "plum", METRIC)[0].name == "plum"
    assert MONTHS[6] == "July"
