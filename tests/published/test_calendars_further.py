"""The engine against planting advice for places that were not used to set any term, but one: the day length of
season.toml [general] warm_light_hours was chosen with them in view.

Sources: every row of calendars_further.csv names its publication and address: extension and garden advice for
the hot south of the United States, the Oregon coast, Ireland, New Zealand, southern Australia and the north.
``work`` is what is done, sow or set; ``any`` where the publication only says "plant".
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date
from functools import cache

import pytest

from gardenmate.climate.places import resolve_site
from gardenmate.core.answer import Window
from gardenmate.knowledge.facts import Facts
from tests.published.calendar_scores import HERE, YEAR, day_number, windows_for

FACTS = Facts()
SOWN = ("sow-outdoors", "fall-sow")
SET = ("set-out", "fall-set-out")
WORK = {"sow": SOWN, "set": SET, "any": SOWN + SET}


@dataclass(frozen=True, slots=True)
class Fare:
    """How one published line fares: its middle accepted, any of it good, and the share of it accepted."""

    place: str
    crop: str
    middle: bool
    good: bool
    share: float


def days_of(first: date, last: date) -> set[int]:
    start = day_number(first)
    return {(start + i) % YEAR for i in range((last - first).days + 1)}


@cache
def fares() -> tuple[Fare, ...]:
    with (HERE / "calendars_further.csv").open(encoding="utf-8", newline="") as file:
        return tuple(_fare(row) for row in csv.DictReader(file))


def _fare(row: dict[str, str]) -> Fare:
    site = resolve_site(place=row["record"], facts=FACTS).site
    assert site is not None
    start, end = (
        day_number(date(2027, *map(int, row[key].split("-")))) for key in ("start_mmdd", "end_mmdd")
    )
    published = [(start + i) % YEAR for i in range((end - start) % YEAR + 1)]
    windows: list[Window] = [
        w for w in windows_for(row["crop"], site, FACTS) if w.activity in WORK[row["work"]]
    ]
    allowed = set().union(*(days_of(w.earliest, w.latest) for w in windows))
    good = set().union(*(days_of(w.best_from, w.best_to) for w in windows))
    return Fare(
        row["place"],
        row["crop"],
        published[len(published) // 2] in allowed,
        bool(good & set(published)),
        sum(d in allowed for d in published) / len(published),
    )


def test_most_published_windows_of_unseen_places_are_accepted() -> None:
    found = fares()
    assert len(found) >= 110
    assert sum(f.middle for f in found) / len(found) >= 0.88
    assert sum(f.share for f in found) / len(found) >= 0.85


def test_the_good_part_meets_them() -> None:
    assert sum(f.good for f in fares()) / len(fares()) >= 0.9


@pytest.mark.parametrize("place", sorted({f.place for f in fares()}))
def test_no_unseen_place_is_left_behind(place: str) -> None:
    mine = [f for f in fares() if f.place == place]
    assert sum(f.share for f in mine) / len(mine) >= 0.55


@pytest.mark.parametrize(
    ("place", "crop"),
    [
        ("East Texas (Henderson County)", "tomato"),
        ("South Florida", "tomato"),
        ("South coast of California", "strawberry"),
        ("Otago, New Zealand", "broad-bean"),
        ("Melbourne, Victoria", "garlic"),
        ("Tasmania", "broad-bean"),
    ],
)
def test_what_mild_and_hot_places_do_in_autumn(place: str, crop: str) -> None:
    mine = [f for f in fares() if (f.place, f.crop) == (place, crop)]
    assert mine
    assert all(f.middle and f.good for f in mine)
