"""How a year went: worked from the plantings, and what to move next year."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation
from gardenmate.dialogue.season_sheet import season_sheet
from gardenmate.garden.store import GardenFile
from gardenmate.journal.store import Journal
from gardenmate.knowledge.facts import Facts
from gardenmate.present.sheet import svg

FACTS = Facts()
YEAR = (
    ("2026-03-20", "I garden in Duluth"),
    ("2026-03-20", "remind me to sow tomatoes on April 10"),
    ("2026-04-10", "sowed 12 tomatoes in tray 1 on the mat"),
    ("2026-05-12", "set out 6 peppers in bed 3"),
    ("2026-05-21", "last frost was 20 May in 2026"),
    ("2026-05-21", "lost the peppers to frost"),
    ("2026-06-03", "set out the tomatoes in bed 1"),
    ("2026-08-20", "picked the first tomatoes"),
    ("2026-09-25", "first frost this morning"),
)


class Evening:
    """A garden whose days pass as they are told."""

    def __init__(self, folder: Path) -> None:
        self.today = date(2026, 3, 20)
        garden = GardenFile(folder / "garden.toml")
        self.talk = Conversation(
            facts=FACTS,
            clock=lambda: self.today,
            garden_file=garden,
            journal=Journal(folder / "journal.db", garden=garden),
        )

    def __call__(self, day: str, text: str) -> Answer:
        self.today = date.fromisoformat(day)
        return self.talk.ask(text)


@pytest.fixture
def say(tmp_path: Path) -> Evening:
    evening = Evening(tmp_path)
    for day, text in YEAR:
        evening(day, text)
    return evening


def row(answer: Answer, crop: str) -> dict[str, str]:
    assert answer.table is not None
    found = next(r for r in answer.table.rows if r[0].startswith(crop))
    return dict(zip(answer.table.heads, found, strict=True))


@pytest.mark.parametrize(
    ("day", "asked"),
    [
        ("2027-03-01", "how did last year go?"),
        ("2027-11-30", "how did last year go?"),
        ("2026-11-30", "how did this year go?"),
        ("2028-02-01", "how did 2026 go?"),
        ("2027-03-01", "look back at last year"),
        ("2027-03-01", "what should I change next year"),
    ],
)
def test_a_year_is_told_by_its_plantings(say: Evening, day: str, asked: str) -> None:
    told = say(day, asked)
    assert told.headline.startswith("2026: 2 plantings, 1 picked, 1 lost.")
    tomatoes, peppers = row(told, "tomatoes"), row(told, "peppers")
    assert tomatoes["planned"] == "10 Apr"
    assert "sown indoors 10 Apr" in tomatoes["done, against its window"]
    assert "set out 3 Jun, in good time" in tomatoes["done, against its window"]
    assert tomatoes["came of it"] == "picked 20 Aug"
    assert "days early (outside it)" in peppers["done, against its window"]
    assert peppers["came of it"] == "lost 21 May"
    assert "That year's last frost 20 May and first frost 25 Sep." in told.details


def test_what_the_frost_took_moves_first(say: Evening) -> None:
    told = say("2027-03-01", "how did last year go?")
    # Out on 12 May, last frost 20 May: nine days later is the day after it.
    assert told.steps[0] == "Set peppers out 9 days later, or cover it: frost took it."
    assert 1 <= len(told.steps) <= 3


def test_a_late_start_is_moved_earlier_by_its_days(say: Evening) -> None:
    say("2026-07-20", "sowed 20 leeks in tray 2")
    told = say("2027-03-01", "how did last year go?")
    leeks = row(told, "leeks")
    assert "late (outside it)" in leeks["done, against its window"]
    assert leeks["came of it"] == "no picking noted"
    moved = next(s for s in told.steps if s.startswith("Sow leeks indoors"))
    days = int(moved.removeprefix("Sow leeks indoors ").split()[0])
    assert "earlier, by" in moved
    assert f"{days} days late" in leeks["done, against its window"]


def test_plants_lost_of_a_sowing_are_counted(say: Evening) -> None:
    say("2026-06-20", "lost 3 tomatoes to slugs")
    assert (
        row(say("2026-12-01", "how did this year go?"), "tomatoes")["came of it"] == "picked 20 Aug, 3 lost"
    )


def test_a_year_without_plantings_is_said(say: Evening) -> None:
    assert "no plantings of 2024" in say("2027-03-01", "how did 2024 go?").headline


def test_the_sheet_of_the_next_year_has_the_last_one_on_it(say: Evening) -> None:
    say("2027-03-01", "how did last year go?")
    sheet = season_sheet(say.talk)
    assert sheet.last_year[0] == "2026 in the log"
    assert any("peppers" in line for line in sheet.last_year)
    assert "2026 in the log" in svg(sheet)
