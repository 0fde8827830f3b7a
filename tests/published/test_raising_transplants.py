"""Trays, weeks, mat settings and hardening against printed transplant tables."""

from datetime import date, timedelta

import pytest

from gardenmate.core.question import CropRef
from gardenmate.core.units import c_to_f, f_to_c
from gardenmate.knowledge.facts import Facts
from gardenmate.science.seed_counts import mix_litres
from gardenmate.topics.seedlings.bottom_heat import warmth_of
from gardenmate.topics.seedlings.hardening_facts import hardening_of
from gardenmate.topics.shared.containers import containers, weeks_in
from gardenmate.topics.shared.raising import Named
from tests.topics.raising_bench import ask, bare_world, number

FACTS = Facts()


def crop(name: str):  # type: ignore[no-untyped-def]
    found = FACTS.crop_for(CropRef(*name.split("/")))
    assert found is not None
    return found


# University of Delaware Extension, Times and Temperatures for Vegetable Transplant Production (adapted from
# Mid-Atlantic Commercial Vegetable Production Recommendations, Table A-4): weeks to grow and tray sizes.
@pytest.mark.parametrize(
    ("name", "trays", "weeks"),
    [
        ("broccoli", ("72",), (4, 7)),
        ("cabbage", ("72",), (6, 7)),
        ("cauliflower", ("72",), (6, 8)),
        ("cucumber", ("50", "72"), (2, 4)),
        ("eggplant", ("50", "72", "128"), (6, 9)),
        ("lettuce", ("128", "200"), (4, 6)),  # also in 96 cells there: no such tray here
        ("melon", ("50", "72"), (2, 4)),
        ("onion", ("288",), (9, 12)),  # also in 338 cells there: no such tray here
        ("pepper", ("72", "128"), (7, 9)),
        ("summer-squash", ("50", "72"), (2, 4)),
        ("tomato", ("50", "72", "128"), (5, 6)),
        ("watermelon", ("50", "72"), (3, 4)),
    ],
)
def test_a_tray_lasts_as_long_as_growers_are_told_to_use_it(
    name: str, trays: tuple[str, ...], weeks: tuple[float, float]
) -> None:
    """Within two weeks at either end: the table is for heated houses, whose plants are ready a week or two
    earlier or held as much longer than those of a spare room."""
    row = FACTS.group_of(crop(name), "potting")
    assert row is not None
    kept = [weeks_in(containers(FACTS)[tray], row) for tray in trays]
    assert min(low for low, _ in kept) == pytest.approx(weeks[0], abs=2.0)
    assert max(high for _, high in kept) == pytest.approx(weeks[1], abs=2.0)


# University of Idaho Extension CIS 1209, "Start Seeds Indoors with Success", Table 1: to germinate.
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("tomato", 75, 80),
        ("pepper", 75, 85),
        ("melon", 80, 85),
        ("broccoli", 65, 75),
        ("cabbage", 65, 75),
        ("kale", 65, 75),
        ("lettuce", 65, 70),
        ("onion", 65, 75),
        ("leek", 65, 75),
        ("basil", 70, 85),
    ],
)
def test_mat_settings_are_those_of_a_second_table(name: str, low: float, high: float) -> None:
    """Each end within 10 F and the middle within 5 F: seed comes up over a wide span, tables name different
    parts."""
    ours = [c_to_f(end) for end in warmth_of(crop(name), FACTS).germinate_c]
    assert ours[0] == pytest.approx(low, abs=10.0)
    assert ours[1] == pytest.approx(high, abs=10.0)
    assert sum(ours) / 2 == pytest.approx((low + high) / 2, abs=5.0)


# Utah State University Extension, Utah Vegetable Production Guide: Transplant Production, general table:
# weeks from sowing to transplant; a crop's last pot must carry it that long.
@pytest.mark.parametrize(
    ("name", "weeks"),
    [
        ("tomato", 8),
        ("pepper", 9),
        ("eggplant", 8),
        ("onion", 12),
        ("lettuce", 6),
        ("cucumber", 4),
        ("cabbage", 7),
    ],
)
def test_the_last_pot_carries_it_to_planting(name: str, weeks: float) -> None:
    row = FACTS.group_of(crop(name), "potting")
    assert row is not None
    longest = weeks_in(containers(FACTS)[row["steps"][-1]], row)[1]
    assert weeks <= longest <= 1.5 * weeks  # not so big that it is never filled: half as long again


# Ontario Ministry of Agriculture, "Growing vegetable transplants in plug trays", Table 1: 43 cm3 a cell in a
# 72-cell tray, 3.1 litres a tray before settling.
def test_mix_for_a_tray() -> None:
    assert mix_litres(72, containers(FACTS)["72"].cm3) == pytest.approx(3.1, abs=0.05)


# University of Maryland Extension, "Hardening vegetable seedlings for the home garden", 2023: 7 to 14 days;
# planting on day 140 means starting on day 126 to 133.
def test_hardening_starts_one_to_two_weeks_before_planting() -> None:
    out = date(2027, 1, 1) + timedelta(days=139)
    reply = ask("hardening-off", "tomato", date=out, world=bare_world(today=date(2027, 4, 1)))
    start = number(reply, "harden_from")
    assert isinstance(start, date)
    assert start.timetuple().tm_yday == 126
    assert "13 May" in reply.headline  # day 133


# Same publication: tender seedlings come in below 45 F while hardening; cucumber may stay out to 50 F.
@pytest.mark.parametrize(
    "name", ["tomato", "pepper", "eggplant", "cucumber", "melon", "basil", "summer-squash"]
)
def test_tender_plants_come_in_below_45(name: str) -> None:
    found = crop(name)
    kept = hardening_of(Named(found, found.base, found.name), bare_world())
    assert kept.hard_night_c >= f_to_c(45)
    assert ask("hardening-off", name, f=44, when="tonight").verdict == "no"


def test_cucumber_stays_out_to_50() -> None:
    found = crop("cucumber")
    kept = hardening_of(Named(found, found.base, found.name), bare_world())
    assert c_to_f(kept.hard_night_c) == pytest.approx(50)


# Toronto Master Gardeners, "Hardening off/delay planting": tomato, basil, pepper only from 10 C.
@pytest.mark.parametrize("name", ["tomato", "basil", "pepper"])
def test_none_of_these_stay_out_below_ten_degrees(name: str) -> None:
    assert ask("hardening-off", name, c=9.4, when="tonight", world=bare_world(units="metric")).verdict == "no"


# Hennepin County Master Gardeners (University of Minnesota Extension), 2014: not worth setting out a day
# under 50 F; an hour or so the first days.
def test_a_cold_day_is_not_a_first_outing() -> None:
    assert ask("hardening-off", "tomato", f=47, role="high", cues={"asks": "first-day"}).verdict == "no"
    assert ask("hardening-off", "tomato", f=62, role="high", cues={"asks": "first-day"}).verdict == "tight"


# Iowa State University Extension, Horticulture and Home Pest News, 18 March 1992: broccoli and cauliflower
# held several days below 50 F, or large and root-bound, may make tiny heads.
@pytest.mark.parametrize("name", ["broccoli", "cauliflower"])
def test_buttoning_is_told(name: str) -> None:
    headline = ask("hardening-off", name, cues={"asks": "hold"}).headline
    assert "50 F" in headline
    assert "tiny heads" in headline
