"""What is typed comes back as text: no markup, escape, formula, calendar line or path comes alive."""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
from icalendar import Calendar

from gardenmate.dialogue.conversation import Conversation
from gardenmate.present.json_out import to_json_line
from gardenmate.present.layout import Look, layout
from gardenmate.present.screen import write_lines

Run = Callable[..., subprocess.CompletedProcess[bytes]]
HOSTILE = {
    "markup": "[red]peppers[/red] [link=file:///etc/passwd]click[/link] [bold",
    "escape": "peppers \x1b[31mred\x1b[0m \x1b]0;title\x07 \x9b2J \x1b]8;;http://x\x1b\\y",
    "bidi": "peppers \u202egnp.exe\u202c \u2066x\u2069 \u200bzero\u200dwidth\ufeff",
    "formula": '=HYPERLINK("x","y"),+1+1,-2+3,@SUM(A1)',
    "calendar": "peas\r\nEND:VEVENT\r\nBEGIN:VALARM\nDTSTART:20270418",
    "statement": "peas'); DROP TABLE decisions; -- \" OR 1=1",
    "path": "../../../etc/passwd ~root $HOME `id` $(id) ; rm -rf / | cat",
    "format": "%s %n {0.__class__} {today!r} \\x1b \\u0000",
    "null": "peppers\x00after",
    "tags": "peas \U000e0041\U000e0042\ufff9\ue000",
}


def drawn(answer: object, talk: Conversation, *, colour: bool) -> str:
    """An answer as it is written to a screen."""

    class Screen(io.StringIO):
        encoding = "utf-8"  # type: ignore[assignment]

    screen = Screen()
    look = Look(width=80, units="us", today=talk.clock(), linear=False)
    write_lines(layout(answer, look), 80, screen, colour=colour)  # type: ignore[arg-type]
    return screen.getvalue()


@pytest.mark.parametrize("typed", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize(
    "around", ["is it too late to start {}?", "note that I sowed {}", "we garden in {}", "{}"]
)
def test_the_screen_shows_text(talk: Conversation, around: str, typed: str) -> None:
    answer = talk.ask(around.format(typed) if "{0" not in typed else around.replace("{}", typed))
    plain = drawn(answer, talk, colour=False)
    assert all(unicodedata.category(c) not in ("Cc", "Cf", "Co", "Zl", "Zp") for c in plain.replace("\n", ""))
    coloured = drawn(answer, talk, colour=True)
    bare = re.sub(r"\x1b\[[0-9;]*m", "", coloured)
    assert "\x1b" not in bare
    assert bare.split() == plain.split()
    line = to_json_line(answer, talk.facts)
    assert "\n" not in line
    assert json.loads(line)["question"].split() != []


@pytest.mark.parametrize("typed", HOSTILE.values(), ids=HOSTILE)
def test_exports_carry_text(run: Run, typed: str) -> None:
    given = f"note that I sowed peas {typed}".replace("\r", " ").replace("\n", " ").replace("\x00", " ")
    assert run("ask", "--json", "-", given=given.encode()).returncode == 0
    table = run("log", "--format", "csv").stdout.decode()
    rows = list(csv.reader(io.StringIO(table)))
    assert len(rows) == 2
    assert all(cell[:1] not in tuple("=+@\t\r") for cell in rows[1])
    calendar = Calendar.from_ical(run("log", "--format", "ics").stdout)
    assert len(calendar.walk("VEVENT")) == 1
    assert not calendar.walk("VALARM")
    markdown = run("log", "--format", "md").stdout.decode()
    assert "\x1b" not in markdown
    assert len([line for line in markdown.splitlines() if "sowed peas" in line]) == 1
    assert json.loads(run("log", "--format", "json").stdout)


def test_a_search_is_text(run: Run) -> None:
    assert run("ask", "note that I sowed 20 leeks").returncode == 0
    for words in ("' OR 1=1 --", '"leeks" NEAR "x', "leeks*", "%", "_", "(((", "NOT", "\\"):
        done = run("log", "search", "--", words)
        assert done.returncode == 0, words
        assert done.stderr == b""
    assert b"20 leeks" in run("log", "search", "leeks").stdout


@pytest.mark.parametrize(
    "line",
    [
        "a" * 1_000_000,
        "is it too late to start peppers " * 31_000,
        "28F " * 250_000,
        "(" * 1_000_000,
        "é" * 500_000,
    ],
    ids=["word", "question", "figures", "brackets", "accents"],
)
def test_a_line_of_a_megabyte(run: Run, line: str) -> None:
    done = run("ask", "--no-garden", "--place", "Duluth", "--json", "-", given=line.encode(), timeout=60)
    assert (done.returncode, done.stderr) == (0, b"")
    (answer,) = done.stdout.splitlines()
    assert json.loads(answer)["headline"]
    assert len(answer) < 100_000


@pytest.mark.parametrize(
    "name", ["../../etc/passwd", "~/x", "Duluth\x1b[31m", "=1+1", "'; --", "[red]Duluth"]
)
def test_a_place_is_a_name_and_nothing_more(run: Run, tmp_path: Path, name: str) -> None:
    done = run("ask", "--no-garden", "--place", name, "is it too late to start peppers?")
    assert done.returncode in (0, 2, 3)
    assert b"\x1b" not in done.stdout + done.stderr
    assert b"root:" not in done.stdout + done.stderr
