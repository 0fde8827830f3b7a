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
        listed = table.get("sources")
        for source in listed if isinstance(listed, list) else []:
            assert FACTS.source(source).title, path
            found += 1
    assert found or name == "work"
    if name == "work":
        assert FACTS.table("work")["sources"]["all"]


def test_ranges_run_upwards() -> None:
    for path, table in _tables(FACTS.table("amounts"), "amounts"):
        for key, value in table.items():
            if isinstance(value, list) and len(value) == 2 and all(isinstance(v, int | float) for v in value):
                assert value[0] <= value[1], f"{path}.{key}"


def test_prices_are_above_zero_and_packets_hold_seed() -> None:
    for group in FACTS.table("prices")["group"]:
        assert group["packet"] > 0
        assert group["plant"] > 0
        assert group["seeds"] >= 10
        assert group["usual_plants"] >= 1


def test_a_kept_year_is_never_less_than_fresh() -> None:
    for name, row in FACTS.table("amounts")["per_person"].items():
        for unit in ("plants", "row_ft"):
            fresh, keep = row.get(f"{unit}_fresh"), row.get(f"{unit}_preserve")
            if fresh and keep:
                assert keep[1] >= fresh[1], name


def test_every_crop_in_amounts_is_known() -> None:
    facts = FACTS.table("amounts")
    known = {*FACTS.crop_ids, *(i.split("-")[0] for i in FACTS.ids("woody")), *FACTS.ids("woody")}
    for table in ("per_person", "again_weeks", "yield_lb_per_plant", "fruits_per_plant", "lb_per_quart"):
        for crop_id in set(facts[table]) - {"sources"}:
            assert crop_id in known, f"{table}.{crop_id}"
