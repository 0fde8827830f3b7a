"""Towns of the open gazetteer: found by any spelling, told apart by state and size."""

from __future__ import annotations

import pytest

from gardenmate.climate import towns
from gardenmate.climate.place_names import Gazetteer
from gardenmate.climate.places import find_place, gazetteer
from gardenmate.climate.town_table import Town
from gardenmate.climate.towns import TOWNS, VILLAGES, find_town
from gardenmate.core.errors import AmbiguousPlaceError, UsageError
from gardenmate.knowledge.facts import Facts

NAMES: Gazetteer = gazetteer(Facts())


def town(typed: str) -> Town | None:
    qualified = NAMES.qualified(typed)
    return find_town(typed, qualified, TOWNS) or find_town(typed, qualified, VILLAGES)


@pytest.mark.parametrize(
    ("typed", "label", "lat"),
    [
        ("Davis, CA", "Davis, CA", 38.54),
        ("St Augustine", "Saint Augustine, FL", 29.89),
        ("Coeur d'Alene", "Coeur d'Alene, ID", 47.68),
        ("Kings Lynn", "King's Lynn, England", 52.75),
        ("Stratford upon Avon", "Stratford-upon-Avon, England", 52.19),
        ("trois rivieres qc", "Trois-Rivières, QC", 46.35),
        ("Ely, MN", "Ely, MN", 47.90),
        ("Ballarat, Australia", "Ballarat, Victoria", -37.57),
    ],
)
def test_found_by_any_spelling(typed: str, label: str, lat: float) -> None:
    found = town(typed)
    assert found is not None
    assert found.label == label
    assert found.lat == pytest.approx(lat, abs=0.1)


def test_the_much_larger_town_is_taken_and_said() -> None:
    found = town("Leeds")
    assert found is not None
    assert found.region == "England"
    assert found.reading is not None
    assert "largest" in found.reading


def test_namesakes_of_like_size_are_listed() -> None:
    with pytest.raises(AmbiguousPlaceError) as error:
        town("Lewistown")
    assert len(error.value.candidates) >= 2


def test_namesakes_within_one_region_are_told_apart() -> None:
    with pytest.raises(AmbiguousPlaceError) as error:
        town("St Ives, England")
    assert len(set(error.value.candidates)) >= 2
    assert all(" N" in candidate for candidate in error.value.candidates)


def test_no_such_town() -> None:
    assert town("Xyzzyville") is None
    assert town("Davis, Scotland") is None


def test_another_layout_falls_back_on_the_library(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(towns, "_pieces", lambda _smallest: iter([b"another layout"]))
    towns._entries.cache_clear()
    found = town("Davis, CA")
    assert found is not None
    assert found.lat == pytest.approx(38.54, abs=0.1)


@pytest.mark.parametrize(
    ("typed", "label"),
    [
        ("Tellurid, CO", "Telluride, CO"),
        ("Leadvile colorado", "Leadville, CO"),
        ("Pagossa Springs, CO", "Pagosa Springs, CO"),
    ],
)
def test_a_small_town_misspelled_beside_its_state_is_read_and_said(typed: str, label: str) -> None:
    found = find_place(typed, Facts())
    assert found.site is not None
    assert found.site.label == label
    assert found.reading is not None
    assert label in found.reading


def test_a_name_like_several_towns_of_a_state_or_none_is_not_guessed() -> None:
    for typed in ("Farsonville, WY", "Zzyzq, CO"):
        with pytest.raises(UsageError):
            find_place(typed, Facts())
