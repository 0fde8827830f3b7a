"""Prices, amounts and work: sources resolve, crops are known, figures run the right way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def _tables(node: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(node, dict):
        yield path, node
        for key, value in node.items():
            yield from _tables(value, f"{path}.{key}")
    elif isinstance(node, list):
        for i, value in enumerate(node):
            yield from _tables(value, f"{path}[{i}]")


@pytest.mark.parametrize("name", ["prices", "amounts", "work"])
def test_sources_resolve(name: str) -> None:
    found = 0
    for path, table in _tables(FACTS.table(name), name):
        for source in table.get("sources", ()):
            assert FACTS.source(source).title, path
            found += 1
    assert found


def test_ranges_run_upwards() -> None:
    for path, table in _tables(FACTS.table("amounts"), "amounts"):
        for key, value in table.items():
            if isinstance(value, list) and len(value) == 2 and all(isinstance(v, int | float) for v in value):
                assert value[0] <= value[1], f"{path}.{key}"


def test_prices_are_above_zero_and_packets_hold_seed() -> None:
    for group in FACTS.table("prices")["group"].values():
        assert group["packet"] > 0
        assert group["plant"] > 0
        assert group["seeds"] >= 10
        assert group["usual_plants"] >= 1


def test_a_kept_year_is_never_less_than_fresh() -> None:
    for crop in FACTS.crops():
        row = crop.amounts
        for fresh, keep in (
            (row.plants_per_person_fresh, row.plants_per_person_preserve),
            (row.row_ft_per_person_fresh, row.row_ft_per_person_preserve),
        ):
            if fresh and keep:
                assert keep[1] >= fresh[1], crop.id
