"""Small fruit: how far apart it is planted and when it is multiplied, against printed advice.

- Iowa State University Extension, Spacing of small fruits in the home garden (5 April 1996).
- Garden News (England), Take hardwood cuttings: currants and gooseberries in November.
- Neil Sperry (Texas), What time of year is best for taking cuttings: hardwood in late winter before the burst of
  growth, softwood during active growth.
"""

import pytest

from gardenmate.knowledge.facts import Facts

FACTS = Facts()

FEET_APART = {
    "raspberry-summer": (1.5, 3.0),
    "grape": (6.0, 8.0),
    "gooseberry": (4.0, 5.0),
    "currant-red": (4.0, 5.0),
    "elderberry-american": (7.0, 8.0),
}


def numbers_of(plant: str, key: str) -> list[float]:
    """The figures under a key, wherever in the plant's file it stands."""
    table = FACTS.table(f"woody/{plant}")
    found = [part[key] for part in table.values() if isinstance(part, dict) and key in part]
    assert len(found) == 1, plant
    return list(found[0])


@pytest.mark.parametrize("plant", sorted(FEET_APART))
def test_feet_between_plants(plant: str) -> None:
    """Within a foot at either end: vigorous varieties get as much more."""
    for mine, printed in zip(numbers_of(plant, "spacing_ft"), FEET_APART[plant], strict=True):
        assert mine == pytest.approx(printed, abs=1.0)


def months_of(plant: str, method: str) -> set[int]:
    """The months named for a way of multiplying, January to December as 1 to 12."""
    ways = FACTS.table(f"woody/{plant}")["propagation"]
    return {month for way in ways if way["method"] == method for month in way["months"]}


@pytest.mark.parametrize("plant", ["blackcurrant", "currant-red", "gooseberry"])
def test_hardwood_cuttings_are_taken_leafless(plant: str) -> None:
    """November is in, and nothing from May to September, when the bushes stand in leaf."""
    months = months_of(plant, "hardwood")
    assert 11 in months
    assert not months & {5, 6, 7, 8, 9}


@pytest.mark.parametrize("plant", ["grape", "fig", "elderberry-american", "mulberry"])
def test_late_winter_is_time_for_hardwood(plant: str) -> None:
    """February is in (late winter in Texas as in Iowa), June to September are not."""
    months = months_of(plant, "hardwood")
    assert 2 in months
    assert not months & {6, 7, 8, 9}
