"""Every crop file: sourced, ordered, plausible, unambiguous; a damaged one is named with line and key."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from gardenmate.core.errors import DamagedFileError
from gardenmate.core.question import CropRef
from gardenmate.knowledge.crops import read_crop
from gardenmate.knowledge.facts import Facts
from gardenmate.knowledge.reader import data_root, read_toml

CROPS = data_root() / "knowledge" / "crops"
SECTIONS = [
    (path.stem, name)
    for path in sorted(CROPS.glob("*.toml"))
    for name, table in read_toml(path).items()
    if isinstance(table, dict) and name not in ("groups", "lists", "caution_keys")
]
# Lowest and highest figure that is plausible, by the ending of the key (degrees F, inches, days, weeks).
PLAUSIBLE = {
    "_f": (-40, 130),
    "_in": (0, 180),
    "_days": (0, 1100),
    "_degree_days": (20, 2500),
    "_weeks": (0, 60),
    "_years": (0.5, 12),
    "_pct": (1, 100),
    "seeds_per_oz": (5, 500_000),
    "weeks_from_last_frost": (-12, 16),
    "weeks_from_first_frost": (-26, 8),
}


@pytest.fixture(scope="module")
def facts() -> Facts:
    return Facts()


def test_seventy_eight_crops_and_more(facts: Facts) -> None:
    assert len(list(facts.crops())) >= 78


@pytest.mark.parametrize(("crop_id", "section"), SECTIONS)
def test_every_section_has_a_source_that_resolves(facts: Facts, crop_id: str, section: str) -> None:
    table = facts.table(f"crops/{crop_id}")[section]
    assert table.get("sources") or all(isinstance(v, str) for v in table.values()), f"{crop_id}: [{section}]"
    for source_id in table.get("sources", ()):
        assert facts.source(source_id).title


def test_degree_day_figures_have_sources_that_resolve(facts: Facts) -> None:
    for crop in facts.crops():
        for entry in crop.degree_days:
            assert entry["sources"]
            for source_id in entry["sources"]:
                assert facts.source(source_id).title


@pytest.mark.parametrize("path", sorted(CROPS.glob("*.toml")), ids=lambda p: p.stem)
def test_figures_are_plausible_and_ranges_ordered(path: Path) -> None:
    for section, table in read_toml(path).items():
        if not isinstance(table, dict):
            continue
        for key, value in table.items():
            ending = next((e for e in sorted(PLAUSIBLE, key=len, reverse=True) if key.endswith(e)), None)
            if isinstance(value, list) and all(isinstance(v, int | float) for v in value) and len(value) == 2:
                assert value[0] <= value[1], f"{path.stem} [{section}] {key}"
            figures = value if isinstance(value, list) else [value]
            if ending is None or not all(isinstance(v, int | float) for v in figures):
                continue
            low, high = PLAUSIBLE[ending]
            assert all(low <= v <= high for v in figures), f"{path.stem} [{section}] {key} = {value}"


def test_order_of_related_figures(facts: Facts) -> None:
    for crop in facts.crops():
        assert crop.frost.killed_below_c <= crop.frost.damage_below_c, crop.id
        days = crop.maturity.days
        assert (days.early or days.mid) <= days.mid <= (days.late or days.mid), crop.id
        soil = crop.soil
        if soil.min_soil_sow_c and soil.max_soil_sow_c:
            assert soil.min_soil_sow_c[0] < soil.max_soil_sow_c, crop.id
        growth = crop.growth
        if growth.growth_mean_min_c is not None and growth.growth_mean_max_c is not None:
            assert growth.growth_mean_min_c < growth.growth_mean_max_c, crop.id


def test_names_are_unambiguous(facts: Facts) -> None:
    """One name stands for one base id, over crops and woody plants, exact and misspelled names together."""
    owners: dict[str, set[str]] = {}
    for folder in ("crops", "woody"):
        for name in facts.ids(folder):
            head = facts.table(f"{folder}/{name}")
            for said in (*head["names"], *head.get("generic_names", ()), *head.get("misspelled", ())):
                assert said == said.strip(), f"{name}: '{said}' has blanks around it"
                owners.setdefault(said.lower(), set()).add(head["base"])
    assert {n: sorted(o) for n, o in owners.items() if len(o) > 1} == {}


def test_kinds_share_a_base_and_one_is_the_default(facts: Facts) -> None:
    kinds: dict[str, list[bool]] = {}
    for crop in facts.crops():
        if crop.kind:
            kinds.setdefault(crop.base, []).append(crop.default)
    assert {base: sum(flags) for base, flags in kinds.items()} == dict.fromkeys(kinds, 1)


def test_a_reference_finds_its_kind_or_the_default(facts: Facts) -> None:
    def found(ref: CropRef) -> str | None:
        crop = facts.crop_for(ref)
        return crop.id if crop else None

    assert found(CropRef("lettuce")) == "lettuce-leaf"
    assert found(CropRef("lettuce", "head")) == "lettuce-head"
    assert found(CropRef("onion", "sets")) == "onion-sets"
    assert found(CropRef("apple")) is None


def test_internal_units_are_celsius_and_centimetres(facts: Facts) -> None:
    tomato = facts.crop("tomato")
    assert tomato.soil.min_soil_sow_c == (10.0, 10.0)
    assert tomato.space.spacing_in_row_cm == pytest.approx((45.72, 91.44))
    assert tomato.emergence.days_by_soil_c[0] == (10.0, 43.0)


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ("killed_below_f = 30", 'killed_below_f = "cold"', "frost.killed_below_f"),
        ("weeks_indoors = [5, 8]", "weeks_indoors = [8, 5]", "timing.weeks_indoors"),
        ("killed_below_f = 30", "", "frost.killed_below_f"),
        ("killed_below_f = 30", "killed_below_f = 30\nfrostiness = 3", "frost.frostiness"),
    ],
)
def test_a_damaged_file_is_named_with_line_and_key(tmp_path: Path, old: str, new: str, key: str) -> None:
    path = tmp_path / "tomato.toml"
    text = (CROPS / "tomato.toml").read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")
    with pytest.raises(DamagedFileError) as caught:
        read_crop(path)
    assert str(path) in str(caught.value)
    assert key in str(caught.value)
    if key.split(".")[1] in new:
        assert "line " in str(caught.value)


def test_broken_toml_is_named_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "tomato.toml"
    path.write_text('id = "tomato"\nnames == 3\nbase = "tomato"\n', "utf-8")
    with pytest.raises(DamagedFileError, match=r"tomato\.toml.*line"):
        read_crop(path)


def test_one_crop_is_read_without_the_others(tmp_path: Path) -> None:
    """A question about one crop must not parse every crop: the others here are unreadable."""
    (tmp_path / "crops").mkdir()
    shutil.copy(CROPS / "kale.toml", tmp_path / "crops" / "kale.toml")
    (tmp_path / "crops" / "leek.toml").write_text("][", "utf-8")
    facts = Facts(tmp_path)
    assert facts.crop("kale").base == "kale"
    with pytest.raises(DamagedFileError):
        facts.crop("leek")


def test_an_unknown_crop_is_a_key_error(facts: Facts) -> None:
    with pytest.raises(KeyError):
        facts.crop("triffid")
