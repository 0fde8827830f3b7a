"""knowledge/protection.toml: every figure sourced, and in step with the crop files."""

from typing import Any

import pytest

from gardenmate.core.units import c_to_f
from gardenmate.knowledge.facts import Facts
from gardenmate.topics.shared.protection import covers, limits

FACTS = Facts()
TABLE = FACTS.table("protection")


def _source_lists(node: Any, path: str = "") -> list[tuple[str, list[str]]]:
    found = []
    if isinstance(node, dict):
        for key, value in node.items():
            found += (
                [(path + key, value)] if key.endswith("sources") else _source_lists(value, f"{path}{key}.")
            )
    elif isinstance(node, list):
        for number, value in enumerate(node):
            found += _source_lists(value, f"{path}{number}.")
    return found


def test_every_source_resolves() -> None:
    lists = _source_lists(TABLE)
    assert len(lists) > 40
    for where, ids in lists:
        assert ids, where
        for source in ids:
            assert FACTS.source(source).title, (where, source)


def test_every_table_names_its_sources() -> None:
    for name, node in TABLE.items():
        if name == "night_default":
            continue  # names, no figures
        grouped = name in ("group", "pick", "aftermath", "night")
        for row in node if isinstance(node, list) else node.values() if grouped else [node]:
            assert any(key.endswith("sources") for key in row), name


def test_groups_hold_what_the_crop_files_say() -> None:
    for crop in FACTS.crops():
        group = FACTS.group_of(crop, "frost")
        assert group is not None, crop.id
        low, high = group["hurt_f"]
        hurt = c_to_f(crop.frost.damage_below_c)
        assert low - 0.01 <= hurt <= high + 0.01, (crop.groups.frost, crop.id, hurt)


def test_covers_plan_on_no_more_than_the_low_end() -> None:
    for cover in covers(FACTS):
        assert cover.least_c <= cover.plan_c <= cover.most_c
        assert cover.plan_c == cover.least_c


@pytest.mark.parametrize(
    "stage", [None, "seedling", "unhardened", "just-set-out", "established", "bloom", "fruit"]
)
def test_limits_are_ordered_and_the_young_never_hardier(stage: str | None) -> None:
    for crop_id in FACTS.crop_ids:
        crop = FACTS.crop(crop_id)
        bound = limits(FACTS, crop, stage, "us")
        assert bound.killed_c <= bound.hurt_c, (crop_id, stage)
        if stage in ("seedling", "unhardened", "just-set-out"):
            assert bound.hurt_c >= crop.frost.damage_below_c - 1e-9
            assert bound.killed_c >= crop.frost.killed_below_c - 1e-9


def test_glazing_in_the_published_bands() -> None:
    """Single glazing U 5.7-6.8, double 3.4-4.0 W/m2.K (Farm Energy 2.6): double saves about a third."""
    for row in TABLE["glazing"]:
        single = row["id"] in ("glass", "film")
        low, high = (5.7, 6.8) if single else (3.4, 4.0)
        assert low <= row["u_w_m2k"] <= high, row["id"]
        assert 0.7 <= row["light"] <= 0.9
