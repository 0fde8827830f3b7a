"""The bench as people meet it: on a terminal of 50, 80 and 120 columns, plain, dumb, over SSH, by pipe."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from .terminal import ROOT, Terminal

LEAVES = "Type 'quit' or press Ctrl-D to leave."
STATUS = "18 Apr | Duluth"
COLOUR = re.compile(rb"\x1b\[(?:[0-9;]*;)?(?:3[0-8]|4[0-8]|9[0-7])(?:;[0-9;]*)?m")


@pytest.mark.parametrize("columns", [50, 80, 120])
def test_first_run_asks_four_things_and_then_answers(tmp_path: Path, columns: int) -> None:
    with Terminal(tmp_path, columns=columns, rows=50) as t:
        t.wait_for("1/4", "where>")
        t.send("Dulu")
        t.wait_for("Duluth      place: MN, US")
        t.send("th\r")
        t.wait_for("Noted: your garden is in Duluth, MN.", "2/4", "crops>")
        t.send("\r")
        t.wait_for("3/4", "gear>")
        t.send("heat mat\r")
        t.wait_for("Noted: heat mat.", "4/4", "last frost>")
        t.send("I don't know\r")
        t.wait_for(STATUS)
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", "days to spare", "'more' shows the rest", STATUS)
        assert "'quit' leaves." in t.all_text
        t.send("\r")
        text = t.wait_for("What would change it", "Assumed", STATUS)
        assert re.search(r"^ {2}-+\|?1?-", text, re.MULTILINE) or "-1-" in text  # the date line is drawn
        t.send("\x04")
        assert t.end() == 0
    with Terminal(tmp_path, columns=columns) as t:  # the second run asks nothing
        t.wait_for(STATUS)
        assert "1/4" not in t.text


def test_enter_and_more_show_the_rest_then_the_first_job(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth", rows=50) as t:
        t.wait_for(STATUS)
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", STATUS)
        assert "Assumed" not in t.all_text
        t.send("more\r")
        t.wait_for("Assumed", STATUS)
        t.send("\r")
        t.wait_for("This week, first", STATUS)


def test_completion_shows_a_meaning_and_is_taken_by_key(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth") as t:
        t.wait_for(STATUS)
        t.send("how many seeds for 24 cabb")
        t.wait_for("cabbages", "hardy crop")
        t.send("\t\r")
        t.wait_for("> how many seeds for 24 cabbages")
        t.send("\r")
        t.wait_for("to be 90% sure")


def test_completion_after_an_entry_knows_the_variety_and_leaves_the_prompt_whole(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth") as t:  # names come from the journal's open connection
        t.wait_for(STATUS)
        t.send("sowed 24 Glacier tomatoes today\r")
        t.wait_for("Noted", STATUS)
        t.send("when do I pot up my glac")
        t.wait_for("your tomato")
        t.send("\t\r")
        t.wait_for("> when do I pot up my Glacier", gone="Unhandled exception")
        t.send("\x03")
        t.wait_for(STATUS)
        t.send("\x04")
        assert t.end() == 0


def test_ctrl_c_clears_then_hints_and_ctrl_l_and_ctrl_d_do_what_they_do(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth") as t:
        t.wait_for(STATUS)
        t.send("half a thought")
        t.wait_for("> half a thought")
        t.send("\x03")
        t.wait_for(STATUS, gone="half a thought")
        t.send("\x03")
        t.wait_for(LEAVES, STATUS)
        t.send("\x0c")
        t.wait_for(STATUS, gone=LEAVES)
        t.send("\x04")
        assert t.end() == 0


def test_a_long_answer_pages_and_ctrl_c_stops_it(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth", rows=12) as t:
        t.wait_for(STATUS)
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", STATUS)
        t.send("more\r")
        t.wait_for("-- Enter: more, q: enough --")
        t.send("\x03")
        t.wait_for("Stopped.", STATUS)
        assert "Assumed" not in t.all_text
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", STATUS)
        t.send("more\r")
        t.wait_all("-- Enter: more", 2)
        t.send("q\r")
        t.wait_for(STATUS)
        t.send("\x04")
        assert t.end() == 0


def test_a_question_typed_at_a_pause_is_answered_next(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth", rows=12) as t:
        t.wait_for(STATUS)
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", STATUS)
        t.send("more\r")
        t.wait_for("-- Enter: more, q: enough --")
        t.send("how far apart do leeks go\r")
        t.wait_for("in the row")
        t.wait_for(STATUS)
        t.send("\x04")
        assert t.end() == 0


def test_a_resized_window_is_drawn_to_its_new_width(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth", columns=120, rows=50) as t:
        t.wait_for(STATUS)
        t.resize(50, 50)
        t.send("28 tonight, are my peas all right?\r")
        t.wait_for("Peas should survive", STATUS)
        shown = t.text[t.text.index("Peas should") :].splitlines()
        assert max(map(len, shown)) <= 50
        t.resize(100, 50)
        t.send("28 tonight, are my peas all right?\r")
        t.wait_all("Peas should", 2)


def test_thirty_pasted_questions_are_thirty_answers(tmp_path: Path) -> None:
    lines = [f"note that I sowed {n} kale today" for n in range(1, 31)]
    with Terminal(tmp_path, "--place", "Duluth") as t:
        t.wait_for(STATUS)
        t.send("\x1b[200~" + "\n".join(lines) + "\x1b[201~")
        t.wait_for("sowed 30 kale")
        t.send("\r")
        text = t.wait_all("Noted: sowed", 30)
        for n in range(1, 31):
            assert f"Noted: sowed {n} kale" in text
        t.wait_for(STATUS)


def test_history_of_another_day_is_searched(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth") as t:
        t.wait_for(STATUS)
        t.send("how far apart do leeks go?\r")
        t.wait_for("in apart", STATUS)
        t.send("\x04")
        assert t.end() == 0
    with Terminal(tmp_path, "--place", "Duluth") as t:
        t.wait_for(STATUS)
        t.send("\x12apart")
        t.wait_for("how far apart do leeks go?")
        t.send("\r\r")
        t.wait_for("4 to 6 in apart")


def test_no_color_takes_the_colour_and_leaves_the_words(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth", NO_COLOR="1", rows=50) as t:
        t.wait_for(STATUS)
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", "days to spare")
        assert not COLOUR.search(t.raw)
    with Terminal(tmp_path, "--place", "Duluth", rows=50) as t:
        t.wait_for(STATUS)
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", "days to spare")
        assert COLOUR.search(t.raw)


@pytest.mark.parametrize(
    ("words", "environment"),
    [(("--plain",), {}), ((), {"TERM": "dumb"})],
    ids=["--plain", "dumb"],
)
def test_plain_has_no_escape_byte_and_works(
    tmp_path: Path, words: tuple[str, ...], environment: dict[str, str]
) -> None:
    with Terminal(tmp_path, "--place", "Duluth", *words, rows=60, **environment) as t:
        t.wait_for("leaves.\n>")
        t.send("is it too late to start peppers?\r")
        t.wait_for("TIGHT", "days to spare", "\n\n>")
        t.send("\x03")
        t.wait_for(f"\n{LEAVES}\n>")
        t.send("\x04")
        assert t.end() == 0
        assert b"\x1b" not in t.raw


def test_a_terminal_that_does_not_tell_its_cursor_is_worked_with(tmp_path: Path) -> None:
    with Terminal(tmp_path, "--place", "Duluth", tells_cursor=False) as t:
        t.wait_for("leaves.\n>")
        t.send("too late for carrots?\r")
        t.wait_for("Not too late", "\n\n>")
        t.send("\x04")
        assert t.end() == 0


def piped(tmp_path: Path, text: str, **environment: str) -> str:
    env = {**os.environ, "GARDENMATE_HOME": str(tmp_path), "PYTHONPATH": str(ROOT), **environment}
    command = [sys.executable, "-m", "gardenmate", "--today", "2027-04-18", "--place", "Duluth"]
    done = subprocess.run(command, input=text.encode(), capture_output=True, env=env, check=True)
    assert done.stderr == b""
    return done.stdout.decode("ascii" if environment else "utf-8")


def test_piped_in_and_out_each_answer_stands_under_its_question(tmp_path: Path) -> None:
    out = piped(tmp_path, "too late for carrots?\n28 tonight, are my peas all right?\n")
    assert out.startswith("> too late for carrots?\nNot too late")
    assert "\n> 28 tonight, are my peas all right?\nPeas should survive" in out
    assert "\x1b" not in out
    assert "Ctrl-D" not in out


def test_the_c_locale_gets_ascii(tmp_path: Path) -> None:
    out = piped(tmp_path, "too late for jalapeños?\n", LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    assert "TIGHT" in out or "YES" in out or "NO" in out
