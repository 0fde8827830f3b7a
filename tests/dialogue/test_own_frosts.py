"""Frosts and readings told of one year: kept, taken back, and in every answer that rests on the garden's dates."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts

FACTS = Facts()
TODAY = date(2026, 10, 2)
Talk = Callable[..., Conversation]


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    def make(today: date = TODAY) -> Conversation:
        garden = GardenFile(tmp_path / "garden.toml")
        journal = Journal(tmp_path / "journal.db", garden=garden)
        found = Conversation(facts=FACTS, clock=lambda: today, garden_file=garden, journal=journal)
        if garden.garden.place is None:
            found.tell("I garden in Duluth")
        return found

    return make


@pytest.mark.parametrize(
    ("said", "on", "called", "temp_c"),
    [
        ("first frost last night", date(2026, 10, 2), "first", None),
        ("first frost yesterday", date(2026, 10, 1), "first", None),
        ("last frost was 20 May in 2026", date(2026, 5, 20), "last", None),
        ("our last frost in 2025 was May 28", date(2025, 5, 28), "last", None),
        ("first frost was 18 September 2025", date(2025, 9, 18), "first", None),
        ("last frost this year was 3 May", date(2026, 5, 3), "last", None),
        ("28 on my thermometer this morning", date(2026, 10, 2), None, -2.22),
        ("frost this morning, 30 F", date(2026, 10, 2), None, -1.11),
        ("we had a killing frost on 25 september", date(2026, 9, 25), None, None),
        ("it went down to 26 last night", date(2026, 10, 2), None, -3.33),
        ("frost last night, first of the autumn", date(2026, 10, 2), "first", None),
        ("41 on the thermometer this morning", date(2026, 10, 2), None, 5.0),
    ],
)
def test_a_frost_is_kept_with_its_day(
    talk: Talk, said: str, on: date, called: str | None, temp_c: float | None
) -> None:
    conversation = talk()
    conversation.ask(said)
    assert conversation.journal is not None
    (entry,) = conversation.journal.latest(1)
    assert (entry.action, entry.on, entry.detail.get("called")) == ("frost", on, called)
    assert entry.temp_c == (None if temp_c is None else pytest.approx(temp_c, abs=0.01))


@pytest.mark.parametrize(
    "said",
    [
        "when is the first frost?",
        "is a frost likely tonight",
        "frost tonight, 28",
        "my last frost is May 20",
        "the average last frost is 12 May",
        "28 in the frame this morning",
        "frost got the basil last night",
        "will it freeze again after last night?",
        "last frost",
    ],
)
def test_a_question_an_average_and_a_loss_are_no_frost(talk: Talk, said: str) -> None:
    conversation = talk()
    conversation.ask(said)
    assert conversation.journal is not None
    assert [d.action for d in conversation.journal.search(action="frost")] == []


def test_every_answer_uses_the_own_years_and_undo_takes_them_back(talk: Talk) -> None:
    conversation = talk()
    before = conversation.ask("when do I set out tomatoes?")
    for year in range(2020, 2027):
        conversation.ask(f"last frost was 5 June in {year}")
    after = conversation.ask("when do I set out tomatoes?")
    assert after.windows[0].earliest is not None
    assert before.windows[0].earliest is not None
    assert after.windows[0].earliest > before.windows[0].earliest + timedelta(days=3)
    assert any("your dates for 2020-2026" in line for line in after.assumptions)
    for _ in range(7):
        conversation.ask("undo")
    again = conversation.ask("when do I set out tomatoes?")
    assert again.windows[0].earliest == before.windows[0].earliest


def test_where_is_my_garden_shows_stations_own_years_and_both(talk: Talk) -> None:
    conversation = talk()
    conversation.ask("last frost was 28 May in 2025")
    conversation.ask("last frost was 30 May in 2026")
    shown = " ".join(conversation.ask("where is my garden?").details)
    # NOAA NCEI Normals 1981-2010 for Duluth: last 32 F freeze at even chance 17 May.
    assert "Stations: 17 May" in shown
    assert "Your 2 years: 28 May 2025, 30 May 2026" in shown
    assert "Together: " in shown


def test_what_can_hardly_be_is_asked_about(talk: Talk) -> None:
    conversation = talk()
    for said in ("first frost was 3 July 2024", "last frost was 1 April 2024"):
        answer = conversation.ask(said)
        assert "Which day was it?" in answer.headline
        assert not answer.effects


def test_own_frosts_stay_with_the_garden_they_were_told_of(talk: Talk) -> None:
    conversation = talk()
    conversation.ask("last frost was 5 June in 2025")
    elsewhere = conversation.ask("when is the last frost in Fargo?")
    assert not any("your dates for" in line for line in elsewhere.assumptions)
    conversation.ask("I garden in Fargo, ND now")
    assert conversation.world().site is not None
    assert conversation.world().site.own_years is None  # type: ignore[union-attr]


def test_a_frost_of_another_year_is_put_right_in_its_year(talk: Talk) -> None:
    conversation = talk()
    conversation.ask("last frost was 22 May in 2024")
    conversation.ask("no, 24 May")
    assert conversation.journal is not None
    (entry,) = conversation.journal.search(action="frost")
    assert entry.on == date(2024, 5, 24)


def test_own_frosts_are_told_back_by_year(talk: Talk) -> None:
    conversation = talk()
    assert "told me no frosts" in conversation.ask("what frosts have I told you?").headline
    for said in ("last frost was 28 May in 2025", "last frost was 20 May in 2026", "first frost last night"):
        conversation.ask(said)
    shown = conversation.ask("what frosts have I told you?")
    assert shown.headline == "Your own frosts: last 28 May 2025, 20 May 2026; first 2 Oct 2026."
    assert shown.table is not None
    assert shown.table.rows == (("2025", "28 May", ""), ("2026", "20 May", "2 Oct"))
    one = conversation.ask("when was my last frost last year?")
    assert one.headline == "In 2025 the last frost was 28 May, as you told me."
    none = conversation.ask("when was the first frost in 2025?")
    assert none.headline == "I have no first frost of 2025 from you."
    known = conversation.ask("what do you know about my garden?")
    assert known.table is not None
    assert any(row[0] == "Own frosts" for row in known.table.rows)


def test_a_frost_of_another_garden_moves_nothing_here(talk: Talk) -> None:
    conversation = talk()
    conversation.ask("I have a second garden at camp in Jackman ME")
    conversation.ask("last frost at camp was 18 June in 2026")
    assert conversation.journal is not None
    (entry,) = conversation.journal.search(action="frost")
    assert entry.detail.get("garden") == "camp"
    site = conversation.world().site
    assert site is not None
    assert site.own_years is None
