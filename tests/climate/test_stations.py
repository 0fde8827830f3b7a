"""Stations found by bisection, blended by distance and height; postal codes, counties, doubt."""

from __future__ import annotations

from pathlib import Path

import pytest

from gardenmate.climate.blend import Spot, choose, weight
from gardenmate.climate.place_words import doubt_sentence
from gardenmate.climate.places import find_place
from gardenmate.climate.site import Site
from gardenmate.climate.sorted_lines import lines_between
from gardenmate.climate.stations import StationLine, lines_near, read_station
from gardenmate.climate.town_table import in_table
from gardenmate.core.errors import AmbiguousPlaceError, DamagedFileError, UsageError
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
STATIONS = FACTS.root / "stations.csv"
TABLE = FACTS.table("climate")["blend"]


def site(name: str, elev_m: float | None = None) -> Site:
    found = find_place(name, FACTS, elev_m).site
    assert found is not None, name
    return found


@pytest.mark.parametrize("name", ["stations.csv", "towns.csv", "postcodes.csv"])
def test_every_line_of_a_table_is_found_by_bisection(name: str) -> None:
    path = FACTS.root / name
    lines = path.read_text("utf-8").splitlines()
    body = [line for line in lines if not line.startswith("#")]
    assert body == sorted(body, key=lambda line: line.encode())
    assert len(body) > 6500
    for line in body[:: len(body) // 300]:
        assert line in lines_between(path, line, f"{line}\x7f")
    assert lines_between(path, body[0], body[5]) == body[:5]
    assert lines_between(path, "\uffff", "\uffff\uffff") == []


def test_every_station_reads_and_its_dates_are_in_order() -> None:
    """28 F freezes end before and start after those of 32 F; a rare one has no dates."""
    lines = [line for line in STATIONS.read_text("utf-8").splitlines() if not line.startswith("#")]
    kinds: dict[str, int] = {}
    for text in lines:
        cells = text.split(",")
        line = StationLine(float(cells[1]), float(cells[2]), float(cells[3]), cells[7], text)
        station = read_station(line, STATIONS)
        kinds[station.kind] = kinds.get(station.kind, 0) + 1
        spring, _, fall, _, spring28, fall28, *_ = station.dates
        if station.kind == "r":
            assert spring is fall is spring28 is None
            continue
        assert spring is not None
        assert fall is not None
        assert spring28 is None or spring28 <= spring, station.name
        assert fall28 is None or fall28 >= fall, station.name
        assert all(low < high for low, high in zip(station.monthly_min_c, station.monthly_max_c, strict=True))
    assert kinds["a"] + kinds["x"] == 289  # "a freeze possible in any month" of the NCEI tables
    assert kinds["d"] > 5300


def test_only_stations_round_the_spot_are_read() -> None:
    near = lines_near(STATIONS, 45.68, -111.04)
    assert 12 <= len(near) < 150
    assert all(abs(line.lat - 45.68) < 5 and abs(line.lon + 111.04) < 6 for line in near)


def test_a_station_counts_less_the_further_and_the_higher_it_lies() -> None:
    assert weight(5, 0, False, TABLE) > weight(15, 0, False, TABLE) > weight(15, 300, False, TABLE)
    assert weight(15, -300, False, TABLE) == weight(15, 300, False, TABLE)
    assert weight(5, 0, True, TABLE) > weight(5, 0, False, TABLE)
    assert weight(5, 400, True, TABLE) == weight(5, 400, False, TABLE)


def test_at_most_twenty_stations_and_shares_that_sum_to_one() -> None:
    used = choose(lines_near(STATIONS, 39.9, -105.9), Spot(39.9, -105.9, 2600.0), TABLE)
    assert 2 <= len(used) <= TABLE["most"] == 20
    assert sum(u.share for u in used) == pytest.approx(1.0)
    assert [u.share for u in used] == sorted((u.share for u in used), reverse=True)


def test_higher_is_later_in_spring_and_earlier_in_fall() -> None:
    """Drawn to 3.9 and 2.3 days for 100 m in the west; a garden 300 m up is about 10 days later."""
    low, high = (site("Salida, CO", m).freezes[32] for m in (2150.0, 2450.0))
    assert low.last_spring is not None
    assert low.first_autumn is not None
    assert high.last_spring is not None
    assert high.first_autumn is not None
    assert 5 <= high.last_spring.offset_days - low.last_spring.offset_days <= 25
    assert 3 <= low.first_autumn.offset_days - high.first_autumn.offset_days <= 20


def test_stations_that_disagree_widen_the_spread_of_the_dates() -> None:
    sure, unsure = site("Burlington, CO"), site("Jackson, WY")
    assert sure.place is not None
    assert unsure.place is not None
    assert unsure.place.spread_days > sure.place.spread_days + 4
    assert sure.freezes[32].last_spring is not None
    assert unsure.freezes[32].last_spring is not None
    assert unsure.freezes[32].last_spring.sd_days > sure.freezes[32].last_spring.sd_days + 4


def test_doubt_is_said_in_one_sentence_with_its_figures() -> None:
    said = doubt_sentence(site("Jackson, WY"), "us")
    assert said is not None
    assert "Jackson, WY" in said
    assert "14 days" in said
    assert "elevation" in said
    high = doubt_sentence(site("Gunnison, CO", 2713.0), "us")
    assert high is not None
    assert "1,280 ft lower" in high
    assert "elevation" not in high
    metric = doubt_sentence(site("Gunnison, CO", 2713.0), "metric")
    assert metric is not None
    assert "390 m lower" in metric
    assert doubt_sentence(site("Burlington, CO"), "us") is None


@pytest.mark.parametrize(
    ("typed", "label"),
    [
        ("59715", "Bozeman, MT"),
        ("zip 59715", "Bozeman, MT"),
        ("59715-1234", "Bozeman, MT"),
        ("zip code 04769", "Presque Isle, ME"),
        ("K1A 0B1", "Ottawa, ON"),
        ("t2p", "Calgary, AB"),
    ],
)
def test_postal_codes(typed: str, label: str) -> None:
    """Towns of the US Postal Service and of Canada Post (from memory)."""
    found = find_place(typed, FACTS)
    assert found.site is not None
    assert found.site.label == label
    assert found.reading is not None


def test_a_code_that_is_none() -> None:
    with pytest.raises(UsageError, match="postal code 00099"):
        find_place("00099", FACTS)


def test_towns_of_one_name_are_told_apart_by_county() -> None:
    with pytest.raises(AmbiguousPlaceError) as error:
        find_place("Gunnison", FACTS)
    assert "Gunnison, CO (Gunnison County)" in error.value.candidates
    for candidate in error.value.candidates:
        assert find_place(candidate, FACTS).site is not None


def test_a_town_has_its_height_and_county() -> None:
    """Leadville lies at 10,158 feet (3,096 m) in Lake County (US Geological Survey, from memory)."""
    town = in_table("leadville", (("US", "CO"),))[0]
    assert town.elev_m == pytest.approx(3096, abs=20)
    assert town.county == "Lake"


def test_station_names_are_names_a_person_types() -> None:
    for typed in ("Bozeman, MT", "McLean, TX", "Scottsbluff, NE", "Conchas Dam, NM"):
        assert site(typed).place is not None, typed


def test_a_damaged_station_is_named(tmp_path: Path) -> None:
    path = tmp_path / "stations.csv"
    path.write_text(
        "# cell,lat\n044067,x,1,2,n,r,c,t,d\n136087,46.5,-93.0,300,Somewhere,MN,US,x,d,1,2\n", "utf-8"
    )
    with pytest.raises(DamagedFileError, match=r"stations\.csv"):
        lines_near(path, -45.5, -112.5)
    short = lines_near(path, 46.5, -93.0)[0]
    with pytest.raises(DamagedFileError, match="11 cells"):
        read_station(short, path)
