"""The loop: what leaves it and what does not, pasted blocks, faults told in one line, plain output."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from gardenmate.bench.exchange import one_turn
from gardenmate.bench.loop import (
    LEAVES,
    converse,
)
from gardenmate.bench.turn import Bench as Talk
from gardenmate.core.errors import DamagedFileError
from gardenmate.dialogue.conversation import Conversation

from .conftest import Made, Typed

Bench = Callable[..., Made]


def talk(bench: Bench, *lines: str | BaseException) -> int:
    conversation, options = bench("--place", "Duluth")
    return converse(conversation, Typed(*lines), options)


def test_end_of_input_and_the_usual_words_leave(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    assert talk(bench) == 0
    for word in ("quit", "Exit", "bye", "q"):
        assert talk(bench, word, "how long do peppers take at 70F?") == 0
    assert "11 days" not in capsys.readouterr().out


def test_ctrl_c_at_the_prompt_goes_on(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    talk(bench, KeyboardInterrupt(), "how long do peppers take to come up at 70F?")
    out = capsys.readouterr().out
    assert LEAVES in out
    assert "11 days" in out


def test_a_pasted_block_is_answered_question_by_question(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    talk(bench, "too late for carrots?\n\n  28 tonight, are my peas all right?\nhelp frost\n")
    out = capsys.readouterr().out
    spots = [
        out.index(s) for s in ("> too late for carrots?", "> 28 tonight", "> help frost", "frost: Will it")
    ]
    assert spots == sorted(spots)
    assert out.count("> too late for carrots?") == 1


def test_two_questions_of_one_line_are_two_answers(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    talk(bench, "how far apart do leeks go? how far apart do carrots go?")
    out = capsys.readouterr().out
    assert "> how far apart do leeks go?\nSpace leeks" in out
    assert "> how far apart do carrots go?\nSpace carrots" in out


def test_a_story_stays_with_its_question(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    talk(bench, "45 out and sunny, frame at 82. open it?")
    assert "> " not in capsys.readouterr().out


def test_an_empty_line_shows_the_first_thing_due(bench: Bench, capsys: pytest.CaptureFixture[str]) -> None:
    talk(bench, "   ")
    out = capsys.readouterr().out
    assert "This week, first" in out
    assert len(out.split("This week, first", 1)[1].splitlines()) <= 10


def test_an_empty_line_without_a_place_says_what_to_tell(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    conversation, options = bench("--no-garden")
    converse(conversation, Typed(""), options)
    assert "I garden in Duluth" in capsys.readouterr().out


def test_a_question_waiting_for_the_place_is_answered_when_it_is_told(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    conversation, options = bench()
    reader = Typed("", "", "", "", "is it too late to start peppers?", "I garden in Duluth")
    converse(conversation, reader, options)
    out = capsys.readouterr().out
    assert "Where is your garden?" in out
    assert out.index("Noted: your garden is in Duluth") < out.index("TIGHT")


def test_a_told_frost_date_holds_for_the_questions_after_it(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    conversation, options = bench()
    reader = Typed("Duluth", "", "", "", "my last frost is May 24", "when is the last frost usually?")
    converse(conversation, reader, options)
    assert "usually about 24 May" in capsys.readouterr().out


def test_a_place_nobody_knows_does_not_stick_to_the_next_question(
    bench: Bench, capsys: pytest.CaptureFixture[str]
) -> None:
    talk(bench, "I garden in Qwxyzville", "28 tonight, are my peas all right?")
    out = capsys.readouterr().out
    assert out.count("Qwxyzville") == 1
    assert "Peas should survive" in out


def test_a_fault_of_the_program_costs_one_answer(
    bench: Bench, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = Conversation.ask

    def ask(self: Conversation, text: str) -> object:
        if "boom" in text:
            raise ZeroDivisionError("division by zero")
        return real(self, text)

    monkeypatch.setattr(Conversation, "ask", ask)
    talk(bench, "boom", "how long do peppers take to come up at 70F?")
    out = capsys.readouterr().out
    assert "ZeroDivisionError: division by zero; ask, line" in " ".join(out.split())
    assert "11 days" in out


def test_a_damaged_file_is_told_in_one_line(
    bench: Bench, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def ask(self: Conversation, text: str) -> object:
        raise DamagedFileError("garden.toml, line 3: 'place' should be a table\x1b[2J")

    monkeypatch.setattr(Conversation, "ask", ask)
    talk(bench, "kale?")
    out = capsys.readouterr().out
    assert "A file is damaged: garden.toml, line 3" in out
    assert "\x1b" not in out


def test_ctrl_c_during_an_answer_stops_that_answer(
    bench: Bench, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def ask(self: Conversation, text: str) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr(Conversation, "ask", ask)
    conversation, options = bench("--place", "Duluth")
    one_turn(Talk(conversation), "one\ntwo", Typed(), options)
    out = capsys.readouterr().out
    assert "Stopped." in out
    assert "> two" not in out
