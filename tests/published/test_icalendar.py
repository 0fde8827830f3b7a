"""Calendar files against the standard, read back by a second library.

Source: RFC 5545 (Internet Calendaring and Scheduling Core Object Specification), sections named beside the
checks. vobject parses and validates; the library that writes the files takes no part in reading them.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenmate.journal.decision import KeptDecision
from gardenmate.journal.export import export
from gardenmate.journal.ics import Event, calendar_file

WRITTEN = datetime(2027, 4, 18, 9, 30, tzinfo=UTC)


def event(summary: str, **more: object) -> Event:
    return Event("id1", date(2027, 4, 18), summary, WRITTEN, **more)  # type: ignore[arg-type]


def read_back(data: bytes) -> vobject.base.Component:
    """The calendar as vobject reads it. Raises when it does not validate."""
    calendar = vobject.readOne(data.decode("utf-8"))
    calendar.validate()
    return calendar


def test_an_entry_comes_back_as_an_all_day_event() -> None:
    data = export(
        [
            KeptDecision(
                id=1,
                on=date(2027, 4, 18),
                action="sow",
                text="sowed 48 peppers; heat mat on",
                crops=("pepper", "leek"),
                place="Duluth, MN",
                question="too late for peppers?",
                verdict="yes",
                headline="Not too late.",
                uid="ab12",
                written_at=WRITTEN.isoformat(),
            )
        ],
        "ics",
    )
    calendar = read_back(data)
    assert calendar.version.value == "2.0"  # 3.7.4
    assert calendar.prodid.value  # 3.7.3
    (entry,) = calendar.vevent_list
    assert entry.summary.value == "sowed 48 peppers; heat mat on"
    assert entry.dtstart.value == date(2027, 4, 18)
    assert entry.dtend.value == date(2027, 4, 19)  # 3.6.1: the end is not part of the event
    assert entry.location.value == "Duluth, MN"
    assert entry.description.value == "Asked: too late for peppers?\nAnswer: Not too late."
    assert entry.uid.value == "ab12@gardenmate"  # 3.8.4.7
    assert entry.dtstamp.value == WRITTEN  # 3.8.7.2: in UTC
    assert entry.categories.value == ["sow", "pepper", "leek"]
    assert entry.transp.value == "TRANSPARENT"


def test_lines_end_in_crlf_and_are_folded_at_75_octets() -> None:
    """3.1: content lines end in CRLF and are no longer than 75 octets."""
    data = calendar_file([event("leeks 🌱 " * 60)], "Garden log")
    assert data.replace(b"\r\n", b"").count(b"\n") == 0
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    (entry,) = read_back(data).vevent_list
    assert entry.summary.value == "leeks 🌱 " * 60


def test_an_alarm_reminds_in_the_morning() -> None:
    """3.6.6: a DISPLAY alarm has a description and a trigger relative to the start."""
    (entry,) = read_back(calendar_file([event("set out leeks", alarm_hour=8)], "Agenda")).vevent_list
    (alarm,) = entry.valarm_list
    assert alarm.action.value == "DISPLAY"
    assert alarm.trigger.value == timedelta(hours=8)
    assert alarm.description.value == "set out leeks"


def test_a_plan_in_the_log_reminds() -> None:
    fields = {
        "id": 1,
        "on": date(2027, 5, 1),
        "text": "set out leeks",
        "uid": "p",
        "written_at": WRITTEN.isoformat(),
    }
    planned, done = (KeptDecision(action=action, **fields) for action in ("plan", "set-out"))  # type: ignore[arg-type]
    (entry,) = read_back(export([planned], "ics")).vevent_list
    assert len(entry.valarm_list) == 1
    (entry,) = read_back(export([done], "ics")).vevent_list
    assert not hasattr(entry, "valarm_list")


def test_a_window_of_several_days() -> None:
    (entry,) = read_back(calendar_file([event("sow peas", until=date(2027, 5, 2))], "Agenda")).vevent_list
    assert entry.dtend.value == date(2027, 5, 3)


@pytest.mark.parametrize("day", [date.min, date(999, 12, 31), date(2028, 2, 29), date.max])
def test_days_at_the_ends_of_the_calendar(day: date) -> None:
    (entry,) = read_back(calendar_file([Event("x", day, "leeks", WRITTEN)], "Log")).vevent_list
    assert entry.dtstart.value == day


@pytest.mark.parametrize(
    "text",
    [
        "a\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:b",
        "a\nATTACH:http://example.org",
        "a\x0bb\x85c\u2028d",
        '\\n;,:"',
        "x" * 5000,
    ],
)
def test_what_was_typed_adds_no_line_of_its_own(text: str) -> None:
    data = calendar_file([event(text, description=text, location=text, categories=(text,))], text)
    (entry,) = read_back(data).vevent_list
    assert {child.name for child in entry.getChildren()} <= {
        "SUMMARY", "DTSTART", "DTEND", "DTSTAMP", "UID", "CATEGORIES", "LOCATION", "DESCRIPTION", "TRANSP",
    }  # fmt: skip
    assert "\n" not in entry.summary.value


@settings(max_examples=150, deadline=None)
@given(text=st.text(st.characters() | st.sampled_from('\0\x1b\r\n,;:\\"\u2029\u202e')))
def test_any_text_is_read_back(text: str) -> None:
    from gardenmate.core.text import harmless

    (entry,) = read_back(calendar_file([event(text)], "Log")).vevent_list
    # A backslash with a capital N is RFC 5545's other newline; the icalendar library takes a typed one for it.
    assert entry.summary.value.strip() == harmless(text).replace("\\N", "\n").strip()
