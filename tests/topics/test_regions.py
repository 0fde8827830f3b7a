"""The places that stand for a region."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from gardenmate.topics.shared.regions import spread_out


@dataclass(frozen=True)
class Place:
    monthly_min_c: tuple[float, ...]
    monthly_max_c: tuple[float, ...]


def places(count: int) -> list[Place]:
    """Places in no order, each colder or warmer than every other."""
    return [Place((float(n * 7 % count),) * 12, (float(n * 7 % count) + 8.0,) * 12) for n in range(count)]


@pytest.mark.parametrize("count", [1, 2, 5, 9])
def test_a_small_region_is_taken_whole_and_in_order(count: int) -> None:
    assert spread_out(places(count), 9) == places(count)  # type: ignore[arg-type, comparison-overlap]


@pytest.mark.parametrize("count", [10, 29, 62])
@pytest.mark.parametrize("most", [2, 5, 9])
def test_a_large_one_from_its_coldest_to_its_warmest(count: int, most: int) -> None:
    lows = [s.monthly_min_c[0] for s in spread_out(places(count), most)]  # type: ignore[arg-type]
    assert len(lows) == len(set(lows)) == most
    assert lows == sorted(lows)
    assert (lows[0], lows[-1]) == (0.0, count - 1.0)
