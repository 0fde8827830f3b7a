"""The raising figures: every source resolves, every crop exists, ranges run low to high."""

from collections.abc import Iterator
from typing import Any

from gardenmate.knowledge.facts import Facts

FACTS = Facts()
TABLE = FACTS.table("raising")


def walk(node: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every value of a nested table with its dotted path."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from walk(value, f"{path}.{key}")
    elif isinstance(node, list) and node and isinstance(node[0], dict):
        for i, value in enumerate(node):
            yield from walk(value, f"{path}[{i}]")
    else:
        yield path, node


def test_every_source_resolves() -> None:
    named = [(path, value) for path, value in walk(TABLE) if path.endswith(".sources")]
    assert len(named) > 30
    for path, sources in named:
        assert sources, path
        for source in sources:
            assert FACTS.source(source).title, path


def test_ranges_run_upwards() -> None:
    for path, value in walk(TABLE):
        if isinstance(value, list) and len(value) == 2 and all(isinstance(v, int | float) for v in value):
            assert value[0] <= value[1], path


def test_a_relative_has_a_table_and_its_follower_has_none() -> None:
    for crop in FACTS.crops():
        for relative in (crop.germination.relative, crop.germination.season_relative):
            if relative:
                assert FACTS.crop(relative).emergence.days_by_soil_c, relative
                assert not crop.emergence.days_by_soil_c, crop.id


def test_every_seed_crop_has_days_from_somewhere() -> None:
    from gardenmate.topics.germination.emergence_facts import trial_of

    for crop in FACTS.crops():
        if not crop.germination.grown_from:
            trial = trial_of(crop, FACTS)
            assert trial.days or trial.room_days, crop.id


def test_potting_rows_name_known_containers() -> None:
    ids = {row["id"] for row in TABLE["containers"]["size"]}
    for row in TABLE["potting"].values():
        assert {*row["steps"], row["held_in"]} <= ids
        assert row["pace"] >= 1
