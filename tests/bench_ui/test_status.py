"""The status line: date, place, the next average frost, units; it fits any width and never fails."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from gardenmate.bench.status import fitted, status_of
from gardenmate.dialogue.conversation import Conversation, PlaceOptions
from gardenmate.knowledge.facts import Facts

FACTS = Facts()


def at(place: str | None, day: date) -> Conversation:
    return Conversation(FACTS, lambda: day, PlaceOptions(place=place))


def test_the_window_that_closes_next_and_the_next_job_are_told() -> None:
    talk = at("Duluth", date(2027, 4, 18))
    line = fitted(status_of(talk), 100)
    assert line.startswith("18 Apr | Duluth, MN | sow peppers indoors by ")
    closing, job = line.split(" | ")[2:4]
    last = datetime.strptime(f"{closing.split(' by ')[1]} 2027", "%d %b %Y").date()
    for day, verdicts in (
        (last, {"yes", "tight"}),
        (last + timedelta(days=1), {"no"}),
    ):  # what is asked agrees
        assert talk.ask(f"can I still sow peppers indoors on {day.isoformat()}?").verdict in verdicts
    assert job.startswith("next: ")
    assert closing.split(" by ")[0] not in job


@pytest.mark.parametrize(
    ("day", "frost"),
    [
        (date(2027, 4, 18), "last frost in 29 days"),
        (date(2027, 5, 16), "last frost in 1 day"),
        (date(2027, 5, 17), "last frost about today"),
        (date(2027, 5, 18), "first frost in 132 days"),
        (date(2027, 11, 20), "last frost in 178 days"),
    ],
)
def test_the_next_average_frost_is_counted(day: date, frost: str) -> None:
    # Duluth, MN: 50% dates of 32 F, NOAA NCEI U.S. Climate Normals (17 May and 27 September).
    assert any(frost in parts for parts in status_of(at("Duluth", day)))


def test_celsius_and_a_southern_spring() -> None:
    line = fitted(status_of(at("Christchurch", date(2027, 7, 20))), 100)
    assert line.startswith("20 Jul | ")
    assert line.endswith("C")
    choices = status_of(at("Christchurch", date(2027, 7, 20)))
    assert any("last frost in" in part for parts in choices for part in parts)


def test_without_a_place_it_says_what_to_tell() -> None:
    assert fitted(status_of(at(None, date(2027, 4, 18))), 100) == (
        "18 Apr | no place yet: say 'I garden in ...' | F"
    )


@pytest.mark.parametrize("width", range(6, 60, 4))
def test_it_fits_any_width(width: int) -> None:
    line = fitted(status_of(at("Duluth", date(2027, 4, 18))), width)
    assert len(line) <= width
    assert line.startswith("18 Apr")


def test_a_place_that_cannot_be_found_leaves_it_quiet() -> None:
    assert fitted(status_of(at("Qwxyzville", date(2027, 4, 18))), 100) == "18 Apr"
