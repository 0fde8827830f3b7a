"""Days as gardeners name them. 18 April 2027 is a Sunday."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.language.intent.reading import Reading
from gardenmate.language.intent.understand import read
from gardenmate.language.text.lexicon import Lexicon
from gardenmate.language.values.holidays import holiday

Read = Callable[..., Reading]
DAYS = [
    ("sow beets May 25", date(2027, 5, 25)),
    ("sow beets 25 May", date(2027, 5, 25)),
    ("sow beets on the 25th of may", date(2027, 5, 25)),
    ("sow beets 5/25", date(2027, 5, 25)),
    ("sow beets 25/5", date(2027, 5, 25)),
    ("sow beets 2027-05-25", date(2027, 5, 25)),
    ("beets sown tomorrow, when ready", date(2027, 4, 19)),
    ("I sowed beets yesterday, log it", date(2027, 4, 17)),
    ("plant out beets in two weeks?", date(2027, 5, 2)),
    ("can beets go out next Saturday", date(2027, 4, 24)),
    ("beets out by the 1st?", date(2027, 5, 1)),
    ("beets out on Mother's Day?", date(2027, 5, 9)),
    ("potatoes in on Good Friday?", date(2027, 3, 26)),
    ("log that I sowed beets last Friday", date(2027, 4, 16)),
    ("planted garlic on October 12 2026, log it", date(2026, 10, 12)),
    ("beets the first of may?", date(2027, 5, 1)),
]


@pytest.mark.parametrize(("text", "day"), DAYS)
def test_a_day(reading: Read, text: str, day: date) -> None:
    assert reading(text).question.slots.date == day


@pytest.mark.parametrize(
    "text",
    [
        "can I sow beets in April",
        "beets in early june?",
        "mid may for beets?",
        "beets out next weekend?",
        "may I sow beets",
        "beets in spring?",
    ],
)
def test_a_stretch_is_no_day(reading: Read, text: str) -> None:
    assert reading(text).question.slots.date is None


def test_day_first_where_dates_are_written_so(reading: Read) -> None:
    assert reading("sow beets 4/5", units="metric").question.slots.date == date(2027, 5, 4)
    assert reading("sow beets 4/5", units="us").question.slots.date == date(2027, 4, 5)


def test_holidays_against_the_calendar() -> None:
    """Dates of 2027 as printed in civil calendars (common practice)."""
    assert holiday("easter", 2027) == date(2027, 3, 28)
    assert holiday("memorial day", 2027) == date(2027, 5, 31)
    assert holiday("victoria day", 2027) == date(2027, 5, 24)
    assert holiday("labor day", 2027) == date(2027, 9, 6)
    assert holiday("melbourne cup day", 2027) == date(2027, 11, 2)
    assert holiday("thanksgiving", 2027) == date(2027, 11, 25)
    assert holiday("peppers", 2027) is None


@settings(max_examples=80, deadline=None)
@given(
    st.dates(date(2027, 1, 1), date(2027, 12, 31)),
    st.sampled_from(["{d} {m}", "{m} {d}", "the {d} of {m}", "{m} the {d}th"]),
)
def test_every_day_of_the_year_reads_back(lexicon: Lexicon, day: date, form: str) -> None:
    said = form.format(d=day.day, m=day.strftime("%B"))
    question = read(
        f"peas sown {said}, when ready?", today=date(2027, 4, 18), units="us", lexicon=lexicon
    ).question
    assert question.slots.date == day


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 60))
def test_days_from_now(lexicon: Lexicon, days: int) -> None:
    question = read(
        f"set out leeks in {days} days?", today=date(2027, 4, 18), units="us", lexicon=lexicon
    ).question
    assert question.slots.date == date(2027, 4, 18) + timedelta(days=days)
