"""Which day a question is about."""

from datetime import date

import pytest

from gardenmate.records import replace
from gardenmate.topics.shared.asked_day import asked_day
from tests.topics.said import heard
from tests.topics.woody_bench import question, world


@pytest.mark.parametrize(
    ("cues", "day", "word"),
    [
        ({}, date(2027, 4, 18), "now"),
        ({"asked_month": "11"}, date(2027, 11, 15), "in November"),
        ({"asked_month": "4"}, date(2027, 4, 18), "now"),
        ({"asked_month": "2"}, date(2028, 2, 15), "in February"),
        ({"asked_season": "fall"}, date(2027, 10, 5), "in fall"),
        ({"asked_season": "spring"}, date(2027, 4, 18), "now"),
        ({"asked_season": ""}, date(2027, 4, 18), "now"),
        ({"asked_month": "11", "asked_season": "summer"}, date(2027, 11, 15), "in November"),
    ],
)
def test_days(cues: dict[str, str], day: date, word: str) -> None:
    then = asked_day(question("pruning", cues=cues), world("2027-04-18"))
    assert (then.world.today, then.word) == (day, word)
    assert bool(then.assumed) == (word != "now")


def test_a_typed_date_wins_and_a_past_one_is_today() -> None:
    ahead = asked_day(question("pruning", date=date(2027, 6, 3)), world("2027-04-18"))
    assert (ahead.world.today, ahead.word) == (date(2027, 6, 3), "on 3 Jun")
    gone = asked_day(question("pruning", date=date(2027, 4, 1)), world("2027-04-18"))
    assert gone.world.today == date(2027, 4, 18)


def test_fall_is_april_in_the_south() -> None:
    then = asked_day(question("pruning", cues={"asked_season": "fall"}), world("2027-01-10", "Hobart"))
    assert then.world.today == date(2027, 4, 5)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("cut my canes now? they bear in fall", "now"),
        ("the berries ripen in the autumn, when to cut", "now"),
        ("cut the canes in fall?", "in fall"),
        ("they fruit in fall; should I cut them in fall or later", "in fall"),
    ],
)
def test_the_season_of_the_fruit_is_not_that_of_the_job(text: str, word: str) -> None:
    asked = heard(replace(question("pruning", cues={"asked_season": "fall"}), text=text))
    assert asked_day(asked, world("2027-04-18")).word == word
