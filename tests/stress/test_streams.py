"""What the program does when its streams, its signals or its encoding are against it."""

from __future__ import annotations

import json
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from gardenmate.cli.main import main

NO_GARDEN = ("--no-garden", "--place", "Duluth", "--today", "2027-04-18")
QUESTION = "is it too late to start peppers?"
Run = Callable[..., subprocess.CompletedProcess[bytes]]
Fault = Callable[[subprocess.CompletedProcess[bytes], int], str]


@pytest.mark.parametrize(
    "words",
    [
        ("ask", *NO_GARDEN, QUESTION),
        ("ask", *NO_GARDEN, "--json", QUESTION),
        ("calendar", *NO_GARDEN),
        ("demo", "01-first-evening"),
    ],
    ids=["ask", "json", "calendar", "demo"],
)
def test_a_full_disk_is_told_in_one_line(run: Run, fault: Fault, words: tuple[str, ...]) -> None:
    with open("/dev/full", "wb") as full:
        done = run(*words, stdout=full)
    assert "cannot be written: No space left on device" in fault(done, 1)


@pytest.mark.parametrize("closed", ["0", "1", "2", "012"])
def test_closed_streams_are_no_failure(
    environment: dict[str, str], command: Callable[..., list[str]], closed: str
) -> None:
    closing = " ".join(f"{stream}>&-" for stream in closed)
    line = " ".join(f"'{word}'" for word in command("ask", *NO_GARDEN, QUESTION))
    done = subprocess.run(
        ["sh", "-c", f"{line} {closing}"], env=environment, capture_output=True, check=False, timeout=60
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert (done.stdout == b"") == ("1" in closed)


def test_a_closed_standard_input_holds_no_question(
    environment: dict[str, str], command: Callable[..., list[str]]
) -> None:
    line = " ".join(f"'{word}'" for word in command("ask", *NO_GARDEN, "-"))
    done = subprocess.run(["sh", "-c", f"{line} <&-"], env=environment, capture_output=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")


def test_a_reader_that_has_enough_ends_a_long_list_quietly(
    environment: dict[str, str], command: Callable[..., list[str]]
) -> None:
    line = " ".join(f"'{word}'" for word in command("ask", *NO_GARDEN, "--json", "-"))
    script = f"yes '{QUESTION}' | head -n 5000 | {line} | head -n 3"
    done = subprocess.run(["sh", "-c", script], env=environment, capture_output=True, check=True, timeout=120)
    assert [json.loads(answer)["topic"] for answer in done.stdout.splitlines()] == ["late-start"] * 3
    assert done.stderr == b""


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGKILL])
def test_what_was_acknowledged_outlives_a_signal(
    environment: dict[str, str], command: Callable[..., list[str]], run: Run, how: signal.Signals
) -> None:
    child = subprocess.Popen(
        command("ask", "--place", "Duluth", "--json", "-"),
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert child.stdin is not None
    assert child.stdout is not None
    child.stdin.write(b"note that I sowed 20 leeks\n")
    child.stdin.flush()
    assert json.loads(child.stdout.readline())["topic"] == "log"
    child.send_signal(how)
    _, told = child.communicate(timeout=30)
    assert child.returncode in (-how, 130)
    assert b"Traceback" not in told
    assert b"sowed 20 leeks" in run("log").stdout


def test_words_in_bytes_that_are_no_text(run: Run) -> None:
    done = run("ask", *NO_GARDEN, "--json", b"is it too late to start p\xffeppers in \xc3?")
    assert done.returncode in (0, 4)
    assert done.stderr == b""
    assert json.loads(done.stdout)["question"].startswith("is it too late to start p")


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_a_terminal_that_cannot_write_every_sign(run: Run, encoding: str) -> None:
    more = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "PYTHONIOENCODING": encoding}
    done = run("ask", *NO_GARDEN, "note that the jalape\u00f1os 辣椒 are sown".encode(), more=more)
    assert done.stderr == b""
    assert done.stdout.decode(encoding)


def test_no_home_at_all_is_one_line(run: Run, fault: Fault, tmp_path: Path) -> None:
    sealed = tmp_path / "sealed"
    sealed.mkdir()
    (sealed / "home").write_text("a file where the folder should be")
    done = run("ask", "note that I sowed leeks", more={"GARDENMATE_HOME": str(sealed / "home" / "garden")})
    assert str(sealed) in fault(done, done.returncode)
    assert done.returncode in (1, 5)
    assert done.stdout == b""


@pytest.mark.parametrize("name", ["../up.csv", "a/../../up.csv", "x\n.csv", "-.csv", "é\u202e.csv"])
def test_an_export_goes_where_its_name_says_and_nowhere_else(run: Run, tmp_path: Path, name: str) -> None:
    inside = tmp_path / "inside"
    (inside / "a").mkdir(parents=True)
    assert run("ask", "note that I sowed 20 leeks").returncode == 0
    before = {p for p in tmp_path.rglob("*") if "home" not in p.parts}
    done = run("log", "--format", "csv", f"--out={name}", cwd=inside)
    assert done.returncode == 0, done.stderr
    after = {p for p in tmp_path.rglob("*") if "home" not in p.parts}
    (made,) = after - before
    assert made.resolve() == (inside / name).resolve()
    assert all(ord(sign) >= 32 or sign == "\n" for sign in done.stdout.decode())


def test_a_long_wait_for_the_next_question_keeps_nothing_back(
    environment: dict[str, str], command: Callable[..., list[str]]
) -> None:
    child = subprocess.Popen(
        command("ask", *NO_GARDEN, "--json", "-"),
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    assert child.stdin is not None
    assert child.stdout is not None
    for question in (QUESTION, "xyzzy", "frost tonight at 30, tomatoes?"):
        child.stdin.write(question.encode() + b"\n")
        child.stdin.flush()
        assert json.loads(child.stdout.readline())["question"] == question
        time.sleep(0.05)
    child.stdin.close()
    assert child.wait(timeout=30) == 0


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "2201-01-01", "9999-12-31"])
def test_a_clock_out_of_reach_is_told(day: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", "--no-garden", "--place", "Duluth", "--today", day, QUESTION]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == f"gardenmate: I can only work with dates from 1900 to 2200, not {day}.\n"
