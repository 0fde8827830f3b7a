"""How long the grower's own plants took, beside a table: which spans are told, how much they count, what is odd."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.plantings.current import SPANS, spans_told
from gardenmate.plantings.own_days import OwnSpan, beside

FACTS = Facts()
Say = Callable[[str, str], Answer]
SEASON = (
    ("2026-03-20", "I garden in Duluth"),
    ("2026-03-20", "my tomatoes are Glacier, 55 days"),
    ("2026-04-01", "sowed 12 Glacier tomatoes in tray 1 on the mat"),
    ("2026-04-08", "Glacier tomatoes are up"),
    ("2026-04-29", "potted up 12 tomatoes"),
    ("2026-06-03", "set out the Glacier tomatoes in bed 1"),
    ("2026-08-03", "picked the first Glacier tomatoes"),
)


class Evening:
    """A garden whose days pass as they are told."""

    def __init__(self, folder: Path) -> None:
        self.today = date(2026, 3, 20)
        garden = GardenFile(folder / "garden.toml")
        self.journal = Journal(folder / "journal.db", garden=garden)
        self.talk = Conversation(
            facts=FACTS, clock=lambda: self.today, garden_file=garden, journal=self.journal
        )

    def __call__(self, day: str, text: str) -> Answer:
        self.today = date.fromisoformat(day)
        return self.talk.ask(text)


@pytest.fixture
def say(tmp_path: Path) -> Evening:
    return Evening(tmp_path)


@pytest.fixture
def grown(say: Evening) -> Evening:
    for day, text in SEASON:
        say(day, text)
    return say


def test_the_spans_of_a_season(grown: Evening) -> None:
    found = {(s.kind, s.days, s.year, s.variety, s.mat, s.raised) for s in spans_told(grown.journal)}
    assert found == {
        ("up", 7, 2026, "Glacier", True, False),
        ("pot-up", 28, 2026, "Glacier", True, False),
        ("pick", 61, 2026, "Glacier", True, True),
    }


def test_spans_outlive_their_batch(grown: Evening) -> None:
    grown("2029-05-01", "sowed 6 kale in tray 2")
    grown("2031-05-01", "sowed 6 kale in tray 2")
    assert {s.kind for s in spans_told(grown.journal)} == {"up", "pot-up", "pick"}
    grown.journal.put_derived(SPANS, "none", "")  # worked out anew from the entries alone
    assert {s.kind for s in spans_told(grown.journal)} == {"up", "pot-up", "pick"}


def test_undo_takes_a_span_back(grown: Evening) -> None:
    grown("2026-08-03", "undo")
    assert {s.kind for s in spans_told(grown.journal)} == {"up", "pot-up"}


def span(days: int, year: int = 2026) -> OwnSpan:
    return OwnSpan("up", "tomato", date(year, 4, 1), days, entry=year)


@pytest.mark.parametrize(("count", "weight"), [(1, 1 / 3), (2, 1 / 2), (4, 2 / 3)])
def test_more_spans_count_for_more(count: int, weight: float) -> None:
    found = beside(10.0, [span(13, 2020 + n) for n in range(count)])
    assert found is not None
    assert found.weight == pytest.approx(weight)
    assert found.value == pytest.approx(10.0 + 3.0 * weight)


@pytest.mark.parametrize(("days", "odd"), [(21, True), (19, False), (4, True), (6, False)])
def test_twice_or_half_the_table_is_odd_and_left_out(days: int, odd: bool) -> None:
    found = beside(10.0, [span(days), span(11, 2025)])
    assert found is not None
    assert bool(found.odd) is odd
    assert found.mean == pytest.approx(11.0 if odd else (days + 11) / 2)


def test_of_three_days_two_more_are_no_wonder() -> None:
    found = beside(2.0, [span(5)])
    assert found is not None
    assert not found.odd


def test_the_first_picking_moves_the_next_and_says_so(grown: Evening) -> None:
    told = grown("2027-04-02", "when will tomatoes be ripe if I set them out on June 1?")
    said = " ".join(told.assumptions)
    assert "Your Glacier took 61 days from setting out in 2026; the packet says 55." in said


def test_a_quick_season_brings_the_picking_forward(tmp_path: Path) -> None:
    """The same garden twice, picked early and late: the early one is promised earlier."""
    promised = []
    for name, picked in (("a", "2026-07-25"), ("b", "2026-08-25")):
        say = Evening(tmp_path / name)
        for day, text in SEASON[:-1]:
            say(day, text)
        say(picked, "picked the first Glacier tomatoes")
        told = say("2027-04-02", "when will tomatoes be ripe if I set them out on June 1?")
        promised.append(next(n.value for n in told.numbers if n.unit == "date"))
    assert promised[0] < promised[1]


def test_a_slip_of_the_pen_is_asked_about(say: Evening) -> None:
    for day, text in SEASON[:-1]:
        say(day, text)
    say("2026-06-10", "picked the first Glacier tomatoes")
    told = " ".join(say("2027-04-02", "when will tomatoes be ripe if I set them out on June 1?").assumptions)
    assert "7 days from setting out in 2026" in told
    assert "is that right? I left it out." in told


def test_coming_up_and_potting_up_stand_beside_their_tables(grown: Evening) -> None:
    """Table: tomatoes at 77 F come up in 6 days (Harrington and Minges, University of California
    leaflet, 1954; from memory)."""
    up = grown("2027-04-02", "how long do tomatoes take to come up at 77 F?")
    assert "Yours came up in 7 days on the mat in 2026 (the table says 6)." in up.details
    own = next(n.value for n in up.numbers if n.name == "own_days_to_emerge")
    assert isinstance(own, float)
    assert 6.0 < own < 7.0
    potted = grown("2027-04-02", "when do I pot up tomatoes?")
    assert potted.details[0].startswith("You potted yours up 4.0 weeks after sowing in 2026; the table says")


def test_another_place_is_not_worked_with_the_garden_s_own_days(grown: Evening) -> None:
    told = grown("2027-04-02", "is it too late to start tomatoes in Fargo?")
    assert not any("Glacier took" in line for line in told.assumptions)
