"""Places and regions by name, by position and by the grower's own dates."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.climate.nearby import distance_km
from gardenmate.climate.place_names import normalise, skeleton
from gardenmate.climate.places import (
    Place,
    find_rows,
    gazetteer,
    resolve_site,
)
from gardenmate.climate.rows import read_rows
from gardenmate.climate.site import Site
from gardenmate.core.errors import (
    AmbiguousPlaceError,
    DamagedFileError,
    FarPlaceError,
    NeedPlaceError,
    UsageError,
)
from gardenmate.garden.profile import NO_GARDEN, Garden
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def place(name: str) -> Place:
    return resolve_site(place=name, facts=FACTS)


def site(name: str) -> Site:
    found = place(name).site
    assert found is not None, name
    return found


@pytest.mark.parametrize(
    ("typed", "label"),
    [
        ("Duluth", "Duluth, MN"),
        ("duluth, mn", "Duluth, MN"),
        ("DULUTH MINNESOTA", "Duluth, MN"),
        ("Portland ME", "Portland, ME"),
        ("Portland, Maine", "Portland, ME"),
        ("portland or", "Portland, OR"),
        ("Truro, Nova Scotia", "Truro, NS"),
        ("St. John's", "St. John's, NL"),
        ("saint cloud", "Saint Cloud, MN"),
        ("St Cloud MN", "Saint Cloud, MN"),
        ("Mt Washington", "Mt. Washington, NH"),
        ("Mount Washington, NH", "Mt. Washington, NH"),
        ("Minneapolis", "Minneapolis-St. Paul, MN"),
        ("Oban", "Dunstaffnage (Oban), Scotland"),
        ("Glasgow, Scotland", "Paisley (Glasgow), Scotland"),
        ("Cambridge, UK", "Cambridge, England"),
        ("Cambridge, England, UK", "Cambridge, England"),
        ("Melbourne", "Melbourne Airport, Victoria"),
        ("Sydney, Australia", "Sydney Airport, New South Wales"),
        ("Sydney NSW", "Sydney Airport, New South Wales"),
        ("Montréal", "Montreal Trudeau Int'l, QC"),
        ("Regina", "Regina Int'l, SK"),
        ("Des Moines", "Des Moines, IA"),
        ("Des Moines 17 E", "Des Moines 17 E, IA"),
        ("NYC", "New York Central Park, NY"),
        ("washington, d.c.", "Washington National, VA"),
        ("Kansas City Missouri", "Kansas City, MO"),
        ("Athens, Greece", "Athens (Observatory), Attica"),
        ("Paris", "Paris-Orly, Ile-de-France"),
    ],
)
def test_exact_names(typed: str, label: str) -> None:
    found = place(typed)
    assert found.site is not None
    assert found.site.label == label
    assert found.reading is None


@pytest.mark.parametrize("typed", ["Portland", "Springfield", "London", "Sydney", "Columbus", "Athens"])
def test_names_of_several_towns_are_listed(typed: str) -> None:
    with pytest.raises(AmbiguousPlaceError) as error:
        place(typed)
    assert len(error.value.candidates) >= 2
    for candidate in error.value.candidates:
        assert candidate in str(error.value)
        assert place(candidate).site is not None


@pytest.mark.parametrize("typed", ["New York", "Quebec", "Victoria"])
def test_a_town_and_a_region_of_one_name_are_listed(typed: str) -> None:
    with pytest.raises(AmbiguousPlaceError) as error:
        place(typed)
    for candidate in error.value.candidates:
        found = place(candidate)
        assert found.site is not None or found.sites


def test_the_short_way_and_the_long_way_agree() -> None:
    """A name found letter for letter is the one the full search finds."""
    from gardenmate.climate import places

    names = gazetteer(FACTS)
    for row in names.rows:
        short = places._plainly_one(row.name, FACTS)
        if short is not None:
            assert names.towns[normalise(row.name)] == [short], row.label
            region = names.region(normalise(row.name))
            assert region is None or set(region[1]) == {short}, row.label


def test_every_bundled_label_finds_its_own_row() -> None:
    for row in gazetteer(FACTS).rows:
        found = find_rows(row.label, FACTS)
        assert found is not None, row.label
        assert found.rows == (row,), row.label


@pytest.mark.parametrize(
    ("typed", "region", "count"),
    [
        ("Minnesota", "Minnesota", 5),
        ("MN", "Minnesota", 5),
        ("Scotland", "Scotland", 10),
        ("New England", "New England", 10),
        ("Northeast", "Northeast", 29),
        ("the northeast", "Northeast", 29),
        ("NC", "North Carolina", 6),
        ("Alberta", "Alberta", 10),
        ("Georgia", "Georgia", 6),
        ("North Dakota", "North Dakota", 4),
        ("UK", "United Kingdom", 35),
        ("Great Britain", "United Kingdom", 35),
        ("Ireland", "Ireland", 8),
        ("Australia", "Australia", 18),
        ("Pacific Northwest", "Pacific Northwest", 14),
        ("New York state", "New York", 9),
        ("western Washington", "western Washington", 4),
        ("upstate New York", "Upstate New York", 5),
    ],
)
def test_regions(typed: str, region: str, count: int) -> None:
    found = place(typed)
    assert found.site is None
    assert found.region == region
    assert len(found.sites) == count


def test_a_summit_stands_for_itself_only() -> None:
    assert "Mt. Washington, NH" not in {s.label for s in place("New Hampshire").sites}
    assert site("Mount Washington, New Hampshire").label == "Mt. Washington, NH"


def test_half_a_region_lies_on_its_side() -> None:
    west = {s.label for s in place("western Washington").sites}
    assert "Spokane, WA" not in west
    assert "Olympia, WA" in west
    south = {s.label for s in place("southern California").sites}
    assert "San Diego, CA" in south
    assert "Eureka, CA" not in south


def test_a_region_of_one_place_is_that_place_and_says_so() -> None:
    found = place("Vermont")
    assert found.site is not None
    assert found.site.label == "Burlington, VT"
    assert found.reading == "for Burlington, VT, the only record I have for Vermont"
    assert place("Cornwall").reading is not None


# Regions that are understood as places but hold no climate record: a town of that name answers, or none does
# and the answer asks for a town.
NO_RECORD = {"Denmark", "Guernsey", "Jersey", "Isle of Man", "Ozark"}


def test_every_region_a_question_may_name_is_known() -> None:
    for name in FACTS.table("language/places")["regions"]:
        if name in NO_RECORD:
            continue
        if name in ("New York", "Quebec", "Victoria", "Norfolk", "Mayo"):
            with pytest.raises(AmbiguousPlaceError):
                find_rows(name, FACTS)
        elif normalise(name) in FACTS.table("regions")["around"]:
            found = place(name)
            assert found.sites or found.site is not None, name
        else:
            assert find_rows(name, FACTS) is not None, name


def test_a_large_namesake_elsewhere_is_asked_about() -> None:
    for typed in ("Birmingham", "Bristol", "Cambridge"):
        with pytest.raises(AmbiguousPlaceError) as error:
            place(typed)
        assert any("England" in candidate for candidate in error.value.candidates)
    assert site("Birmingham, UK").country == "UK"
    assert site("Birmingham AL").label == "Birmingham AP, AL"


def test_every_district_has_records() -> None:
    table = FACTS.table("regions")
    for name, parts in table["districts"].items():
        found = find_rows(name, FACTS)
        assert found is not None, name
        assert {row.label for row in found.rows} == set(parts), name
    for name in table["elsewhere"]:
        assert name in gazetteer(FACTS).towns, name


def test_too_wide_a_region_asks_for_a_narrower_one() -> None:
    with pytest.raises(UsageError, match="too wide"):
        place("USA")


def test_every_region_of_the_table_has_places() -> None:
    table = FACTS.table("regions")
    names = gazetteer(FACTS)
    for group in table["groups"]:
        found = names.region(normalise(group))
        assert found is not None, group
        assert found[1], group
    for part in (p for parts in table["groups"].values() for p in parts):
        assert part in names.by_label or part in table["us"] or part in table["ca"], part
    for label in (*table["towns"], *table["also"].values()):
        assert label in names.by_label, label
    known = {row.country for row in names.rows}
    assert known == set(table["countries"])


@pytest.mark.parametrize(
    ("typed", "label"),
    [
        ("Deluth", "Duluth, MN"),
        ("boyzee idaho", "Boise, ID"),
        ("Albuquerqe", "Albuquerque, NM"),
        ("Walla Wala", "Walla Walla, WA"),
        ("Pitsburgh", "Pittsburgh, PA"),
    ],
)
def test_misspelled_names_are_read_and_said(typed: str, label: str) -> None:
    found = place(typed)
    assert found.site is not None
    assert found.site.label == label
    assert found.reading == f"reading '{typed}' as {label}"


def test_a_misspelled_ambiguous_name_is_listed() -> None:
    with pytest.raises(AmbiguousPlaceError) as error:
        place("Portlnd")
    assert set(error.value.candidates) == {"Portland, ME", "Portland, OR"}
    assert "Portlnd" in str(error.value)


@pytest.mark.parametrize("typed", ["Xyzzyville", "qqq", "00000", "'; drop table", "\x1b[31m"])
def test_unknown_names_are_named_in_one_sentence(typed: str) -> None:
    with pytest.raises(UsageError):
        place(typed)


def test_an_unknown_name_offers_near_spellings() -> None:
    with pytest.raises(UsageError, match="Did you mean"):
        place("Knoxvillageton")


@given(st.text(max_size=40))
def test_any_text_is_a_place_or_a_clear_error(text: str) -> None:
    try:
        found = find_rows(text, FACTS)
    except UsageError:  # an empty or ambiguous name
        return
    assert found is None or found.rows


def test_twin_records_of_one_town_name_the_other() -> None:
    seattle = site("Seattle")
    assert seattle.freezes[32].last_spring is not None
    assert any("Sea-Tac" in note or "Seattle City" in note for note in seattle.notes)


def test_a_town_off_the_list_takes_the_nearest_record() -> None:
    davis = site("Davis, California")
    assert davis.name == "Davis"
    assert davis.lat == pytest.approx(38.54, abs=0.05)
    assert any("Davis 2 WSW" in note and "mile" in note for note in davis.notes)
    assert "geonames" in davis.source_ids
    assert davis.place is not None
    assert davis.place.stations[0].share > 0.7


def test_a_town_far_from_any_record_is_warned_about() -> None:
    """Jackson WY has no station in the tables: the nearest lies in the next valley."""
    doubt = site("Jackson, WY").doubt()
    assert doubt is not None
    assert "spread" in doubt.reasons
    assert doubt.days > 10
    assert site("Burlington, CO").doubt() is None


def test_height_decides_between_records() -> None:
    low, high = (resolve_site(place="Bend", elevation_m=m, facts=FACTS).site for m in (1104.0, 1500.0))
    assert low is not None
    assert high is not None
    assert low.place is not None
    assert high.place is not None
    assert low.place.height_from == high.place.height_from == "told"
    assert low.place.stations[0].label == "Bend, OR"
    assert high.place.stations[0].share < low.place.stations[0].share
    before, after = low.freezes[32].last_spring, high.freezes[32].last_spring
    assert before is not None
    assert after is not None
    assert after.offset_days > before.offset_days + 7
    assert high.mean_c(date(2027, 7, 15)) < low.mean_c(date(2027, 7, 15)) - 1.0


def test_by_position() -> None:
    found = resolve_site(lat=46.84, lon=-92.21, facts=FACTS).site
    assert found is not None
    assert found.label == "Duluth, MN"


def test_distance_of_two_known_cities() -> None:
    """London to Paris is 344 km (great circle, any atlas)."""
    assert distance_km(51.507, -0.128, 48.857, 2.352) == pytest.approx(344, abs=2)
    assert distance_km(10, 20, 10, 20) == 0.0


@pytest.mark.parametrize(("lat", "lon"), [(91.0, 0.0), (0.0, 181.0), (None, 5.0), (5.0, None)])
def test_coordinates_that_are_none(lat: float | None, lon: float | None) -> None:
    with pytest.raises(UsageError):
        resolve_site(lat=lat, lon=lon, facts=FACTS)


def test_nothing_known_asks_for_the_place() -> None:
    with pytest.raises(NeedPlaceError):
        resolve_site(facts=FACTS)
    with pytest.raises(NeedPlaceError):
        resolve_site(garden=NO_GARDEN, facts=FACTS)
    with pytest.raises(UsageError):
        resolve_site(place="   ", facts=FACTS)


def test_the_garden_fills_what_was_not_said() -> None:
    garden = Garden(place="Duluth", last_frost=(6, 1))
    home = resolve_site(garden=garden, facts=FACTS).site
    assert home is not None
    assert home.basis == "own"
    spring = home.freezes[32].last_spring
    assert spring is not None
    assert spring.day(date(2027, 1, 15)) == date(2027, 6, 1)


def test_a_place_in_the_question_leaves_the_gardens_dates_at_home() -> None:
    garden = Garden(place="Duluth", last_frost=(6, 1), low_spot_c=3.0, elevation_m=400.0)
    away = resolve_site(place="Fargo", garden=garden, facts=FACTS).site
    assert away == site("Fargo")


def test_a_region_takes_no_own_dates() -> None:
    with pytest.raises(UsageError, match="name a town"):
        resolve_site(place="Minnesota", last_frost=(5, 1), facts=FACTS)


def test_normalising_names() -> None:
    assert normalise("St. John's") == "saint johns"
    assert normalise("Coeur d'Alene, ID") == "coeur dalene id"
    assert normalise("Zürich/Fluntern") == "zurich fluntern"
    assert normalise("Helena MT") == "helena mt"
    assert skeleton("boyzee") == skeleton("boise")
    assert skeleton("deluth") == skeleton("duluth")


def test_a_damaged_table_is_named_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "places.csv"
    path.write_text("name,region,country,lat,lon,elev_m,rest\nDuluth,MN,US,north,-92,435,x\n", "utf-8")
    with pytest.raises(DamagedFileError, match="line 2"):
        read_rows(path)
    with pytest.raises(DamagedFileError):
        read_rows(tmp_path / "missing.csv")


def test_southern_seasons_span_new_year() -> None:
    hobart = site("Hobart Airport")
    assert hobart.southern
    assert hobart.anchor(date(2027, 2, 1)) == date(2026, 7, 15)
    assert hobart.min_c(date(2027, 1, 15)) > hobart.min_c(date(2027, 7, 15))


def test_a_place_without_height_works() -> None:
    assert site("Cabauw").elev_m is None
    moved = resolve_site(place="Cabauw", elevation_m=10.0, facts=FACTS).site
    assert moved is not None
    assert any("not on record" in note for note in moved.notes)


def test_every_source_resolves() -> None:
    for name in ("Duluth", "Regina", "Oxford", "Melbourne", "Heino", "Merced", "Lebanon NH", "Honolulu"):
        for source in site(name).source_ids:
            assert FACTS.source(source).title


def test_every_figure_of_the_climate_file_has_a_source() -> None:
    def sources(table: Mapping[str, Any]) -> list[str]:
        found: list[str] = []
        for key, value in table.items():
            if isinstance(value, dict):
                found += sources(value)
            elif key.endswith("source"):
                found.append(value)
        return found

    table = FACTS.table("climate")
    for name in ("freeze_fit", "nearest", "lapse", "regime"):
        assert sources(table[name]), name
    listed = [s for ids in table["sources"].values() for s in ids]
    for source in (*sources(table), *listed):
        assert FACTS.source(source).title, source


@pytest.mark.parametrize(
    "place", ["Johannesburg", "Durban", "Nairobi", "Mexico City", "Kyiv", "Singapore", "Bogota"]
)
def test_a_place_without_a_record_near_is_refused(place: str) -> None:
    with pytest.raises(FarPlaceError, match="frost dates"):
        site(place)


def test_own_frost_dates_answer_for_a_place_without_a_record() -> None:
    found = resolve_site(place="Johannesburg", last_frost=(9, 1), first_frost=(5, 20), facts=FACTS).site
    assert found is not None
    assert found.southern
    assert found.basis == "own"


def test_no_record_across_the_equator() -> None:
    north = resolve_site(lat=33.0, lon=131.0, facts=FACTS, last_frost=(4, 1)).site
    assert north is not None
    assert not north.southern
    with pytest.raises(FarPlaceError):
        resolve_site(lat=8.0, lon=131.0, facts=FACTS)
    darwin = resolve_site(lat=-12.6, lon=131.2, facts=FACTS).site
    assert darwin is not None
    assert darwin.southern


def test_a_mountain_above_every_record_is_refused() -> None:
    with pytest.raises(FarPlaceError):
        resolve_site(lat=46.8, lon=-121.7, elevation_m=4200.0, facts=FACTS)


def test_between_records_a_blend_lies_between_them() -> None:
    portland, caribou, bangor = (
        site(p).freezes[32].last_spring for p in ("Portland, Maine", "Caribou", "Bangor, Maine")
    )
    assert portland is not None
    assert caribou is not None
    assert bangor is not None
    assert portland.offset_days < bangor.offset_days < caribou.offset_days
    used = site("Bangor, Maine").place
    assert used is not None
    assert sum(s.share for s in used.stations) == pytest.approx(1.0)
    assert 2 <= len(used.stations) <= 5


def test_a_coast_town_is_not_given_the_frost_of_the_basin_behind_it() -> None:
    basin, town = (site(p).freezes[32].last_spring for p in ("Tara Hills (Omarama)", "Dunedin, New Zealand"))
    assert basin is not None
    assert town is not None
    assert town.offset_days < basin.offset_days - 14


def test_large_namesakes_without_a_record_are_listed_beside_those_with_one() -> None:
    """Springfield, Massachusetts has 155,000 people, more than the one in Illinois (GeoNames)."""
    with pytest.raises(AmbiguousPlaceError) as error:
        place("Springfield")
    assert {"Springfield, IL", "Springfield, MO", "Springfield, MA"} <= set(error.value.candidates)


@given(st.text(alphabet=st.characters(codec="utf-8"), min_size=1, max_size=30))
def test_any_text_finds_a_place_or_says_why_not(text: str) -> None:
    """Through towns, districts and postal codes as well."""
    try:
        found = place(text)
    except UsageError:
        return
    assert found.site is not None or found.sites
