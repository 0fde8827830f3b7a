"""Costs: bills, whole packets, things that last several seasons, and where two bills cross."""

from __future__ import annotations

from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.science.costs import Bill, CostLine, break_even_count, cheaper, packets, spread


def test_bill_adds_up() -> None:
    bill = Bill(4, (CostLine("seed", 3.0), CostLine("mix", 1.0), CostLine("seed", 2.0)))
    assert bill.total == 6.0
    assert bill.each == 1.5
    assert bill.part("seed") == 5.0
    assert bill.part("lamp") == 0.0


def test_bill_without_plants_has_no_price_each() -> None:
    with pytest.raises(ValueError, match="without plants"):
        _ = Bill(0, ()).each


def test_whole_packets() -> None:
    assert [packets(n, 25) for n in (0, 1, 25, 26)] == [0, 1, 1, 2]
    with pytest.raises(ValueError, match="at least one seed"):
        packets(3, 0)


def test_spread_over_seasons() -> None:
    assert spread(45.0, 9) == 5.0
    with pytest.raises(ValueError, match="seasons"):
        spread(45.0, 0)


def test_cheaper_with_tolerance() -> None:
    assert cheaper(5, 10) == 1
    assert cheaper(10, 5) == -1
    assert cheaper(9.6, 10) == 0


@given(st.floats(0.5, 20), st.floats(0.01, 3), st.floats(0.05, 6))
def test_break_even_is_where_it_stays_cheaper(packet: float, each: float, plant: float) -> None:
    def raised(n: int) -> float:
        return packet * ceil(n / 20) + each * n

    def bought(n: int) -> float:
        return plant * n

    found = break_even_count(raised, bought, most=200)
    if found is None:
        assert raised(200) > bought(200)
        return
    assert all(raised(n) <= bought(n) for n in range(found, 201))
    assert found == 1 or raised(found - 1) > bought(found - 1)
