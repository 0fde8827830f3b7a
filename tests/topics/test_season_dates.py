"""The season engine's windows as dates of this season and the next, and one place for a region."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from gardenmate.core.answer import Window
from gardenmate.topics.season.season_dates import PLANTING, SOWING, current, one_site, standing, windows_of
from tests.topics.money_world import FACTS, TODAY, world_at

W = Window("pea", "sow-outdoors", date(2027, 3, 1), date(2027, 3, 10), date(2027, 4, 10), date(2027, 5, 1))


@pytest.mark.parametrize(
    ("day", "state", "left"),
    [
        (date(2027, 2, 1), "before", 28),
        (date(2027, 3, 5), "early", 57),
        (date(2027, 3, 10), "best", 52),
        (date(2027, 4, 11), "late", 20),
        (date(2027, 5, 2), "after", -1),
    ],
)
def test_standing(day: date, state: str, left: int) -> None:
    found = standing(W, day)
    assert (found.state, found.days_left) == (state, left)


@pytest.mark.parametrize("place", ["Boise", "Hobart", "Leeds"])
def test_windows_come_in_order_and_reach_into_the_next_season(place: str) -> None:
    site = world_at(place).site
    assert site is not None
    found = windows_of(FACTS.crop("pea"), site, world_at(place), TODAY)
    assert list(found) == sorted(found, key=lambda w: (w.earliest, w.activity))
    assert all(w.earliest <= w.best_from <= w.best_to <= w.latest for w in found)
    assert max(w.earliest for w in found) > TODAY + timedelta(days=120)


def test_current_prefers_the_open_window() -> None:
    later = Window("pea", "sow-outdoors", *(date(2028, m, 1) for m in (3, 4, 5, 6)))
    autumn = Window("pea", "set-out", *(date(2027, m, 1) for m in (6, 7, 8, 9)))
    assert current((later, W, autumn), SOWING, date(2027, 4, 1)) == W
    assert current((later, W, autumn), SOWING, date(2027, 5, 2)) == later
    assert current((later, W, autumn), PLANTING, date(2027, 4, 1)) == autumn
    assert current((W,), PLANTING, date(2027, 4, 1)) is None


def test_a_region_stands_on_its_middle_place() -> None:
    world = world_at("Minnesota")
    site, note = one_site(world)
    assert site in world.sites
    assert note is not None
    assert "Minnesota" in note
    frosts = sorted(s.freezes[32].last_spring.offset_days for s in world.sites)  # type: ignore[union-attr]
    assert site.freezes[32].last_spring.offset_days == frosts[len(frosts) // 2]  # type: ignore[union-attr]


def test_a_place_needs_no_note_and_nowhere_has_none() -> None:
    assert one_site(world_at("Boise"))[1] is None
    assert one_site(world_at()) == (None, None)
