"""The date line: every mark on its own column, in order, in any width; months named where they begin."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gardenmate.core.answer import Mark
from gardenmate.present.dateline import date_line

TODAY = date(2027, 4, 18)
SEASON = (
    Mark("today", TODAY),
    Mark("last frost", date(2027, 5, 17)),
    Mark("set out", date(2027, 6, 6)),
    Mark("first pick", date(2027, 9, 4)),
    Mark("first frost", date(2027, 9, 27)),
)


@given(
    st.lists(st.dates(date(2026, 1, 1), date(2028, 12, 31)), min_size=1, max_size=12),
    st.integers(min_value=20, max_value=120),
)
def test_it_fits_and_keeps_every_mark_in_order(days: list[date], width: int) -> None:
    marks = [Mark(f"m{i}", day) for i, day in enumerate(days)]
    top, axis, *key = date_line(marks, TODAY, width)
    assert max(len(line) for line in (top, axis, *key)) <= width
    signs = [c for c in axis if c not in "-|"]
    assert signs == list("123456789abcdefg"[: len(set(days))])
    words = " ".join(" ".join(key).replace(",", " ").split()).split()
    assert {f"m{i}" for i in range(len(days))} <= set(words)


def test_a_mark_stands_where_its_day_is() -> None:
    _, axis, *_ = date_line(SEASON, TODAY, 76)
    start, end = TODAY - timedelta(days=4), SEASON[-1].on + timedelta(days=4)
    for sign, mark in zip("12345", SEASON, strict=True):
        share = (mark.on - start).days / (end - start).days
        assert abs(axis.index(sign) - share * 75) <= 0.5


def test_months_are_named_over_their_first_day() -> None:
    top, axis, *_ = date_line(SEASON, TODAY, 76)
    assert top.split() == ["Apr", "May", "Jun", "Jul", "Aug", "Sep"]
    for name in ("May", "Jun", "Jul", "Aug", "Sep"):
        assert axis[top.index(name)] == "|"


def test_narrow_lines_name_months_by_one_letter() -> None:
    top, *_ = date_line(SEASON, TODAY, 26)
    assert top.split() == ["A", "M", "J", "J", "A", "S", "O"]


def test_marks_of_one_day_share_a_sign_and_neighbours_stand_side_by_side() -> None:
    marks = [Mark("prune until", TODAY), Mark("buds open", TODAY), Mark("bloom", TODAY + timedelta(days=1))]
    marks.append(Mark("harvest", date(2028, 4, 1)))
    _, axis, *key = date_line(marks, TODAY, 40)
    assert "12" in axis
    assert key[0].startswith("1 prune until, buds open 18 Apr")


def test_marks_crowded_at_the_right_edge_move_left() -> None:
    end = date(2028, 4, 1)
    marks = [Mark("today", TODAY), *(Mark(f"m{n}", end + timedelta(days=n)) for n in range(6))]
    _, axis, *_ = date_line(marks, TODAY, 30)
    assert axis.replace("-", "").replace("|", "") == "1234567"


def test_another_year_is_said() -> None:
    key = date_line([Mark("today", TODAY), Mark("first pick", date(2028, 6, 1))], TODAY, 60)[2]
    assert key == "1 today 18 Apr   2 first pick 1 Jun 2028"


def test_no_marks_is_an_error() -> None:
    with pytest.raises(ValueError, match="needs a mark"):
        date_line([], TODAY, 60)
