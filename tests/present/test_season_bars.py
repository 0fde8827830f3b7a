"""The drawn calendar: bars where the windows are, frost odds above, no line too wide."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from gardenmate.core.answer import Window
from gardenmate.present.season_bars import BarRow, season_bars

START = date(2027, 1, 1)
PEAS = Window(
    "pea", "sow-outdoors", date(2027, 4, 1), date(2027, 4, 10), date(2027, 4, 30), date(2027, 5, 20)
)
LATE = Window(
    "garlic", "fall-sow", date(2027, 12, 1), date(2027, 12, 10), date(2028, 1, 5), date(2028, 1, 10)
)
NO_FROST: list[float | None] = [None] * 365


@pytest.mark.parametrize("width", [40, 50, 80, 100])
def test_no_line_is_wider_than_asked(width: int) -> None:
    odds: list[float | None] = [0.5] * 365
    lines = season_bars([BarRow("a very long name of a crop indeed", (PEAS,))], START, odds, width)
    assert max(map(len, lines)) <= width
    assert len(lines) == 3


def test_capitals_mark_the_good_part_and_p_the_picking() -> None:
    picks = ((date(2027, 6, 10), date(2027, 7, 10)),)
    _, bar = season_bars([BarRow("peas", (PEAS,), picks)], START, NO_FROST, 385)
    days = bar[20:]

    def signs(first: date, last: date) -> set[str]:
        return set(days[(first - START).days : (last - START).days + 1])

    assert len(days) == 365
    assert signs(date(2027, 4, 1), date(2027, 4, 9)) == {"o"}
    assert signs(date(2027, 4, 10), date(2027, 4, 30)) == {"O"}
    assert signs(date(2027, 5, 1), date(2027, 5, 20)) == {"o"}
    assert signs(date(2027, 6, 10), date(2027, 7, 10)) == {"p"}
    assert signs(date(2027, 7, 11), date(2027, 12, 31)) == {"."}


def test_a_window_over_new_year_comes_round() -> None:
    _, bar = season_bars([BarRow("garlic", (LATE,))], START, NO_FROST, 385)
    assert bar[20:25] == "OOOOO"
    assert bar.endswith("OOO")


def test_frost_odds_are_tenths_with_a_sign_for_nearly_all() -> None:
    odds: list[float | None] = [1.0, 0.62, 0.04, None] + [0.1] * 361
    _, frost = season_bars([], START, odds, 385)
    assert frost[20:25] == "#6  1"


def test_the_year_may_start_in_any_month() -> None:
    top, *_ = season_bars([], date(2027, 7, 1), NO_FROST, 100)
    assert top.split()[0] == "Jul"
    assert top.split()[-1] == "Jun"
    assert START + timedelta(days=365) == date(2028, 1, 1)
