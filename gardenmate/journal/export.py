"""The log as a file: Markdown to read, CSV for a spreadsheet, JSON to take along, iCalendar for a calendar.

What a grower typed stays text in each of them: no markup, no formula, no calendar property comes of it. Only
JSON keeps every sign exactly; the others drop control signs and put entries on one line.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, date, datetime
from typing import Any

from gardenmate.core.text import harmless
from gardenmate.core.units import show_date
from gardenmate.journal.decision import KeptDecision

EXPORT_KIND = "gardenmate log"
EXPORT_VERSION = 1  # of the JSON written
_COLUMNS = (
    "date",
    "action",
    "entry",
    "crops",
    "count",
    "place",
    "temp_c",
    "detail",
    "question",
    "verdict",
    "headline",
)
_ALARM_HOUR = 8  # what was noted for a day to come reminds in the morning
_UNKNOWN = "2000-01-01T00:00:00+00:00"
_FORMULA = tuple("=+-@\t\r\uff1d\uff0b\uff0d\uff20")  # and their full-width forms
_MARKDOWN = re.compile(r"([\\`*_{}\[\]<>()#+|~!&-])")


def export(decisions: Iterable[KeptDecision], fmt: str) -> bytes:
    """The decisions as "md", "csv", "json" or "ics", in the order given, as the bytes of a UTF-8 file."""
    writers: dict[str, Callable[[Sequence[KeptDecision]], bytes]] = {
        "md": lambda rows: _markdown(rows).encode("utf-8", "replace"),
        "csv": lambda rows: _csv(rows).encode("utf-8", "replace"),
        "json": lambda rows: _json(rows).encode("ascii"),
        "ics": _ics,
    }
    return writers[fmt](list(decisions))


def _markdown(decisions: Sequence[KeptDecision]) -> str:
    lines = ["# Garden log"]
    day: date | None = None
    for decision in decisions:
        if decision.on != day:
            day = decision.on
            lines += ["", f"## {show_date(day)} {day.year}", ""]
        lines.append(f"- {_marked_down(decision.text)}")
        if decision.verdict:
            lines.append(f"  - asked: {_marked_down(decision.question)} ({_marked_down(decision.verdict)})")
            lines.append(f"  - answer: {_marked_down(decision.headline)}")
    return "\n".join(lines) + "\n"


def _marked_down(text: str) -> str:
    return _MARKDOWN.sub(r"\\\1", harmless(text))


def _csv(decisions: Sequence[KeptDecision]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(_COLUMNS)
    for d in decisions:
        detail = "; ".join(f"{key}: {value}" for key, value in d.detail.items() if key != "temp_c")
        said = (d.action, d.text, " ".join(d.crops), d.count, d.place, d.temp_c, detail)
        basis = (d.question, d.verdict, d.headline)
        writer.writerow([d.on.isoformat(), *(_cell(value) for value in (*said, *basis))])
    return out.getvalue()


def _cell(value: object) -> str:
    """A cell a spreadsheet takes as text: one that would start a formula gets an apostrophe in front.

    Known to spreadsheet users as CSV injection (OWASP, "CSV Injection").
    """
    if value is None:
        return ""
    if isinstance(value, int | float):
        return f"{value:g}"
    text = harmless(str(value))
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA) else text


def _ics(decisions: Sequence[KeptDecision]) -> bytes:
    # start-up seam: only for an iCalendar file
    from gardenmate.journal.ics import Event, calendar_file

    def event(d: KeptDecision) -> Event:
        basis = f"Asked: {harmless(d.question)}\nAnswer: {harmless(d.headline)}" if d.verdict else ""
        return Event(
            uid=d.uid,
            on=d.on,
            summary=d.text,
            written_at=moment(d.written_at),
            description=basis,
            location=d.place,
            categories=(d.action, *d.crops),
            alarm_hour=_ALARM_HOUR if d.action == "plan" else None,
        )

    return calendar_file((event(d) for d in decisions), "Garden log")


def moment(written_at: str) -> datetime:
    """When an entry was written; one carried in from elsewhere may tell no time zone, a damaged one nothing."""
    when = datetime.fromisoformat(written_at or _UNKNOWN)
    return when if when.tzinfo is not None else when.replace(tzinfo=UTC)


# -- JSON, out and in ---------------------------------------------------------------------------------
def _json(decisions: Sequence[KeptDecision]) -> str:
    entries = [_entry(d) for d in decisions]
    return json.dumps({"kind": EXPORT_KIND, "version": EXPORT_VERSION, "decisions": entries}, indent=1) + "\n"


def _entry(d: KeptDecision) -> dict[str, Any]:
    content: dict[str, Any] = {
        "uid": d.uid,
        "written_at": d.written_at,
        "on": d.on.isoformat(),
        "action": d.action,
        "text": d.text,
        "crops": list(d.crops),
        "count": d.count,
        "place": d.place,
        "temp_c": d.temp_c,
        "detail": dict(d.detail),
        "question": d.question,
        "verdict": d.verdict,
        "headline": d.headline,
        "numbers": [dict(n) for n in d.numbers],
        "knowledge_version": d.knowledge_version,
    }
    return {key: value for key, value in content.items() if value not in (None, "", [], {})}
