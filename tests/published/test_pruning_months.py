"""Pruning windows at places against the months extension services print for them, and green tip dates."""

from datetime import date, timedelta
from statistics import median

import pytest

from gardenmate.knowledge.woody import woody
from gardenmate.science.chilling import expected_degree_days
from gardenmate.topics.pruning.seasons import cuts
from gardenmate.topics.shared.woody_phase import bloom, site_spring
from tests.topics.woody_bench import FACTS, ask, place

# plant, place near by, printed window (month, day) both ends, publication. "Early", "mid" and "late" of a
# month are taken as its 1st-10th, 11th-20th and 21st-end.
PRINTED = [
    ("apple", "Salt Lake City", (2, 1), (4, 30), "usu-when"),  # "February to late April"
    ("apple", "Minneapolis", (2, 1), (3, 31), "umn-prune-now"),  # fruit trees: "February to March"
    ("pear", "Minneapolis", (2, 1), (3, 31), "umn-prune-now"),
    ("apple", "Charleston, WV", (3, 1), (3, 31), "wv-late"),  # "March is usually the best time"
    ("grape", "Des Moines", (2, 21), (4, 10), "isu-grape-2016"),  # late February to early April
    ("raspberry-summer", "Des Moines", (3, 1), (4, 10), "isu-raspberry-2011"),  # March or early April
    ("raspberry-fall", "Des Moines", (3, 1), (4, 10), "isu-raspberry-2006"),  # March or early April
    ("raspberry-summer", "Harrisburg", (3, 1), (3, 31), "psu-bramble"),  # March is best
    ("currant-red", "Harrisburg", (3, 1), (4, 10), "psu-ribes"),  # March or early April
    ("fig", "Little Rock", (2, 21), (3, 10), "ar-fig"),  # late February to early March
    ("kiwi", "Portland, OR", (12, 21), (1, 31), "pnw507"),  # late December to late January
    ("hardy-kiwi", "Portland, OR", (12, 21), (1, 31), "pnw507"),
    ("rose", "Des Moines", (4, 11), (4, 30), "unl-prune-march"),  # mid to late April, Nebraska
    ("strawberry-june", "Columbus, OH", (6, 15), (7, 15), "ohio-strawberry"),  # done by July 15
    ("apricot", "Sacramento", (7, 1), (8, 31), "uc-apricot"),  # July and August
    ("cherry-sweet", "Sacramento", (7, 1), (8, 31), "uc-visalia"),
    ("lilac", "Des Moines", (5, 11), (6, 15), "isu-spring-shrub"),  # right after bloom in May
    ("forsythia", "Richmond, VA", (4, 1), (6, 30), "vt-shrubcal"),  # April to June
    ("blueberry-southern-highbush", "Jacksonville", (5, 21), (6, 15), "uf-hs1359"),  # usually early June
]  # fmt: skip
GRACE = timedelta(days=10)


def windows(plant_id: str, where: str) -> list[tuple[date, date]]:
    site = place(where).site
    assert site is not None
    spring = site_spring(FACTS, site, date(2027, 1, 10))
    return [(c.start, c.end) for c in cuts(woody(FACTS, plant_id), spring) if not c.season.lesser]


def printed_span(start: tuple[int, int], end: tuple[int, int]) -> tuple[date, date]:
    first = date(2026 if start > end else 2027, *start)
    return first, date(2027, *end)


@pytest.mark.parametrize(("plant", "where", "start", "end", "source"), PRINTED)
def test_a_printed_window_is_ours(
    plant: str, where: str, start: tuple[int, int], end: tuple[int, int], source: str
) -> None:
    """Its middle lies in ours (ten days of grace), and both ends within six weeks of ours: a service prints
    the best months of a whole state, ours is every day at this place on which the cut does no harm."""
    assert FACTS.source(source).title
    first, last = printed_span(start, end)
    middle = first + (last - first) / 2
    ours = nearest(plant, where, middle)
    assert ours[0] - GRACE <= middle <= ours[1] + GRACE, ours
    assert abs((ours[0] - first).days) <= 42, ours
    assert abs((ours[1] - last).days) <= 42, ours


def nearest(plant: str, where: str, middle: date) -> tuple[date, date]:
    """Our window whose middle lies nearest."""
    return min(windows(plant, where), key=lambda w: abs((w[0] + (w[1] - w[0]) / 2 - middle).days))


def test_window_ends_are_usually_within_two_weeks_of_the_printed_ones() -> None:
    """Over all rows: half of the starts and half of the ends, "early" and "late" of a month being ten days
    wide."""
    off_start, off_end = [], []
    for plant, where, start, end, _ in PRINTED:
        first, last = printed_span(start, end)
        ours = nearest(plant, where, first + (last - first) / 2)
        off_start.append(abs((ours[0] - first).days))
        off_end.append(abs((ours[1] - last).days))
    assert median(off_start) <= 14
    assert median(off_end) <= 14


@pytest.mark.parametrize(
    ("plant", "where"), [(p, w) for p, w, *_ in PRINTED if p in ("apple", "pear", "apricot")]
)
def test_autumn_is_refused(plant: str, where: str) -> None:
    """Utah State (When to prune) and NC State (Don't fall prune fruit trees, 2007): not in autumn."""
    assert ask("pruning", plant.split("-")[0], today="2027-10-20", where=where).verdict == "no"


# Dates of green tip of apples: Michigan State University Extension (Peach Ridge, McIntosh since 1976):
# 15 April in the late 1970s, 5 April by 2014, bloom about a month later (12 and 5 May). University of
# Massachusetts (Belchertown, 2019): not before about mid-April. Nova Scotia (Kentville, 2022): about 18 April
# give or take, in a year a week early.
@pytest.mark.parametrize(
    ("where", "earliest", "latest"),
    [
        ("Grand Rapids", (4, 5), (4, 15)),
        ("Worcester, MA", (4, 8), (4, 20)),
        ("Greenwood, Nova Scotia", (4, 14), (4, 30)),
    ],
)
def test_green_tip_dates(where: str, earliest: tuple[int, int], latest: tuple[int, int]) -> None:
    site = place(where).site
    assert site is not None
    assert (
        date(2027, *earliest) <= site_spring(FACTS, site, date(2027, 1, 10)).green_tip <= date(2027, *latest)
    )


def test_full_bloom_follows_green_tip_by_a_month_at_peach_ridge() -> None:
    site = place("Grand Rapids").site
    assert site is not None
    spring = site_spring(FACTS, site, date(2027, 1, 10))
    flowers = bloom(woody(FACTS, "apple"), spring)
    assert flowers is not None
    assert date(2027, 5, 5) <= flowers <= date(2027, 5, 15)


@pytest.mark.parametrize("where", ["Yakima", "Grand Rapids", "London Heathrow"])
def test_sweet_cherry_bloom_agrees_with_the_norwegian_sum(where: str) -> None:
    """254 C-days above 2 C from 1 March to full bloom (Acta Horticulturae 1162, 2017): within ten days."""
    site = place(where).site
    assert site is not None
    table = FACTS.table("chilling")
    check = FACTS.table("woody/cherry-sweet")["bloom_check"]
    need, base = check["full_bloom_dd_c"], check["base_c"]
    day, total = date(2027, 3, 1), 0.0
    while total < need:
        total += expected_degree_days(site.min_c(day), site.max_c(day), base, table["day_spread"]["day_sd_c"])
        day += timedelta(days=1)
    flowers = bloom(woody(FACTS, "cherry-sweet"), site_spring(FACTS, site, date(2027, 1, 10)))
    assert flowers is not None
    assert abs((flowers - day).days) <= 10
