"""`gardenmate agenda`: lines for people, and a calendar file with alarms that a second library reads."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
import vobject

from gardenmate.cli.main import main


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path))


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["--today", "2027-04-18", "--place", "Duluth", "agenda", *words]) == 0
    return capsys.readouterr().out


def test_lines_name_jobs_and_days(capsys: pytest.CaptureFixture[str]) -> None:
    lines = said(capsys).splitlines()
    assert any("peppers indoors" in line and line.lstrip().startswith("1. 18 Apr") for line in lines)


def test_the_jobs_as_json_have_their_numbers_and_days(capsys: pytest.CaptureFixture[str]) -> None:
    rows = json.loads(said(capsys, "--json"))
    assert [row["number"] for row in rows] == list(range(1, len(rows) + 1))
    keys = {
        "number",
        "job",
        "crop",
        "variety",
        "status",
        "opens",
        "best_by",
        "closes",
        "cost_of_a_miss",
        "batch",
    }
    assert all(keys <= set(row) for row in rows)
    assert all(row["closes"] is None or row["opens"] <= row["closes"] for row in rows)


def test_the_calendar_file_has_an_alarm_for_every_job(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--format", "ics", "--days", "30")
    events = vobject.readOne(text).vevent_list
    assert len(events) >= 5
    for event in events:
        assert event.dtstart.value >= date(2027, 4, 18)
        assert event.dtend.value > event.dtstart.value
        assert event.valarm.trigger.value == timedelta(hours=8)
    assert len({e.uid.value for e in events}) == len(events)


def test_a_logged_sowing_brings_its_next_steps(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--today", "2027-04-10", "--place", "Duluth", "ask", "note that I sowed 48 peppers today"])
    capsys.readouterr()
    text = said(capsys, "--format", "ics", "--days", "90")
    assert any(
        "pepper" in e.summary.value.lower() and "pot" in e.summary.value.lower()
        for e in vobject.readOne(text).vevent_list
    )


def test_without_a_place_it_says_what_it_needs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--today", "2027-04-18", "agenda"]) == 3
    assert "place" in capsys.readouterr().err
