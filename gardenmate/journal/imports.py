"""A log from elsewhere: an exported JSON file, or a journal that was set aside. All of it is looked through
before any of it is taken."""

from __future__ import annotations

import json
from datetime import UTC, date
from math import isfinite
from pathlib import Path
from typing import Any

from gardenmate.core.errors import UsageError
from gardenmate.journal.decision import GARDEN, UNREADABLE, decision_of
from gardenmate.journal.export import EXPORT_KIND, EXPORT_VERSION, moment
from gardenmate.journal.frames import Content, scan
from gardenmate.journal.rebuild import standing_of

Given = list[tuple[str | None, str, Content]]

# What an entry may hold (design values: well above anything a garden's log has come to).
MOST_ENTRIES = 200_000
LONGEST_NAME = 200
LONGEST_TEXT = 1_000_000
MOST_CROPS = 200
MOST_DETAILS = 100
MOST_NUMBERS = 500
HIGHEST_COUNT = 1e9
COLDEST_C, HOTTEST_C = -90.0, 150.0
FIRST_YEAR, LAST_YEAR = 1900, 2200
_SQLITE = b"SQLite format 3\0"
_VERDICTS = ("yes", "tight", "no")
_NAMES = ("uid", "action", "knowledge_version")
_TEXTS = ("text", "place", "question", "headline")
_FIELDS: dict[str, type | tuple[type, ...]] = {
    **dict.fromkeys((*_NAMES, *_TEXTS, "written_at", "on", "verdict"), str),
    "crops": list,
    "count": (int, float),
    "temp_c": (int, float),
    "detail": dict,
    "numbers": list,
}


def read_import(path: Path, data: bytes) -> Given:
    """(uid, written_at, content) of every decision of an exported file or of a journal that was set aside.

    Raises UsageError, naming the entry, when anything in it cannot be.
    """
    if data.startswith(_SQLITE) or path.suffix == ".db":
        return _of_a_journal(path, data)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UsageError(f"{path} is not UTF-8 text, so it is not an exported log.") from error
    return read_export(text)


def _of_a_journal(path: Path, data: bytes) -> Given:
    rows = scan([data]).rows
    given: Given = []
    for stands in standing_of(rows.values()):
        row = rows[stands.number]
        if stands.content.get("action") not in (GARDEN, UNREADABLE):
            given.append((row.uid, stands.written_at or row.written_at, stands.content))
    if not given:
        raise UsageError(f"No entry of a log can be read in {path}.")
    for number, (_, written_at, content) in enumerate(given, start=1):
        _proved(number, content, written_at)
    return given


def read_export(text: str) -> Given:
    """(uid, written_at, content) of every decision of an exported JSON file; see `read_import`."""
    try:
        data = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        why = "it is nested too deeply" if isinstance(error, RecursionError) else error
        raise UsageError(f"That is not a JSON file: {why}.") from error
    if (
        not isinstance(data, dict)
        or data.get("kind") != EXPORT_KIND
        or not isinstance(data.get("decisions"), list)
    ):
        raise UsageError(
            "That JSON file is not an exported log; make one with 'gardenmate log export --format json'."
        )
    if data.get("version") != EXPORT_VERSION:
        raise UsageError(
            f"That log is of format {str(data.get('version'))[:20]}; this gardenmate reads {EXPORT_VERSION}."
        )
    if len(data["decisions"]) > MOST_ENTRIES:
        raise UsageError(f"That log has more than {MOST_ENTRIES} entries.")
    entries = [_read_entry(number, entry) for number, entry in enumerate(data["decisions"], start=1)]
    return [entry for entry in entries if entry[2]["action"] != UNREADABLE]


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number")


def _read_entry(number: int, entry: object) -> tuple[str | None, str, Content]:
    if not isinstance(entry, dict):
        raise UsageError(f"Entry {number} of that log is not an object.")
    for key, value in entry.items():
        if key not in _FIELDS:
            raise _fault(number, f"has an unknown field {_short(key)}")
        if not isinstance(value, _FIELDS[key]) or isinstance(value, bool):
            raise _fault(number, f"is wrong: {key!r} cannot be {_short(value)}")
    content = {key: value for key, value in entry.items() if key not in ("uid", "written_at")}
    return entry.get("uid"), _proved(number, content, entry.get("written_at", ""), entry.get("uid")), content


def _proved(number: int, content: Content, written_at: str, uid: str | None = None) -> str:
    """The moment, in UTC; raises UsageError when something about the entry cannot be."""
    problem = _wrong(content | ({"uid": uid} if uid is not None else {}))
    if problem is not None:
        raise _fault(number, problem)
    try:
        decision_of(number, "", "", content)
        if not written_at:
            return ""
        return moment(written_at).astimezone(UTC).isoformat(timespec="microseconds")
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError) as error:
        raise _fault(number, f"cannot be read: {error}") from error


def _wrong(content: Content) -> str | None:
    """What is wrong with the values of an entry; None when nothing is."""
    for key in (*_NAMES, *_TEXTS):
        most = LONGEST_NAME if key in _NAMES else LONGEST_TEXT
        if not _is_text(content.get(key, ""), most, half_signs=key in _TEXTS):
            return f"has a {key} that is longer than {most} signs, or no text"
    if content.get("verdict") is not None and content["verdict"] not in _VERDICTS:
        return f"has a verdict that is none of {', '.join(_VERDICTS)}"
    return _wrong_list(content) or _wrong_number(content)


def _wrong_list(content: Content) -> str | None:
    crops, detail, numbers = content.get("crops", []), content.get("detail", {}), content.get("numbers", [])
    if len(crops) > MOST_CROPS or not all(_is_text(name, LONGEST_NAME) for name in crops):
        return f"is wrong: 'crops' should be up to {MOST_CROPS} names"
    words = (*detail, *detail.values())
    if len(detail) > MOST_DETAILS or not all(_is_text(w, LONGEST_TEXT, half_signs=True) for w in words):
        return f"is wrong: 'detail' should be up to {MOST_DETAILS} texts by name"
    if len(numbers) > MOST_NUMBERS or not all(_is_figure(figure) for figure in numbers):
        return f"is wrong: 'numbers' should be up to {MOST_NUMBERS} objects with name, value and unit"
    return None


def _wrong_number(content: Content) -> str | None:
    count, temp_c = content.get("count"), content.get("temp_c")
    if count is not None and not 0 <= count <= HIGHEST_COUNT:
        return f"has a count that is not from 0 to {HIGHEST_COUNT:g}"
    if temp_c is not None and not COLDEST_C <= temp_c <= HOTTEST_C:
        return f"has a temp_c that is not from {COLDEST_C:g} to {HOTTEST_C:g}"
    try:
        year = date.fromisoformat(content["on"]).year
    except (KeyError, ValueError, TypeError):
        return f"has no day: 'on' cannot be {_short(content.get('on'))}"
    return None if FIRST_YEAR <= year <= LAST_YEAR else f"has a day outside {FIRST_YEAR} to {LAST_YEAR}"


def _is_text(value: object, most: int, *, half_signs: bool = False) -> bool:
    """True for text no longer than ``most``. Names, which SQLite must hold, have no half of a sign (a lone
    surrogate, left of bytes that were no text)."""
    if not isinstance(value, str) or len(value) > most:
        return False
    return half_signs or value.isascii() or not any("\ud800" <= sign <= "\udfff" for sign in value)


def _is_figure(figure: Any) -> bool:
    if not isinstance(figure, dict) or not {"name", "value", "unit"} <= figure.keys() <= {
        "name", "value", "unit", "crop",
    }:  # fmt: skip
        return False
    value = figure["value"]
    texts = [v for k, v in figure.items() if k != "value"]
    fits = isinstance(value, int | float) and abs(value) <= HIGHEST_COUNT and isfinite(value)
    return all(_is_text(t, LONGEST_NAME) for t in texts) and (fits or _is_text(value, LONGEST_NAME))


def _fault(number: int, problem: str) -> UsageError:
    return UsageError(f"Entry {number} of that log {problem}. Nothing was imported.")


def _short(value: object) -> str:
    said = repr(value)
    return said if len(said) <= 40 else f"{said[:40]}..."
