"""Past years on record: the strip, and what they do to the chance of a start."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from gardenmate.climate.history import History
from gardenmate.climate.import_weather import import_weather
from gardenmate.core.answer import Answer
from gardenmate.dialogue.conversation import Conversation
from gardenmate.garden.store import GardenFile
from gardenmate.knowledge.facts import Facts
from gardenmate.present.layout import Look, plain
from gardenmate.topics.season.replay import FAILED, MISSING, WORKED, Replay, YearRun, strip

FACTS = Facts()
RECORD = Path(__file__).parents[2] / "published" / "data" / "champion.csv.gz"


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, History]:
    folder = tmp_path_factory.mktemp("garden")
    return folder, import_weather(RECORD, folder / "garden.weather").history


def asked(record: tuple[Path, History], text: str, today: date) -> Answer:
    garden = GardenFile(record[0] / "garden.toml")
    talk = Conversation(facts=FACTS, clock=lambda: today, garden_file=garden)
    if garden.garden.place is None:
        talk.tell("I garden in North Platte")
    return talk.ask(text)


def test_the_strip_has_a_sign_for_every_year() -> None:
    runs = tuple(YearRun(y, 50, 60, 5 if y % 3 else -5) for y in (1998, 1999, 2000, 2003))
    found = strip(Replay(runs))
    assert found is not None
    assert found.rows == (
        ("1998-1999", f"{FAILED if 1998 % 3 == 0 else WORKED} {WORKED}"),
        ("2000-2003", f"{WORKED} {MISSING} {MISSING} {WORKED}"),
    )
    assert strip(Replay(())) is None


def test_the_strip_fits_a_narrow_screen_and_counts_as_the_sentence_does(record: tuple[Path, History]) -> None:
    told = asked(record, "is it too late to sow beans?", date(2027, 7, 18))
    assert told.table is not None
    signs = " ".join(cells for _, cells in told.table.rows).split()
    worked, years = signs.count(WORKED), len(signs) - signs.count(MISSING)
    assert any(f"In {worked} of the {years} years on record" in line for line in told.details)
    shown = plain(told, Look(50, "us", date(2027, 7, 18))).splitlines()
    rows = [line for line in shown if line.strip().startswith(("1982-", "1990-", "2000-", "2010-"))]
    assert len(rows) == 4
    assert all(len(line) <= 50 for line in rows)
