"""The calendar's rows, and the names it answers to."""

from __future__ import annotations

import json
from datetime import date

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.climate.site import Site
from gardenmate.core.errors import UsageError
from gardenmate.knowledge.facts import Facts
from gardenmate.present.json_out import window_dict
from gardenmate.topics.season.calendar import calendar_windows, crops_named, season_of

FACTS = Facts()


def site(name: str) -> Site:
    found = resolve_site(place=name, facts=FACTS).site
    assert found is not None
    return found


def test_every_crop_has_windows_in_a_temperate_place() -> None:
    windows = calendar_windows(site("Columbus, OH"), FACTS, date(2027, 4, 18))
    assert {w.crop for w in windows} == {FACTS.crop(i).base for i in FACTS.crop_ids}


def test_rows_are_the_contracts_objects() -> None:
    windows = calendar_windows(site("Boston"), FACTS, date(2027, 4, 18), crops_named(["lettuce"], FACTS))
    rows = [window_dict(w) for w in windows]
    assert {r["kind"] for r in rows} == {"leaf", "head"}
    for row in rows:
        assert row["crop"] == "lettuce"
        assert row["earliest"] <= row["best_from"] <= row["best_to"] <= row["latest"]
    json.dumps(rows)


@pytest.mark.parametrize(
    ("name", "ids"),
    [
        ("tomatoes", ["tomato"]),
        ("swiss-chard", ["chard"]),
        ("Courgette", ["summer-squash"]),
        ("snap-bean", ["bush-bean"]),
        ("onion", ["onion-seed", "onion-sets"]),
        ("lettuce-leaf", ["lettuce-leaf"]),
    ],
)
def test_any_name_a_grower_or_a_chart_uses(name: str, ids: list[str]) -> None:
    assert [c.id for c in crops_named([name], FACTS)] == ids


def test_an_unknown_crop_is_named_with_near_spellings() -> None:
    with pytest.raises(UsageError, match="no crop called 'tomutwo'"):
        crops_named(["tomutwo"], FACTS)


def test_a_crop_named_twice_comes_once() -> None:
    assert len(crops_named(["tomato", "tomatoes"], FACTS)) == 1


def test_late_in_the_year_the_calendar_is_next_seasons() -> None:
    assert season_of(site("Boston"), date(2027, 6, 1)) == date(2026, 12, 21)
    assert season_of(site("Boston"), date(2027, 11, 25)) == date(2027, 12, 21)
    assert season_of(site("Hobart"), date(2027, 9, 1)) == date(2027, 6, 20)


def test_the_season_terms_cover_every_crop_and_cite_what_resolves() -> None:
    table = FACTS.table("season")
    assert all(FACTS.group_of(crop, "start") for crop in FACTS.crops())
    cited = [*table["general"]["sources"], *table["gear"]["sources"], *table["gear"]["day_gain_c"]["sources"]]
    cited += [s for g in table["start"].values() for s in g["sources"]]
    for source in set(cited):
        FACTS.source(source)
    for group in table["start"].values():
        assert group["earliest_mean_c"] <= group["best_mean_c"]
        assert group["best_risk"] <= group["earliest_risk"] < 1.0
