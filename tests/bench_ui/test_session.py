"""Keys of the full prompt, typed through a pipe: clearing, leaving, recall, suggestion, search, pasting."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import DummyOutput

from gardenmate.bench import _reader
from gardenmate.bench.readers import PlainPrompt, history_path, past_questions
from gardenmate.bench.session import RichPrompt

from .conftest import Made

Bench = Callable[..., Made]


@contextmanager
def typing(bench: Bench) -> Iterator[tuple[PipeInput, RichPrompt]]:
    with create_pipe_input() as pipe, create_app_session(input=pipe, output=DummyOutput()):
        yield pipe, RichPrompt(bench("--place", "Duluth")[0], input=pipe, output=DummyOutput())


def test_enter_gives_the_line(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("too late for carrots?\r")
        assert prompt.read() == "too late for carrots?"


def test_ctrl_c_clears_what_is_typed_and_is_passed_on_when_nothing_is(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("half a thou\x03kale tonight at 28?\r")
        assert prompt.read() == "kale tonight at 28?"
        pipe.send_text("\x03")
        with pytest.raises(KeyboardInterrupt):
            prompt.read()


def test_ctrl_d_on_an_empty_line_is_the_end(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("kale\x01\x04\r")  # ctrl-A, ctrl-D: takes the k away
        assert prompt.read() == "ale"
        pipe.send_text("\x04")
        with pytest.raises(EOFError):
            prompt.read()


def test_up_recalls_and_right_takes_the_suggestion_from_history(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("how far apart do leeks go?\r")
        prompt.read()
        pipe.send_text("\x1b[A\r")
        assert prompt.read() == "how far apart do leeks go?"
    with typing(bench) as (pipe, prompt):  # another day: the history was kept
        pipe.send_text("\x1b[A\r")
        assert prompt.read() == "how far apart do leeks go?"


def test_ctrl_r_searches_the_history(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        for line in ("when do I start leeks?", "28 tonight, are my peas all right?"):
            pipe.send_text(f"{line}\r")
            prompt.read()
        pipe.send_text("\x12leeks\r\r")
        assert prompt.read() == "when do I start leeks?"


def test_a_pasted_block_comes_as_one(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("\x1b[200~kale?\nleeks?\n\x1b[201~\r")
        assert prompt.read().split() == ["kale?", "leeks?"]


def test_first_answers_stay_out_of_the_history(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("Duluth\r")
        assert prompt.read("where> ", "place") == "Duluth"
    path = history_path(bench()[0])
    assert path is not None
    assert past_questions(path) == []


def test_the_plain_prompt_reads_the_same_history(bench: Bench) -> None:
    with typing(bench) as (pipe, prompt):
        pipe.send_text("kale tonight at 28?\r")
        prompt.read()
    assert past_questions(history_path(bench()[0])) == ["kale tonight at 28?"]


def test_the_full_prompt_reads_what_the_plain_one_kept(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("builtins.input", lambda _: "how far apart do leeks go?")
    assert PlainPrompt(bench()[0]).read() == "how far apart do leeks go?"
    with typing(bench) as (pipe, prompt):
        pipe.send_text("\x1b[A\r")
        assert prompt.read() == "how far apart do leeks go?"


def test_no_history_is_kept_without_a_garden_or_in_a_closed_folder(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert history_path(bench("--no-garden")[0]) is None
    (tmp_path / "file").touch()
    monkeypatch.setenv("GARDENMATE_HOME", str(tmp_path / "file" / "below"))
    assert history_path(bench()[0]) is None


def test_a_terminal_the_library_cannot_drive_gets_the_plain_prompt(
    bench: Bench, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(*_: object) -> None:
        raise OSError("no such terminal")

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr("gardenmate.bench.session.RichPrompt", fails)
    conversation, options = bench()
    assert isinstance(_reader(conversation, options), PlainPrompt)
    assert "plain prompt: no such terminal" in capsys.readouterr().err
