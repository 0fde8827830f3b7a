"""The woody plant files: complete, sourced, unambiguous by name, and faults named."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

import pytest

from gardenmate.core.errors import DamagedFileError
from gardenmate.core.question import CropRef
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.woody import STAGES, read_woody, woody, woody_for, woody_kinds

FACTS = Facts()
IDS = FACTS.ids("woody")
# Base ids of the machine contract that are answered under pruning.
CONTRACT = (
    "elderberry", "blueberry", "raspberry", "blackberry", "currant", "blackcurrant",
    "cherry", "hydrangea", "grape", "kiwi", "hardy-kiwi", "apple",
    "pear", "peach", "apricot", "plum", "quince", "fig",
    "hazelnut", "walnut", "mulberry", "persimmon", "citrus", "honeyberry",
    "serviceberry", "aronia", "cranberrybush", "rose", "lavender", "rosemary",
    "sage", "lilac", "forsythia", "clematis", "asparagus", "rhubarb",
    "strawberry", "gooseberry", "jostaberry",
)  # fmt: skip


def test_every_plant_of_the_contract_is_there() -> None:
    assert len(IDS) == 47
    assert {woody(FACTS, i).base for i in IDS} == set(CONTRACT)


@pytest.mark.parametrize("woody_id", IDS)
def test_file_is_complete_and_sourced(woody_id: str) -> None:
    plant = woody(FACTS, woody_id)
    assert plant.id == woody_id
    assert set(STAGES) - {"petal_fall"} <= set(plant.stages)
    assert plant.seasons
    assert not plant.seasons[0].lesser
    assert plant.fruit.cost
    for method in plant.methods:
        assert len(method.steps) <= 6
    for season in plant.seasons:
        assert all(1 <= m <= 12 for m in season.months)
    groups = [plant.source_ids, plant.care.sources, *(a.sources for a in plant.stages.values())]
    groups += [part.sources for part in (plant.chill, plant.bud_break, plant.trial) if part is not None]
    for source in (s for group in groups for s in group):
        assert FACTS.source(source).title
    assert all(groups)


def test_each_base_has_one_default_kind() -> None:
    for base in CONTRACT:
        assert sum(w.default for w in woody_kinds(FACTS, base)) == 1


def test_no_name_means_two_plants() -> None:
    owners: dict[str, set[str]] = defaultdict(set)
    for folder in ("crops", "woody"):
        for file_id in FACTS.ids(folder):
            head = FACTS.table(f"{folder}/{file_id}")
            for key in ("names", "generic_names", "misspelled"):
                for name in head.get(key, ()):
                    owners[name.lower()].add(head["base"])
    assert {n: o for n, o in owners.items() if len(o) > 1} == {}


@pytest.mark.parametrize(
    ("typed", "base", "kind"),
    [
        ("elder", "elderberry", None),
        ("nectarines", "peach", None),
        ("red currants", "currant", "red"),
        ("blakcurrant", "blackcurrant", None),
        ("figg tree", "fig", None),
        ("two-crop raspberries", "raspberry", "fall"),
        ("mophead", "hydrangea", "old-wood"),
        ("sour cherries", "cherry", "tart"),
        ("cobnuts", "hazelnut", None),
        ("saskatoons", "serviceberry", None),
        ("kiwiberries", "hardy-kiwi", None),
    ],
)
def test_names_growers_use(typed: str, base: str, kind: str | None) -> None:
    entry = FACTS.names[typed]
    assert (entry.ref.id, entry.ref.kind) == (base, kind)


def test_lengths_and_temperatures_are_converted() -> None:
    assert woody(FACTS, "elderberry-american").methods[1].cut_height_cm == pytest.approx((5.08, 15.24))
    assert woody(FACTS, "blackberry-trailing").care.damage_below_c == pytest.approx(-10.56, abs=0.01)


def test_a_kind_is_found_and_an_unknown_one_falls_back() -> None:
    for kind, wanted in (("tart", "cherry-tart"), (None, "cherry-sweet"), ("nonsense", "cherry-sweet")):
        found = woody_for(FACTS, CropRef("cherry", kind))
        assert found is not None
        assert found.id == wanted
    assert woody_for(FACTS, CropRef("tomato")) is None
    with pytest.raises(KeyError):
        woody(FACTS, "oak")


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('verdict = "yes"', 'verdict = "perhaps"', "stage"),
        ("[fruit]\n", "[fruit]\nsugar = 3\n", "sugar"),
        ('phase = "late-dormant"\n', "", "phase"),
        ('botanical = "Malus domestica"\n', "", "botanical"),
    ],
)
def test_a_damaged_file_names_the_key(tmp_path: Path, old: str, new: str, named: str) -> None:
    text = (FACTS.root / "woody" / "apple.toml").read_text("utf-8")
    assert old in text
    broken = tmp_path / "apple.toml"
    broken.write_text(text.replace(old, new, 1), "utf-8")
    with pytest.raises(DamagedFileError, match=re.escape(named)):
        read_woody(broken)


def test_propagation_ways_are_complete() -> None:
    table = FACTS.table("propagation")
    files = [FACTS.table(f"{folder}/{i}") for folder in ("crops", "woody") for i in FACTS.ids(folder)]
    for plant in files:
        for way in plant.get("propagation", ()):
            assert way["method"] in table["method"]
            assert all(FACTS.source(s).title for s in way["sources"])
    for method in table["method"].values():
        assert len(method["steps"]) <= 6
        assert method["mat"] in ("yes", "tight", "no")
        assert method["hold_days"][0] <= method["hold_days"][1]
    ids = {p["base"] for p in files if "propagation" in p or "not_propagated" in p}
    assert ids >= set(CONTRACT)
